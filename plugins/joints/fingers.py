"""Box joint: straight fingers of equal width, laid out along the corner."""

from fractions import Fraction

from compiler.api import ZERO, Contact, Cut, Joint, Length, Operation, Work, ask


class BoxJoint(Joint):
    """Fingers of both parts in turn; the acting part has those at both ends. Their number is odd.

    `into` is the acting part's length, towards its end; both parts are written to the outer corner.
    """

    kind, how = "box joint", "with"
    finger: Length = ask.size("contact.depth", "about how wide a finger is", least="1/8", most="contact.length / 3")

    def make(self, c: Contact) -> Work:
        number = nearest_odd(c.length / self.finger)
        width = c.length / number
        whole = c.block(into=c.depth)
        fingers = tuple(whole.at("along", width * place, width * (place + 1)) for place in range(number))
        return Work(
            on_acting=tuple(Cut("slot", finger) for finger in fingers[1::2]),
            on_receiver=tuple(Cut("slot", finger) for finger in fingers[0::2]),
            operations=(Operation("box joint"),),
            detail=(whole.at("along", ZERO, width).measure("along", "finger"), whole.measure("into", "finger")),
        )


def nearest_odd(ratio: Fraction) -> int:
    """The odd number nearest to a ratio, at least 3; of two equally near the larger."""
    return max(3, 2 * (ratio.numerator // (2 * ratio.denominator)) + 1)
