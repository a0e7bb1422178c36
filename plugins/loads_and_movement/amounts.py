"""Weights and lengths as text, in the edition's own units, for sentences.

In: exact kilograms and lengths. Out: `45 lb`, `20 kg`, `3/32 in`, `2.5 mm`. Nothing is worked out here.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from compiler.api import Edition, Length

POUND = Fraction(45359237, 100_000_000)
"""Kilograms in a pound, exact by the international agreement of 1959."""


def weight(kilograms: Fraction, edition: Edition, *, to: Literal["nearest", "down"] = "nearest") -> str:
    """To five pounds or two kilograms, since wood varies by more; below ten of them to one. Loads are rounded down."""
    metric = edition.units == "mm"
    number = kilograms if metric else kilograms / POUND
    coarse = 2 if metric else 5
    step = coarse if number >= 2 * coarse else 1
    halves = Fraction(step, 2) if to == "nearest" else Fraction(0)
    return f"{max(int((number + halves) // step * step), 1 if to == 'nearest' else 0)} {'kg' if metric else 'lb'}"


def length(size: Length, edition: Edition) -> str:
    """With its unit, as diagnostics write it."""
    return f"{edition.show(size)} {edition.units.replace('inch', 'in')}"
