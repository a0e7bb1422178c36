"""How many sheets a full-size template takes: arithmetic that sections and drawings share.

In: a part. Out: columns and rows of sheets, 0 for a part that can be marked out from its sizes. Lengths in mm on paper.
"""

from __future__ import annotations

from math import ceil

from compiler.base.measures import Length, inch
from compiler.values.model import AXES, Part
from compiler.values.shapes import Prism

WIDE = 170.0
HIGH = 135.0
"""The part of a sheet that is drawn on; it fits Letter and A4 at 100 %, with a check square of 2 in under it."""

OVERLAP = 12.7
AROUND = 12.0
LEAST_RADIUS = inch(1)
"""Smaller arcs are made by a cutter or drawn round a coin."""

EDGES = ("chamfer", "round-over", "cove", "bevel", "profile")
"""Shapings that follow an edge of the part; they are made by a cutter, not marked out."""


def curved(part: Part) -> bool:
    """True when the part's face has a curve that can't be marked out from sizes alone."""
    thick = AXES.index(part.thickness_axis)
    for feature in part.features:
        shape = feature.sawn or feature.shape
        if not isinstance(shape, Prism) or feature.called in EDGES or abs(feature.frame.into[thick]) < 0.99:
            continue
        if any(point.radius is not None and point.radius >= LEAST_RADIUS for point in shape.outline):
            return True
    return False


def sheets_along(size: float, sheet: float, overlap: float) -> int:
    """How many sheets cover a size: each further one adds its own size less the overlap."""
    return max(1, ceil((size - overlap) / (sheet - overlap) - 1e-9))


def tiles(length: Length, width: Length) -> tuple[int, int]:
    """Columns and rows of sheets for a part."""
    return (sheets_along(float(length.mm) + AROUND, WIDE, OVERLAP), sheets_along(float(width.mm) + AROUND, HIGH, OVERLAP))


def template_sheets(part: Part) -> int:
    """How many sheets the part's template takes; 0 when it needs none."""
    if not curved(part):
        return 0
    columns, rows = tiles(part.length, part.width)
    return columns * rows
