"""The cheapest choice of stock that the search finds, with a place for every block.

In: bins with prices and counts (None: without end), blocks, the kerf, the proven bound, an amount of work. Out: a plan, a
pattern for every bin used. First the solver's quick methods; then every cheaper choice of stock that has area enough is tried
in the order of its spare area, each from what the best plan so far has in the same bins. Stops at the bound.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .eject import Work, fill_one, place_all
from .layout import Bound
from .packing import Bin, Block, First, Pattern, Tally

type Plan = tuple[Pattern, ...]

_MOST_CHOICES = 12
_MOST_VISITED = 20_000
_LEAST_WORK = 100.0
_ROUNDS = 6
_QUEUE = 16


@dataclass(frozen=True, slots=True)
class Task:
    """What is searched: the same in every step."""

    bins: tuple[Bin, ...]
    counts: tuple[int | None, ...]
    blocks: tuple[Block, ...]
    kerf: int

    def cost(self, plan: Plan) -> int:
        return sum(self.bins[pattern.bin].cost for pattern in plan)

    def rank(self, plan: Plan) -> tuple[int, int]:
        """Cost, then number of sheets."""
        return (self.cost(plan), len(plan))

    @property
    def number(self) -> int:
        return sum(block.count for block in self.blocks)


def cheapest(
    task: Task, bound: Bound, *, work: Work, tally: Tally, known: Plan | None = None
) -> tuple[Plan | None, Counter[int], bool]:
    """The best plan (None if the stock does not suffice), what is then left over, and whether the work ran out.

    `known` is a plan that is already at hand; the result is no worse.
    """
    best = known if known is not None and _done(task, known, bound) else _quick(task, bound, work, tally, known)
    left: Counter[int] = Counter()
    if best is None:
        best, left = _scarce(task, work, tally)
        if best is None:
            return (None, left, work.left <= 0)
    ran_out = False
    tried: set[tuple[int, ...]] = set()
    while not _done(task, best, bound):
        choices = [one for one in _choices(task, bound, task.rank(best)) if one not in tried][:_MOST_CHOICES]
        if not choices:
            break
        choice = choices[0]
        tried.add(choice)
        share = Work(max(_LEAST_WORK, work.left / min(len(choices), 4)))
        before = share.left
        start = _start(task, choice, best)
        plan, homeless = place_all(task.bins, start, task.blocks, task.kerf, work=share, tally=tally, seed=len(tried))
        work.left -= before - share.left
        if not homeless:
            best = tuple(pattern for pattern in plan if pattern.spots)
        elif work.left <= 0:
            ran_out = True
            break
    return (best, left, ran_out)


def _done(task: Task, plan: Plan, bound: Bound) -> bool:
    return task.cost(plan) <= bound.cost and len(plan) <= bound.sheets


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
        if best is not None and _done(task, best, bound):
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


def _choices(task: Task, bound: Bound, rank: tuple[int, int]) -> list[tuple[int, ...]]:
    """How many of each bin, for less than `rank`, with area enough; most spare area first, then cheapest."""
    areas = [(one.length + task.kerf) * (one.width + task.kerf) for one in task.bins]
    need = sum(block.count * (block.length + task.kerf) * (block.width + task.kerf) for block in task.blocks)
    found = []
    for visited, counts in enumerate(_counts(task, rank[0])):
        if visited >= _MOST_VISITED:
            break
        cost = sum(one.cost * count for one, count in zip(task.bins, counts, strict=True))
        area = sum(size * count for size, count in zip(areas, counts, strict=True))
        if area >= need and cost >= bound.cost and sum(counts) >= bound.sheets and (cost, sum(counts)) < rank:
            found.append((-area, cost, counts))
    return [counts for _, _, counts in sorted(found)]


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


def _start(task: Task, choice: Sequence[int], best: Plan) -> list[Pattern]:
    """The choice's bins with what the best plan has in such bins, the fullest first; the others empty."""
    ranked = sorted(best, key=lambda pattern: (-sum(spot.length * spot.width for spot in pattern.spots), pattern))
    start = []
    for kind, number in enumerate(choice):
        same = [pattern for pattern in ranked if pattern.bin == kind][:number]
        start.extend(same + [Pattern(kind, ())] * (number - len(same)))
    return start
