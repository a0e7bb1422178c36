"""Pieces of lines made into few clean polylines: doubles merged, heavier kinds before lighter, ends joined.

In: straight pieces on the picture with a rank (lower is heavier). Out: pieces without overlaps, and polylines.
It must not know about solids or paper.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from compiler.solid.meshes import Floats, Integers

# Coordinates of finished drawings are multiples of this (inches), so that every machine makes the same bytes.
GRID = 1e-4
SAME_ANGLE = 1e-6
SAME_LINE = 1e-4
# Polylines shorter than this are remains of crumbs.
SHORTEST = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Pieces:
    """Straight pieces: ends (n, 2) on the picture, unit direction of the line they lie on, rank."""

    start: Floats
    end: Floats
    direction: Floats
    rank: Integers

    def some(self, which: Integers) -> Pieces:
        """Some of the pieces."""
        return Pieces(self.start[which], self.end[which], self.direction[which], self.rank[which])


def merged(pieces: Pieces) -> Pieces:
    """The same lines without overlaps: where pieces lie on one line, the lowest rank wins."""
    count = len(pieces.rank)
    if not count:
        return pieces
    angle = np.arctan2(pieces.direction[:, 1], pieces.direction[:, 0])
    angle = np.where(angle < -SAME_ANGLE, angle + np.pi, angle)
    angle = np.where(angle > np.pi - 2 * SAME_ANGLE, angle - np.pi, angle)
    way = np.column_stack([np.cos(angle), np.sin(angle)])
    offset = pieces.start[:, 1] * way[:, 0] - pieces.start[:, 0] * way[:, 1]
    group = _near(offset, SAME_LINE, _near(angle, SAME_ANGLE, np.zeros(count, dtype=np.int64)))
    one, two = (pieces.start * way).sum(axis=1), (pieces.end * way).sum(axis=1)
    flip = one > two
    first = np.where(flip[:, None], pieces.end, pieces.start)
    last = np.where(flip[:, None], pieces.start, pieces.end)
    along = np.concatenate([np.minimum(one, two), np.maximum(one, two)])
    places = np.concatenate([first, last])
    order = np.lexsort((along, np.concatenate([group, group])))
    position = np.empty(2 * count, dtype=np.int64)
    position[order] = np.arange(2 * count)
    # Between two neighbouring ends on a line the lowest rank that covers the stretch holds it.
    begins, widths = position[:count], position[count:] - position[:count]
    stretch = np.repeat(begins - np.concatenate([[0], np.cumsum(widths)[:-1]]), widths) + np.arange(widths.sum())
    ranks = pieces.rank.max() + 1
    holder = np.full(2 * count, ranks * count, dtype=np.int64)
    np.minimum.at(holder, stretch, np.repeat(pieces.rank * count + np.arange(count), widths))
    held = np.flatnonzero(holder < ranks * count)
    held = held[along[order[held + 1]] - along[order[held]] > 1e-9]
    rank, source = holder[held] // count, holder[held] % count
    fresh = np.ones(len(held), dtype=bool)
    fresh[1:] = (
        (rank[1:] != rank[:-1])
        | (group[source[1:]] != group[source[:-1]])
        | (along[order[held[1:]]] - along[order[held[:-1] + 1]] > 1e-6)
    )
    opens = np.flatnonzero(fresh)
    closes = np.concatenate([opens[1:] - 1, [len(held) - 1]])
    return Pieces(
        places[order[held[opens]]], places[order[held[closes] + 1]], way[source[opens]], rank[opens]
    )


def _near(values: Floats, gap: float, group: Integers) -> Integers:
    """Groups split further where sorted values lie more than `gap` apart."""
    order = np.lexsort((values, group))
    sorted_values, sorted_group = values[order], group[order]
    fresh = np.concatenate([[0], (np.diff(sorted_values) > gap) | (np.diff(sorted_group) > 0)])
    result = np.empty(len(values), dtype=np.int64)
    result[order] = np.cumsum(fresh)
    return result


def on_grid(points: Floats) -> Integers:
    """Points as whole numbers of grid steps."""
    return np.rint(points / GRID).astype(np.int64)


def polylines(start: Integers, end: Integers, group: Integers) -> list[tuple[int, tuple[tuple[float, float], ...]]]:
    """Pieces on the grid joined end to end within their group, as (group, points in inches), sorted.

    They are joined where exactly two pieces of the group meet, and straightened where they run on.
    """
    keep = (start != end).any(axis=1)
    chains = _chained(start[keep], end[keep], group[keep])
    if not chains:
        return []
    lines = shapely.linestrings(
        np.array([point for _, chain in chains for point in chain], dtype=np.float64) * GRID,
        indices=np.repeat(np.arange(len(chains)), [len(chain) for _, chain in chains]),
    )
    lines = shapely.simplify(lines, 1.5 * GRID, preserve_topology=True)
    result = []
    for (number, _), line, length in zip(chains, lines, shapely.length(lines), strict=True):
        if length >= SHORTEST:
            result.append((number, rounded(shapely.get_coordinates(line))))
    return sorted(result)


def rounded(points: Floats) -> tuple[tuple[float, float], ...]:
    """Points rounded to the grid, without negative zeros."""
    return tuple(map(tuple, (np.round(points, 4) + 0.0).tolist()))


Place = tuple[int, int]


def _chained(start: Integers, end: Integers, group: Integers) -> list[tuple[int, list[Place]]]:
    count = len(group)
    if not count:
        return []
    turned = (start[:, 0] > end[:, 0]) | ((start[:, 0] == end[:, 0]) & (start[:, 1] > end[:, 1]))
    low, high = np.where(turned[:, None], end, start), np.where(turned[:, None], start, end)
    node, places = _nodes(np.concatenate([low, high]), np.concatenate([group, group]))
    # The two pieces that meet at a place, or -1 where one ends or more meet.
    order = np.argsort(node, kind="stable")
    first = np.searchsorted(node[order], np.arange(len(places)))
    two = np.bincount(node, minlength=len(places)) == 2
    meeting = np.full((len(places), 2), -1)
    meeting[two] = order[first[two, None] + np.arange(2)] % count
    pairs: list[list[int]] = meeting.tolist()
    lows, highs = node[:count].tolist(), node[count:].tolist()
    used = [False] * count

    def walk(index: int, at: int) -> list[Place]:
        """From a place, the far end of piece `index`, on while just one other piece meets it."""
        chain = [places[at]]
        while True:
            one, other = pairs[at]
            if one == index:
                one = other
            if one < 0 or used[one]:
                return chain
            used[one] = True
            at = highs[one] if lows[one] == at else lows[one]
            chain.append(places[at])
            index = one

    chains = []
    groups = group.tolist()
    for index in np.lexsort((high[:, 1], high[:, 0], low[:, 1], low[:, 0], group)).tolist():
        if used[index]:
            continue
        used[index] = True
        onward = walk(index, highs[index])
        chain = [*walk(index, lows[index])[::-1], *onward]
        # A closed ring starts at its lowest corner whatever piece came first: sorting saw to that.
        chains.append((groups[index], min(chain, chain[::-1])))
    return chains


def _nodes(points: Integers, group: Integers) -> tuple[Integers, list[Place]]:
    """A number for each place of a group, and the place of each number."""
    order = np.lexsort((points[:, 1], points[:, 0], group))
    sorted_points, sorted_group = points[order], group[order]
    fresh = np.ones(len(order), dtype=bool)
    fresh[1:] = (sorted_points[1:] != sorted_points[:-1]).any(axis=1) | (sorted_group[1:] != sorted_group[:-1])
    node = np.empty(len(order), dtype=np.int64)
    node[order] = np.cumsum(fresh) - 1
    return node, [(x, y) for x, y in sorted_points[fresh].tolist()]
