"""Dovetails at carcase corners, and the lap dovetail of a rail that drops into a leg.

At corners the acting part has the tails, `into` is its length towards its end, and both parts are written to full
length (half-blind: to the bottom of the sockets). Tails are widest at their ends; half a pin stands at each edge.
Slopes: 1 in 8 for hardwood, 1 in 6 for softwood; common practice, no source.
"""

from fractions import Fraction

from compiler.api import ZERO, Block, Contact, Cut, Findings, Grow, Joint, Length, Operation, Work, ask, error


class Dovetail(Joint):
    """Through dovetails: tails on the acting part, pins on the receiver."""

    kind, how = "dovetail", "with"
    tails: int = ask.count("3", "number of tails", least="1", most="60")
    slope: Fraction = ask.ratio("1 in 8", "slope of the tails", least="1/12", most="1/4")
    pin: Length = ask.size("contact.length / (3 * tails)", "width of a pin at half its depth", least="1/16",
                           most="contact.length / tails - 1/8")

    def make(self, c: Contact) -> Work:
        return dovetailed(c, self.tails, self.slope, self.pin)

    def check(self, c: Contact) -> Findings:
        if c.receiver.depth > c.depth:
            yield error(f"`{c.acting.name}` stops short of the outer face of `{c.receiver.name}`.",
                        hint="Write half-blind dovetail, or let it run to the outer corner.")
        if self.pin <= c.depth * self.slope:
            yield error("The pins come to a point.", key="pin", hint="Fewer tails, or a smaller slope.")


class HalfBlindDovetail(Joint):
    """Dovetails that don't come through the receiver: tails on the acting part, as in the front of a drawer."""

    kind, how = "half-blind dovetail", "with"
    tails: int = ask.count("3", "number of tails", least="1", most="60")
    slope: Fraction = ask.ratio("1 in 8", "slope of the tails", least="1/12", most="1/4")
    pin: Length = ask.size("contact.length / (3 * tails)", "width of a pin at half its depth", least="1/16",
                           most="contact.length / tails - 1/8")

    def make(self, c: Contact) -> Work:
        return dovetailed(c, self.tails, self.slope, self.pin)

    def check(self, c: Contact) -> Findings:
        if c.receiver.depth <= c.depth:
            yield error(f"`{c.acting.name}` comes through `{c.receiver.name}`.",
                        hint="Write dovetail, or stop it short of the outer face.")
        if self.pin <= c.depth * self.slope:
            yield error("The pins come to a point.", key="pin", hint="Fewer tails, or a smaller slope.")


class LapDovetail(Joint):
    """One tail at the end of a rail, let into the end of a leg or stile from its open side."""

    kind, how = "lap dovetail", "into"
    length: Length = ask.size("receiver.depth / 2 rounded to 1/16", "length of the tail", least="1/8", most="receiver.depth")
    slope: Fraction = ask.ratio("1 in 8", "slope of the tail", least="1/12", most="1/4")
    shoulders: Length = ask.size("length * slope + 1/16", "shoulder at each side of the tail's root", least="1/32",
                                 most="contact.length / 3")

    def make(self, c: Contact) -> Work:
        wider = self.length * self.slope
        tail = c.block(into=self.length).wider("along", self.shoulders * -2).flared("into", along=(wider, wider))
        return Work(
            on_acting=(Grow(tail, "tail"),), on_receiver=(Cut("socket", tail),),
            operations=(Operation("dovetail"),),
            detail=(tail.measure("into", "tail"), tail.measure("along", "tail, root"),
                    tail.measure("along", "tail, end", end="far")),
        )

    def check(self, c: Contact) -> Findings:
        if not c.at_edge:
            yield error(f"The socket in `{c.receiver.name}` is closed on all sides: the tail can't go in.",
                        hint="Let the rail end flush with the end of the receiver.")


def dovetailed(c: Contact, tails: int, slope: Fraction, pin: Length) -> Work:
    """Tails evenly along the corner: `pitch` apart, half a pin at each edge."""
    pitch = c.length / tails
    spread = c.depth * slope
    root = pin + spread
    whole = c.block(into=c.depth)
    sockets = []
    for place in range(tails + 1):
        middle = pitch * place
        low, high = max(ZERO, middle - root / 2), min(c.length, middle + root / 2)
        narrower = (ZERO if place == 0 else -spread, ZERO if place == tails else -spread)
        sockets.append(whole.at("along", low, high).flared("into", along=narrower))
    shaped = tuple(_tail(whole, pitch * place + root / 2, pitch * (place + 1) - root / 2, spread) for place in range(tails))
    return Work(
        on_acting=tuple(Cut("pin socket", socket) for socket in sockets),
        on_receiver=tuple(Cut("tail socket", tail) for tail in shaped),
        operations=(Operation("dovetail"),),
        detail=(shaped[0].measure("along", "tail, root"), shaped[0].measure("along", "tail, end", end="far"),
                whole.measure("into", "tail")),
    )


def _tail(whole: Block, start: Length, end: Length, spread: Length) -> Block:
    return whole.at("along", start, end).flared("into", along=(spread, spread))
