"""A stronger bound for blocks that keep their grain: what they take slice by slice, and in a row.

In: bins with prices and counts, blocks, the kerf. Out: a `Bound` that is no lower than the one given, and what every choice of bins has to
meet. Two reasonings, each along the grain and across it, and both by the linear relaxation of lengths (columns.py):

- slices: a line across a bin meets blocks whose widths, a kerf more each, add up to no more than the bin's width and a kerf. So the blocks'
  lengths need at least so much length of stock, wherever they lie. (The bar relaxation: Belov, Scheithauer and others; from memory.)
- rows: blocks of which no two fit side by side lie one after another, as lengths in a bar do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from .bound import Need, area_needed, fewest_for, whole_stock
from .columns import Columns, proven
from .knapsack import most_value
from .layout import Bound
from .packing import Bin, Block

_MOST_SIZES = 60
"""Different sizes beyond which the relaxation takes too long for what it gains."""

_MOST_STEPS = 75_000_000
"""Work for judging choices one by one: squares of sizes, times kinds of bins, times breadth; about a third of a second in all."""

_FINE = 1_000_000
"""Prices are rounded down to such a part of a whole slice's."""

_MOST_IN_ROWS = 60
_MOST_STATES = 2000
"""Blocks in rows, and states looked at in one choice of bins; a choice that takes more is not ruled out."""


@dataclass(frozen=True, slots=True)
class _Side:
    """Bins and blocks seen along one way: how far they reach, and how broad they are."""

    bins: tuple[tuple[int, int], ...]
    blocks: tuple[tuple[int, int, int], ...]
    kerf: int

    @property
    def broadest(self) -> int:
        return max(broad for _, broad in self.bins)

    @property
    def row(self) -> tuple[int, ...]:
        """How far the blocks reach of which no two fit side by side, a kerf more each, the farthest first."""
        kerf, most = self.kerf, self.broadest + self.kerf
        return tuple(sorted((reach + kerf for reach, broad, count in self.blocks if 2 * (broad + kerf) > most for _ in range(count)), reverse=True))

    @property
    def items(self) -> tuple[tuple[Block, ...], tuple[int, ...]]:
        """The blocks by breadth, as lengths of that breadth, with how far they reach together."""
        gathered: dict[int, tuple[int, int]] = {}
        for reach, broad, count in self.blocks:
            number, total = gathered.get(broad, (0, 0))
            gathered[broad] = (number + count, total + count * (reach + self.kerf))
        found = sorted(gathered.items())
        return tuple(Block(broad, 1, False, number) for broad, (number, _) in found), tuple(total for _, (_, total) in found)


class Rules:
    """What a choice of bins has to meet: each need by itself, area and slices; and along and across the grain its rows, and all slices at once."""

    def __init__(self, needs: tuple[Need, ...], sides: tuple[_Side, ...] = ()) -> None:
        self.needs = needs
        self._sides = sides
        self._judged: dict[tuple[int, ...], bool] = {}
        self._left = _MOST_STEPS

    def spare(self, choice: Sequence[int]) -> Fraction | None:
        """The area to spare with so many of each bin; None where some need is not met."""
        spare = [sum(size * count for size, count in zip(need.sizes, choice, strict=True)) - need.total for need in self.needs]
        return spare[0] if min(spare) >= 0 else None

    def allow(self, choice: tuple[int, ...]) -> bool:
        """Whether rows and slices may go into so many of each bin."""
        if choice not in self._judged:
            self._judged[choice] = not any(_row_left_over(side, choice) or self._overfull(side, choice) for side in self._sides)
        return self._judged[choice]

    def _overfull(self, side: _Side, choice: Sequence[int]) -> bool:
        """Whether the slices surely need more than these bins: the least that they need besides, out of the broadest, is not nothing."""
        items, demand = side.items
        used = [(reach, broad, count) for (reach, broad), count in zip(side.bins, choice, strict=True) if count]
        steps = len(items) ** 2 * (len(used) + 1) * side.broadest
        if not items or steps > self._left or all(broad == side.broadest for _, broad, _ in used):
            return False
        self._left -= steps
        bars = [*(Bin(broad, 1, 0) for _, broad, _ in used), Bin(side.broadest, 1, 1)]
        counts = [*((reach + side.kerf) * count for reach, _, count in used), None]
        answer = Columns(bars, items, side.kerf).relaxed(counts, demand)
        return answer is not None and proven(answer, bars, counts, items, side.kerf, demand) > 0


def plain(bins: Sequence[Bin], blocks: Sequence[Block], kerf: int) -> Rules:
    """Area alone."""
    return Rules((area_needed(bins, blocks, kerf),))


def sliced(bins: Sequence[Bin], counts: Sequence[int | None], blocks: Sequence[Block], kerf: int, known: Bound) -> tuple[Bound, Rules]:
    """The bound, raised where slices or rows prove more, with the rules that every choice of bins has to meet."""
    locked = [block for block in blocks if block.count and (not block.turnable or block.length == block.width)]
    along = _Side(tuple((one.length, one.width) for one in bins), tuple((one.length, one.width, one.count) for one in locked), kerf)
    across = _Side(tuple((one.width, one.length) for one in bins), tuple((one.width, one.length, one.count) for one in locked), kerf)
    needs, price = [area_needed(bins, blocks, kerf)], Fraction(known.cost)
    sheets = known.sheets
    for side in (along, across):
        needs += _slices(side)
        if len({reach for reach, _, _ in side.blocks}) <= _MOST_SIZES:
            price = max(price, _rows(side, bins, counts))
    sheets = max(sheets, *(fewest_for(need, counts) for need in needs))
    if len(bins) == 1:
        sheets = max(sheets, ceil(price / max(bins[0].cost, 1)))
        price = max(price, Fraction(sheets * bins[0].cost))
    cost = whole_stock(price, bins, counts, needs)
    rules = Rules(tuple(needs), (along, across))
    if cost <= known.cost and sheets <= known.sheets:
        return known, rules
    return replace(known, cost=max(cost, known.cost), sheets=sheets, reason="large pieces"), rules


def _slices(side: _Side) -> Iterator[Need]:
    """What the blocks need slice by slice, at the prices of the relaxation for the broadest bin.

    Whatever the prices, a bin gives no more of them than its reach times its most valuable slice.
    """
    items, demand = side.items
    if not items or len(items) > _MOST_SIZES:
        return
    answer = Columns([Bin(side.broadest, 1)], items, side.kerf).relaxed([None], demand)
    if answer is not None:
        prices = [int(price * _FINE) for price in answer.prices]
        sizes = ((reach + side.kerf) * most_value(broad, items, prices, side.kerf) for reach, broad in side.bins)
        yield Need(tuple(sizes), Fraction(sum(price * want for price, want in zip(prices, demand, strict=True))))


def _rows(side: _Side, bins: Sequence[Bin], counts: Sequence[int | None]) -> Fraction:
    """What the blocks cost of which no two fit side by side."""
    gathered = Counter(reach - side.kerf for reach in side.row)
    if not gathered:
        return Fraction(0)
    bars = [Bin(reach, 1, one.cost, one.count) for (reach, _), one in zip(side.bins, bins, strict=True)]
    items = [Block(reach, 1, False, count) for reach, count in sorted(gathered.items())]
    demand = [item.count for item in items]
    answer = Columns(bars, items, side.kerf).relaxed(counts, demand)
    return Fraction(0) if answer is None else proven(answer, bars, counts, items, side.kerf, demand)


def _row_left_over(side: _Side, choice: Sequence[int]) -> bool:
    """Whether some block of the row surely finds no room in these bins."""
    rooms = sorted(reach + side.kerf for (reach, _), count in zip(side.bins, choice, strict=True) for _ in range(count))
    return len(side.row) <= _MOST_IN_ROWS and _impossible(side.row, tuple(rooms))


def _impossible(row: tuple[int, ...], rooms: tuple[int, ...]) -> bool:
    """Whether these lengths surely don't go into these rooms, each whole in one. Rooms in rising order."""
    seen: set[tuple[int, tuple[int, ...]]] = set()

    def placed(at: int, rooms: tuple[int, ...]) -> bool:
        if at == len(row):
            return True
        if len(seen) > _MOST_STATES or (at, rooms) in seen:
            return len(seen) > _MOST_STATES
        seen.add((at, rooms))
        for number, room in enumerate(rooms):
            if room >= row[at] and (number == 0 or rooms[number - 1] != room):
                left = room - row[at]
                # Equal lengths need no other order, and a room too small for the last of all is as good as none.
                rest = (*rooms[:number], *rooms[number + 1 :], *((left,) if left >= row[-1] else ()))
                if placed(at + 1, tuple(sorted(rest))):
                    return True
        return False

    return sum(row) > sum(rooms) or not placed(0, tuple(room for room in rooms if not row or room >= row[-1]))
