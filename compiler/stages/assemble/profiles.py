"""Moulding profiles by name and size: what a cutter takes off a corner.

In: `ogee 3/4`. Out: the outline of the wood that goes, counted from the corner: x from the broad face inward, y from the
edge inward. Shapes are the plain ones of the trade (common practice, no source); sizes are exact.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.base.measures import ZERO, Length, exact, inch, mm
from compiler.base.showing import Units
from compiler.values.shapes import OutlinePoint

Outline = tuple[OutlinePoint, ...]
NAMES = ("ogee", "cove", "round-over", "bead", "chamfer", "step")


def profile_outline(name: str, units: Units) -> Outline | None:
    """The outline of a named profile, None when there is no such name.

    The size is in inches when it is a fraction or below 3, else in millimetres; an edition in the other unit gets the
    next cutter sold there: to 1 mm, to 1/16 in.
    """
    word, _, size = name.strip().partition(" ")
    if word not in NAMES:
        return None
    try:
        number = exact(size.removesuffix(" mm").removesuffix(" in") or "1/2")
    except (ValueError, ZeroDivisionError):
        return None
    if number <= 0:
        return None
    metric = size.endswith("mm") or (not size.endswith("in") and number >= 3)
    length = mm(number) if metric else inch(number)
    if metric != (units == "mm"):
        length = mm(max(1, round(length.mm))) if units == "mm" else inch(Fraction(max(1, round(length.inches * 16)), 16))
    return _SHAPES[word](length)


def _chamfer(size: Length) -> Outline:
    return OutlinePoint(ZERO, ZERO), OutlinePoint(size, ZERO), OutlinePoint(ZERO, size)


def _round_over(size: Length) -> Outline:
    return OutlinePoint(ZERO, ZERO), OutlinePoint(size, ZERO), OutlinePoint(ZERO, size, size, -1)


def _cove(size: Length) -> Outline:
    return OutlinePoint(ZERO, ZERO), OutlinePoint(size, ZERO), OutlinePoint(ZERO, size, size, 1)


def _step(size: Length) -> Outline:
    half = size / 2
    return OutlinePoint(ZERO, ZERO), OutlinePoint(size, ZERO), OutlinePoint(size, half), OutlinePoint(half, half), OutlinePoint(half, size), OutlinePoint(ZERO, size)


def _ogee(size: Length) -> Outline:
    """Half the size deep: a small fillet, a hollow above and a round below, each a quarter circle of a quarter of the size."""
    radius, fillet = size * Fraction(1, 4), size * Fraction(1, 8)
    deep = radius * 2
    return (OutlinePoint(ZERO, ZERO), OutlinePoint(deep, ZERO), OutlinePoint(deep, fillet),
            OutlinePoint(radius, fillet + radius, radius, 1), OutlinePoint(ZERO, fillet + radius * 2, radius, -1))


def _bead(size: Length) -> Outline:
    """A quarter round with a quirk at each side."""
    quirk = size / 8
    return (OutlinePoint(ZERO, ZERO), OutlinePoint(size + quirk, ZERO), OutlinePoint(size + quirk, quirk), OutlinePoint(size, quirk),
            OutlinePoint(quirk, size, size - quirk, -1), OutlinePoint(quirk, size + quirk), OutlinePoint(ZERO, size + quirk))


_SHAPES = {"chamfer": _chamfer, "round-over": _round_over, "cove": _cove, "step": _step, "ogee": _ogee, "bead": _bead}
