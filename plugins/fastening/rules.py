"""Rules for screws and nails, as sums.

In: exact inches, density in kg per cubic metre. Out: inches, pounds, a yes or no. Sources beside each; G is the specific gravity at 12 %
moisture: density is G x 1000 x 1.12 kg/m3 (definition of basic density with 12 % of water).
"""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Edition, Length, inch, mm

EDGE = 2
"""Shank diameters from an edge of hardwood, even with a pilot (common practice)."""
OF_SHEET = 3
"""A screw in the edge of a sheet is no thicker than the sheet through this (common practice)."""
END_GRAIN = inch(1)
"""Thread in end grain, which holds little: 60 % of side grain at best (carpentry handbook), this long in practice."""
END_OF_PANEL = inch(1)
"""From the end of an MDF or particleboard panel (common practice)."""


def gauge_diameter(number: int) -> Length:
    """Major diameter of a screw by its gauge: 0.060 + 0.013 N inches (screw-size charts)."""
    return inch(Fraction(60 + 13 * number, 1000))


def gravity(density: Fraction) -> Fraction:
    """Specific gravity of a wood from its density in kg/m3 at 12 % moisture."""
    return density / 1120


def withdrawal(density: Fraction, diameter: Length, thread: Length) -> Fraction:
    """Allowable pounds in side grain: 2850 G^2 D for each inch of thread (engineering reference pages)."""
    return 2850 * gravity(density) ** 2 * diameter.inches * thread.inches


def spare(edition: Edition) -> Length:
    """What stays between a point and the far face: 1/8 in or 3 mm (common practice, FAS-47)."""
    return inch("1/8") if edition.units == "inch" else mm(3)


def least_thread(edition: Edition) -> Length:
    """Thread in the far part where nothing but screws holds: 1/2 in or 12 mm (common practice)."""
    return inch("1/2") if edition.units == "inch" else mm(12)


def pocket_length(near: Length) -> tuple[Length, Length]:
    """Pocket screws for a part so thick, from and to (how-to articles; 1/2 in and 1 in stock: common practice)."""
    for most, low, high in ((inch("9/16"), inch(1), inch(1)), (inch("13/16"), inch("1 1/4"), inch("1 1/4")), (inch("1 1/8"), inch("1 1/2"), inch("1 1/2"))):
        if near <= most:
            return low, high
    return inch(2), inch("2 1/2")
