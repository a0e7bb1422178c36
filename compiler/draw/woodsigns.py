"""Signs on cut faces: end grain, long grain, plywood edge and face, each quiet and unlike the others.

In: a cut face on paper and what it is. Out: lines clipped to it. It must not know parts or views. Millimetres.

Drafting practice, no published rule. Spacings vary by the fractional parts of multiples of the golden ratio: they look drawn
by hand and are the same each time.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, hypot, pi, radians, sin
from typing import Literal

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from compiler.values.figure import Point

Sign = Literal["end", "along", "edge", "face"]
Path = tuple[Point, ...]
GOLDEN = 0.6180339887498949
END_PITCH = 1.5
LONG_PITCH = 1.7
STROKE_PITCH = 1.1
FACE_PITCH = 2.2


def sign(area: BaseGeometry, what: Sign, *, angle: float = 0.0, turn: int = 0, thickness: float = 0.0) -> list[Path]:
    """Lines of a sign. `angle` (degrees) is the direction of the grain or of the plies; `turn` numbers neighbours so that they differ.

    `thickness` is a plywood's, in inches: 7 plies from 5/8 in up, 5 from 3/8, else 3.
    """
    if area.is_empty or area.area < 1.0:
        return []
    if what == "end":
        return _end(area, turn)
    if what == "along":
        return _along(area, angle, turn)
    if what == "edge":
        return _plies(area, angle, turn, thickness)
    return _strokes(area, 45.0 if turn % 2 == 0 else 135.0, FACE_PITCH)


def share(k: int) -> float:
    """The k-th number of an even but irregular row between 0 and 1."""
    return (k * GOLDEN) % 1.0


def _clipped(lines: Sequence[Sequence[Point]], area: BaseGeometry) -> list[Path]:
    """What of lines lies in an area, crumbs left out."""
    if not lines:
        return []
    drawn = shapely.linestrings([point for line in lines for point in line],
                                indices=np.repeat(np.arange(len(lines)), [len(line) for line in lines]))
    pieces = shapely.get_parts(shapely.intersection(drawn, area))
    pieces = pieces[(shapely.get_type_id(pieces) == shapely.GeometryType.LINESTRING) & (shapely.length(pieces) > 0.3)]
    points, piece = shapely.get_coordinates(pieces, return_index=True)
    corners = list(map(tuple, points.tolist()))
    starts = np.searchsorted(piece, np.arange(len(pieces) + 1)).tolist()
    return [tuple(corners[start:end]) for start, end in pairwise(starts)]


def _end(area: BaseGeometry, turn: int) -> list[Path]:
    """Year rings about a pith outside the piece."""
    left, low, right, high = area.bounds
    size = max(right - left, high - low)
    aside = 0.25 * size
    middle = ((left + right) / 2, (low + high) / 2)
    pith = [
        (middle[0] + aside, low - 0.9 * size), (middle[0] - aside, high + 0.9 * size),
        (left - 0.9 * size, middle[1] + aside), (right + 0.9 * size, middle[1] - aside),
    ][turn % 4]
    nearest = area.distance(shapely.Point(pith))
    farthest = max(hypot(x - pith[0], y - pith[1]) for x, y in ((left, low), (right, low), (left, high), (right, high)))
    arcs = []
    radius, k = nearest + 0.4, turn * 7
    while radius < farthest:
        steps = max(24, ceil(radius * 0.9))
        arcs.append([(pith[0] + radius * cos(2 * pi * i / steps), pith[1] + radius * sin(2 * pi * i / steps)) for i in range(steps + 1)])
        k += 1
        radius += END_PITCH * (0.75 + 0.5 * share(k))
    return _clipped(arcs, area)


def _along(area: BaseGeometry, angle: float, turn: int) -> list[Path]:
    """Broken lines with the grain."""
    turned = affinity.rotate(area, -angle, origin=(0, 0))
    left, low, right, high = turned.bounds
    lines = []
    y, k = low + 0.9, turn * 11
    while y < high - 0.3:
        x = left - 12 * share(k + 3)
        while x < right:
            k += 1
            end = x + 9 + 9 * share(k)
            lines.append(((x, y), (end, y)))
            x = end + 1.6 + 1.4 * share(k + 5)
        k += 1
        y += LONG_PITCH * (0.7 + 0.6 * share(k))
    paths = _clipped(lines, turned)
    return [_back(path, angle) for path in paths]


def _plies(area: BaseGeometry, angle: float, turn: int, thickness: float) -> list[Path]:
    """Lines between plies, every second ply with strokes."""
    turned = affinity.rotate(area, -angle, origin=(0, 0))
    left, low, right, high = turned.bounds
    across = high - low
    if across < 2.0:
        return []
    plies = 7 if thickness >= 0.6 else 5 if thickness >= 0.36 else 3
    if across / plies < 1.0:
        plies = 3
    pitch = across / plies
    found = _clipped([((left - 1, low + i * pitch), (right + 1, low + i * pitch)) for i in range(1, plies)], turned)
    for i in range(1, plies, 2):
        band = turned.intersection(shapely.box(left - 1, low + i * pitch, right + 1, low + (i + 1) * pitch))
        found += _strokes(band, 45.0 if (i // 2 + turn) % 2 == 0 else 135.0, STROKE_PITCH)
    return [_back(path, angle) for path in found]


def _strokes(area: BaseGeometry, angle: float, pitch: float) -> list[Path]:
    if area.is_empty:
        return []
    turned = affinity.rotate(area, -angle, origin=(0, 0))
    left, low, right, high = turned.bounds
    count = int((high - low) / pitch) + 1
    lines = [((left - 1, low + (i + 0.5) * pitch), (right + 1, low + (i + 0.5) * pitch)) for i in range(count)]
    return [_back(path, angle) for path in _clipped(lines, turned)]


def _back(path: Path, angle: float) -> Path:
    c, s = cos(radians(angle)), sin(radians(angle))
    return tuple((x * c - y * s, x * s + y * c) for x, y in path)
