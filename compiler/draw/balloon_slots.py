"""Where balloons may stand, and where their leaders may end.

In: what is seen of a letter's parts, the picture's silhouette, the frame. Out: areas and places on paper. It must not know letters.
Millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from compiler.values import figure

RADIUS = 3.75
SPACE = 4.2
OFF = 5.0
CLOSING = 22.0
MARGIN = 3.6


def spots_of(pieces: Sequence[BaseGeometry]) -> BaseGeometry | None:
    """Where a leader may end in the visible pieces of a letter: well inside the large ones; None when nothing is large enough.

    Pieces of at least a quarter of the largest count, each drawn in by 0.6 of its inner radius (0.25 to 4 mm).
    """
    parts = [part for piece in pieces for part in getattr(piece, "geoms", (piece,)) if not part.is_empty]
    if not parts:
        return None
    largest = max(part.area for part in parts)
    kept: BaseGeometry | None = None
    for part in parts:
        if part.area < largest / 4:
            continue
        inner = inner_radius(part)
        if inner < 0.2:
            continue
        shrunk = part.buffer(-min(max(0.6 * inner, 0.25), 4.0, inner * 0.95))
        if not shrunk.is_empty:
            kept = shrunk if kept is None else kept.union(shrunk)
    return kept


def inner_radius(area: BaseGeometry) -> float:
    """The radius of about the largest circle that fits in an area, found by halving."""
    low, high = 0.0, (area.area / 3.141592653589793) ** 0.5
    left, foot, right, head = area.bounds
    # A circle that fits for certain, and one that doesn't, its chords included: most halvings need no trial.
    fits, most = 0.99 * float(area.boundary.distance(area.representative_point())), 0.53 * min(right - left, head - foot)
    for _ in range(9):
        middle = (low + high) / 2
        if middle > fits and (middle > most or area.buffer(-middle, quad_segs=3).is_empty):
            high = middle
        else:
            low = middle
    return low


def rings_round(silhouette: BaseGeometry, width: float, height: float) -> list[BaseGeometry]:
    """The ways round the silhouette, inside the frame, on which balloons stand."""
    reach = RADIUS + MARGIN
    frame = box(reach, reach, width - reach, height - reach)
    closed = silhouette.buffer(CLOSING, quad_segs=6).buffer(-CLOSING, quad_segs=6)
    ring_area = closed.buffer(OFF + RADIUS, quad_segs=8).intersection(frame)
    return [part.exterior for part in getattr(ring_area, "geoms", (ring_area,)) if part.geom_type == "Polygon"]


def slots_on(rings: Sequence[BaseGeometry], phase: float, taken: Sequence[BaseGeometry], wanted: int) -> list[figure.Point]:
    """Places on the rings, at least a balloon and a gap apart; closer when there are too few."""
    slots: list[figure.Point] = []
    for pitch in (2 * RADIUS + SPACE, 2 * RADIUS + 2.4, 2 * RADIUS + 1.2):
        slots = []
        for ring in rings:
            number = int(ring.length // pitch)
            points = shapely.line_interpolate_point(ring, [(index + phase) * ring.length / number for index in range(number)])
            blocked = [False] * number
            for area in taken:
                blocked = [one or near for one, near in zip(blocked, (shapely.distance(area, points) < RADIUS + 0.8).tolist(), strict=True)]
            for (x, y), no in zip(shapely.get_coordinates(points).tolist(), blocked, strict=True):
                if not no and not any(hypot(x - u, y - v) < pitch * 0.97 for u, v in slots):
                    slots.append((x, y))
        if len(slots) >= wanted * 1.3:
            break
    return slots
