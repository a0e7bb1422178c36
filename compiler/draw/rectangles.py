"""Rectangles along the axes, and segments as flat ones: grown, shortened, meeting.

In and out: corners as left, low, right, high in millimetres on paper; a segment's ends may stand in either order.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np

from compiler.solid.meshes import Floats, Integers
from compiler.values.figure import Point

Rect = tuple[float, float, float, float]
Segment = tuple[float, float, float, float]


def normal(r: Rect) -> Rect:
    """Left, low, right, high in order."""
    left, low, right, high = r
    if left > right:
        left, right = right, left
    return (left, low, right, high) if low <= high else (left, high, right, low)


def grown(r: Rect, by: float) -> Rect:
    """The rectangle grown on all sides."""
    left, low, right, high = normal(r)
    return left - by, low - by, right + by, high + by


def shrunk(s: Segment, by: float) -> Rect:
    """A segment shortened at both ends."""
    left, low, right, high = normal(s)
    return (left + by, low, right - by, high) if right - left > high - low else (left, low + by, right, high - by)


def meets(a: Rect, b: Rect) -> bool:
    """True when two rectangles (or segments along the axes) share a point inside."""
    ax0, ay0, ax1, ay1 = normal(a)
    bx0, by0, bx1, by1 = normal(b)
    return ax0 < bx1 + 1e-9 and bx0 < ax1 + 1e-9 and ay0 < by1 + 1e-9 and by0 < ay1 + 1e-9


def holds(r: Rect, other: Rect) -> bool:
    """True when one rectangle lies wholly in another. The corners must be in order."""
    return r[0] <= other[0] and r[1] <= other[1] and other[2] <= r[2] and other[3] <= r[3]


def distance(r: Rect, point: Point) -> float:
    """How far a point lies off a rectangle, 0 inside it. The corners must be in order."""
    return hypot(max(r[0] - point[0], 0.0, point[0] - r[2]), max(r[1] - point[1], 0.0, point[1] - r[3]))


def passes(a: Point, b: Point, r: Rect) -> bool:
    """Whether a straight line from point to point meets a rectangle with its corners in order (Liang-Barsky clipping)."""
    start, end = 0.0, 1.0
    for delta, from_low, from_high in ((b[0] - a[0], r[0] - a[0], r[2] - a[0]), (b[1] - a[1], r[1] - a[1], r[3] - a[1])):
        if abs(delta) < 1e-12:
            if from_low > 0 or from_high < 0:
                return False
            continue
        one, two = from_low / delta, from_high / delta
        if one > two:
            one, two = two, one
        if one > start:
            start = one
        if two < end:
            end = two
    return start <= end


def rects(given: Sequence[Rect]) -> Floats:
    """Rectangles as an array (n, 4)."""
    return np.array(given, dtype=np.float64).reshape(-1, 4)


def meeting(rects: Floats, others: Floats) -> Integers:
    """How many of the others each rectangle shares a point with."""
    met = (rects[:, None, :2] <= others[None, :, 2:]) & (others[None, :, :2] <= rects[:, None, 2:])
    found: Integers = met.all(axis=2).sum(axis=1)
    return found


def passing(lines: Floats, rects: Floats) -> Integers:
    """How many rectangles (or segments along an axis, as flat ones) each line of pieces ((n, pieces, ends, 2)) meets: Liang-Barsky clipping."""
    start, end = np.zeros((*lines.shape[:2], len(rects))), np.ones((*lines.shape[:2], len(rects)))
    for axis in (0, 1):
        begin = lines[:, :, 0, axis, None]
        way = lines[:, :, 1, axis, None] - begin
        level = np.abs(way) < 1e-12
        from_low, from_high = rects[:, axis] - begin, rects[:, axis + 2] - begin
        one, two = (off / np.where(level, 1.0, way) for off in (from_low, from_high))
        beside = level & ((from_low > 0) | (from_high < 0))
        start = np.maximum(start, np.where(beside, np.inf, np.where(level, 0.0, np.minimum(one, two))))
        end = np.minimum(end, np.where(level, 1.0, np.maximum(one, two)))
    found: Integers = (start <= end).any(axis=1).sum(axis=1)
    return found
