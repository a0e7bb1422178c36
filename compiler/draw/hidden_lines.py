"""Which stretches of lines are seen: an interval of each edge is covered by each triangle in front of it.

In: lines in view coordinates and the covering triangles of a scene. Out: seen and covered stretches of each line.
It must not know about parts, classes of lines or paper.

A point P(t) of an edge is covered by a triangle where it lies inside its three sides on the picture and its plane
is nearer to the reader: four conditions g0 + g1 t >= c, linear in t, so each pair gives one interval. The union of
the intervals of an edge is what is covered; nothing is sorted by depth, so interlocked joints are no special case.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from compiler.draw.scene import Scene
from compiler.solid.meshes import Floats, Integers

# Triangles reach this far over their sides (inches): 0 lets edges shine through along shared sides, 1e-7 tears holes.
OUTSET = 1e-9
# What is nearer by less than this doesn't cover (inches).
NEARER = 1e-4
# Seen stretches under this length (inches on the picture) are crumbs of the arithmetic.
CRUMB = 1e-5
# The largest triangles are tried first: they cover most edges wholly.
FIRST = 300
# Pairs tried at once: few enough to stay in the processor's cache.
AT_ONCE = 8192


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """Stretches of lines: index of the line, start and end as shares of its length."""

    line: Integers
    start: Floats
    end: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Covers:
    """Covering triangles of a scene, `which` of its covers; one array per coordinate as that is faster to pick from.

    `x`, `y` of the three corners; inward normals `u`, `v` of the three sides; the plane's depth at (x, y) is
    depth + rise x + climb y, from the facet's normal: slivers have no plane of their own.
    """

    x: tuple[Floats, ...]
    y: tuple[Floats, ...]
    u: tuple[Floats, ...]
    v: tuple[Floats, ...]
    depth: Floats
    rise: Floats
    climb: Floats
    nearest: Floats
    which: Integers
    tree: shapely.STRtree


def seen_and_covered(scene: Scene, starts: Floats, ends: Floats) -> tuple[Stretches, Stretches]:
    """The seen and the covered stretches of lines from `starts` to `ends` ((n, 3), view coordinates)."""
    lengths = np.hypot(ends[:, 0] - starts[:, 0], ends[:, 1] - starts[:, 1])
    first, *more = covers_of(scene)
    line, low, high = _intervals(first, starts, ends, np.arange(len(starts)))
    for covers in more:
        seen, _ = _united(line, low, high, lengths)
        added = _intervals(covers, starts, ends, np.unique(seen.line))
        line, low, high = (np.concatenate(pair) for pair in zip((line, low, high), added, strict=True))
    return _united(line, low, high, lengths)


@lru_cache(maxsize=4)
def covers_of(scene: Scene) -> tuple[Covers, ...]:
    """The covering triangles, the largest apart; kept while a view is made, as its lines, cells and threads all ask for them."""
    order = np.argsort(-scene.areas, kind="stable")
    return tuple(_covers(scene, some) for some in ((order[:FIRST], order[FIRST:]) if len(order) > FIRST else (order,)))


def _covers(scene: Scene, which: Integers) -> Covers:
    triangles = scene.covers[which]
    corners = scene.points[scene.triangles[triangles]]
    x, y = (tuple(np.ascontiguousarray(corners[:, i, axis]) for i in range(3)) for axis in (0, 1))
    u, v = [], []
    for i in range(3):
        dx, dy = x[(i + 1) % 3] - x[i], y[(i + 1) % 3] - y[i]
        length = np.maximum(np.hypot(dx, dy), 1e-300)
        u.append(-dy / length)
        v.append(dx / length)
    normals = scene.normals[triangles]
    rise, climb = -normals[:, 0] / normals[:, 2], -normals[:, 1] / normals[:, 2]
    # A diagonal has the box of its triangle, and costs less to make.
    diagonals = np.stack([corners[:, :, :2].min(axis=1), corners[:, :, :2].max(axis=1)], axis=1)
    return Covers(
        x, y, tuple(u), tuple(v), corners[:, 0, 2] - rise * x[0] - climb * y[0], rise, climb,
        corners[:, :, 2].max(axis=1), which, shapely.STRtree(shapely.linestrings(diagonals)),
    )


def _intervals(
    covers: Covers, starts: Floats, ends: Floats, which: Integers
) -> tuple[Integers, Floats, Floats]:
    """For the lines `which`, the covered interval of each pair of line and triangle that has one."""
    if not len(covers.which) or not len(which):
        return np.zeros(0, dtype=np.int64), np.zeros(0), np.zeros(0)
    row, tri = covers.tree.query(shapely.linestrings(np.stack([starts[which, :2], ends[which, :2]], axis=1)))
    sx, sy, sz = (np.ascontiguousarray(starts[which, axis]) for axis in range(3))
    wx, wy, wz = (np.ascontiguousarray(ends[which, axis] - starts[which, axis]) for axis in range(3))
    length = np.hypot(wx, wy)
    nx, ny = -wy / length, wx / length
    nc = sx * nx + sy * ny
    farthest = sz + np.minimum(wz, 0.0) + NEARER
    kept_row, kept_tri = [], []
    for begin in range(0, len(row), AT_ONCE):
        some, tris = row[begin:begin + AT_ONCE], tri[begin:begin + AT_ONCE]
        nearer = covers.nearest[tris] > farthest[some]
        some, tris = some[nearer], tris[nearer]
        # The line itself as separating axis: most pairs of touching boxes part here.
        ax, ay, ac = nx[some], ny[some], nc[some]
        one, two, three = (covers.x[i][tris] * ax + covers.y[i][tris] * ay - ac for i in range(3))
        crossed = np.minimum(np.minimum(one, two), three) < OUTSET
        crossed &= np.maximum(np.maximum(one, two), three) > -OUTSET
        kept_row.append(some[crossed])
        kept_tri.append(tris[crossed])
    row, tri = np.concatenate(kept_row or [row]), np.concatenate(kept_tri or [tri])
    px, py, pz, dx, dy, dz = (array[row] for array in (sx, sy, sz, wx, wy, wz))
    low, high = np.zeros(len(row)), np.ones(len(row))
    for i in range(3):
        u, v = covers.u[i][tri], covers.v[i][tri]
        _clip(low, high, u * (px - covers.x[i][tri]) + v * (py - covers.y[i][tri]) + OUTSET, u * dx + v * dy)
    rise, climb = covers.rise[tri], covers.climb[tri]
    _clip(low, high, covers.depth[tri] + rise * px + climb * py - pz - NEARER, rise * dx + climb * dy - dz)
    keep = high > low
    return which[row[keep]], low[keep], high[keep]


def _clip(low: Floats, high: Floats, here: Floats, change: Floats) -> None:
    """Narrow [low, high] to where here + change t >= 0."""
    steady = np.abs(change) < 1e-14
    cut = -here / np.where(steady, 1.0, change)
    rising, falling = (change > 0) & ~steady, (change < 0) & ~steady
    np.copyto(low, np.maximum(low, cut), where=rising)
    np.copyto(high, np.minimum(high, cut), where=falling)
    high[steady & (here < 0)] = -1.0


def _united(line: Integers, low: Floats, high: Floats, lengths: Floats) -> tuple[Stretches, Stretches]:
    """Seen stretches are the gaps of the union of covered intervals; covered ones fill the rest."""
    count = len(lengths)
    every = np.arange(count)
    line = np.concatenate([line, every, every])
    low = np.concatenate([low, np.full(count, -0.25), np.ones(count)])
    high = np.concatenate([high, np.zeros(count), np.ones(count)])
    order = np.lexsort((low, line))
    line, low, high = line[order], low[order], high[order]
    reached = np.maximum.accumulate(2 * line + high) - 2 * line
    same = line[1:] == line[:-1]
    begin, stop = np.maximum(reached[:-1], 0.0), low[1:]
    gap = same & ((stop - begin) * lengths[line[1:]] > CRUMB)
    seen = Stretches(line[1:][gap], begin[gap], stop[gap])
    # Covered: from each gap's end to the next gap's start on the same line, 0 and 1 closing both ends.
    edge_line = np.concatenate([seen.line, every])
    begins = np.concatenate([seen.end, np.zeros(count)])
    stops = np.concatenate([seen.start, np.ones(count)])
    from_order, to_order = np.lexsort((begins, edge_line)), np.lexsort((stops, edge_line))
    start, end, owner = begins[from_order], stops[to_order], edge_line[from_order]
    keep = (end - start) * lengths[owner] > CRUMB
    return seen, Stretches(owner[keep], start[keep], end[keep])
