"""Where the parts of a piece stand: their bounding boxes, and what can be told from these alone.

In: names with two corners each, in plan inches. Out: names, sides. It needs no kernel.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from compiler.values.shapes import Vector

Extent = tuple[str, Vector, Vector]
"""A part's name and the corners of its bounding box."""


def near(extents: Sequence[Extent], low: Vector, high: Vector) -> tuple[str, ...]:
    """The parts whose bounding box shares a place with the box from `low` to `high`."""
    return tuple(name for name, start, end in extents
                 if all(a <= b for a, b in zip(start, high, strict=True)) and all(a >= b for a, b in zip(end, low, strict=True)))


def side(extents: Sequence[Extent], point: Vector, direction: Vector) -> float:
    """1 where a point lies in that direction from the middle of the parts, -1 where it lies behind it, 0 where in the middle."""
    away = np.array(point) - np.mean([np.add(start, end) / 2 for _, start, end in extents], axis=0)
    ahead = float(away @ np.array(direction))
    return -1.0 if ahead < -1e-6 else 1.0 if ahead > 1e-6 else 0.0
