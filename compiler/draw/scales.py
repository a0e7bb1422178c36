"""Scales: the largest one at which a drawing fills its frame, of the series that its readers own rules for.

In: units, and a judgement whether a scale fits. Out: a Scale with its words. It must not know what is drawn.

Sources: ISO 5455 (1 : 2, 1 : 5, 1 : 10 and tens of them; enlargements 2 : 1, 5 : 1); inch scales of the trade (full size, half
size, 3 in, 1 1/2 in, 1 in, 3/4 in, 1/2 in, 3/8 in, 1/4 in, 3/16 in, 1/8 in to the foot): common practice.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from compiler.base.showing import Units


@dataclass(frozen=True, slots=True)
class Scale:
    """Paper to piece, and how it is printed."""

    ratio: Fraction
    words: str

    @property
    def mm_per_inch(self) -> float:
        """Millimetres on paper for an inch of the piece."""
        return float(self.ratio * Fraction(254, 10))


def _foot(inches: Fraction, words: str) -> Scale:
    return Scale(inches / 12, f"{words}″ = 1′")


INCH = (
    Scale(Fraction(2), "twice full size"),
    Scale(Fraction(1), "full size"),
    Scale(Fraction(1, 2), "half size"),
    _foot(Fraction(3), "3"),
    _foot(Fraction(3, 2), "1 1/2"),
    _foot(Fraction(1), "1"),
    _foot(Fraction(3, 4), "3/4"),
    _foot(Fraction(1, 2), "1/2"),
    _foot(Fraction(3, 8), "3/8"),
    _foot(Fraction(1, 4), "1/4"),
    _foot(Fraction(3, 16), "3/16"),
    _foot(Fraction(1, 8), "1/8"),
)
METRIC = tuple(
    Scale(Fraction(up, down), f"{up} : {down}" if up != down else "1 : 1, full size")
    for up, down in ((2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50), (1, 100), (1, 200))
)


def series(units: Units) -> tuple[Scale, ...]:
    """The scales of a plan's units, the largest first."""
    return INCH if units == "inch" else METRIC


def largest(units: Units, fits: Callable[[Scale], bool], most: Fraction = Fraction(1)) -> Scale:
    """The largest scale (at most `most`) that fits; the smallest of the series when none does."""
    usable = [scale for scale in series(units) if scale.ratio <= most]
    for scale in usable[:-1]:
        if fits(scale):
            return scale
    return usable[-1]


def legible(units: Units, fits: Callable[[float], Callable[[Scale], bool]], height: float, least: float = 2.0) -> Scale:
    """The largest scale that fits a height, or a greater one where the height asked for would shrink the drawing `least` times.

    `fits` judges for a height in mm. A low frame that makes a part half as large as it could be costs more than it saves.
    """
    best = largest(units, fits(height * TALLER[-1]))
    enough = [scale for scale in series(units) if best.ratio >= scale.ratio and float(scale.ratio) * least >= float(best.ratio) - 1e-9]
    for more in TALLER:
        for scale in enough:
            if fits(height * more)(scale):
                return scale
    return best


TALLER = (1.0, 1.6, 2.4, 3.0)
"""By how much a drawing may exceed the height that was asked for, tried in this order."""
