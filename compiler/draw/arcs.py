"""Arcs found again in outlines of short chords, so that a machine cuts a curve and not its corners.

In: the corners of a closed outline, in any unit, counterclockwise or not. Out: fewer corners, and for each the bulge of the edge that
leaves it: the tangent of a quarter of the arc's angle, positive to the left (DXF reference, LWPOLYLINE group 42). It must not know what
the outline is of.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, hypot, pi, tan

FlatPoint = tuple[float, float]

FEWEST = 4
"""Chords that make an arc; fewer may be corners that are meant."""
STEEPEST = 0.45
"""The most that neighbouring chords may turn, in radians: a full circle of 14."""
ALIKE = 0.4
OFF = 2e-3
"""How far a corner may lie off its arc: so much of the radius, and at most so much of an inch."""


def with_arcs(points: Sequence[FlatPoint], inch: float = 1.0) -> tuple[tuple[FlatPoint, ...], tuple[float, ...]]:
    """The outline with its arcs as single edges; unchanged, with no bulge, where there are none. `inch` is an inch in the points' unit."""
    count = len(points)
    turns = [_turn(points[i - 1], points[i], points[(i + 1) % count]) for i in range(count)]
    # Begin behind a corner that no arc runs through.
    corners = [i for i in range(count) if not _smooth(points, turns, i)]
    if not corners:
        half = count // 2
        return (points[0], points[half]), (_bulge(points, 0, half), _bulge(points, half, count))
    start = corners[0]
    ring = [points[(start + i) % count] for i in range(count)]
    bend = [turns[(start + i) % count] for i in range(count)]
    kept: list[FlatPoint] = []
    bulges: list[float] = []
    i = 0
    while i < count:
        j = i + 1
        while j < count and _smooth(ring, bend, j) and (j == i + 1 or _alike(bend[j], bend[j - 1])):
            j += 1
        kept.append(ring[i])
        if j - i >= FEWEST and _round(ring, i, j, inch):
            bulges.append(_bulge(ring, i, j))
            i = j
        else:
            bulges.append(0.0)
            i += 1
    return tuple(kept), tuple(bulges)


def _turn(a: FlatPoint, b: FlatPoint, c: FlatPoint) -> float:
    """How far the way turns at b, to the left, in radians."""
    angle = atan2(c[1] - b[1], c[0] - b[0]) - atan2(b[1] - a[1], b[0] - a[0])
    return (angle + pi) % (2 * pi) - pi


def _alike(one: float, two: float) -> bool:
    return abs(one - two) <= ALIKE * max(abs(one), abs(two))


def _smooth(points: Sequence[FlatPoint], turns: Sequence[float], i: int) -> bool:
    """True when the outline bends a little at a corner and both its edges are about equally long."""
    a, b, c = points[i - 1], points[i], points[(i + 1) % len(points)]
    before, after = hypot(b[0] - a[0], b[1] - a[1]), hypot(c[0] - b[0], c[1] - b[1])
    return 1e-4 < abs(turns[i]) < STEEPEST and _alike(before, after)


def _round(points: Sequence[FlatPoint], first: int, last: int, inch: float) -> bool:
    """True when all corners of a run lie on one circle."""
    run = [points[i % len(points)] for i in range(first, last + 1)]
    centre = _centre(run[0], run[len(run) // 2], run[-1])
    if centre is None:
        return False
    radius = hypot(run[0][0] - centre[0], run[0][1] - centre[1])
    return all(abs(hypot(x - centre[0], y - centre[1]) - radius) <= OFF * min(radius, inch) for x, y in run)


def _centre(a: FlatPoint, b: FlatPoint, c: FlatPoint) -> FlatPoint | None:
    """The centre of the circle through three points."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2 * (bx * cy - by * cx)
    if abs(twice) < 1e-12:
        return None
    bb, cc = bx * bx + by * by, cx * cx + cy * cy
    return a[0] + (cy * bb - by * cc) / twice, a[1] + (bx * cc - cx * bb) / twice


def _bulge(points: Sequence[FlatPoint], first: int, last: int) -> float:
    """Of the arc from one corner through those between to another: the tangent of a quarter of its angle."""
    run = [points[i % len(points)] for i in range(first, last + 1)]
    middle, (ax, ay), (bx, by) = run[len(run) // 2], run[0], run[-1]
    centre = _centre(run[0], middle, run[-1])
    assert centre is not None
    start, end = atan2(ay - centre[1], ax - centre[0]), atan2(by - centre[1], bx - centre[0])
    left = _turn(run[0], middle, run[-1]) > 0
    angle = (end - start) % (2 * pi) if left else -((start - end) % (2 * pi))
    return tan(angle / 4)
