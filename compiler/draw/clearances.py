"""How far a part must travel along an axis to be past another: exact for square work, sampled for the rest.

In: solids. Out: for each of the three axes a table of travels in inches. It must not know about joints or drawings.

Method (blocking along a direction, after the directional blocking graphs of assembly planning): the vertex coordinates of the
two other axes are a grid; in each cell's centre each part has a lowest and a highest depth. Part i is past part j after
max(high of j - low of i) over the cells both fill. Faces that touch never share a cell.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compiler.solid.building import Solids
from compiler.solid.geometry import Geometry
from compiler.solid.meshes import Floats

MERGED = 0.012
MOST = 500
NEVER = -np.inf


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
    geometries = [solid.geometry for solid in solids.parts]
    tables = [_along(geometries, axis) for axis in range(3)]
    return tables[0], tables[1], tables[2]


def _along(geometries: list[Geometry], axis: int) -> Floats:
    one, two = (i for i in range(3) if i != axis)
    rows, columns = _cuts(geometries, one), _cuts(geometries, two)
    shadows = [_shadow(geometry, axis, one, two, rows, columns) for geometry in geometries]
    count = len(geometries)
    table = np.full((count, count), NEVER)
    for i, a in enumerate(shadows):
        if a is None:
            continue
        for j in range(i):
            b = shadows[j]
            if b is None:
                continue
            r0, r1 = max(a.row, b.row), min(a.row + a.low.shape[0], b.row + b.low.shape[0])
            c0, c1 = max(a.column, b.column), min(a.column + a.low.shape[1], b.column + b.low.shape[1])
            if r0 >= r1 or c0 >= c1:
                continue
            in_a = (slice(r0 - a.row, r1 - a.row), slice(c0 - a.column, c1 - a.column))
            in_b = (slice(r0 - b.row, r1 - b.row), slice(c0 - b.column, c1 - b.column))
            table[i, j] = np.max(b.high[in_b] - a.low[in_a])
            table[j, i] = np.max(a.high[in_a] - b.low[in_b])
    return table


def _cuts(geometries: list[Geometry], axis: int) -> Floats:
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


def _shadow(geometry: Geometry, axis: int, one: int, two: int, rows: Floats, columns: Floats) -> _Shadow | None:
    middles_1, middles_2 = (rows[1:] + rows[:-1]) / 2, (columns[1:] + columns[:-1]) / 2
    first_1, last_1 = np.searchsorted(middles_1, (geometry.low[one], geometry.high[one]))
    first_2, last_2 = np.searchsorted(middles_2, (geometry.low[two], geometry.high[two]))
    if last_1 <= first_1 or last_2 <= first_2:
        return None
    low = np.full((last_1 - first_1, last_2 - first_2), np.inf)
    high = np.full_like(low, -np.inf)
    steep = np.abs(geometry.normals[:, axis]) > 1e-6
    for triangle, normal in zip(geometry.triangles[steep], geometry.normals[steep], strict=True):
        corners = geometry.corners[triangle]
        a0, a1 = np.searchsorted(middles_1, (corners[:, one].min(), corners[:, one].max()))
        b0, b1 = np.searchsorted(middles_2, (corners[:, two].min(), corners[:, two].max()))
        if a1 <= a0 or b1 <= b0:
            continue
        x, y = middles_1[a0:a1, None], middles_2[None, b0:b1]
        p = corners[:, (one, two)]
        inside = np.ones((a1 - a0, b1 - b0), dtype=bool)
        turn = np.sign((p[1, 0] - p[0, 0]) * (p[2, 1] - p[0, 1]) - (p[1, 1] - p[0, 1]) * (p[2, 0] - p[0, 0]))
        for k in range(3):
            q, r = p[k], p[(k + 1) % 3]
            inside &= turn * ((r[0] - q[0]) * (y - q[1]) - (r[1] - q[1]) * (x - q[0])) >= -1e-12
        depth = corners[0, axis] - (normal[one] * (x - corners[0, one]) + normal[two] * (y - corners[0, two])) / normal[axis]
        at = (slice(a0 - first_1, a1 - first_1), slice(b0 - first_2, b1 - first_2))
        low[at] = np.where(inside, np.minimum(low[at], depth), low[at])
        high[at] = np.where(inside, np.maximum(high[at], depth), high[at])
    return _Shadow(int(first_1), int(first_2), low, high)
