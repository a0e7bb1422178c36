"""Parts that only touch, held by glue, screws, brads, dowels, pocket screws or buttons: no size changes."""

from dataclasses import replace

from compiler.api import (
    ZERO,
    Bore,
    Contact,
    Cut,
    Fasteners,
    Findings,
    Joint,
    Length,
    Operation,
    Work,
    ask,
    error,
    warning,
)
from plugins.joints.fastened import Fastened


class Butt(Fastened):
    """A face, edge or end against another part, glued unless `glue: no`."""

    kind, how, leans = "butt", "to", True
    from_ends: Length = ask.size("0", "how far from both ends of the contact its screws and brads keep clear", least="0", most="contact.length / 2")

    def make(self, c: Contact) -> Work:
        return Work(fasteners=tuple(self._clear_of_ends(some, c) for some in self.fasteners()), operations=self.driving())

    def _clear_of_ends(self, some: Fasteners, c: Contact) -> Fasteners:
        """The row between the two clear ends."""
        if self.from_ends == ZERO:
            return some
        places = some.spread(c.length - self.from_ends * 2, c.width)
        return replace(some, places=tuple((along + self.from_ends, across) for along, across in places))


class Dowels(Joint):
    """Dowels across a butt joint: a row along the middle of the contact, half of each in either part."""

    kind, how = "dowels", "to"
    dowel: Fasteners = ask.fasteners("dowel 3/8 x 1 1/2", "the dowel: 3/8 x 1 1/2", every="3")
    clear: Length = ask.size("1/32", "how much deeper than half a dowel each hole is", metric="1", least="0", most="1/8")

    def make(self, c: Contact) -> Work:
        diameter = self.dowel.item.measure("diameter") or ZERO
        reach = (self.dowel.item.measure("length") or ZERO) / 2 + self.clear
        places = self.dowel.spread(c.length, c.width)
        far = tuple(Cut("dowel hole", Bore("into", place, diameter, (ZERO, reach))) for place in places)
        near = tuple(Cut("dowel hole", Bore("into", place, diameter, (-reach, ZERO))) for place in places)
        row = c.block(into=reach)
        return Work(
            on_acting=near, on_receiver=far,
            fasteners=(Fasteners(self.dowel.item, len(places), places=places),),
            operations=(Operation("dowel holes"),),
            detail=(row.measure("into", "dowel hole"),
                    row.at("along", ZERO, places[0][0]).measure("along", "first dowel")),
        )

    def check(self, c: Contact) -> Findings:
        diameter = self.dowel.item.measure("diameter") or ZERO
        if diameter * 2 > c.width:
            yield warning(f"A dowel is more than half as thick as the joint between {c.acting.name} and {c.receiver.name}.",
                          key="dowel", hint="Take a thinner dowel: a third to a half of the thickness.")
        if (self.dowel.item.measure("length") or ZERO) / 2 + self.clear >= c.receiver.depth:
            yield error(f"The holes for these dowels come through `{c.receiver.name}`.", key="dowel", hint="Take a shorter dowel.")


class PocketScrews(Joint):
    """Screws driven at 15 degrees from pockets in the acting part."""

    kind, how = "pocket screws", "to"
    screws: Fasteners = ask.fasteners("pocket screw 1 1/4 coarse", "the pocket screws", every="6")

    def make(self, c: Contact) -> Work:
        return Work(fasteners=(self.screws,), operations=(Operation("pocket hole"), Operation("drive screws")))

    def check(self, c: Contact) -> Findings:
        stock = self.screws.item.measure("stock")
        if stock is not None and c.acting.thickness * 4 < stock * 3:
            yield warning(f"`{self.screws.item.name}` is made for thicker stock than {c.acting.name}.", key="screws",
                          hint="Take a shorter pocket screw.")


class Buttons(Joint):
    """Wooden buttons under a top, in a groove of the rails: the top is held and may move."""

    kind, how = "buttons", "to"
    button: Fasteners = ask.fasteners("wooden button", "the button", every="8")
    slot: Length = ask.size("1/4", "width of the groove", least="1/8", most="1/2")
    slot_depth: Length = ask.size("3/8", "depth of the groove", least="1/8", most="1")
    below: Length = ask.size("1/2", "from the top to the groove", least="1/4", most="1")

    def make(self, c: Contact) -> Work:
        # The rail's inner face is the one with more of the top beyond it.
        inner_is_high = c.acting.across[1] - c.width >= -c.acting.across[0]
        across = (c.width - self.slot_depth, c.width) if inner_is_high else (ZERO, self.slot_depth)
        slot = c.block(into=self.below + self.slot).at("into", self.below, self.below + self.slot).at("across", *across)
        return Work(on_receiver=(Cut("groove", slot),), fasteners=(self.button,),
                    operations=(Operation("groove"), Operation("drive screws")),
                    detail=(slot.measure("into", "groove"), slot.measure("across", "groove, depth")), glue=False)
