"""Wedged through tenon: it spreads in a flared mortise and can't come out.

Flare and kerfs begin at `root`; the mortise is half a wedge longer at each end on the far face. Each wedge opens its kerf by
as much as its end of the mortise is flared: wood is bent, none is lost. The spread follows the receiver's grain, or the
receiver splits. Proportions: common practice, no source.
"""

from typing import Literal

from compiler.api import (
    ZERO, Block, Contact, Cut, Findings, Grow, Joint, Length, Operation, Piece, Plugin, Work, ask, error, hook, warning,
)


class WedgedTenon(Joint):
    """A through tenon held by wedges in a flared mortise."""

    kind, how = "wedged tenon", "into"
    width: Length = ask.size("contact.length - 3/4", "width of the tenon, along the contact", least="1/2", most="contact.length")
    thickness: Length = ask.size("(smaller of acting.thickness and receiver.thickness) / 3 rounded to 1/16", "thickness of the tenon",
                                 least="1/4", most="contact.width")
    proud: Length = ask.size("1/16", "how far the end stands out, to be planed off", least="0", most="1")
    wedges: int = ask.count("2", "wedges, each in a kerf of its own", least="1", most="2")
    flare: Length = ask.size("1/8", "mortise longer at each end on the far face", least="1/32", most="1/4")
    root: Length = ask.size("receiver.depth / 4", "where flare and kerfs begin", least="1/8", most="receiver.depth / 2")
    kerf: Length = ask.size("1/16", "width of the saw kerfs", least="1/32", most="1/8")

    def make(self, c: Contact) -> Work:
        through, end = c.receiver.depth, c.receiver.depth + self.proud
        spread = self._spread(c)
        tenon = c.block(into=end).wider("across", self.thickness - c.width).wider("along", self.width - c.length)
        rise = self.flare * ((end - self.root) / (through - self.root))  # flare at the proud end
        foot, sawn = tenon.at("into", ZERO, self.root), tenon.at("into", self.root, end)
        mouth = wider_at_end(tenon.at("into", self.root, through), spread, self.flare)
        kerfs = self._kerfs(sawn, spread)
        # Each wedge opens its kerf towards the end of the tenon; together they open as much as both ends are flared.
        wedges = tuple(wider_at_end(kerf, spread, rise / len(kerfs)) for kerf in kerfs)
        return Work(
            on_acting=(Grow(foot, "tenon"), Grow(wider_at_end(sawn, spread, rise), "tenon", sawn=sawn),
                       *(Cut("kerf", wedge, sawn=kerf) for wedge, kerf in zip(wedges, kerfs, strict=True))),
            on_receiver=(Cut("mortise", foot), Cut("mortise", mouth)),
            pieces=tuple(Piece("wedge", c.acting.stock, wedge, grain="into") for wedge in wedges),
            operations=(Operation("tenon"), Operation("mortise with drill and chisel")),
            detail=(tenon.measure("across", "tenon"), tenon.measure("along", "tenon"), mouth.measure(spread, "mortise, near face"),
                    mouth.measure(spread, "mortise, far face", end="far"), tenon.at("into", through, end).measure("into", "proud")),
        )

    def _spread(self, c: Contact) -> Literal["along", "across"]:
        """The way the wedges spread the tenon: with the receiver's grain."""
        return "across" if c.receiver.grain == "across" else "along"

    def _kerfs(self, sawn: Block, spread: Literal["along", "across"]) -> tuple[Block, ...]:
        """The saw kerfs before they are opened: one in the middle, or two a quarter of the tenon in from its sides."""
        start, end = sawn.span(spread)
        inset = (end - start) / (2 if self.wedges == 1 else 4)
        middles = (start + inset,) if self.wedges == 1 else (start + inset, end - inset)
        return tuple(sawn.at(spread, middle - self.kerf / 2, middle + self.kerf / 2) for middle in middles)

    def check(self, c: Contact) -> Findings:
        if c.receiver.grain == "into":
            yield error(f"The wedges would split {c.receiver.name}: the joint is in its end grain.", key="wedged tenon",
                        hint="Let the tenon go into a side or a face.")
        if self._spread(c) == "across" and self.flare * 2 > self.thickness / 2:
            yield warning("The mortise flares by more than half of the tenon.", key="flare", hint="The tenon would crack: less flare.")


def wider_at_end(block: Block, axis: Literal["along", "across"], by: Length) -> Block:
    """The block wider by so much at each side of an axis, at its far end."""
    return block.flared("into", along=(by, by)) if axis == "along" else block.flared("into", across=(by, by))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(WedgedTenon,))
