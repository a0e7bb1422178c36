"""What no layout can go below: a cost that holds for every way of sawing, guillotine or not.

In: bins with their prices and counts (None as a count: without end), blocks, the kerf. Out: a `Bound`.

Every size grows by a kerf, since n pieces and n - 1 kerfs fit in S exactly when n pieces with a kerf each fit in S + kerf.
Three reasonings, the best of which is told:

- area: the blocks' areas have to be bought, cheapest area first;
- large pieces: weights of which no bin holds more than 1 (see weights.py) make a price list that no bin undercuts, and
  its sum is a bound (linear programming duality);
- whole stock: costs are sums of whole bins, so the bound rises to the next sum with enough area.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

import numpy as np

from .layout import Bound
from .packing import Bin, Block
from .weights import Loads, loads, promising

_MOST_COSTS = 200_000


@dataclass(frozen=True, slots=True)
class Need:
    """How much of something the blocks take in all, and how much of it one bin of each kind has."""

    sizes: tuple[int, ...]
    total: Fraction


def bound(bins: Sequence[Bin], counts: Sequence[int | None], blocks: Sequence[Block], kerf: int) -> Bound:
    """The best proven cost. Each block fits in some bin and every bin has a price."""
    need = area_needed(bins, blocks, kerf)
    area, areas = need.total, need.sizes
    if not area:
        return Bound(cost=0, sheets=0, reason="nothing to saw")
    endless = [at for at, count in enumerate(counts) if count is None]
    plain = _cheapest_area(area, areas, [one.cost for one in bins], counts)
    weighed, sheets = Fraction(0), fewest_for(need, counts)
    for along, across in promising(bins, endless, blocks, kerf):
        shares = [loads(one, blocks, kerf, along, across) for one in bins]
        weighed = max(weighed, _priced(shares, areas, bins, counts, blocks, kerf))
        sheets = max(sheets, _fewest(shares, blocks))
    by_area = whole_stock(plain, bins, counts, [need])
    whole = whole_stock(max(plain, weighed), bins, counts, [need])
    if len(bins) == 1:
        whole = max(whole, sheets * bins[0].cost)
    return Bound(cost=whole, sheets=sheets, reason="large pieces" if whole > by_area else "area")


def area_needed(bins: Sequence[Bin], blocks: Sequence[Block], kerf: int) -> Need:
    """The blocks' area, kerfs counted."""
    sizes = tuple((one.length + kerf) * (one.width + kerf) for one in bins)
    return Need(sizes, Fraction(sum(block.count * _area(block, kerf) for block in blocks)))


def _area(block: Block, kerf: int) -> int:
    return (block.length + kerf) * (block.width + kerf)


def _priced(
    shares: Sequence[Loads],
    areas: Sequence[int],
    bins: Sequence[Bin],
    counts: Sequence[int | None],
    blocks: Sequence[Block],
    kerf: int,
) -> Fraction:
    """The blocks' prices summed: each as dear as its share of the endless bin that saws it for least.

    A bin of which there are few may hold more than its price; the surplus is taken off as often as there are such bins.
    """
    endless = [at for at, count in enumerate(counts) if count is None]
    prices: list[Fraction] = []
    for number in range(len(blocks)):
        offers = [bins[at].cost * share for at in endless if (share := shares[at][number]) is not None]
        prices.append(min(offers, default=Fraction(0)))
    total = sum((price * block.count for price, block in zip(prices, blocks, strict=True)), Fraction(0))
    for at, count in enumerate(counts):
        if count is not None:
            most = _most_value(prices, shares[at], areas[at], blocks, kerf)
            total -= count * max(Fraction(0), most - bins[at].cost)
    return total


def _most_value(prices: Sequence[Fraction], shares: Loads, area: int, blocks: Sequence[Block], kerf: int) -> Fraction:
    """No less than the dearest content of one bin: the better of two reasonings.

    Blocks that fit, by price for their area, the last one in part; or as many bins' worth as the dearest share says.
    """
    fitting = [
        (price, share, block)
        for price, share, block in zip(prices, shares, blocks, strict=True)
        if share is not None and price > 0
    ]
    value, left = Fraction(0), area
    for price, _, block in sorted(fitting, key=lambda one: (-one[0] / _area(one[2], kerf), one[2])):
        taken = min(left, _area(block, kerf) * block.count)
        value += price * Fraction(taken, _area(block, kerf))
        left -= taken
        if left <= 0:
            break
    if all(share for _, share, _ in fitting):
        value = min(value, max((price / share for price, share, _ in fitting if share), default=Fraction(0)))
    return value


def _fewest(shares: Sequence[Loads], blocks: Sequence[Block]) -> int:
    """How many bins at least, whatever they cost: each block as light as the kindest bin makes it."""
    total = Fraction(0)
    for number, block in enumerate(blocks):
        total += block.count * min(share for kind in shares if (share := kind[number]) is not None)
    return ceil(total)


def fewest_for(need: Need, counts: Sequence[int | None]) -> int:
    """How many bins have so much, the largest taken first."""
    number, left = 0, need.total
    for size, count in sorted(zip(need.sizes, counts, strict=True), key=lambda one: -one[0]):
        needed = ceil(left / size)
        if count is None or needed <= count:
            return number + needed
        number, left = number + count, left - count * size
    return number


def _cheapest_area(area: Fraction, areas: Sequence[int], costs: Sequence[int], counts: Sequence[int | None]) -> Fraction:
    """The blocks' area bought by the square inch, cheapest stock first."""
    left, cost = area, Fraction(0)
    offers = zip(areas, costs, counts, strict=True)
    for size, price, count in sorted(offers, key=lambda one: Fraction(one[1], one[0])):
        taken = left / size if count is None else min(left / size, Fraction(count))
        cost, left = cost + taken * price, left - taken * size
        if left <= 0:
            break
    return cost


def whole_stock(least: Fraction, bins: Sequence[Bin], counts: Sequence[int | None], needs: Sequence[Need]) -> int:
    """The first sum of whole bins that is no less than the bound and meets every need by itself."""
    start = ceil(least)
    limit = start + 2 * max(one.cost for one in bins)
    if limit > _MOST_COSTS:
        return start
    enough = np.logical_and.reduce([_most_for_money(bins, counts, need, limit)[start:] >= ceil(need.total) for need in needs])
    return start + int(np.argmax(enough)) if enough.any() else start


def _most_for_money(bins: Sequence[Bin], counts: Sequence[int | None], need: Need, limit: int) -> np.ndarray:
    """By sum of money, spent to the last coin: the most that whole bins have of what is needed; -1 where no bins cost just so much.

    A knapsack in whole numbers; many bins of a kind are taken by ones, twos, fours and so forth.
    """
    most = np.full(limit + 1, -1, dtype=np.int64)
    most[0] = 0
    for size, one, count in zip(need.sizes, bins, counts, strict=True):
        if one.cost <= 0:
            most = np.where(most < 0, most, most + size * (ceil(need.total / size) if count is None else count))
            continue
        left, many = limit // one.cost if count is None else min(count, limit // one.cost), 1
        while left > 0:
            many = min(many, left)
            left -= many
            step = one.cost * many
            offer = np.where(most[:-step] < 0, -1, most[:-step] + size * many)
            most[step:] = np.maximum(most[step:], offer)
            many *= 2
    return most
