"""Lengths from stock lengths: the search of the sheets, with a bound and plans from the linear relaxation beside it.

In: a task whose blocks are all as wide as its bins. Out: a plan and a bound. The kerf of a mitred end is in the piece's
allowance, so here a length is a length.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from math import ceil

from .bound import area_needed, whole_stock
from .columns import Column, Columns, proven, rounded
from .eject import Work, in_a_row
from .layout import Bound
from .packing import Pattern, Tally
from .search import cheapest
from .task import Plan, Task, done

_ROUNDINGS = (0.4, 0.0, 0.3, 0.2, 0.5, 0.1, 0.35, 0.05)
_MOST_KINDS = 80


def cheapest_lengths(
    task: Task, bound: Bound, *, work: Work, tally: Tally, known: Plan | None = None
) -> tuple[Plan | None, Counter[int], bool, Bound]:
    """As `search.cheapest`, with the bound that is better for the relaxation."""
    quick = Work(work.left / 4)
    best, left, ran_out, _ = cheapest(task, bound, work=quick, tally=tally, known=known)
    if best is None or done(task, best, bound) or len(task.blocks) > _MOST_KINDS:
        return (best, left, ran_out, bound)
    columns = Columns(task.bins, task.blocks, task.kerf)
    demand = [block.count for block in task.blocks]
    answer = columns.relaxed(task.counts, demand)
    if answer is None:
        return (best, left, ran_out, bound)
    least = proven(answer, task.bins, task.counts, task.blocks, task.kerf, demand)
    cost = whole_stock(least, task.bins, task.counts, [area_needed(task.bins, task.blocks, task.kerf)])
    if cost > bound.cost:
        sheets = max(bound.sheets, ceil(least / task.bins[0].cost)) if len(task.bins) == 1 else bound.sheets
        bound = replace(bound, cost=cost, sheets=sheets, reason="lengths")
    for nearly in _ROUNDINGS:
        if done(task, best, bound):
            return (best, left, False, bound)
        sawn = rounded(columns, task.counts, task.blocks, answer, nearly)
        if sawn is not None:
            plan = tuple(_pattern(task, column) for column in sawn)
            best = min(best, plan, key=task.rank)
    return cheapest(task, bound, work=work, tally=tally, known=best)


def _pattern(task: Task, column: Column) -> Pattern:
    return Pattern(column.bin, in_a_row(range(len(task.blocks)), task.blocks, column.counts, task.kerf))
