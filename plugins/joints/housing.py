"""Housings: the acting part, or a tongue on it, goes into a trench of the receiver.

The acting part is written to its shoulder. A tongue grows from it over the contact, as deep as the trench less
`room`. Dado and groove run right through the receiver unless stopped; a rabbet is as long as the contact. Where the
contact reaches an edge of the receiver the trench is a rabbet, elsewhere a dado (in sheets, across the grain)
or a groove.
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
    Stopped,
    Work,
    ask,
    error,
)
from plugins.joints.fastened import Fastened

THIRD = "receiver.depth / 3 rounded to 1/16"
OFF = {"bottom": "{} above its foot", "top": "{} below its top", "front": "{} behind its front edge", "back": "{} before its back edge",
       "left": "{} from its left edge", "right": "{} from its right edge"}
"""How far a contact lies from an edge of the receiver, in the words of the shop."""


def trench(c: Contact, depth: Length, stopped: Stopped, fit: Length) -> Block:
    """The cut in the receiver: right through along the contact, less what is left at its stopped ends."""
    return c.through(into=depth).clear_of(stopped).wider("across", fit)


def entering(c: Contact, cut: Block, depth: Length) -> Block:
    """What grows from the acting part: the contact, no longer than the trench."""
    start, end = cut.along
    return c.block(into=depth).at("along", max(ZERO, start), min(c.length, end))


def at_the_edge(c: Contact, word: str) -> Findings:
    """The fault of a trench at an edge, which has but one wall."""
    edge, _ = c.near_edge
    yield error(f"`{c.acting.name}` meets `{c.receiver.name}` at its {f'{edge} ' if edge else ''}edge: that is a rabbet.",
                hint=f"Write rabbet instead of {word}.")


class Dado(Fastened):
    """A trench across the receiver that takes the full thickness of the acting part."""

    kind, how = "dado", "into"
    depth: Length = ask.size(THIRD, "depth of the dado", least="1/32")
    room: Length = ask.size("0", "left free at the bottom of the dado", least="0", most="depth / 2")
    fit: Length = ask.size("shop.fit", "added to the thickness that goes in", least="0", most="1/16")
    stopped: Stopped = ask.stop("where the dado stops short: 1/2 from front")

    def make(self, c: Contact) -> Work:
        cut = trench(c, self.depth, self.stopped, self.fit)
        return Work(
            on_acting=(Grow(entering(c, cut, self.depth - self.room)),), on_receiver=(Cut("dado", cut),),
            fasteners=self.fasteners(),
            operations=(Operation("dado with router"), *self.driving()),
            detail=(cut.measure("into", "dado"), cut.measure("across", "dado")),
        )

    def check(self, c: Contact) -> Findings:
        if c.at_edge:
            yield from at_the_edge(c, "dado")


class Groove(Joint):
    """A trench along the receiver for a panel, which may have room to move."""

    kind, how = "groove", "into"
    depth: Length = ask.size(THIRD, "depth of the groove", least="1/32")
    room: Length = ask.size("0", "left free at the bottom of the groove", least="0", most="depth / 2")
    fit: Length = ask.size("shop.fit", "added to the thickness that goes in", least="0", most="1/16")
    stopped: Stopped = ask.stop("where the groove stops short: 1/2 from left; yes = as long as the panel")

    def make(self, c: Contact) -> Work:
        cut = trench(c, self.depth, self.stopped, self.fit)
        return Work(
            on_acting=(Grow(entering(c, cut, self.depth - self.room)),), on_receiver=(Cut("groove", cut),),
            operations=(Operation("groove"),),
            detail=(cut.measure("into", "groove"), cut.measure("across", "groove")),
            glue=not self.room,
        )

    def check(self, c: Contact) -> Findings:
        if c.at_edge:
            yield from at_the_edge(c, "groove")


class Rabbet(Fastened):
    """A step along an edge of the receiver that takes the acting part."""

    kind, how = "rabbet", "into"
    depth: Length = ask.size("receiver.depth / 2 rounded to 1/16", "depth of the rabbet", least="1/32")
    room: Length = ask.size("0", "left free at the bottom of the rabbet", least="0", most="depth / 2")

    def make(self, c: Contact) -> Work:
        cut = c.block(into=self.depth)
        return Work(
            on_acting=(Grow(c.block(into=self.depth - self.room)),), on_receiver=(Cut("rabbet", cut),),
            fasteners=self.fasteners(), operations=(Operation("rabbet"), *self.driving()),
            detail=(cut.measure("into", "rabbet"), cut.measure("across", "rabbet")),
        )

    def check(self, c: Contact) -> Findings:
        if not c.at_edge:
            edge, off = c.near_edge
            yield error(f"`{c.acting.name}` meets `{c.receiver.name}` {OFF.get(edge, '{} from its edge')}: that is a dado or a groove.",
                        lengths=(off,), hint="Write dado instead of rabbet, or move the part to the edge.")


class Tongue(Joint):
    """A tongue thinner than the acting part, in a groove of the receiver."""

    kind, how = "tongue", "into"
    depth: Length = ask.size(THIRD, "depth of the groove", least="1/32")
    thickness: Length = ask.size("contact.width / 3 rounded to 1/16", "thickness of the tongue", least="1/16",
                                 most="contact.width")
    room: Length = ask.size("1/32", "left free at the bottom of the groove", metric="1", least="0", most="depth / 2")
    fit: Length = ask.size("shop.fit", "added to the thickness that goes in", least="0", most="1/16")
    stopped: Stopped = ask.stop("where the groove stops short: 1/2 from left")

    def make(self, c: Contact) -> Work:
        narrower = self.thickness - c.width
        cut = trench(c, self.depth, self.stopped, self.fit + narrower)
        tongue = entering(c, cut, self.depth - self.room).wider("across", narrower)
        return Work(
            on_acting=(Grow(tongue),), on_receiver=(Cut("groove", cut),),
            operations=(Operation("tongue"), Operation("groove")),
            detail=(tongue.measure("into", "tongue"), tongue.measure("across", "tongue"), cut.measure("into", "groove")),
        )
