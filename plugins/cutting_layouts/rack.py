"""The shop's own offcuts used first, where that buys no more stock.

In: a plan that is as cheap as was found, of a task some of whose bins are free. Out: a plan that costs no more and has parts on more of the
free bins, so that more of the bought stock is left in one piece; or the plan as it was.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from .bound import bound
from .eject import Work, fill_one
from .packing import First, Pattern, Tally
from .search import cheapest
from .task import Plan, Task

_QUEUE = 64
_FULL = 2
"""An offcut is taken when parts cover at least one in so many parts of it; else it had better lie."""


def rack_first(task: Task, plan: Plan, *, work: Work, tally: Tally) -> Plan:
    """The free bins filled first, largest first, and the rest laid out anew on what is bought."""
    free = [at for at, one in enumerate(task.bins) if one.cost == 0 and task.counts[at] is not None]
    if not free or len(free) == len(task.bins) or task.cost(plan) == 0:
        return plan
    filled, left = _filled(task, free, work, tally)
    if not filled or _on(plan, free) >= sum(_area(pattern) for pattern in filled):
        return plan
    rest = _rest(task, free, left)
    if not rest.blocks:
        return plan
    numbers = [at for at, count in sorted(left.items()) if count > 0]
    kinds = [at for at in range(len(task.bins)) if at not in free]
    limit = bound(rest.bins, rest.counts, rest.blocks, rest.kerf)
    found, _, _, _ = cheapest(rest, limit, work=work, tally=tally)
    if found is None or rest.cost(found) > task.cost(plan):
        return plan
    bought = tuple(
        Pattern(kinds[pattern.bin], tuple(replace(spot, block=numbers[spot.block]) for spot in pattern.spots)) for pattern in found
    )
    return (*filled, *bought)


def _filled(task: Task, free: list[int], work: Work, tally: Tally) -> tuple[list[Pattern], Counter[int]]:
    """A pattern for every free bin that is worth sawing, and the blocks that are left."""
    left = Counter({number: block.count for number, block in enumerate(task.blocks)})
    areas = {number: float(block.length * block.width) for number, block in enumerate(task.blocks)}
    filled = []
    for kind in sorted(free, key=lambda at: (-task.bins[at].length * task.bins[at].width, at)):
        one = task.bins[kind]
        for _ in range(one.count):
            offers = [
                Pattern(kind, fill_one(one, left, task.blocks, areas, task.kerf, queue=_QUEUE, first=first, work=work, tally=tally))
                for first in (First.ALONG, First.ACROSS)
            ]
            best = max(offers, key=lambda pattern: (_area(pattern), pattern))
            if _area(best) * _FULL < one.length * one.width:
                break
            filled.append(best)
            left.subtract(spot.block for spot in best.spots)
            left = +left
    return filled, left


def _rest(task: Task, free: list[int], left: Counter[int]) -> Task:
    kinds = [at for at in range(len(task.bins)) if at not in free]
    blocks = tuple(replace(task.blocks[at], count=count) for at, count in sorted(left.items()) if count > 0)
    return Task(tuple(task.bins[at] for at in kinds), tuple(task.counts[at] for at in kinds), blocks, task.kerf)


def _area(pattern: Pattern) -> int:
    return sum(spot.length * spot.width for spot in pattern.spots)


def _on(plan: Plan, free: list[int]) -> int:
    """The area of parts that lies on free bins already."""
    return sum(_area(pattern) for pattern in plan if pattern.bin in free)
