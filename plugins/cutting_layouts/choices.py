"""Choices of stock: how many of each bin, for less than a plan that is at hand, as far as the rules allow.

In: a task, the proven bound, the rank to beat. Out: choices in the order in which they are tried, a plan to start each from, and a bound
where none is left that costs less.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from .layout import Bound
from .packing import Pattern
from .slices import Rules
from .task import Plan, Task

_MOST_VISITED = 20_000
_MOST_JUDGED = 60
"""Choices that are held against the rules that take longer; where there are more, none is."""


def cheapest_choice(task: Task, bound: Bound, best: Plan, rules: Rules) -> Bound:
    """The bound raised to the cheapest choice of stock that has what is needed, where all could be looked at."""
    choices, all_seen = choices_of(task, bound, task.rank(best), rules)
    cost = min([task.cost(best), *(task.rank_of(choice)[0] for choice in choices)])
    return replace(bound, cost=cost, reason="large pieces") if all_seen and cost > bound.cost else bound


def choices_of(task: Task, bound: Bound, rank: tuple[int, int], rules: Rules) -> tuple[list[tuple[int, ...]], bool]:
    """How many of each bin, for less than `rank`, as far as the rules allow; and whether all were looked at.

    Most spare area first, then cheapest.
    """
    found, all_seen = [], True
    for visited, counts in enumerate(_counts(task, rank[0])):
        if visited >= _MOST_VISITED:
            all_seen = False
            break
        cost, number = task.rank_of(counts)
        if cost < bound.cost or number < bound.sheets or (cost, number) >= rank:
            continue
        spare = rules.spare(counts)
        if spare is not None:
            found.append((-spare, cost, counts))
    choices = [counts for _, _, counts in sorted(found)]
    if len(choices) <= _MOST_JUDGED:
        choices = [counts for counts in choices if rules.allow(counts)]
    return choices, all_seen


def _counts(task: Task, most: int) -> Iterator[tuple[int, ...]]:
    """All choices that cost no more than `most`, each with no more bins than there are blocks."""

    def rest(at: int, left: int, blocks: int) -> Iterator[tuple[int, ...]]:
        if at == len(task.bins):
            yield ()
            return
        price, count = task.bins[at].cost, task.counts[at]
        limit = blocks if count is None else min(blocks, count)
        if price > 0:
            limit = min(limit, left // price)
        for number in range(limit, -1, -1):
            for more in rest(at + 1, left - number * price, blocks - number):
                yield (number, *more)

    yield from rest(0, most, task.number)


def started(task: Task, choice: Sequence[int], best: Plan) -> list[Pattern]:
    """The choice's bins with what the best plan has in such bins, the fullest first; the others empty."""
    ranked = sorted(best, key=lambda pattern: (-sum(spot.length * spot.width for spot in pattern.spots), pattern))
    start = []
    for kind, number in enumerate(choice):
        same = [pattern for pattern in ranked if pattern.bin == kind][:number]
        start.extend(same + [Pattern(kind, ())] * (number - len(same)))
    return start
