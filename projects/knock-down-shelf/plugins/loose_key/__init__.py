"""Loose key: a tenon runs through the side and out beyond it, and a tapered key through the tenon draws the joint tight.

Nothing is glued: knock the key up and the piece comes apart. The key is driven from the high side of the joint's shorter way:
on a level shelf, from above. Proportions (a key a quarter of the tenon, a taper of 1 in 8): common practice, no source.
"""

from fractions import Fraction

from compiler.api import (
    ZERO, Block, Contact, Cut, Findings, Grow, Joint, Length, Operation, Piece, Plugin, Work, ask, error, hook, warning,
)


class LooseKey(Joint):
    """Through tenons held by tapered keys, to be knocked apart."""

    kind, how = "loose key", "into"
    tenons: int = ask.count("2", "tenons, each with its key", least="1", most="3")
    width: Length = ask.size("contact.length / 5 rounded to 1/4", "width of each tenon", least="3/4", most="contact.length / tenons")
    key: Length = ask.size("width / 4 rounded to 1/16", "thickness of the key", least="1/4", most="width / 3")
    waist: Length = ask.size("key", "width of the key where it enters the tenon", least="1/4", most="2")
    taper: Fraction = ask.ratio("8", "so much key for one part of widening", least="6", most="12")
    stands: Length = ask.size("5/8", "how far the key stands out at each end", metric="16", least="1/4", most="2")
    reach: Length = ask.size("2 * waist + contact.width / 4 rounded up to 1/8", "how far the tenon stands out of the receiver",
                             least="waist + 3/8", most="6")
    draw: Length = ask.size("1/16", "how far the slot begins inside the receiver, so that the key draws", metric="1.5", least="1/32",
                            most="receiver.depth / 4")

    def make(self, c: Contact) -> Work:
        tenons = self._tenons(c)
        slots, keys = tuple(self._slot(tenon, c) for tenon in tenons), tuple(self._key(tenon, c) for tenon in tenons)
        return Work(
            on_acting=(*(Grow(tenon, "tenon") for tenon in tenons), *(Cut("key slot", slot) for slot in slots)),
            on_receiver=tuple(Cut("mortise", tenon.at("into", ZERO, c.receiver.depth)) for tenon in tenons),
            pieces=tuple(Piece("key", c.acting.stock, key, grain="across") for key in keys),
            operations=(Operation("tenon"), Operation("mortise with drill and chisel")),
            detail=(tenons[0].measure("along", "tenon"), tenons[0].measure("into", "tenon"), slots[0].measure("along", "key slot"),
                    slots[0].measure("into", "key slot, below"), slots[0].measure("into", "key slot, above", end="far")),
            glue=False,
        )

    def _tenons(self, c: Contact) -> tuple[Block, ...]:
        """As many as asked for, each in the middle of its share of the contact, right through the receiver and beyond."""
        field = c.length / self.tenons
        whole = c.block(into=c.receiver.depth + self.reach)
        middles = tuple(field * Fraction(2 * number + 1, 2) for number in range(self.tenons))
        return tuple(whole.at("along", middle - self.width / 2, middle + self.width / 2) for middle in middles)

    def _slot(self, tenon: Block, c: Contact) -> Block:
        """In the middle of the tenon, right through it; its outer end slants as the key does."""
        near, far = c.receiver.depth - self.draw, c.receiver.depth + self.waist + self._rise(self.stands)
        slot = tenon.wider("along", self.key - self.width).at("into", near, far)
        return slot.flared("across", into=(ZERO, self._rise(c.width)))

    def _key(self, tenon: Block, c: Contact) -> Block:
        """Flat against the receiver, slanting outside: `waist` wide at its thin end, standing out at both."""
        start, end = -self.stands, c.width + self.stands
        key = tenon.wider("along", self.key - self.width).at("across", start, end)
        key = key.at("into", c.receiver.depth, c.receiver.depth + self.waist)
        return key.flared("across", into=(ZERO, self._rise(end - start)))

    def _rise(self, over: Length) -> Length:
        """How much wider the key gets over a length."""
        return over / self.taper

    def check(self, c: Contact) -> Findings:
        if c.acting.grain not in ("into", ""):
            yield error(f"The tenons of `{c.acting.name}` would break off: its grain runs across them.", key="loose key",
                        hint="Let its grain run into the joint.")
        if self.reach - self.waist - self._rise(c.width + self.stands) < self.key / 2:
            yield warning(f"Too little of the tenon is left beyond its key: `{c.acting.name}` would split there.", key="reach",
                          hint="Let it reach farther, or take a narrower key.")


@hook
def plugin() -> Plugin:
    """One kind of joint."""
    return Plugin(contract=1, joint_kinds=(LooseKey,))
