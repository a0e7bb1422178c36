"""Weights for blocks that no bin can hold more than 1 of: the strong half of the bound.

A dual feasible function makes large sizes larger and small ones smaller, and whatever sizes fit in a bin still do so.
One for each side, multiplied, weighs a block, guillotine cuts or not. Sources: Fekete and Schepers, New classes of fast
lower bounds for bin packing problems, Mathematical Programming 91 (2001), for `u`, `U` and `phi` (from memory; the tests
check the defining property). In: bins, blocks, kerf. Out: exact loads, as fractions of a bin.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from .packing import Bin, Block

type Function = tuple[str, int]
type Loads = tuple[Fraction | None, ...]

_MOST_SIZES = 40
_TRIED = 3


def grown(size: int, whole: int, function: Function) -> Fraction:
    """The function of size / whole. Sizes that add up to no more than the whole give no more than 1.

    `u` k: (k + 1) x, if whole, else rounded down, over k. `U` e: all above 1 - e is 1, all below e is 0. `phi` e: below e is 0, up
    to a half is one share of as many as e goes into 1, above a half is what the rest leaves of those shares.
    """
    name, parameter = function
    if name == "u":
        times = (parameter + 1) * size
        return Fraction(size, whole) if times % whole == 0 else Fraction(times // whole, parameter)
    if name == "U" and 2 * parameter <= whole:
        if size > whole - parameter:
            return Fraction(1)
        if size < parameter:
            return Fraction(0)
    if name == "phi" and 2 * parameter <= whole:
        shares = whole // parameter
        if 2 * size > whole:
            return 1 - Fraction((whole - size) // parameter, shares)
        return Fraction(1, shares) if size >= parameter else Fraction(0)
    return Fraction(size, whole)


def loads(one: Bin, blocks: Sequence[Block], kerf: int, along: Function, across: Function) -> Loads:
    """The part of the bin that each block takes by these functions; None where it does not fit at all."""
    long, wide = one.length + kerf, one.width + kerf
    found: list[Fraction | None] = []
    for block in blocks:
        a, b = block.length + kerf, block.width + kerf
        ways = [(a, b)] if a <= long and b <= wide else []
        if block.turnable and b <= long and a <= wide:
            ways.append((b, a))
        found.append(min((grown(x, long, along) * grown(y, wide, across) for x, y in ways), default=None))
    return tuple(found)


def promising(
    bins: Sequence[Bin], endless: Sequence[int], blocks: Sequence[Block], kerf: int
) -> tuple[tuple[Function, Function], ...]:
    """The pairs of functions that weigh the blocks heaviest, found in floating point; the caller works them out exactly.

    Heaviest both by price, with the cheapest of the endless bins for each block, and by number of bins.
    """
    functions = _functions(blocks, kerf)
    number = np.array([block.count for block in blocks], dtype=float)
    tables = [_Table(one, blocks, functions, kerf) for one in bins]
    by_price: list[tuple[float, int, int]] = []
    by_number: list[tuple[float, int, int]] = []
    for along in range(len(functions)):
        shares = [table.shares(along) for table in tables]
        by_number.append(_heaviest(np.minimum.reduce(shares) @ number, along))
        if endless:
            priced = [bins[at].cost * shares[at] for at in endless]
            by_price.append(_heaviest(np.minimum.reduce(priced) @ number, along))
    best = sorted(by_price, reverse=True)[:_TRIED] + sorted(by_number, reverse=True)[:_TRIED]
    return tuple(dict.fromkeys((functions[along], functions[across]) for _, along, across in best))


class _Table:
    """One bin's functions of all blocks' sizes: `x` and `y` by function and block, as they lie and turned."""

    def __init__(self, one: Bin, blocks: Sequence[Block], functions: Sequence[Function], kerf: int) -> None:
        long, wide = one.length + kerf, one.width + kerf
        lengths = [block.length + kerf for block in blocks]
        widths = [block.width + kerf for block in blocks]
        turnable = np.array([block.turnable for block in blocks])
        self._x, self._y = _values(lengths, long, functions), _values(widths, wide, functions)
        self._turned_x = np.where(turnable, _values(widths, long, functions), np.inf)
        self._turned_y = _values(lengths, wide, functions)

    def shares(self, along: int) -> np.ndarray:
        """By function across and block: the part of the bin, infinite where the block does not fit."""
        with np.errstate(invalid="ignore"):
            straight = self._x[along] * self._y
            turned = self._turned_x[along] * self._turned_y
        return np.fmin(np.where(np.isnan(straight), np.inf, straight), np.where(np.isnan(turned), np.inf, turned))


def _values(sizes: Sequence[int], whole: int, functions: Sequence[Function]) -> np.ndarray:
    """Functions by sizes; nan where a size is more than the whole, so that no product makes it fit."""
    known = {size: size <= whole for size in sizes}
    return np.array([[float(grown(s, whole, f)) if known[s] else np.nan for s in sizes] for f in functions])


def _heaviest(totals: np.ndarray, along: int) -> tuple[float, int, int]:
    finite = np.where(np.isfinite(totals), totals, -1.0)
    across = int(np.argmax(finite))
    return (float(finite[across]), along, across)


def _functions(blocks: Sequence[Block], kerf: int) -> list[Function]:
    sizes = sorted({size + kerf for block in blocks for size in (block.length, block.width)})
    if len(sizes) > _MOST_SIZES:
        sizes = [sizes[at * len(sizes) // _MOST_SIZES] for at in range(_MOST_SIZES)]
    named = [(name, size) for name in ("U", "phi") for size in sizes]
    return [("same", 0), *(("u", k) for k in range(1, 6)), *named]
