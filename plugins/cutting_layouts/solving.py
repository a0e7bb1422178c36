"""A job's layout: judging, the cheapest stock, the second pass on it, cuts in order.

In: a job. Out: its layout, or the problems that leave it without one. The amount of work depends on the job alone, so that the
same job has the same layout on every machine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from . import packing
from .bars import bars
from .blocks import Lot, lots, opened
from .bound import bound as proven
from .eject import Work
from .job import Job, Stock, Way
from .judging import judge, useful
from .layout import Bound, Layout, Node, Placement, Problem, Sheet
from .lengths import cheapest_lengths
from .offcut import gathered
from .packing import Bin, Pattern, Tally
from .rack import rack_first
from .sawing import Label, offcuts, place, saw
from .search import cheapest
from .task import Plan, Task
from .tidy import tidy
from .tree import Leaf, Tree, split

SOLVER = packing.SOLVER

_SEARCHED = (300.0, 75.0, 8000.0)
_ONE_KIND = 2000.0
_GATHERED = (40.0, 3.0, 300.0)
_TIDIED = (30.0, 3.0, 300.0)
"""Work for the first and the second pass: least, for each piece, most. A unit is about a thousandth of a second.

With one kind of stock the search has only the number of sheets to bring down, and `_ONE_KIND` is the most.
"""


@dataclass(frozen=True, slots=True)
class Found:
    """The stock that a search chose, as a plan of patterns, with what it was chosen from."""

    task: Task
    stocks: tuple[Stock, ...]
    lots: tuple[Lot, ...]
    bound: Bound
    plan: Plan | None
    stopped: bool
    tally: Tally


def lay_out(job: Job, *, linear: bool = False) -> Layout:
    """The cheapest layout that a fixed amount of work finds; then one large offcut, few cuts and few fence settings."""
    problems = judge(job)
    if any(not problem.warning for problem in problems):
        return _empty(problems)
    if not any(piece.count > 0 for piece in job.pieces):
        return Layout(sheets=(), cost=0, bound=Bound(cost=0, sheets=0, reason="nothing to saw"), best_possible=True)
    if not packing.AVAILABLE:
        says = "the solver has no build for this system, so there are no cutting layouts"
        return _empty((*problems, Problem(code="no-solver", says=says, warning=True)))
    found = cheapest_stock(job, linear=linear)
    problems = (*problems, *lots(job)[1])
    if found.plan is None:
        says, hint = "no place was found for all parts in the stock there is", "Add a size, or more of one."
        return _empty((*problems, Problem(code="no-room", says=says, hint=hint)))
    trees = _rows(found, job.kerf) if linear else _trees(found, job)
    cost = sum(found.task.bins[kind].cost for kind, _ in trees)
    return Layout(
        sheets=_sheets(trees, found, job),
        cost=cost,
        bound=found.bound,
        best_possible=cost <= found.bound.cost,
        stopped_early=found.stopped,
        timed_out=found.tally.timed_out,
        problems=problems,
    )


def cheapest_stock(job: Job, *, linear: bool = False) -> Found:
    """Which stock, and what lies on it, before the cuts are put in order."""
    task, stocks, found = task_of(job)
    limit, tally = proven(task.bins, task.counts, task.blocks, job.kerf), Tally()
    work = _work(_SEARCHED, task.number)
    if len(task.bins) == 1:
        work.left = min(work.left, _ONE_KIND)
    if linear:
        known = bars(task, limit, tally)
        plan, _, stopped, limit = cheapest_lengths(task, limit, work=work, tally=tally, known=known)
    else:
        plan, _, stopped, limit = cheapest(task, limit, work=work, tally=tally)
    return Found(task, stocks, found, limit, plan, stopped, tally)


def task_of(job: Job) -> tuple[Task, tuple[Stock, ...], tuple[Lot, ...]]:
    """What the search is asked, with the stock that its bins are, and the pieces that its blocks are."""
    found, _ = lots(job)
    stocks = tuple(stock for stock in sorted(job.stocks, key=_by_price) if useful(stock))
    blocks = tuple(lot.block for lot in found)
    many = sum(block.count for block in blocks)
    bins = tuple(
        Bin(stock.usable_length, stock.usable_width, stock.price, many if stock.count is None else min(many, stock.count)) for stock in stocks
    )
    return Task(bins, tuple(stock.count for stock in stocks), blocks, job.kerf), stocks, found


def _work(amount: tuple[float, float, float], many: int) -> Work:
    least, each, most = amount
    return Work(min(most, max(least, each * many)))


def _by_price(stock: Stock) -> tuple[int, int, str]:
    return (stock.price, stock.area, stock.id)


def _trees(found: Found, job: Job) -> list[tuple[int, Tree]]:
    """Every bin's kind with its tree of cuts, by the second pass. What lies on free stock stays there."""
    assert found.plan is not None
    task, keep, tally = found.task, job.bench.keep, found.tally
    plan = rack_first(task, found.plan, work=_work(_TIDIED, task.number), tally=tally)
    bought = tuple(pattern for pattern in plan if task.bins[pattern.bin].cost > 0)
    groups: list[Plan] = [(pattern,) for pattern in plan if task.bins[pattern.bin].cost == 0]
    if bought:
        groups.append(gathered(task.of(bought), bought, keep, work=_work(_GATHERED, task.number), tally=tally))
    trees: list[tuple[int, Tree]] = []
    for group in groups:
        sawn = tidy(task.of(group), group, keep, work=_work(_TIDIED, sum(len(pattern.spots) for pattern in group)), tally=tally)
        trees.extend((one.bin, one.tree) for one in sawn)
    return trees


def _rows(found: Found, kerf: int) -> list[tuple[int, Tree]]:
    """Every bar's kind with its pieces in a row."""
    return [(pattern.bin, _row(pattern, kerf)) for pattern in found.plan or ()]


def _row(pattern: Pattern, kerf: int) -> Tree:
    return split(Way.ALONG, [Leaf(spot.block, spot.length, spot.width) for spot in pattern.spots], kerf)


def _sheets(trees: Sequence[tuple[int, Tree]], found: Found, job: Job) -> tuple[Sheet, ...]:
    """Each different pattern with its cuts, offcuts of the shop first, then the fullest."""
    made = []
    for (kind, tree), copies in Counter(trees).items():
        stock = found.stocks[kind]
        labels: list[Label] = []
        board = place(opened(tree, found.lots, job.kerf, labels), labels, stock, job.kerf, job.bench)
        made.append(
            Sheet(
                stock=stock.id, length=stock.length, width=stock.width, copies=copies, placements=tuple(_placements(board)), tree=board,
                cuts=saw(board, stock, job.kerf, job.bench), offcuts=offcuts(board),
            )
        )  # fmt: skip
    offcut = {stock.id: stock.offcut for stock in found.stocks}
    return tuple(sorted(made, key=lambda sheet: (not offcut[sheet.stock], -sheet.length * sheet.width, -sheet.used, sheet.placements)))


def _placements(board: Node) -> list[Placement]:
    if not board.children:
        return [Placement(piece=board.piece, box=board.box, turned=board.turned)] if board.piece else []
    return [found for child in board.children for found in _placements(child)]


def _empty(problems: tuple[Problem, ...]) -> Layout:
    return Layout(sheets=(), cost=0, bound=Bound(cost=0, sheets=0, reason="nothing laid out"), best_possible=False, problems=problems)
