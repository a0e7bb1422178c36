"""Rectangles along the axes, and segments as flat ones: grown, shortened, meeting.

In and out: corners as left, low, right, high in millimetres on paper; a segment's ends may stand in either order.
"""

from __future__ import annotations

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
