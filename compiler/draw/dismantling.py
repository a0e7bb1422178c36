"""In which order and which way a piece comes apart: found from what is in whose way and from what each joint pulls on.

In: travels between parts (compiler.draw.clearances), links between them with the direction they pull, hints. Out: records
of who leaves, which way, from whom; then an offset for each part. It must not know cameras, paper or names.

Roots: directional blocking graphs (Wilson), explosion graphs (Li et al. 2008), planning of steps (Agrawala et al. 2003).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from compiler.solid.meshes import Floats
from compiler.values.shapes import Vector

BLOCKED = 0.02
TOUCHES_ONLY = 0.3
SLIDING = 0.3
ALIKE = 0.35
# Ties go up, then to the front, to the sides, to the back; down last.
LIKED = {(2, 1): 0.04, (1, -1): 0.035, (0, -1): 0.03, (0, 1): 0.03, (1, 1): 0.02, (2, -1): 0.0}

Way = tuple[int, int]
"""Axis (0 across, 1 deep, 2 up) and sign."""
WAYS: tuple[Way, ...] = tuple(LIKED)


@dataclass(frozen=True, slots=True)
class Link:
    """Two units that touch: the sum of area times normal, out of the first; `let_in` when one is let into the other."""

    first: int
    second: int
    pull: Vector
    area: float
    let_in: bool


@dataclass(frozen=True, slots=True)
class Record:
    """`units` leave `rest` along `way`; they hang on `parent`. `inner` tells how the group itself is opened."""

    units: tuple[int, ...]
    way: Way
    parent: int
    rest: tuple[int, ...]
    distance: float | None = None
    inner: tuple[Record, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """The records in the order of leaving, and groups that could not be opened."""

    records: tuple[Record, ...]
    stuck: tuple[tuple[int, ...], ...] = ()


@dataclass(slots=True)
class _Puzzle:
    """What the search asks all the time; it lives inside one call."""

    clear: tuple[Floats, Floats, Floats]
    excused: Mapping[Way, frozenset[tuple[int, int]]]
    links: dict[int, list[tuple[int, Floats, float, bool]]]
    bulk: Sequence[float]
    stuck: list[tuple[int, ...]] = field(default_factory=list)

    def travel(self, way: Way) -> Floats:
        """The travel table of a direction."""
        axis, sign = way
        return self.clear[axis] if sign > 0 else self.clear[axis].T


def dismantle(clear: tuple[Floats, Floats, Floats], links: Sequence[Link], bulk: Sequence[float],
              hints: Mapping[int, tuple[Way, float | None]],
              excused: Mapping[Way, frozenset[tuple[int, int]]] | None = None, driven: Collection[int] = ()) -> Plan:
    """The plan for units 0 … n-1. `bulk` are their volumes; hinted units leave first, their own way.

    `driven` are wedges and keys among them: they go past what they touch only, not past all that stands farther on.

    `excused` names pairs (who moves, who is passed) that don't block each other along a way although they graze: a joint that
    leans a little goes in askew, which travel along the plan's axes can't tell.
    """
    table: dict[int, list[tuple[int, Floats, float, bool]]] = {i: [] for i in range(len(bulk))}
    for link in links:
        pull = np.array(link.pull)
        table[link.first].append((link.second, pull, link.area, link.let_in))
        table[link.second].append((link.first, -pull, link.area, link.let_in))
    puzzle = _Puzzle(clear, excused or {}, table, bulk)
    rest = list(range(len(bulk)))
    records: list[Record] = []
    for unit in _first_come(puzzle, hints):
        if len(rest) > 1:
            way, distance = hints[unit]
            rest.remove(unit)
            passed = {other for other, *_ in puzzle.links[unit]} if unit in driven else set(rest)
            records.append(Record((unit,), way, _parent(puzzle, (unit,), rest), tuple(other for other in rest if other in passed), distance))
    records += _peel(puzzle, tuple(rest))
    return Plan(tuple(records), tuple(puzzle.stuck))


def _first_come(puzzle: _Puzzle, hints: Mapping[int, tuple[Way, float | None]]) -> list[int]:
    """The hinted units in the order in which they can leave: one that stands in another's way goes before it."""
    waiting, order = sorted(hints), []
    while waiting:
        free = [unit for unit in waiting if not any(
            other != unit and hints[other][0] == hints[unit][0] and puzzle.travel(hints[unit][0])[unit, other] > BLOCKED for other in waiting)]
        leaving = (free or waiting)[0]
        waiting.remove(leaving)
        order.append(leaving)
    return order


def _peel(puzzle: _Puzzle, units: tuple[int, ...]) -> list[Record]:
    rest = list(units)
    records: list[Record] = []
    while len(rest) > 1 and any(other in rest for unit in rest for other, *_ in puzzle.links[unit]):
        left = _round(puzzle, rest)
        if not left:
            puzzle.stuck.append(tuple(rest))
            break
        for group, way in left:
            if len(group) >= len(rest):
                continue
            rest = [unit for unit in rest if unit not in group]
            inner = tuple(_peel(puzzle, group)) if len(group) > 1 else ()
            records.append(Record(group, way, _parent(puzzle, group, rest), tuple(rest), None, inner))
    return records


def _round(puzzle: _Puzzle, rest: list[int]) -> list[tuple[tuple[int, ...], Way]]:
    """Who leaves next: the single units that pull most, else groups, else whoever slides out by the shortest way."""
    singles: dict[int, tuple[float, Way]] = {}
    groups: dict[tuple[int, ...], tuple[float, Way]] = {}
    slides: list[tuple[float, tuple[int, ...], Way]] = []
    for way in WAYS:
        for group in _free(puzzle, rest, way):
            others = [unit for unit in rest if unit not in group]
            if sum(puzzle.bulk[u] for u in group) > sum(puzzle.bulk[u] for u in others) and len(group) > 1:
                continue
            if len(group) > len(rest) / 2 and len(group) > 1:
                continue
            score, pulls = _score(puzzle, group, others, way)
            if pulls > 1e-9:
                found = singles if len(group) == 1 else groups
                key = group[0] if len(group) == 1 else group
                if key not in found or found[key][0] < score:  # type: ignore[index]
                    found[key] = (score, way)  # type: ignore[index]
            elif any(other in others for unit in group for other, *_ in puzzle.links[unit]):
                slides.append((_way_out(puzzle, group, others, way), group, way))
    if singles:
        best = max(score for score, _ in singles.values())
        leaving = [(unit, way) for unit, (score, way) in sorted(singles.items()) if score >= ALIKE * best]
        if len(leaving) == len(rest):
            keep = max(leaving, key=lambda item: (puzzle.bulk[item[0]], -item[0]))
            leaving.remove(keep)
        return [((unit,), way) for unit, way in leaving]
    if groups:
        best = max(score for score, _ in groups.values())
        chosen: list[tuple[tuple[int, ...], Way]] = []
        taken: set[int] = set()
        for group, (score, way) in sorted(groups.items(), key=lambda item: (-item[1][0], len(item[0]), item[0])):
            if score >= ALIKE * best and not taken & set(group) and len(taken) + len(group) < len(rest):
                chosen.append((group, way))
                taken |= set(group)
        return chosen
    if slides:
        shortest, first, first_way = min(slides, key=lambda item: (item[0], -LIKED[item[2]], len(item[1]), item[1]))
        del first
        out: list[tuple[tuple[int, ...], Way]] = []
        taken = set()
        for length, group, way in sorted(slides, key=lambda item: (item[0], -LIKED[item[2]], item[1])):
            alike = length <= shortest + 0.1 and way[0] == first_way[0]
            if alike and not taken & set(group) and len(taken) + len(group) < len(rest):
                out.append((group, way))
                taken |= set(group)
        return out
    return []


def _free(puzzle: _Puzzle, rest: list[int], way: Way) -> list[tuple[int, ...]]:
    """Strong components of who blocks whom along a way which nothing outside them blocks."""
    index = np.array(rest)
    blocked: NDArray[np.bool_] = puzzle.travel(way)[np.ix_(index, index)] > BLOCKED
    np.fill_diagonal(blocked, False)
    for one, two in puzzle.excused.get(way, ()):
        if one in rest and two in rest:
            blocked[rest.index(one), rest.index(two)] = False
    reach = blocked | np.eye(len(rest), dtype=bool)
    for _ in range(max(1, int(np.ceil(np.log2(len(rest)))))):
        reach = (reach.astype(np.float32) @ reach.astype(np.float32)) > 0
    mutual = reach & reach.T
    found = []
    for i in range(len(rest)):
        members = np.flatnonzero(mutual[i])
        if members[0] != i:
            continue
        if not (blocked[members].any(axis=0) & ~mutual[i]).any():
            found.append(tuple(int(index[m]) for m in members))
    return found


def _score(puzzle: _Puzzle, group: tuple[int, ...], others: list[int], way: Way) -> tuple[float, float]:
    """How well leaving that way opens the joints, and that without the liking of directions."""
    axis, sign = way
    outside = set(others)
    opened = total = 0.0
    slides = False
    for unit in group:
        for other, pull, area, let_in in puzzle.links[unit]:
            if other not in outside:
                continue
            weight = 1.0 if let_in else TOUCHES_ONLY
            size = float(np.linalg.norm(pull))
            total += weight * max(size, 0.02 * area)
            opened += weight * max(0.0, -sign * float(pull[axis]))
            if let_in and abs(float(pull[axis])) < 0.1 * size:
                slides = True
    pulls = opened / total if total > 0 else 0.0
    if slides:
        pulls *= SLIDING
    return pulls + LIKED[way], pulls


def _way_out(puzzle: _Puzzle, group: tuple[int, ...], others: list[int], way: Way) -> float:
    """How far a group slides until it is free of all it touches: along the other sign's travel of its neighbours."""
    back = puzzle.travel((way[0], -way[1]))
    touching = {other for unit in group for other, *_ in puzzle.links[unit] if other in others}
    return max((float(back[other, unit]) for unit in group for other in touching), default=0.0)


def _parent(puzzle: _Puzzle, group: tuple[int, ...], rest: list[int]) -> int:
    weights: dict[int, float] = {}
    for unit in group:
        for other, pull, area, let_in in puzzle.links[unit]:
            if other in rest:
                weights[other] = weights.get(other, 0.0) + (1.0 if let_in else TOUCHES_ONLY) * (float(np.linalg.norm(pull)) + 0.1 * area)
    if not weights:
        return rest[0]
    return max(weights, key=lambda other: (weights[other], -other))


# ---- places --------------------------------------------------------------------------------------------------


def offsets(plan: Plan, clear: tuple[Floats, Floats, Floats], boxes: Sequence[Sequence[tuple[Vector, Vector]]],
            gap: Callable[[Way], float], factor: Callable[[tuple[int, ...], Way], float] = lambda units, way: 1.0) -> Floats:
    """An offset (inches) for each unit. `boxes` are those of its parts; `gap` is the least opening of a direction.

    From the last record to the first; a group's inner records go before its own, so that what hangs on a member follows it.
    """
    moves: Floats = np.zeros((len(boxes), 3))
    corners = [np.array(unit, dtype=np.float64).reshape(-1, 2, 3) for unit in boxes]
    _place(plan.records, clear, corners, gap, factor, moves)
    return moves


def _place(records: Sequence[Record], clear: tuple[Floats, Floats, Floats], corners: list[Floats],
           gap: Callable[[Way], float], factor: Callable[[tuple[int, ...], Way], float], moves: Floats) -> None:
    for record in reversed(records):
        _place(record.inner, clear, corners, gap, factor, moves)
        axis, sign = record.way
        table = clear[axis] if sign > 0 else clear[axis].T
        side = [i for i in range(3) if i != axis]
        base = moves[record.parent].copy()
        opening = gap(record.way) * factor(record.units, record.way)
        travel = record.distance if record.distance is not None else opening
        if record.distance is None and record.rest:
            rest = np.array(record.rest)
            for unit in record.units:
                away = moves[rest] - base - moves[unit]
                passed = table[unit, rest]
                ahead = (np.abs(away[:, side]).max(axis=1) < 1e-6) & (passed > -np.inf)
                if ahead.any():
                    travel = max(travel, float((passed + sign * away[:, axis] + opening)[ahead].max()))
            step = np.zeros(3)
            step[axis] = sign
            aside = _Aside(record, corners, moves, side)
            for _ in range(60):
                if not aside.hit(base + travel * step):
                    break
                travel += 0.75 * opening
        shift = base
        shift[axis] += sign * travel
        for unit in record.units:
            moves[unit] += shift


class _Aside:
    """The boxes of what a record's units leave, where they have been moved to."""

    def __init__(self, record: Record, corners: list[Floats], moves: Floats, side: list[int]) -> None:
        self._side = side
        self._rest = moves[list(record.rest)]
        self._owner = np.repeat(np.arange(len(record.rest)), [len(corners[other]) for other in record.rest])
        self._theirs = np.concatenate([corners[other] for other in record.rest]) + self._rest[self._owner][:, None]
        self._mine = [(corners[unit] + moves[unit], moves[unit]) for unit in record.units]

    def hit(self, shift: Floats) -> bool:
        """Whether a moved unit's box lies in the box of one that stands aside of its way."""
        for mine, moved in self._mine:
            away = np.abs((self._rest - shift - moved)[:, self._side]).max(axis=1) >= 1e-6
            theirs = self._theirs[away[self._owner]]
            own = mine + shift
            shared = np.minimum(own[:, None, 1], theirs[None, :, 1]) - np.maximum(own[:, None, 0], theirs[None, :, 0])
            if (shared.min(axis=2) > 0.01).any():
                return True
        return False
