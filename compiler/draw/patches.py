"""The tinted areas of a view: cells merged per part and per direction of their faces.

In: a scene and the cells between its lines. Out: patches with rings on the drawing's grid. It must not know about
kinds of lines, paper or colours.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from compiler.draw.cells import BACKGROUND, Cells
from compiler.draw.linework import GRID, rounded
from compiler.draw.scene import Scene
from compiler.solid.meshes import Floats, Integers

Point = tuple[float, float]
Shade = Literal["front", "side", "top", "cut", ""]
_SHADES: tuple[Shade, ...] = ("side", "front", "top", "cut")


@dataclass(frozen=True, slots=True)
class Patch:
    """An area of one part: rings (outer ones and holes, even-odd), square inches. `shade` is by the face's direction."""

    part: str
    rings: tuple[tuple[Point, ...], ...]
    area: float
    shade: Shade = ""


def patches(scene: Scene, areas: Cells) -> tuple[tuple[Patch, ...], tuple[Patch, ...]]:
    """Cells merged per part and shade, and per part."""
    filled = np.flatnonzero(areas.nearest != BACKGROUND)
    if not len(filled):
        return (), ()
    triangle = areas.nearest[filled]
    owner = scene.owner[triangle]
    shade = _shades(np.round(np.abs(_directions(scene, triangle)), 6))
    shade[scene.cap[triangle]] = 3
    polygons = areas.polygons[filled]
    fills = [
        Patch(scene.names[group // 4], rings, area, _SHADES[group % 4])
        for group, rings, area in _united(polygons, owner * 4 + shade)
    ]
    regions = [Patch(scene.names[group], rings, area) for group, rings, area in _united(polygons, owner)]
    return tuple(fills), tuple(regions)


def _directions(scene: Scene, triangle: Integers) -> Floats:
    """The normal of each triangle's face; all of a curved surface has the mean of what faces the reader."""
    directions = scene.facets[triangle].copy()
    curve = scene.curve[triangle]
    rounded_ones = np.flatnonzero(curve >= 0)
    if len(rounded_ones):
        cover = scene.covers[scene.curve[scene.covers] >= 0]
        weight = scene.areas[scene.curve[scene.covers] >= 0]
        size = int(scene.curve.max()) + 1
        sums = [np.bincount(scene.curve[cover], weight * scene.facets[cover, axis], size) for axis in range(3)]
        mean = np.column_stack(sums)
        mean /= np.maximum(np.linalg.norm(mean, axis=1), 1e-12)[:, None]
        directions[rounded_ones] = mean[curve[rounded_ones]]
    return directions


def _shades(normals: Floats) -> Integers:
    """0 side, 1 front, 2 top, by the axis that a face looks along most."""
    shade = np.where(normals[:, 1] >= normals[:, 0], 1, 0)
    result: Integers = np.where(normals[:, 2] >= normals[:, :2].max(axis=1), 2, shade)
    return result


def _united(polygons: NDArray[np.object_], group: Integers) -> list[tuple[int, tuple[tuple[Point, ...], ...], float]]:
    """The polygons of each group merged: group, rings, area."""
    order = np.argsort(group, kind="stable")
    numbers, first = np.unique(group[order], return_index=True)
    parts = np.split(polygons[order], first[1:])
    areas = np.array([cell[0] if len(cell) == 1 else shapely.coverage_union_all(cell) for cell in parts], dtype=object)
    return [(number, *found) for number, found in zip(numbers.tolist(), outlined(areas), strict=True)]


def outlined(areas: NDArray[np.object_]) -> list[tuple[tuple[tuple[Point, ...], ...], float]]:
    """Rings and size of each area, straightened, each ring from its lowest corner."""
    areas = shapely.normalize(shapely.simplify(areas, GRID, preserve_topology=True))
    pieces, area_of = shapely.get_parts(areas, return_index=True)
    rings, piece_of = shapely.get_rings(pieces, return_index=True)
    points, ring_of = shapely.get_coordinates(rings, return_index=True)
    starts = np.searchsorted(ring_of, np.arange(len(rings) + 1))
    corners = rounded(points)
    found: list[list[tuple[Point, ...]]] = [[] for _ in areas]
    for ring, owner in enumerate(area_of[piece_of].tolist()):
        found[owner].append(corners[starts[ring]:starts[ring + 1]])
    return [(tuple(each), round(size, 4)) for each, size in zip(found, shapely.area(areas).tolist(), strict=True)]
