"""The areas between the lines of a view, and whose they are.

In: a scene and its visible pieces. Out: cells with their owner, and the segments between them.
It must not know about kinds of lines or paper.

All borders between parts are visible lines, so the cells of the linework are pure: what is nearest at one inner point
owns the whole cell.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from compiler.draw.hidden_lines import covers_of
from compiler.draw.linework import GRID, Pieces, on_grid
from compiler.draw.scene import Scene
from compiler.solid.meshes import Floats, Integers

BACKGROUND = -1


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """`polygons` with the triangle nearest in each (BACKGROUND for none), between the segments of `nodes` ((n, 2, 2), on the grid)."""

    polygons: NDArray[np.object_]
    nearest: Integers
    nodes: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """Segments on the grid: `start`, `end`, `source` the piece each lies on, `one` and `two` the cells on its sides (in no order;
    BACKGROUND for none)."""

    start: Integers
    end: Integers
    source: Integers
    one: Integers
    two: Integers


def cells(scene: Scene, pieces: Pieces) -> Cells:
    """The cells of the pieces."""
    nodes = _noded(pieces)
    segments = shapely.linestrings(nodes) if len(nodes) else np.zeros(0, dtype=object)
    polygons = shapely.get_parts(shapely.polygonize(segments)) if len(nodes) else np.zeros(0, dtype=object)
    inner = shapely.get_coordinates(shapely.point_on_surface(polygons))
    return Cells(polygons, nearest(scene, inner), nodes)


def sides(areas: Cells, pieces: Pieces) -> Sides:
    """The segments between cells."""
    start, end = on_grid(areas.nodes[:, 0]), on_grid(areas.nodes[:, 1])
    one, two = _neighbours(start, end, areas.polygons)
    return Sides(start, end, _sources(areas.nodes, pieces), one, two)


def _noded(pieces: Pieces) -> Floats:
    """Segments (n, 2, 2) that meet only at their ends, on the grid."""
    if not len(pieces.rank):
        return np.zeros((0, 2, 2))
    lines = shapely.linestrings(np.stack([pieces.start, pieces.end], axis=1))
    noded = shapely.get_parts(shapely.union_all(lines, grid_size=GRID))
    points, index = shapely.get_coordinates(noded, return_index=True)
    same = index[1:] == index[:-1]
    return np.stack([points[:-1][same], points[1:][same]], axis=1)


def _sources(nodes: Floats, pieces: Pieces) -> Integers:
    """For each segment the piece it lies on: the one nearest its middle, the lowest of equals."""
    result = np.zeros(len(nodes), dtype=np.int64)
    if not len(nodes):
        return result
    low, high = np.minimum(pieces.start, pieces.end) - GRID, np.maximum(pieces.start, pieces.end) + GRID
    middle = nodes.mean(axis=1)
    segment, piece = shapely.STRtree(shapely.linestrings(np.stack([low, high], axis=1))).query(shapely.points(middle))
    away = middle[segment] - pieces.start[piece]
    way = pieces.direction[piece]
    aside = np.abs(away[:, 0] * way[:, 1] - away[:, 1] * way[:, 0])
    order = np.lexsort((piece, np.round(aside, 6), segment))
    found, first = np.unique(segment[order], return_index=True)
    result[found] = piece[order[first]]
    return result


def _neighbours(start: Integers, end: Integers, polygons: NDArray[np.object_]) -> tuple[Integers, Integers]:
    """The cells on both sides of each segment."""
    one = np.full(len(start), BACKGROUND, dtype=np.int64)
    two = one.copy()
    if not len(polygons):
        return one, two
    rings, cell = shapely.get_rings(polygons, return_index=True)
    points, index = shapely.get_coordinates(rings, return_index=True)
    corners = on_grid(points)
    same = index[1:] == index[:-1]
    ring_start, ring_end, ring_cell = corners[:-1][same], corners[1:][same], cell[index[:-1][same]]
    places = np.concatenate([start, end, ring_start, ring_end])
    _, number = np.unique(places[:, 0] * (1 << 31) + places[:, 1], return_inverse=True)
    size = int(number.max()) + 1
    n, m = len(start), len(ring_start)
    key = np.minimum(number[:n], number[n:2 * n]) * size + np.maximum(number[:n], number[n:2 * n])
    a, b = number[2 * n:2 * n + m], number[2 * n + m:]
    ring_key = np.minimum(a, b) * size + np.maximum(a, b)
    order = np.argsort(ring_key, kind="stable")
    ring_key, ring_cell = ring_key[order], ring_cell[order]
    first, last = np.searchsorted(ring_key, key, "left"), np.searchsorted(ring_key, key, "right")
    has_one, has_two = last > first, last > first + 1
    one[has_one] = ring_cell[first[has_one]]
    two[has_two] = ring_cell[first[has_two] + 1]
    # A dangling segment lies inside one cell; both its sides are that cell's, which `one == two` says well enough.
    return one, two


def nearest(scene: Scene, points: Floats) -> Integers:
    """The front triangle nearest to the reader at each point (n, 2) of the picture, BACKGROUND where there is none."""
    result = np.full(len(points), BACKGROUND, dtype=np.int64)
    if not len(points) or not len(scene.covers):
        return result
    corners = scene.points[scene.triangles[scene.covers]]
    flat = corners[:, :, :2]
    spots = shapely.points(points)
    found = [(covers, covers.tree.query(spots)) for covers in covers_of(scene)]
    point = np.concatenate([pairs[0] for _, pairs in found])
    tri = np.concatenate([covers.which[pairs[1]] for covers, pairs in found])
    inside = np.ones(len(point), dtype=bool)
    for side in range(3):
        a, b = flat[tri, side], flat[tri, (side + 1) % 3]
        turn = (b[:, 0] - a[:, 0]) * (points[point, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (points[point, 0] - a[:, 0])
        inside &= turn >= -1e-12
    point, tri = point[inside], tri[inside]
    normals = scene.normals[scene.covers[tri]]
    away = points[point] - flat[tri, 0]
    depth = corners[tri, 0, 2] - (normals[:, :2] * away).sum(axis=1) / normals[:, 2]
    order = np.lexsort((tri, -np.round(depth, 6), point))
    _, first = np.unique(point[order], return_index=True)
    best = order[first]
    result[point[best]] = scene.covers[tri[best]]
    return result
