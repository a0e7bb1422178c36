"""A bare number in the other edition: re-sized alone, and once.

In: a number written in one unit. Out: the exact length it stands for in an edition. A number with a unit never gets here.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.base.measures import MM_PER_INCH, Length, inch, mm
from compiler.base.showing import Style, Units, nearest, show


def bare_length(value: Fraction, written: Units, edition: Units) -> Length:
    """The length of a bare number: true in the unit it was written for, re-sized in the other.

    To 1 mm, below 3 mm to 1/2 mm; to 1/16 in, below 1 in to 1/32 in; halves go away from zero. A length that is
    not nothing stays at least one step long.
    """
    if written == edition:
        return inch(value) if written == "inch" else mm(value)
    if edition == "mm":
        other = value * MM_PER_INCH
        step = Fraction(1) if abs(other) >= 3 else Fraction(1, 2)
    else:
        other = value / MM_PER_INCH
        step = Fraction(1, 16) if abs(other) >= 1 else Fraction(1, 32)
    rounded = nearest(other, step)
    if value and not rounded:
        rounded = step if value > 0 else -step
    return mm(rounded) if edition == "mm" else inch(rounded)


def true_length(value: Fraction, unit: str) -> Length:
    """The length of a number with its unit: mm, cm or in."""
    if unit == "mm":
        return mm(value)
    return mm(value * 10) if unit == "cm" else inch(value)


def say(length: Length, units: Units, *, unit: bool = False) -> str:
    """A length in a sentence: `11 3/8`, to 1/64 in or 1/100 mm; with its unit on request."""
    text = show(length, Style(units, Fraction(1, 64) if units == "inch" else Fraction(1, 100))).text.replace("−", "-")
    return f"{text} {'in' if units == 'inch' else 'mm'}" if unit else text
