"""A length as a reader sees it: rounded once, here and nowhere else.

In: an exact Length and a Style (units, smallest step). Out: a `Shown` whose parts the pages and the
drawings set in their own way (a true fraction, a stacked one, plain text).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Length

Units = Literal["inch", "mm"]


@dataclass(frozen=True, slots=True)
class Style:
    """How lengths are shown: `step` is the smallest fraction of an inch, or of a millimetre. `both`: the other unit stands behind."""

    units: Units = "inch"
    step: Fraction = Fraction(1, 32)
    both: bool = False

    @property
    def other(self) -> Style:
        """The other unit as its own editions show it."""
        return Style("mm", HALF_MM) if self.units == "inch" else Style()


HALF_MM = Fraction(1, 2)
"""The step of metric editions."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A rounded length: sign, whole number, fraction (denominator 1 when there is none), unit.

    For millimetres the fraction is a decimal: `decimal` holds its digits ("5" in 353.5).
    """

    negative: bool
    whole: int
    numerator: int
    denominator: int
    decimal: str
    units: Units

    @property
    def text(self) -> str:
        """Plain text: `35 1/16`, `23/32`, `353.5`, `−1/4` (a true minus)."""
        sign = "−" if self.negative else ""
        if self.decimal:
            return f"{sign}{self.whole}.{self.decimal}"
        if not self.numerator:
            return f"{sign}{self.whole}"
        fraction = f"{self.numerator}/{self.denominator}"
        return f"{sign}{self.whole} {fraction}" if self.whole else f"{sign}{fraction}"


def nearest(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of step nearest to value; halves go away from zero."""
    quotient = abs(value) / step
    count = (2 * quotient.numerator + quotient.denominator) // (2 * quotient.denominator)
    return (count if value >= 0 else -count) * step


def show(length: Length, style: Style) -> Shown:
    """The length rounded to the style's step; halves go away from zero."""
    value = nearest(length.inches if style.units == "inch" else length.mm, style.step)
    size = abs(value)
    whole = size.numerator // size.denominator
    rest = size - whole
    if style.units == "mm":
        digits = f"{float(rest):.4f}"[2:].rstrip("0") if rest else ""
        return Shown(value < 0, whole, 0, 1, digits, "mm")
    return Shown(value < 0, whole, rest.numerator, rest.denominator if rest else 1, "", "inch")
