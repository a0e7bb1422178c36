"""How far a part must travel along an axis to be past another: exact for square work, sampled for the rest.

In: solids. Out: for each of the three axes a table of travels in inches. It must not know about joints or drawings.

Method (blocking along a direction, after the directional blocking graphs of assembly planning): the vertex coordinates of the
two other axes are a grid; in each cell's centre each part has a lowest and a highest depth. Part i is past part j after
max(high of j - low of i) over the cells both fill. Faces that touch never share a cell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from compiler.solid.building import Solids
from compiler.solid.geometry import Geometry
from compiler.solid.meshes import Floats, Integers

MERGED = 0.012
MOST = 500
NEVER = -np.inf
# Pairs of a triangle and a cell tried at once.
AT_ONCE = 65536


@dataclass(frozen=True, slots=True, eq=False)
class _Shadow:
    """A part's cells on a grid: the first row and column, lowest and highest depth (inf, -inf where it is not)."""

    row: int
    column: int
    low: Floats
    high: Floats


def clearances(solids: Solids) -> tuple[Floats, Floats, Floats]:
    """Per axis a table (n, n): travel of part i along +axis to be wholly past part j, -inf when they never meet.

    The travel along -axis is the transposed table.
    """
    geometries = tuple(solid.geometry for solid in solids.parts)
    return _along(geometries, 0), _along(geometries, 1), _along(geometries, 2)


@lru_cache(maxsize=96)
def _along(geometries: tuple[Geometry, ...], axis: int) -> Floats:
    shadows = _shadows(geometries, axis)
    count = len(geometries)
    table = np.full((count, count), NEVER)
    for i, a in enumerate(shadows):
        for j, b in enumerate(shadows[:i]):
            r0, r1 = max(a.row, b.row), min(a.row + a.low.shape[0], b.row + b.low.shape[0])
            c0, c1 = max(a.column, b.column), min(a.column + a.low.shape[1], b.column + b.low.shape[1])
            if r0 >= r1 or c0 >= c1:
                continue
            in_a = (slice(r0 - a.row, r1 - a.row), slice(c0 - a.column, c1 - a.column))
            in_b = (slice(r0 - b.row, r1 - b.row), slice(c0 - b.column, c1 - b.column))
            table[i, j] = (b.high[in_b] - a.low[in_a]).max()
            table[j, i] = (a.high[in_a] - b.low[in_b]).max()
    table.setflags(write=False)
    return table


def _cuts(geometries: Sequence[Geometry], axis: int) -> Floats:
    """Coordinates that cut the grid: all vertices of square parts, evenly thinned when there are too many."""
    values = np.unique(np.round(np.concatenate([geometry.corners[:, axis] for geometry in geometries]), 6))
    kept = [values[0]]
    for value in values[1:]:
        if value - kept[-1] > MERGED:
            kept.append(value)
    cuts = np.array(kept)
    if len(cuts) > MOST:
        cuts = cuts[np.unique(np.linspace(0, len(cuts) - 1, MOST).round().astype(int))]
    return cuts


def _shadows(geometries: Sequence[Geometry], axis: int) -> list[_Shadow]:
    """The shadow of each part on the grid of all; one thinner than a cell has no cells."""
    one, two = (i for i in range(3) if i != axis)
    xs, ys = ((cuts[1:] + cuts[:-1]) / 2 for cuts in (_cuts(geometries, one), _cuts(geometries, two)))
    low, high = (np.array(ends) for ends in zip(*((geometry.low, geometry.high) for geometry in geometries), strict=True))
    first_x, first_y = np.searchsorted(xs, low[:, one]), np.searchsorted(ys, low[:, two])
    wide, deep = np.searchsorted(xs, high[:, one]) - first_x, np.searchsorted(ys, high[:, two]) - first_y
    begins = np.concatenate([[0], np.cumsum(wide * deep)])
    lowest, highest = np.full(begins[-1], np.inf), np.full(begins[-1], -np.inf)
    steep = [np.abs(geometry.normals[:, axis]) > 1e-6 for geometry in geometries]
    owner = np.repeat(np.arange(len(geometries)), [int(chosen.sum()) for chosen in steep])
    corners = np.concatenate([geometry.corners[geometry.triangles[chosen]] for geometry, chosen in zip(geometries, steep, strict=True)])
    normals = np.concatenate([geometry.normals[chosen] for geometry, chosen in zip(geometries, steep, strict=True)])
    x, y = corners[:, :, one], corners[:, :, two]
    row, column = np.searchsorted(xs, x.min(axis=1)), np.searchsorted(ys, y.min(axis=1))
    across = np.searchsorted(ys, y.max(axis=1)) - column
    sizes = (np.searchsorted(xs, x.max(axis=1)) - row) * across
    for some in _batches(sizes):
        # Every pair of a triangle and a cell of its box, one after the other.
        each = np.repeat(some, sizes[some])
        within = np.arange(len(each)) - np.repeat(np.cumsum(sizes[some]) - sizes[some], sizes[some])
        rows, columns = row[each] + within // across[each], column[each] + within % across[each]
        at_x, at_y, px, py = xs[rows], ys[columns], x[each], y[each]
        turn = np.sign((px[:, 1] - px[:, 0]) * (py[:, 2] - py[:, 0]) - (py[:, 1] - py[:, 0]) * (px[:, 2] - px[:, 0]))
        inside = np.ones(len(each), dtype=bool)
        for k, m in ((0, 1), (1, 2), (2, 0)):
            inside &= turn * ((px[:, m] - px[:, k]) * (at_y - py[:, k]) - (py[:, m] - py[:, k]) * (at_x - px[:, k])) >= -1e-12
        n = normals[each]
        depth = corners[each, 0, axis] - (n[:, one] * (at_x - px[:, 0]) + n[:, two] * (at_y - py[:, 0])) / n[:, axis]
        part = owner[each]
        cell = (begins[part] + (rows - first_x[part]) * deep[part] + columns - first_y[part])[inside]
        np.minimum.at(lowest, cell, depth[inside])
        np.maximum.at(highest, cell, depth[inside])
    return [_Shadow(int(first_x[i]), int(first_y[i]), *(depths[begins[i]:begins[i + 1]].reshape(wide[i], deep[i]) for depths in (lowest, highest)))
            for i in range(len(geometries))]


def _batches(sizes: Integers) -> list[Integers]:
    """The triangles that have cells, some at a time."""
    some = np.flatnonzero(sizes)
    return np.split(some, np.flatnonzero(np.diff(np.cumsum(sizes[some]) // AT_ONCE)) + 1) if len(some) else []
