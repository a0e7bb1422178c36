"""The least cost of small jobs, by enumerating every way of sawing: any number of rounds of edge-to-edge cuts.

For every set of pieces the smallest rectangles that cuts can bring it from are built from those of its subsets: two rectangles stand side by
side, or one above the other, a kerf apart. Then the sets are dealt out to the stock. Exact, and hopeless beyond eight pieces or so.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from random import Random

from plugins.cutting_layouts.job import Job, Piece, Stock, Trims

type Sizes = tuple[tuple[int, int], ...]


def least(job: Job) -> int | None:
    """The least cost; None when the stock does not hold all pieces."""
    pieces = [piece for piece in job.pieces for _ in range(piece.count)]
    whole = (1 << len(pieces)) - 1

    @cache
    def sizes(members: int) -> Sizes:
        """The rectangles of which none is larger both ways than another."""
        if members & (members - 1) == 0:
            piece = pieces[members.bit_length() - 1]
            turned = [(piece.width, piece.length)] if piece.turnable else []
            return _least_ones([(piece.length, piece.width), *turned])
        found = []
        for part in _parts(members):
            for a in sizes(part):
                for b in sizes(members & ~part):
                    found.append((a[0] + job.kerf + b[0], max(a[1], b[1])))
                    found.append((max(a[0], b[0]), a[1] + job.kerf + b[1]))
        return _least_ones(found)

    def holds(stock: Stock, members: int) -> bool:
        return any(long <= stock.usable_length and wide <= stock.usable_width for long, wide in sizes(members))

    scarce = [stock for stock in job.stocks for _ in range(stock.count or 0)]
    endless = [stock for stock in job.stocks if stock.count is None]

    @cache
    def cheapest(members: int, at: int) -> float:
        """For these pieces from scarce stock number `at` on, and all the endless stock."""
        if not members:
            return 0
        offers = []
        if at < len(scarce):
            offers.append(cheapest(members, at + 1))
            kinds = [scarce[at]]
        else:
            kinds = endless
        for stock in kinds:
            for part in (*_parts(members), members):
                # Of endless stock it is no loss to say that the next sheet holds the highest piece.
                if (at < len(scarce) or part >> (members.bit_length() - 1)) and holds(stock, part):
                    offers.append(stock.price + cheapest(members & ~part, min(at + 1, len(scarce))))
        return min(offers, default=float("inf"))

    found = cheapest(whole, 0)
    return None if found == float("inf") else int(found)


def small_jobs(number: int) -> tuple[Job, ...]:
    """Jobs of up to eight pieces, drawn from a fixed seed: one or two sizes of stock, a scarce offcut now and then, grain or none."""
    return tuple(_small_job(Random(seed)) for seed in range(number))


def _small_job(draw: Random) -> Job:
    kerf = draw.choice((0, 1, 2, 4))
    trim = _trims(draw)
    long, wide = draw.randint(60, 120), draw.randint(40, 80)
    stocks = [Stock(id="whole", length=long, width=wide, cost=draw.randint(80, 120), trims=trim)]
    if draw.random() < 0.4:
        stocks.append(Stock(id="half", length=long, width=max(wide // 2, 30), cost=draw.randint(45, 70), trims=trim))
    if draw.random() < 0.3:
        stocks.append(Stock(id="rack", length=long * 2 // 3, width=wide * 2 // 3, cost=draw.choice((0, 5)), count=draw.randint(1, 2), offcut=True))
    pieces, left = [], draw.randint(1, 8)
    while left:
        count = draw.randint(1, min(left, 3))
        left -= count
        pieces.append(
            Piece(id=f"piece {len(pieces)}", length=draw.randint(8, long * 2 // 3), width=draw.randint(6, wide * 2 // 3), count=count, turnable=draw.random() < 0.5)
        )
    return Job(pieces=tuple(pieces), stocks=tuple(stocks), kerf=kerf)


def _trims(draw: Random) -> Trims:
    trim = draw.choice((0, 0, 3))
    return Trims(left=trim, right=trim, bottom=trim, top=trim)


def _parts(members: int) -> Iterator[int]:
    """Every subset but none and all."""
    part = (members - 1) & members
    while part:
        yield part
        part = (part - 1) & members


def _least_ones(sizes: list[tuple[int, int]]) -> Sizes:
    kept: list[tuple[int, int]] = []
    for size in sorted(set(sizes)):
        if not kept or size[1] < kept[-1][1]:
            kept.append(size)
    return tuple(kept)
