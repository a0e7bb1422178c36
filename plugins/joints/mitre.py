"""Mitre: both parts run to the outer corner (their long points) and are cut along the diagonal.

Frames are mitred in the plane of along and across; carcase corners in the plane of `into` (the acting part's length,
towards its end) and the axis along which the receiver runs away.
"""

from typing import Literal

from compiler.api import ZERO, Block, Contact, Cut, Joint, Length, Member, Operation, Piece, Work, ask

Name = Literal["along", "across", "into"]


def runs_away(c: Contact, member: Member, acts: bool) -> tuple[Name, bool]:
    """The axis along which a part runs away from the overlap, and whether towards its high end."""
    reaches: list[tuple[Length, Name, bool]] = [
        (-member.along[0], "along", False), (member.along[1] - c.length, "along", True),
        (-member.across[0], "across", False), (member.across[1] - c.width, "across", True),
    ]
    if acts:
        reaches.append((member.depth - c.depth, "into", False))
    best = max(reaches, key=lambda reach: reach[0])
    return best[1], best[2]


def triangle(c: Contact, on: Name, to_high: bool, beside: Name, kept_high: bool) -> Block:
    """Half of the overlap: nothing where `on` begins (its end at `not to_high`), all of `beside` where it ends.

    It keeps to the high or the low side of `beside`.
    """
    whole = c.block(into=c.depth)
    start, end = whole.span(beside)
    if to_high:
        edge = end if kept_high else start
        grown = (end - start, ZERO) if kept_high else (ZERO, end - start)
        return _flared(whole.at(beside, edge, edge), on, beside, grown)
    shrunk = (end - start, ZERO) if kept_high else (ZERO, end - start)
    return _flared(whole, on, beside, (-shrunk[0], -shrunk[1]))


def _flared(block: Block, on: Name, beside: Name, by: tuple[Length, Length]) -> Block:
    if beside == "along":
        return block.flared(on, along=by)
    if beside == "across":
        return block.flared(on, across=by)
    return block.flared(on, into=by)


class Mitre(Joint):
    """Two parts meeting at an outer corner along the diagonal, with a spline if it has a thickness."""

    kind, how = "mitre", "with"
    spline: Length = ask.size("0", "thickness of a spline across the joint", least="0", most="1/2")
    spline_depth: Length = ask.size("contact.width / 4 rounded to 1/16", "how deep the spline goes into each part",
                                    least="1/16", most="contact.width / 2")

    def make(self, c: Contact) -> Work:
        mine, mine_high = runs_away(c, c.acting, True)
        other, other_high = runs_away(c, c.receiver, False)
        # The acting part's outer end lies away from its wood; there all that belongs to the receiver's side goes.
        given = triangle(c, mine, not mine_high, other, other_high)
        taken = triangle(c, mine, mine_high, other, not other_high)
        spline = self._spline(c, mine, mine_high, other, other_high)
        slots = (Cut("spline slot", spline),) if spline is not None else ()
        return Work(
            on_acting=(Cut("mitre", given), *slots), on_receiver=(Cut("mitre", taken), *slots),
            pieces=(Piece("spline", c.acting.stock, spline, grain=other),) if spline is not None else (),
            operations=(Operation("mitre"), Operation("glue-up of mitres"), *((Operation("groove"),) if slots else ())),
            detail=(c.block(into=c.depth).measure("along", "mitre"),),
        )

    def _spline(self, c: Contact, mine: Name, mine_high: bool, other: Name, other_high: bool) -> Block | None:
        """A strip let in across the outer corner of a frame, in the middle of its thickness; none in carcase corners."""
        if not self.spline or "into" in (mine, other):
            return None
        whole = c.block(into=c.depth)
        middle = c.depth / 2
        block = whole.at("into", middle - self.spline / 2, middle + self.spline / 2)
        for axis, high in ((mine, mine_high), (other, other_high)):
            start, end = whole.span(axis)
            reach = self.spline_depth * 2
            block = block.at(axis, start, min(end, start + reach)) if high else block.at(axis, max(start, end - reach), end)
        return block
