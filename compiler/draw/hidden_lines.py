"""Which stretches of lines are seen: an interval of each edge is covered by each triangle in front of it.

In: lines in view coordinates and the covering triangles of a scene. Out: seen and covered stretches of each line.
It must not know about parts, classes of lines or paper.

A point P(t) of an edge is covered by a triangle where it lies inside its three sides on the picture and its plane
is nearer to the reader: four conditions g0 + g1 t >= c, linear in t, so each pair gives one interval. The union of
the intervals of an edge is what is covered; nothing is sorted by depth, so interlocked joints are no special case.
"""

from __future__ import annotations

from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """Stretches of lines: index of the line, start and end as shares of its length."""

    line: Integers
    start: Floats
    end: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Covers:
    """Covering triangles: corners on the picture, inward side normals, plane depths, boxes."""

    corners: Floats
    inward: Floats
    depth: Floats
    slope: Floats
    nearest: Floats
    boxes: Floats

    def some(self, which: Integers) -> _Covers:
        return _Covers(
            self.corners[which], self.inward[which], self.depth[which], self.slope[which], self.nearest[which],
            self.boxes[which],
        )


def seen_and_covered(scene: Scene, starts: Floats, ends: Floats) -> tuple[Stretches, Stretches]:
    """The seen and the covered stretches of lines from `starts` to `ends` ((n, 3), view coordinates)."""
    count = len(starts)
    covers = _covers(scene)
    lengths = np.hypot(ends[:, 0] - starts[:, 0], ends[:, 1] - starts[:, 1])
    everything = np.arange(count)
    size = (covers.boxes[:, 2] - covers.boxes[:, 0]) * (covers.boxes[:, 3] - covers.boxes[:, 1])
    order = np.argsort(-size, kind="stable")
    line, low, high = _intervals(covers.some(order[:FIRST]), starts, ends, everything)
    if len(order) > FIRST:
        seen, _ = _united(line, low, high, lengths)
        left = np.unique(seen.line)
        more = _intervals(covers.some(order[FIRST:]), starts, ends, left)
        line, low, high = (np.concatenate(pair) for pair in zip((line, low, high), more, strict=True))
    return _united(line, low, high, lengths)


def _covers(scene: Scene) -> _Covers:
    triangles = scene.triangles[scene.covers]
    corners = scene.points[triangles]
    flat = corners[:, :, :2]
    side = np.roll(flat, -1, axis=1) - flat
    side /= np.maximum(np.hypot(side[:, :, 0], side[:, :, 1]), 1e-300)[:, :, None]
    inward = np.stack([-side[:, :, 1], side[:, :, 0]], axis=2)
    normals = scene.normals[scene.covers]
    # The plane's depth at (x, y) is depth + slope · (x, y), from the facet's normal: slivers have no own plane.
    slope = -normals[:, :2] / normals[:, 2:]
    depth = corners[:, 0, 2] - (slope * flat[:, 0]).sum(axis=1)
    boxes = np.concatenate([flat.min(axis=1), flat.max(axis=1)], axis=1)
    return _Covers(flat, inward, depth, slope, corners[:, :, 2].max(axis=1), boxes)


def _intervals(
    covers: _Covers, starts: Floats, ends: Floats, which: Integers
) -> tuple[Integers, Floats, Floats]:
    """For the lines `which`, the covered interval of each pair of line and triangle that has one."""
    none = np.zeros(0)
    if not len(covers.boxes) or not len(which):
        return np.zeros(0, dtype=np.int64), none, none
    tree = shapely.STRtree(shapely.box(*covers.boxes.T))
    ribbons = shapely.linestrings(np.stack([starts[which, :2], ends[which, :2]], axis=1))
    row, tri = tree.query(ribbons)
    line = which[row]
    farthest = np.minimum(starts[:, 2], ends[:, 2])
    keep = covers.nearest[tri] > farthest[line] + NEARER
    line, tri = line[keep], tri[keep]
    start = starts[line]
    way = ends[line] - start
    # The line itself as separating axis.
    corners = covers.corners[tri]
    length = np.hypot(way[:, 0], way[:, 1])
    x, y = -way[:, 1] / length, way[:, 0] / length
    away = corners[:, :, 0] * x[:, None] + corners[:, :, 1] * y[:, None] - (start[:, 0] * x + start[:, 1] * y)[:, None]
    keep = (away.min(axis=1) < OUTSET) & (away.max(axis=1) > -OUTSET)
    line, tri, start, way, corners = line[keep], tri[keep], start[keep], way[keep], corners[keep]
    low, high = np.zeros(len(line)), np.ones(len(line))
    inward = covers.inward[tri]
    for side in range(3):
        nx, ny = inward[:, side, 0], inward[:, side, 1]
        here = nx * (start[:, 0] - corners[:, side, 0]) + ny * (start[:, 1] - corners[:, side, 1]) + OUTSET
        _clip(low, high, here, nx * way[:, 0] + ny * way[:, 1])
    slope = covers.slope[tri]
    above = covers.depth[tri] + slope[:, 0] * start[:, 0] + slope[:, 1] * start[:, 1] - start[:, 2] - NEARER
    _clip(low, high, above, slope[:, 0] * way[:, 0] + slope[:, 1] * way[:, 1] - way[:, 2])
    keep = high > low
    return line[keep], low[keep], high[keep]


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
