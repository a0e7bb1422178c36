"""Pieces of lines made into few clean polylines: doubles merged, heavier kinds before lighter, ends joined.

In: straight pieces on the picture with a rank (lower is heavier). Out: pieces without overlaps, and polylines.
It must not know about solids or paper.
"""

from __future__ import annotations

from collections.abc import Sequence
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
    chains = _chained(start[keep].tolist(), end[keep].tolist(), group[keep].tolist())
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


def _chained(
    starts: Sequence[Sequence[int]], ends: Sequence[Sequence[int]], groups: Sequence[int]
) -> list[tuple[int, list[Place]]]:
    meeting: dict[tuple[int, int, int], list[int]] = {}
    pieces: list[tuple[Place, Place]] = []
    for index, (a, b, group) in enumerate(zip(starts, ends, groups, strict=True)):
        pieces.append(((a[0], a[1]), (b[0], b[1])))
        meeting.setdefault((group, a[0], a[1]), []).append(index)
        meeting.setdefault((group, b[0], b[1]), []).append(index)
    used = [False] * len(pieces)

    def walk(group: int, index: int, place: Place) -> list[Place]:
        """From `place`, the far end of piece `index`, on while just one other piece meets it."""
        chain = [place]
        while True:
            here = meeting[group, place[0], place[1]]
            if len(here) != 2:
                return chain
            other = here[0] if here[1] == index else here[1]
            if used[other]:
                return chain
            used[other] = True
            a, b = pieces[other]
            place = b if a == place else a
            chain.append(place)
            index = other

    chains = []
    for index in sorted(range(len(pieces)), key=lambda i: (groups[i], min(pieces[i]), max(pieces[i]))):
        if used[index]:
            continue
        used[index] = True
        a, b = min(pieces[index]), max(pieces[index])
        onward = walk(groups[index], index, b)
        chain = [*walk(groups[index], index, a)[::-1], *onward]
        # A closed ring starts at its lowest corner whatever piece came first: sorting saw to that.
        chains.append((groups[index], min(chain, chain[::-1])))
    return chains
