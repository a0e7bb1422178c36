"""Lengths by columns: the linear relaxation of cutting lengths from stock, its bound, and a whole plan rounded from it.

In: bins and blocks of which only the lengths matter, prices, counts, the kerf. Out: a bound that is proven in whole numbers, and
the patterns of a plan. Source of the method: Gilmore and Gomory, A linear programming approach to the cutting-stock problem,
Operations Research 9 (1961): patterns are made as they are needed, by a knapsack over the prices that the relaxation gives.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from .knapsack import best_lengths, most_value
from .packing import Bin, Block

_MOST_STEPS = 5000
_SCALE = 1_000_000
_EPSILON = 1e-8
_GAIN = 1e-7
_REFRESHED = 40
"""Steps after which the inverse is worked out anew, so that errors don't add up."""


@dataclass(frozen=True, slots=True)
class Column:
    """How many of each block one bin of kind `bin` gives."""

    bin: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The relaxation's answer: columns with how often each is used, and the prices of blocks and of scarce bins."""

    columns: tuple[tuple[Column, float], ...]
    prices: tuple[float, ...]
    rents: tuple[float, ...]


class Columns:
    """The columns made so far for one job; they serve again for what is left of it."""

    def __init__(self, bins: Sequence[Bin], blocks: Sequence[Block], kerf: int) -> None:
        self._bins, self._blocks, self._kerf = tuple(bins), tuple(blocks), kerf
        self._made: dict[Column, int] = {}
        self._table = np.zeros((len(blocks), 0))  # a row for a block, a column for a column
        self._costs = np.zeros(0)

    def relaxed(self, counts: Sequence[int | None], demand: Sequence[int]) -> Relaxed | None:
        """The cheapest fractional plan for this demand; None when it takes too many steps or the stock does not suffice.

        No bin gives more of a block than the block's own count, however large the demand. A simplex method over a growing set of
        columns. Rows: a block's demand, then a scarce bin's count.
        """
        scarce = [at for at, count in enumerate(counts) if count is not None]
        wanted = np.array([*demand, *(counts[at] for at in scarce)], dtype=float)
        rows, many = len(wanted), len(demand)
        dear = 1000.0 * sum(one.cost for one in self._bins) + 1000.0
        made: list[Column | None] = [None] * rows
        costs = np.array([dear] * many + [0.0] * len(scarce))
        basis, turned = np.eye(rows), np.eye(rows)  # the inverse is kept turned: its columns are what is added up
        amount, duals = wanted.copy(), costs.copy()
        for step in range(_MOST_STEPS):
            if step % _REFRESHED == _REFRESHED - 1:
                turned = _inverse(basis).T.copy()
                amount, duals = np.maximum(_summed(turned, wanted), 0.0), _summed(turned.T, costs)
            entering = self._entering(scarce, demand, duals)
            if entering is None:
                break
            column, vector, cost = entering
            direction = _summed(turned, vector)
            positive = direction > _EPSILON
            if not positive.any():
                return None
            ratios = np.where(positive, amount / np.where(positive, direction, 1.0), np.inf)
            # Of rows that run out together the one with the largest pivot keeps the inverse accurate.
            out = int(np.argmax(np.where(ratios <= ratios.min() + _EPSILON, direction, -np.inf)))
            pivot = turned[:, out] / direction[out]
            gain = cost - sum(float(duals[row]) * float(vector[row]) for row in np.flatnonzero(vector))
            amount = np.maximum(amount - ratios[out] * direction, 0.0)
            amount[out] = ratios[out]
            duals = duals + gain * pivot
            turned = turned - pivot[:, None] * direction
            turned[:, out] = pivot
            basis[:, out], costs[out], made[out] = vector, cost, column
        else:
            return None
        if any(cost == dear and value > 1e-6 for cost, value in zip(costs, amount, strict=True)):
            return None
        used = [(column, float(value)) for column, value in zip(made, amount, strict=True) if column is not None]
        rents = [0.0] * len(self._bins)
        for row, at in enumerate(scarce):
            rents[at] = min(0.0, float(duals[many + row]))
        return Relaxed(tuple(used), tuple(max(0.0, float(dual)) for dual in duals[:many]), tuple(rents))

    def _entering(
        self, scarce: Sequence[int], demand: Sequence[int], duals: np.ndarray
    ) -> tuple[Column | None, np.ndarray, float] | None:
        """The column that lowers the cost most: one made before, a new one, a surplus of a block, an unused scarce bin."""
        many = len(demand)
        if self._made:
            rents = np.zeros(len(self._bins))
            for row, at in enumerate(scarce):
                rents[at] = duals[many + row]
            kinds = np.array([column.bin for column in self._made])
            gains = np.add.reduce(self._table * duals[:many, None], axis=0) + rents[kinds] - self._costs
            best = int(np.argmax(gains))
            if gains[best] > _GAIN:
                return self._vector(list(self._made)[best], scarce, len(duals))
        found: list[tuple[float, Column]] = []
        priced = [
            Block(block.length, block.width, False, min(block.count, count), max(0.0, float(dual)))
            for block, count, dual in zip(self._blocks, demand, duals, strict=False)
        ]
        for at, one in enumerate(self._bins):
            column = Column(at, best_lengths(one.length, priced, self._kerf))
            value = sum(float(dual) * count for dual, count in zip(duals, column.counts, strict=False)) - one.cost
            value += float(duals[many + scarce.index(at)]) if at in scarce else 0.0
            if value > _GAIN and column not in self._made:
                found.append((value, column))
        if found:
            value, column = max(found, key=lambda one: one[0])
            self._made[column] = len(self._made)
            self._table = np.hstack([self._table, np.array(column.counts, dtype=float)[:, None]])
            self._costs = np.append(self._costs, float(self._bins[column.bin].cost))
            return self._vector(column, scarce, len(duals))
        slack = np.concatenate([-duals[:many], duals[many:]])
        row = int(np.argmax(slack))
        if slack[row] <= _GAIN:
            return None
        vector = np.zeros(len(duals))
        vector[row] = -1.0 if row < many else 1.0
        return (None, vector, 0.0)

    def _vector(self, column: Column, scarce: Sequence[int], rows: int) -> tuple[Column, np.ndarray, float]:
        vector = np.zeros(rows)
        vector[: len(column.counts)] = column.counts
        if column.bin in scarce:
            vector[len(column.counts) + scarce.index(column.bin)] = 1.0
        return (column, vector, float(self._bins[column.bin].cost))


def _summed(rows: np.ndarray, factors: np.ndarray) -> np.ndarray:
    """Rows times their factors, added up one by one, where a library's own product may differ from machine to machine."""
    total = np.zeros(rows.shape[1])
    for at in np.flatnonzero(factors):
        total = total + rows[at] * factors[at]
    return total


def _inverse(matrix: np.ndarray) -> np.ndarray:
    """By elimination, the largest pivot first, in one order for the same reason."""
    size = len(matrix)
    both = np.hstack([matrix, np.eye(size)])
    for at in range(size):
        row = at + int(np.argmax(np.abs(both[at:, at])))
        both[[at, row]] = both[[row, at]]
        both[at] = both[at] / both[at, at]
        factors = both[:, at].copy()
        factors[at] = 0.0
        both = both - factors[:, None] * both[at]
    return np.asarray(both[:, size:])


def rounded(
    columns: Columns, counts: Sequence[int | None], blocks: Sequence[Block], answer: Relaxed, nearly: float
) -> tuple[Column, ...] | None:
    """A whole plan: the columns used most are taken, and the rest is relaxed anew, until nothing is left.

    A column used 2.7 times is taken 3 times if `nearly` is 0.3 or more, else twice.
    """
    demand = [block.count for block in blocks]
    stock = list(counts)
    plan: list[Column] = []
    now: Relaxed | None = answer
    while any(demand) and now is not None:
        taken = 0
        for column, value in sorted(now.columns, key=lambda one: (-one[1], one[0].bin, one[0].counts)):
            for _ in range(max(int(value + nearly), 0 if taken else 1)):
                counted = tuple(min(pair) for pair in zip(column.counts, demand, strict=True))
                left = stock[column.bin]
                if left == 0 or not any(counted) or (taken and counted != column.counts):
                    break
                plan.append(Column(column.bin, counted))
                taken += 1
                stock[column.bin] = None if left is None else left - 1
                demand = [want - count for want, count in zip(demand, counted, strict=True)]
        if not taken:
            return None
        now = columns.relaxed(stock, demand) if any(demand) else None
    return tuple(plan) if not any(demand) else None


def proven(
    answer: Relaxed, bins: Sequence[Bin], counts: Sequence[int | None], blocks: Sequence[Block], kerf: int, demand: Sequence[int]
) -> Fraction:
    """What the prices prove, in whole numbers: no bin's best content is worth more than its price, rent included.

    What it is worth more is paid for as often as the bin may be used; an endless bin lowers all prices instead.
    """
    prices = [int(price * _SCALE) for price in answer.prices]
    most = [most_value(one.length, blocks, prices, kerf) for one in bins]
    lowered = Fraction(1)
    for one, count, value in zip(bins, counts, most, strict=True):
        if count is None and value > one.cost * _SCALE:
            lowered = min(lowered, Fraction(one.cost * _SCALE, value))
    total = lowered * sum(price * want for price, want in zip(prices, demand, strict=True))
    for one, count, value in zip(bins, counts, most, strict=True):
        if count is not None:
            total -= count * max(Fraction(0), lowered * value - one.cost * _SCALE)
    return total / _SCALE
