"""Bending of a beam: second moments, midspan sag, and the load that a sag allows.

In: exact inches, pounds and pounds per square inch. Out: exact inches or pounds. It knows nothing of shelves.
Sources: Wood Handbook FPL-GTR-190, Table 9-1 (5/384 for a load spread over simple supports, 1/48 in the middle), eq. 9-3 (b h^3 / 12);
strips of other stiffness by the transformed section (parallel axes, any text on statics).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import Length

PSI_PER_GPA = Fraction(1000) * Fraction("645.16") / Fraction("4.4482216152605")
"""Pounds per square inch in a gigapascal: a pound-force is 4.4482216152605 N, a square inch 645.16 mm2, both exact."""


@dataclass(frozen=True)
class Strip:
    """One rectangle of a cross-section: width and height, how far its lower edge is up, bending stiffness in psi."""

    width: Length
    height: Length
    up: Length
    stiffness: Fraction


def second_moment(width: Length, height: Length) -> Fraction:
    """b h^3 / 12 of a rectangle, in in^4."""
    return width.inches * height.inches**3 / 12


def bending_stiffness(strips: Sequence[Strip]) -> Fraction:
    """E I of strips glued into one beam, in lb in^2, about their common neutral axis."""
    stiff = [strip.stiffness * strip.width.inches * strip.height.inches for strip in strips]
    middles = [strip.up.inches + strip.height.inches / 2 for strip in strips]
    axis = sum((one * middle for one, middle in zip(stiff, middles, strict=True)), Fraction(0)) / sum(stiff, Fraction(0))
    return sum((strip.stiffness * second_moment(strip.width, strip.height) + one * (middle - axis) ** 2
                for strip, one, middle in zip(strips, stiff, middles, strict=True)), Fraction(0))


def sag(pounds_per_inch: Fraction, span: Length, stiffness: Fraction) -> Length:
    """5 w L^4 / (384 E I): midspan, load spread evenly, both ends only resting."""
    return Length(5 * pounds_per_inch * span.inches**4 / (384 * stiffness))


def sag_of_middle_load(pounds: Fraction, span: Length, stiffness: Fraction) -> Length:
    """P L^3 / (48 E I): midspan, the whole load in the middle."""
    return Length(pounds * span.inches**3 / (48 * stiffness))


def load_for(allowed: Length, span: Length, stiffness: Fraction) -> Fraction:
    """The whole load in pounds, spread evenly, that bends it so far."""
    return 384 * stiffness * allowed.inches / (5 * span.inches**3)
