"""All blocks into a given choice of bins, by taking bins out and filling them again.

In: the bins, what lies in them already, what has no place yet. Out: a place for everything, or what was left over when
the work was done. One or a few bins at a time are emptied and filled with the most valuable of their own blocks and of those
without a place; what stays without a place grows in value, so that it comes in sooner or later and others have to look
for a place. Choices are drawn from a fixed sequence of numbers, and the work is counted, never timed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .knapsack import best_lengths
from .packing import Bin, Block, First, Pattern, Spot, Tally, fill

_QUEUES = (8, 8, 32)
"""Sizes of the solver's search, in turn."""

_GROWTH = 1.005
_MOST_WORTH = 50.0
_TOGETHER = (1, 2, 2, 3)
"""How many bins are emptied at a time, drawn from these."""


@dataclass(slots=True)
class Draw:
    """A fixed sequence of numbers (a linear congruential generator with Knuth's MMIX constants; from memory)."""

    state: int = 1

    def below(self, limit: int) -> int:
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 33) % limit


@dataclass(slots=True)
class Work:
    """Work left, in units of about a thousandth of a second on a machine of 2026."""

    left: float

    def spend(self, offered: int, placed: int, queue: int, turnable: bool) -> None:
        """What one filling of a bin took: it grows with blocks offered, blocks placed and the width of the search."""
        self.left -= 0.6 + 0.0025 * offered * max(1, placed) * queue**0.5 * (1.4 if turnable else 1.0)


def place_all(
    bins: Sequence[Bin],
    start: Sequence[Pattern],
    blocks: Sequence[Block],
    kerf: int,
    *,
    work: Work,
    tally: Tally,
    seed: int = 1,
) -> tuple[tuple[Pattern, ...], Counter[int]]:
    """The bins of `start` filled anew, and the blocks left over: none if all went well."""
    draw, loads = Draw(seed), [list(pattern.spots) for pattern in start]
    kinds = [pattern.bin for pattern in start]
    areas = [(block.length + kerf) * (block.width + kerf) for block in blocks]
    worth = [1.0] * len(blocks)
    homeless = Counter({number: block.count for number, block in enumerate(blocks)})
    homeless.subtract(Counter(spot.block for load in loads for spot in load))
    homeless = +homeless
    best, fewest = list(map(tuple, loads)), homeless
    turn = 0
    while homeless and work.left > 0 and loads:
        turn += 1
        taken = _some(draw, len(loads))
        offered = Counter(homeless)
        for at in taken:
            offered.update(spot.block for spot in loads[at])
        queue = _QUEUES[turn % len(_QUEUES)]
        first = First.ALONG if draw.below(2) else First.ACROSS
        filled = []
        for at in taken:
            values = {number: areas[number] * worth[number] for number in offered}
            spots = fill_one(bins[kinds[at]], offered, blocks, values, kerf, queue=queue, first=first, work=work, tally=tally)
            offered.subtract(spot.block for spot in spots)
            offered = +offered
            filled.append(spots)
        if _value(offered, areas, worth) <= _value(homeless, areas, worth):
            homeless = offered
            for at, spots in zip(taken, filled, strict=True):
                loads[at] = list(spots)
            if _area(homeless, areas) < _area(fewest, areas):
                best, fewest = list(map(tuple, loads)), homeless
        for number in homeless:
            worth[number] *= _GROWTH
        if max(worth) > _MOST_WORTH:
            worth = [value**0.5 for value in worth]
    return (tuple(Pattern(kind, spots) for kind, spots in zip(kinds, best, strict=True)), fewest)


def fill_one(
    one: Bin,
    offered: Counter[int],
    blocks: Sequence[Block],
    values: dict[int, float],
    kerf: int,
    *,
    queue: int,
    first: First,
    work: Work,
    tally: Tally,
) -> tuple[Spot, ...]:
    """The most valuable of the blocks offered that the search can get into one bin."""
    numbers = sorted(number for number in offered if offered[number] > 0)
    if not numbers:
        return ()
    choice = [
        Block(blocks[n].length, blocks[n].width, blocks[n].turnable, offered[n], values[n]) for n in numbers
    ]
    if all(block.width == one.width and not block.turnable for block in choice):
        work.left -= 0.2 + one.length * len(choice) / 40_000
        return in_a_row(numbers, choice, best_lengths(one.length, choice, kerf), kerf)
    patterns = fill([Bin(one.length, one.width)], choice, kerf, queue=queue, first=first, tally=tally)
    spots = tuple(
        Spot(numbers[spot.block], spot.x, spot.y, spot.length, spot.width) for spot in (patterns[0].spots if patterns else ())
    )
    work.spend(sum(offered[n] for n in numbers), len(spots), queue, any(block.turnable for block in choice))
    return spots


def in_a_row(
    numbers: Sequence[int], choice: Sequence[Block], counts: Sequence[int], kerf: int
) -> tuple[Spot, ...]:
    spots: list[Spot] = []
    at = 0
    for number, block, count in zip(numbers, choice, counts, strict=True):
        for _ in range(count):
            spots.append(Spot(number, at, 0, block.length, block.width))
            at += block.length + kerf
    return tuple(spots)


def _some(draw: Draw, number: int) -> list[int]:
    """One, two or three bins."""
    many = min(number, _TOGETHER[draw.below(len(_TOGETHER))])
    taken: list[int] = []
    while len(taken) < many:
        at = draw.below(number)
        if at not in taken:
            taken.append(at)
    return taken


def _value(homeless: Counter[int], areas: Sequence[int], worth: Sequence[float]) -> float:
    return sum(areas[number] * worth[number] * homeless[number] for number in sorted(homeless))


def _area(homeless: Counter[int], areas: Sequence[int]) -> int:
    return sum(areas[number] * count for number, count in homeless.items())
