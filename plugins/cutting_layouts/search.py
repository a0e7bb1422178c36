"""The cheapest choice of stock that the search finds, with a place for every block.

In: bins with prices and counts (None: without end), blocks, the kerf, the proven bound, an amount of work. Out: a plan, a
pattern for every bin used. First the solver's quick methods; then every cheaper choice of stock that has area enough is tried
in the order of its spare area, each from what the best plan so far has in the same bins. Stops at the bound.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from .choices import cheapest_choice, choices_of, started
from .eject import Work, fill_one, place_all
from .exact import cheapest_of_all
from .layout import Bound
from .packing import TREE_256, VALUES, Aim, Bin, First, Pattern, Tally, pack
from .slices import plain, sliced
from .task import Plan, Task, done

_MOST_CHOICES = 12
_LEAST_WORK = 100.0
_ROUNDS = 6
_MOST_SOLVED = 120
_RACED = 500.0
"""Work that the solver's own methods leave for the race."""

_QUEUE = 16


def cheapest(
    task: Task, bound: Bound, *, work: Work, tally: Tally, known: Plan | None = None
) -> tuple[Plan | None, Counter[int], bool, Bound]:
    """The best plan (None if the stock does not suffice), what is then left over, whether the work ran out, and the best bound.

    The stronger bound is worked out only where quick methods don't meet the one given. `known` is a plan that is already at hand; the
    result is no worse.
    """
    solved = _solved(task, known, bound, work, tally)
    best = solved if solved is not None and done(task, solved, bound) else _quick(task, bound, work, tally, solved)
    if best is None:
        best, left = _scarce(task, work, tally)
        if best is None:
            return (None, left, work.left <= 0, bound)
    rules = plain(task.bins, task.blocks, task.kerf)
    if not done(task, best, bound) and not task.is_linear:
        bound, rules = sliced(task.bins, task.counts, task.blocks, task.kerf, bound)
        bound = cheapest_choice(task, bound, best, rules)
    if not done(task, best, bound) and not task.is_linear:
        exact = cheapest_of_all(task)
        if exact is not None:
            best = min(best, exact, key=task.rank)
            cost, sheets = task.rank(best)
            bound = replace(bound, cost=cost, sheets=sheets, reason="all ways tried")
    later = work.left / 2
    for part in (Work(later), Work(later)):
        while not done(task, best, bound) and part.left > 0:
            better = _race(task, choices_of(task, bound, task.rank(best), rules)[0], best, part, tally)
            if better is None:
                break
            best = better
        work.left -= later - part.left
        if part.left > 0 or done(task, best, bound):
            break
        if solved is not None and task.rank(solved) <= task.rank(best):
            best = solved  # as good, and another place to search from
    return (best, Counter(), work.left <= 0 and not done(task, best, bound), bound)


def _solved(task: Task, known: Plan | None, bound: Bound, work: Work, tally: Tally) -> Plan | None:
    """The solver's own best by a few quick methods, or what is known where that has fewer bins.

    For one kind of stock only: with several the solver's own bound takes seconds. Lengths have a quicker way.
    """
    if task.is_linear or len(task.bins) > 1 or task.counts[0] is not None or task.number > _MOST_SOLVED:
        return known
    if known is not None and done(task, known, bound):
        return known
    one, best = task.bins[0], known
    bins = (Bin(one.length, one.width, one.cost, task.number),)
    for effort, first, took in ((VALUES, First.ALONG, 0.085), (TREE_256, First.ALONG, 0.065), (VALUES, First.ACROSS, 0.085)):
        if best is not None and work.left < took * task.number**2 + _RACED:
            break
        work.left -= took * task.number**2
        plan = pack(bins, task.blocks, task.kerf, aim=Aim.BINS, effort=effort, first=first, tally=tally)
        if plan is not None and (best is None or task.rank(plan) < task.rank(best)):
            best = plan
        if best is not None and done(task, best, bound):
            break
    return best


def _race(task: Task, choices: Sequence[tuple[int, ...]], best: Plan, work: Work, tally: Tally) -> Plan | None:
    """The first cheaper choice of stock in which everything finds a place; None when the work is done or none is left.

    All choices get a little work; the half that leaves less over goes on from where it stands with more, and so forth.
    """
    field: list[Plan] = [tuple(started(task, choice, best)) for choice in choices[:_MOST_CHOICES]]
    lap = 0
    while field and work.left > 0:
        lap += 1
        share = max(_LEAST_WORK, work.left / (2 * len(field))) if len(field) > 1 else work.left
        reached: list[tuple[int, int, Plan]] = []
        for number, start in enumerate(field):
            mine = Work(share)
            plan, homeless = place_all(
                task.bins, start, task.blocks, task.kerf, work=mine, tally=tally, seed=lap * _MOST_CHOICES + number
            )
            work.left -= share - mine.left
            if not homeless:
                return tuple(pattern for pattern in plan if pattern.spots)
            left = sum(task.blocks[at].length * task.blocks[at].width * count for at, count in homeless.items())
            reached.append((left, number, plan))
            if work.left <= 0:
                break
        field = [plan for _, _, plan in sorted(reached)[: max(1, len(reached) // 2)]]
    return None


def _quick(task: Task, bound: Bound, work: Work, tally: Tally, known: Plan | None) -> Plan | None:
    """Bin after bin filled with the most valuable blocks left, in a few rounds that learn which blocks are hard to place.

    A block that ended in a badly filled bin is worth more in the next round, so that it is placed sooner (sequential value
    correction; the idea is Mukhacheva's, from memory).
    """
    areas = [(block.length + task.kerf) * (block.width + task.kerf) for block in task.blocks]
    worth = [1.0] * len(task.blocks)
    best = known
    for number in range(_ROUNDS):
        plan: list[Pattern] | None = []
        left = Counter({at: block.count for at, block in enumerate(task.blocks)})
        stock = [task.number if count is None else count for count in task.counts]
        first = First.ALONG if number % 2 == 0 else First.ACROSS
        while left and plan is not None:
            pattern = _next_bin(task, left, stock, areas, worth, first, work, tally)
            if pattern is None:
                plan = None
                break
            plan.append(pattern)
            stock[pattern.bin] -= 1
            left.subtract(spot.block for spot in pattern.spots)
            left = +left
            one = task.bins[pattern.bin]
            share = sum(areas[spot.block] for spot in pattern.spots) / ((one.length + task.kerf) * (one.width + task.kerf))
            for at in sorted({spot.block for spot in pattern.spots}):
                worth[at] = (worth[at] + 1.0 / max(share, 0.05) ** 0.5) / 2
        if plan is not None and (best is None or task.rank(tuple(plan)) < task.rank(best)):
            best = tuple(plan)
        if best is not None and done(task, best, bound):
            break
    return best


def _next_bin(
    task: Task,
    left: Counter[int],
    stock: Sequence[int],
    areas: Sequence[int],
    worth: Sequence[float],
    first: First,
    work: Work,
    tally: Tally,
) -> Pattern | None:
    """The bin that gives most for its price, or the cheapest of those that hold all that is left."""
    values = {at: areas[at] * worth[at] for at in left}
    whole = sum(areas[at] * count for at, count in left.items())
    best: tuple[tuple[bool, float], Pattern] | None = None
    for kind, one in enumerate(task.bins):
        if stock[kind] <= 0:
            continue
        spots = fill_one(one, left, task.blocks, values, task.kerf, queue=_QUEUE, first=first, work=work, tally=tally)
        placed = sum(areas[spot.block] for spot in spots)
        all_placed = placed == whole
        merit = -float(one.cost) if all_placed else placed / max(one.cost, 0.01)
        if spots and (best is None or (all_placed, merit) > best[0]):
            best = ((all_placed, merit), Pattern(kind, spots))
    return None if best is None else best[1]


def _scarce(task: Task, work: Work, tally: Tally) -> tuple[Plan | None, Counter[int]]:
    """Everything in all the stock there is, when no quick method found a place for all."""
    kinds = [at for at, count in enumerate(task.counts) for _ in range(task.number if count is None else count)]
    empty = [Pattern(kind, ()) for kind in kinds[: task.number]]
    share = Work(work.left / 2)
    plan, homeless = place_all(task.bins, empty, task.blocks, task.kerf, work=share, tally=tally)
    work.left = work.left / 2 + share.left
    if homeless:
        return (None, homeless)
    return (tuple(pattern for pattern in plan if pattern.spots), homeless)
