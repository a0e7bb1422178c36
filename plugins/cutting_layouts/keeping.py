"""A job laid out again after a change, with the sheets that the change leaves alone.

In: the job, and an earlier job with its layout. Out: a layout of the job that costs no more and takes no more sheets than one made
anew. Who gives no earlier layout gets the new one: an answer depends on what is given and on nothing remembered.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from .job import Job, Run
from .layout import Layout, Sheet
from .solving import lay_out

_MOST_TRIES = 3


@dataclass(frozen=True, slots=True)
class Before:
    """An earlier job with its layout."""

    job: Job
    layout: Layout


def lay_out_again(job: Job, before: Before, *, linear: bool = False) -> Layout:
    """The layout with as many of the earlier sheets as may stay, the emptiest given up first; the new one if none may."""
    anew = lay_out(job, linear=linear)
    if not anew.sheets or (job.kerf, job.bench) != (before.job.kerf, before.job.bench):
        return anew
    kept = _unaffected(job, before)
    for _ in range(_MOST_TRIES):
        if not kept:
            break
        together = _completed(job, kept, anew, linear)
        if together is not None and _rank(together) <= _rank(anew):
            return together
        kept = sorted(kept, key=lambda sheet: (-sheet.used, sheet.placements))[:-1]
    return anew


def _rank(layout: Layout) -> tuple[int, int]:
    return (layout.cost, layout.sheet_count)


def _unaffected(job: Job, before: Before) -> list[Sheet]:
    """Earlier sheets, one copy each, of stock and pieces that are as they were and of which as many are wanted."""
    same_pieces = {piece.id for piece in job.pieces if any(_alike(piece, old) for old in before.job.pieces)}
    stocks = {stock.id: stock for stock in job.stocks if stock in before.job.stocks}
    runs = {run for run in before.job.runs if run not in job.runs} | {run for run in job.runs if run not in before.job.runs}
    stirred = {member for run in runs for member in run.members}
    wanted = Counter({piece.id: piece.count for piece in job.pieces})
    left = Counter({stock.id: stock.count if stock.count is not None else sum(wanted.values()) for stock in job.stocks})
    kept = []
    for sheet in before.layout.sheets:
        names = Counter(place.piece for place in sheet.placements)
        for _ in range(sheet.copies):
            known = sheet.stock in stocks and all(name in same_pieces and name not in stirred for name in names)
            if known and left[sheet.stock] > 0 and not names - wanted:
                kept.append(replace(sheet, copies=1))
                wanted.subtract(names)
                left[sheet.stock] -= 1
    return kept


def _alike(piece: object, other: object) -> bool:
    """The same but for how many."""
    return replace(piece, count=0) == replace(other, count=0)  # type: ignore[type-var]


def _completed(job: Job, kept: list[Sheet], anew: Layout, linear: bool) -> Layout | None:
    """The kept sheets and a layout of what they leave; None when the rest can't be laid out."""
    made = Counter(place.piece for sheet in kept for place in sheet.placements)
    used = Counter(sheet.stock for sheet in kept)
    runs, taken = _split_runs(job.runs, made)
    if taken - made:
        return None
    rest = replace(
        job,
        pieces=tuple(replace(piece, count=piece.count - made[piece.id]) for piece in job.pieces),
        stocks=tuple(
            stock if stock.count is None else replace(stock, count=stock.count - used[stock.id]) for stock in job.stocks
        ),
        runs=runs,
    )
    others = lay_out(rest, linear=linear)
    if any(not problem.warning for problem in others.problems):
        return None
    costs = {stock.id: stock.price for stock in job.stocks}
    cost = sum(costs[sheet.stock] for sheet in kept) + others.cost
    return replace(
        anew,
        sheets=_merged([*kept, *others.sheets]),
        cost=cost,
        best_possible=cost <= anew.bound.cost,
        stopped_early=anew.stopped_early or others.stopped_early,
        timed_out=anew.timed_out or others.timed_out,
    )


def _split_runs(runs: tuple[Run, ...], made: Counter[str]) -> tuple[tuple[Run, ...], Counter[str]]:
    """The runs that are still to be sawn, and what the others take of the pieces that the kept sheets make."""
    taken: Counter[str] = Counter()
    left = []
    for run in runs:
        members = Counter(run.members)
        if members - (made - taken):
            left.append(run)
        else:
            taken.update(members)
    return (tuple(left), taken)


def _merged(sheets: list[Sheet]) -> tuple[Sheet, ...]:
    """Equal sheets counted together, in the order in which they are first met."""
    copies: Counter[Sheet] = Counter()
    for sheet in sheets:
        copies[replace(sheet, copies=1)] += sheet.copies
    return tuple(replace(sheet, copies=number) for sheet, number in copies.items())
