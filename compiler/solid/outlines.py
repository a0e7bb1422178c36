"""Outlines with arcs as polygons of straight pieces.

In: an outline's points, in inches. Out: corner coordinates and, for each straight piece, the curve it stands
for. It must not know about parts, frames or faces.

An arc becomes chords. How many depends on its radius alone, by the largest distance (sagitta) that a chord may
leave the arc. The inner corners lie a little outside the arc, so that the polygon has the arc's own area: a
sector of n equal angles a with both end radii r and inner radii q has the area
(2 r q + (n - 2) q²) sin(a) / 2, which is set equal to r² n a / 2.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt

from compiler.values.shapes import OutlinePoint

Flat = tuple[float, float]


class OutlineFault(ValueError):
    """An outline that bounds no area; the message says why, in a maker's words."""


@dataclass(frozen=True, slots=True)
class Fineness:
    """How close chords follow an arc: the sagitta in inches, and the least number on a full circle."""

    sagitta: float
    least: int

    def around(self, radius: float) -> int:
        """Chords on a full circle, a multiple of four; there is no upper cap, as large arcs need many."""
        if radius <= self.sagitta:
            return self.least
        wanted = max(self.least, ceil(pi / acos(1 - self.sagitta / radius)))
        return min(4 * ceil(wanted / 4), 1 << 14)


@dataclass(frozen=True, slots=True)
class Curve:
    """An arc of an outline: its centre, radius and the angle of one chord (radians)."""

    centre: Flat
    radius: float
    step: float


@dataclass(frozen=True, slots=True)
class Polygon:
    """A counterclockwise polygon. `curve_of[i]` is the index in `curves` of the piece from corner i to i + 1, or -1."""

    corners: tuple[Flat, ...]
    curve_of: tuple[int, ...]
    curves: tuple[Curve, ...]


def circle(count: int) -> Polygon:
    """A circle of radius 1 round the origin as a polygon of equal area, its first corner on the first axis."""
    step = 2 * pi / count
    reach = sqrt(step / sin(step))
    corners = tuple((reach * cos(step * i), reach * sin(step * i)) for i in range(count))
    return Polygon(corners, (0,) * count, (Curve((0.0, 0.0), 1.0, step),))


def polygon(outline: Sequence[OutlinePoint], fineness: Fineness) -> Polygon:
    """The outline as a counterclockwise polygon. Raises OutlineFault when it bounds no area or an arc can't reach."""
    points = [(float(point.x), float(point.y)) for point in outline]
    corners: list[Flat] = []
    curve_of: list[int] = []
    curves: list[Curve] = []
    for index, point in enumerate(outline):
        start, end = points[index - 1], points[index]
        if hypot(end[0] - start[0], end[1] - start[1]) < 1e-9:
            continue
        corners.append(start)
        if point.radius is None:
            curve_of.append(-1)
            continue
        curve, inner = _arc(start, end, float(point.radius), point.bulge, point.long, fineness)
        corners.extend(inner)
        curve_of.extend([len(curves)] * (len(inner) + 1))
        curves.append(curve)
    if len(corners) < 3:
        raise OutlineFault("the outline has fewer than three corners")
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1], strict=True)) / 2
    if abs(area) < 1e-9:
        raise OutlineFault("the outline encloses no area")
    if area < 0:
        # Reversed, piece i runs from old corner -i to the one before it.
        corners = [corners[0], *corners[:0:-1]]
        curve_of.reverse()
    return Polygon(tuple(corners), tuple(curve_of), tuple(curves))


def _arc(start: Flat, end: Flat, radius: float, bulge: int, long: bool, fineness: Fineness) -> tuple[Curve, list[Flat]]:
    """The arc's curve and its inner corners.

    The centre lies on the left of the straight way for bulge +1; the long arc is the rest of the same circle,
    so it runs the other way round.
    """
    across, up = end[0] - start[0], end[1] - start[1]
    chord = hypot(across, up)
    square = radius * radius - chord * chord / 4
    if square < -1e-6 * radius * radius:
        raise OutlineFault("an arc's radius is smaller than half the distance between its ends")
    offset = sqrt(max(0.0, square)) * bulge
    sense = -bulge if long else bulge
    centre = (
        (start[0] + end[0]) / 2 - up / chord * offset,
        (start[1] + end[1]) / 2 + across / chord * offset,
    )
    first = atan2(start[1] - centre[1], start[0] - centre[0])
    turn = (atan2(end[1] - centre[1], end[0] - centre[0]) - first) * sense % (2 * pi)
    count = max(2, ceil(fineness.around(radius) * turn / (2 * pi) - 1e-9))
    step = turn / count
    if count == 2:
        reach = radius * step / sin(step)
    else:
        span = count * step / sin(step)
        reach = radius * (sqrt(1 + (count - 2) * span) - 1) / (count - 2)
    inner = [
        (centre[0] + reach * cos(first + sense * step * i), centre[1] + reach * sin(first + sense * step * i))
        for i in range(1, count)
    ]
    return Curve(centre, radius, step), inner
