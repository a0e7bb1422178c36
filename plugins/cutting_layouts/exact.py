"""Few blocks: every way of sawing them, so that the cheapest is known and not only found.

In: a task. Out: the least cost and a plan for it, or None where the ways are too many. For every choice of blocks the smallest rectangles
are built that edge-to-edge cuts can bring them from, out of those of its halves: side by side or one above the other, a kerf apart. Then
the blocks are dealt out to the bins. Exact for any number of rounds of cuts; the work is counted, never timed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import product

from .job import Way
from .packing import Bin, Pattern, Spot
from .task import Plan, Task

_MOST_CHOICES = 300
_MOST_JOINED = 50_000
"""Choices of blocks, and rectangles joined, beyond which this is given up."""

type Choice = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Rectangle:
    """The least size of some blocks in one arrangement: one block, or two rectangles after another in `way`."""

    length: int
    width: int
    block: int = -1
    way: Way = Way.ALONG
    halves: tuple[_Rectangle, ...] = ()


class _TooMany(Exception):
    """More to look at than this is meant for."""


def cheapest_of_all(task: Task) -> Plan | None:
    """The plan of least cost, and of fewest bins among those; None where there are too many ways, or the stock does not suffice."""
    whole = tuple(block.count for block in task.blocks)
    choices = 1
    for count in whole:
        choices *= count + 1
    if choices > _MOST_CHOICES:
        return None
    try:
        rectangles = _rectangles(task, whole)
    except _TooMany:
        return None
    return _dealt(task, whole, rectangles)


def _rectangles(task: Task, whole: Choice) -> dict[Choice, list[_Rectangle]]:
    """By choice of blocks, the rectangles that some bin holds and of which none is as small both ways as another."""
    found: dict[Choice, list[_Rectangle]] = {}
    joined = 0
    for choice in sorted(product(*(range(count + 1) for count in whole)), key=lambda one: (sum(one), one)):
        if sum(choice) == 0:
            continue
        if sum(choice) == 1:
            found[choice] = _least(_single(task, choice.index(1)))
            continue
        offers: list[_Rectangle] = []
        for part, rest in _halves(choice):
            for one in found[part]:
                for other in found[rest]:
                    joined += 1
                    offers += _joined(task, one, other)
        if joined > _MOST_JOINED:
            raise _TooMany
        found[choice] = _least(offers)
    return found


def _single(task: Task, number: int) -> list[_Rectangle]:
    block = task.blocks[number]
    ways = [(block.length, block.width)] + ([(block.width, block.length)] if block.turnable else [])
    return [_Rectangle(long, wide, number) for long, wide in ways if _goes(task, long, wide)]


def _joined(task: Task, one: _Rectangle, other: _Rectangle) -> Iterator[_Rectangle]:
    """Both ways of joining two rectangles, as far as some bin holds them."""
    long, wide = one.length + task.kerf + other.length, max(one.width, other.width)
    if _goes(task, long, wide):
        yield _Rectangle(long, wide, way=Way.ALONG, halves=(one, other))
    long, wide = max(one.length, other.length), one.width + task.kerf + other.width
    if _goes(task, long, wide):
        yield _Rectangle(long, wide, way=Way.ACROSS, halves=(one, other))


def _goes(task: Task, long: int, wide: int) -> bool:
    return any(_holds(one, long, wide) for one in task.bins)


def _holds(one: Bin, long: int, wide: int) -> bool:
    return long <= one.length and wide <= one.width


def _halves(choice: Choice) -> Iterator[tuple[Choice, Choice]]:
    """Every way to part a choice in two, each once."""
    for part in product(*(range(count + 1) for count in choice)):
        rest = tuple(count - taken for count, taken in zip(choice, part, strict=True))
        if any(part) and part <= rest:
            yield part, rest


def _least(offers: list[_Rectangle]) -> list[_Rectangle]:
    kept: list[_Rectangle] = []
    for one in sorted(offers, key=lambda one: (one.length, one.width)):
        if not kept or one.width < kept[-1].width:
            kept.append(one)
    return kept


def _dealt(task: Task, whole: Choice, rectangles: dict[Choice, list[_Rectangle]]) -> Plan | None:
    """The cheapest bins that hold all, kind after kind."""

    def held(kind: int, choice: Choice) -> _Rectangle | None:
        one = task.bins[kind]
        return next((each for each in rectangles[choice] if _holds(one, each.length, each.width)), None)

    @cache
    def cheapest(left: Choice, kind: int, used: int) -> tuple[int, int, Plan] | None:
        """For these blocks out of bins from this kind on, of which so many are used."""
        if not any(left):
            return (0, 0, ())
        if kind == len(task.bins):
            return None
        best = cheapest(left, kind + 1, 0)
        count = task.counts[kind]
        if count is None or used < count:
            for part in product(*(range(number + 1) for number in left)):
                rectangle = held(kind, part) if any(part) else None
                if rectangle is None:
                    continue
                rest = cheapest(tuple(number - taken for number, taken in zip(left, part, strict=True)), kind, used + 1)
                if rest is not None:
                    offer = (rest[0] + task.bins[kind].cost, rest[1] + 1, (Pattern(kind, tuple(_spots(rectangle, 0, 0, task.kerf))), *rest[2]))
                    if best is None or offer[:2] < best[:2]:
                        best = offer
        return best

    found = cheapest(whole, 0, 0)
    return None if found is None else found[2]


def _spots(rectangle: _Rectangle, x: int, y: int, kerf: int) -> Iterator[Spot]:
    if not rectangle.halves:
        yield Spot(rectangle.block, x, y, rectangle.length, rectangle.width)
        return
    one, other = rectangle.halves
    yield from _spots(one, x, y, kerf)
    if rectangle.way is Way.ALONG:
        yield from _spots(other, x + one.length + kerf, y, kerf)
    else:
        yield from _spots(other, x, y + one.width + kerf, kerf)
