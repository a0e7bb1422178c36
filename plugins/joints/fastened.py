"""Fasteners that a joint may take, and the work that they are."""

from compiler.api import Fasteners, Joint, Operation, ask

SPACING = "6"
"""Screws and brads no farther apart than this. Source: common practice, no source."""


class Fastened(Joint):
    """A joint that screws or brads may hold. No word of its own."""

    screws: Fasteners | None = ask.fasteners(None, "screws through it, evenly along, at least two", every=SPACING)
    brads: Fasteners | None = ask.fasteners(None, "brads through it, evenly along, at least two", every=SPACING)

    def fasteners(self) -> tuple[Fasteners, ...]:
        """All fasteners that the maker wants."""
        return tuple(some for some in (self.screws, self.brads) if some is not None)

    def driving(self) -> tuple[Operation, ...]:
        """The work of driving them."""
        screws = (Operation("drive screws"),) if self.screws else ()
        brads = (Operation("drive brads"),) if self.brads else ()
        return screws + brads
