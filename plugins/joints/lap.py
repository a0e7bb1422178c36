"""Half-lap and bridle: both parts run through, and each gives up a share of the overlap.

`into` is the thickness that both share. The acting part keeps the low side of it: the front, the left or the lower.
"""

from compiler.api import ZERO, Contact, Cut, Findings, Joint, Length, Operation, Work, ask, error
from plugins.joints.fastened import Fastened


class HalfLap(Fastened):
    """Two parts let into each other, each by half."""

    kind, how = "half-lap", "with"
    keeps: Length = ask.size("contact.depth / 2", "what the acting part keeps of the thickness", least="1/16",
                             most="contact.depth - 1/16")

    def make(self, c: Contact) -> Work:
        kept, given = c.block(into=self.keeps), c.block(into=c.depth).at("into", self.keeps, c.depth)
        return Work(
            on_acting=(Cut("half-lap", given),), on_receiver=(Cut("half-lap", kept),),
            fasteners=self.fasteners(), operations=(Operation("half-lap"), *self.driving()),
            detail=(kept.measure("into", "lap"), kept.measure("along", "lap"), kept.measure("across", "lap")),
        )


class Bridle(Joint):
    """An open tenon on the acting part in an open slot of the receiver."""

    kind, how = "bridle", "with"
    thickness: Length = ask.size("contact.depth / 3 rounded to 1/16", "thickness of the tenon", least="1/8",
                                 most="contact.depth - 1/8")

    def make(self, c: Contact) -> Work:
        cheek = (c.depth - self.thickness) / 2
        whole = c.block(into=c.depth)
        tenon = whole.at("into", cheek, c.depth - cheek)
        return Work(
            on_acting=(Cut("cheek", whole.at("into", ZERO, cheek)), Cut("cheek", whole.at("into", c.depth - cheek, c.depth))),
            on_receiver=(Cut("slot", tenon),),
            operations=(Operation("tenon"),),
            detail=(tenon.measure("into", "tenon"), tenon.measure("along", "tenon"), tenon.measure("across", "tenon")),
        )

    def check(self, c: Contact) -> Findings:
        if c.acting.thickness != c.receiver.thickness:
            yield error(f"`{c.acting.name}` and `{c.receiver.name}` are not equally thick.", key="bridle",
                        hint="A bridle joint joins parts of one thickness.")
