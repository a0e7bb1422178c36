"""Wedged through tenon: it spreads in a flared mortise and can't come out.

Flare and kerfs begin at `root`; the mortise is `flare` longer at each end on the far face. Each wedge opens its kerf by as
much as its end of the mortise is flared: wood is bent, none is lost. The spread follows the receiver's grain, or it splits.
"""
from compiler.api import (
    ZERO,
    Contact,
    Cut,
    Findings,
    Grow,
    Joint,
    Length,
    Operation,
    Piece,
    Plugin,
    Work,
    ask,
    error,
    hook,
)


class WedgedTenon(Joint):
    """A through tenon held by two wedges in a flared mortise."""

    kind, how = "wedged tenon", "into"
    thickness: Length = ask.size("contact.width / 2 rounded to 1/16", "tenon's thickness", least="1/4", most="contact.width")
    shoulder: Length = ask.size("1/2", "shoulder at each end of the tenon", least="0", most="contact.length / 4")
    proud: Length = ask.size("1/8", "how far the end stands proud", least="0", most="1")
    flare: Length = ask.size("1/8", "mortise longer at each end, far face", least="1/32", most="1/4")
    root: Length = ask.size("receiver.depth / 4", "where flare and kerfs begin", least="1/8", most="receiver.depth / 2")
    kerf: Length = ask.size("1/16", "width of the saw kerfs", least="1/32", most="1/8")

    def make(self, c: Contact) -> Work:
        through, end = c.receiver.depth, c.receiver.depth + self.proud
        tenon = c.block(into=end).wider("across", by=self.thickness - c.width).wider("along", by=self.shoulder * -2)
        rise = self.flare * ((end - self.root) / (through - self.root))  # flare at the proud end
        foot, sawn = tenon.at("into", ZERO, self.root), tenon.at("into", self.root, end)
        mouth = tenon.at("into", self.root, through).flared("into", along=(self.flare, self.flare))
        first, last = (tenon.long("along") / 6 + tenon.along[0], tenon.along[1] - tenon.long("along") / 6)
        low, high = sawn.at("along", first, first + self.kerf), sawn.at("along", last - self.kerf, last)
        wedges = (low.flared("into", along=(rise, ZERO)), high.flared("into", along=(ZERO, rise)))
        return Work(
            on_acting=(Grow(foot), Grow(sawn.flared("into", along=(rise, rise)), sawn=sawn),
                       Cut("kerf", wedges[0], sawn=low), Cut("kerf", wedges[1], sawn=high)),
            on_receiver=(Cut("mortise", foot), Cut("mortise", mouth)),
            pieces=tuple(Piece("wedge", c.acting.stock, wedge, grain="into") for wedge in wedges),
            operations=(Operation("chop a mortise", tools=("drill", "chisel")), Operation("drive wedges", tools=("mallet",))),
            detail=(tenon.measure("across", "tenon"), mouth.measure("along", "mortise, near face"),
                    mouth.measure("along", "mortise, far face", end="far"), tenon.at("into", through, end).measure("into", "proud")),
        )

    def check(self, c: Contact) -> Findings:
        if c.receiver.grain != "along":
            yield error(f"the wedges would split {c.receiver.name}: its grain does not run along the joint",
                        key="wedged tenon", hint="turn the tenon: its wide side follows that grain")


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(WedgedTenon,))
