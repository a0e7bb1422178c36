"""The cheapest choice of stock that the search finds, with a place for every block.

In: bins with prices and counts (None: without end), blocks, the kerf, the proven bound, an amount of work. Out: a plan, a
pattern for every bin used. First the solver's quick methods; then every cheaper choice of stock that has area enough is tried
in the order of its spare area, each from what the best plan so far has in the same bins. Stops at the bound.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from .eject import Work, fill_one, place_all
from .layout import Bound
from .packing import TREE_256, VALUES, Aim, Bin, Block, First, Pattern, Tally, pack

type Plan = tuple[Pattern, ...]

_MOST_CHOICES = 12
_MOST_VISITED = 20_000
_LEAST_WORK = 100.0
_ROUNDS = 6
_MOST_SOLVED = 120
_RACED = 500.0
"""Work that the solver's own methods leave for the race."""

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

    def of(self, plan: Plan) -> Task:
        """The task that these patterns alone answer."""
        counts = Counter(spot.block for pattern in plan for spot in pattern.spots)
        return replace(self, blocks=tuple(replace(block, count=counts[number]) for number, block in enumerate(self.blocks)))

    @property
    def is_linear(self) -> bool:
        """Whether only the lengths matter."""
        widths = {one.width for one in self.bins} | {block.width for block in self.blocks}
        return len(widths) == 1 and not any(block.turnable for block in self.blocks)


def cheapest(
    task: Task, bound: Bound, *, work: Work, tally: Tally, known: Plan | None = None
) -> tuple[Plan | None, Counter[int], bool]:
    """The best plan (None if the stock does not suffice), what is then left over, and whether the work ran out.

    `known` is a plan that is already at hand; the result is no worse.
    """
    solved = _solved(task, known, bound, work, tally)
    best = solved if solved is not None and done(task, solved, bound) else _quick(task, bound, work, tally, solved)
    if best is None:
        best, left = _scarce(task, work, tally)
        if best is None:
            return (None, left, work.left <= 0)
    later = work.left / 2
    for part in (Work(later), Work(later)):
        while not done(task, best, bound) and part.left > 0:
            better = _race(task, bound, best, part, tally)
            if better is None:
                break
            best = better
        work.left -= later - part.left
        if part.left > 0 or done(task, best, bound):
            break
        if solved is not None and task.rank(solved) <= task.rank(best):
            best = solved  # as good, and another place to search from
    return (best, Counter(), work.left <= 0 and not done(task, best, bound))


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


def _race(task: Task, bound: Bound, best: Plan, work: Work, tally: Tally) -> Plan | None:
    """The first cheaper choice of stock in which everything finds a place; None when the work is done or none is left.

    All choices get a little work; the half that leaves less over goes on from where it stands with more, and so forth.
    """
    choices = _choices(task, bound, task.rank(best))[:_MOST_CHOICES]
    field: list[Plan] = [tuple(_start(task, choice, best)) for choice in choices]
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


def done(task: Task, plan: Plan, bound: Bound) -> bool:
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
