"""Mortise and tenon, and the loose tongue that takes the tenon's place.

The acting part is written to its shoulder; the tenon grows from it. At a lean (splayed legs) the tenon runs on in
the line of its own part and its length counts from the far corner of the shoulder.
"""

from compiler.api import (
    ZERO,
    Block,
    Contact,
    Cut,
    Findings,
    Grow,
    Joint,
    Length,
    Operation,
    Piece,
    Work,
    ask,
    warning,
)

THIRD = "(smaller of acting.thickness and receiver.thickness) / 3 rounded to 1/16"


class Tenon(Joint):
    """A tenon in a mortise, right through unless a length is given.

    `haunch` is the length of a short step at the end of the receiver, which fills a groove there: the tenon proper is
    a third narrower. `mitred: yes` cuts the tip at 45 degrees, for tenons that meet inside a leg: the long side is
    the one nearer the outside of the receiver.
    """

    kind, how, leans = "tenon", "into", True
    length: Length = ask.size("receiver.depth", "length of the tenon", least="1/8", most="receiver.depth")
    thickness: Length = ask.size(THIRD, "thickness of the tenon", least="1/8", most="contact.width")
    shoulders: Length = ask.size("0", "shoulder at each end of the tenon", least="0", most="contact.length / 3")
    haunch: Length = ask.size("0", "length of the haunch, as deep as the groove it fills", least="0", most="length")
    room: Length = ask.size("0", "mortise deeper than the tenon is long", least="0", most="1/4")
    mitred: str = ask.word("no", "tip mitred, where two tenons meet in a leg", of=("yes", "no"))

    def make(self, c: Contact) -> Work:
        whole = c.block(into=self.length).wider("across", self.thickness - c.width)
        start, end = self.shoulders, c.length - self.shoulders
        third = c.length / 3
        if self.haunch and c.receiver.along[0] >= ZERO:
            start = max(start, third)
        if self.haunch and c.receiver.along[1] <= c.length:
            end = min(end, c.length - third)
        tenon = whole.at("along", start, end)
        mortise = tenon.at("into", ZERO, min(self.length + self.room, c.receiver.depth))
        haunch = self._haunch(whole, start, end, c)
        return Work(
            on_acting=(*(Grow(block, "tenon") for block in self._tipped(tenon, c)), *(Grow(block, "haunch") for block in haunch)),
            on_receiver=(Cut("mortise", mortise), *(Cut("mortise", block) for block in haunch)),
            operations=(Operation("tenon"), Operation("mortise with drill and chisel")),
            detail=(tenon.measure("into", "tenon"), tenon.measure("across", "tenon"), tenon.measure("along", "tenon")),
        )

    def _haunch(self, whole: Block, start: Length, end: Length, c: Contact) -> tuple[Block, ...]:
        if not self.haunch:
            return ()
        blocks = []
        if c.receiver.along[0] >= ZERO:
            blocks.append(whole.at("along", ZERO, start).at("into", ZERO, self.haunch))
        if c.receiver.along[1] <= c.length:
            blocks.append(whole.at("along", end, c.length).at("into", ZERO, self.haunch))
        return tuple(blocks)

    def _tipped(self, tenon: Block, c: Contact) -> tuple[Block, ...]:
        if self.mitred == "no":
            return (tenon,)
        root = max(ZERO, self.length - self.thickness)
        slant = self.length - root
        low_is_outside = -c.receiver.across[0] <= c.receiver.across[1] - c.width
        narrower = (ZERO, -slant) if low_is_outside else (-slant, ZERO)
        return (tenon.at("into", ZERO, root), tenon.at("into", root, self.length).flared("into", across=narrower))

    def check(self, c: Contact) -> Findings:
        if self.thickness * 2 > c.receiver.thickness and self.length < c.receiver.depth:
            yield warning(f"The mortise takes more than half of `{c.receiver.name}`.", key="thickness",
                          hint="A third of the thickness is usual.")


class LooseTongue(Joint):
    """A loose piece glued into equal slots of both parts, which are written to their touching faces."""

    kind, how = "loose tongue", "into"
    depth: Length = ask.size("receiver.depth / 3 rounded to 1/16", "how deep it goes into each part", least="1/8",
                             most="receiver.depth")
    thickness: Length = ask.size(THIRD, "thickness of the loose tongue", least="1/16", most="contact.width")
    shoulders: Length = ask.size("contact.length / 8 rounded to 1/16", "left free at each end", least="0",
                                 most="contact.length / 3")
    room: Length = ask.size("1/32", "each slot deeper than half the tongue", metric="1", least="0", most="1/8")

    def make(self, c: Contact) -> Work:
        middle = c.block(into=self.depth, back=self.depth).wider("across", self.thickness - c.width)
        tongue = middle.wider("along", self.shoulders * -2)
        reach = self.depth + self.room
        return Work(
            on_acting=(Cut("slot", tongue.at("into", -reach, ZERO)),),
            on_receiver=(Cut("slot", tongue.at("into", ZERO, reach)),),
            pieces=(Piece("loose tongue", c.acting.stock, tongue, grain="into"),),
            operations=(Operation("mortise with router"),),
            detail=(tongue.measure("into", "loose tongue"), tongue.measure("along", "loose tongue"),
                    tongue.measure("across", "loose tongue")),
        )
