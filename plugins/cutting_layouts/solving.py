"""A job's layout: trial, tree of cuts, cuts in order, bound.

In: a job. Out: its layout, or the problems that leave it without one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from . import packing
from .bound import bound as proven
from .job import Job, Piece, Stock
from .layout import Bound, Layout, Placement, Problem, Sheet
from .layout import Node as Board
from .packing import KNAPSACKS, TREE_256, VALUES, Aim, Bin, Block, First, Pattern, Spot, Tally, pack
from .sawing import Label, offcuts, place, saw
from .tree import saw_tree, score


def lay_out(job: Job, *, linear: bool = False) -> Layout:
    """The cheapest layout that a fixed amount of work finds; among equals the one with fewest cuts and the largest offcut."""
    problems = judge(job)
    if any(not problem.warning for problem in problems):
        return _empty(problems)
    if not packing.AVAILABLE:
        return _empty((*problems, Problem(code="no-solver", says="the solver has no build for this system, so there are no cutting layouts", warning=True)))
    pieces, stocks = tuple(piece for piece in job.pieces if piece.count), _useful(job)
    blocks = tuple(Block(piece.length + piece.allowance, piece.width, piece.turnable, piece.count) for piece in pieces)
    many = sum(piece.count for piece in pieces)
    bins = tuple(Bin(stock.usable_length, stock.usable_width, stock.cost or 1, many if stock.count is None else stock.count) for stock in stocks)
    tally = Tally()
    best = _best(bins, blocks, job.kerf, linear, tally)
    if best is None:
        return _empty((*problems, Problem(code="no-room", says="the stock there is does not hold all parts", hint="Add a size, or more of one.")))
    limit = proven(bins, [stock.count for stock in stocks], blocks, job.kerf)
    cost = sum(bins[pattern.bin].cost for pattern in best)
    sheets = _sheets(best, pieces, stocks, job)
    return Layout(sheets=sheets, cost=cost, bound=limit, best_possible=cost <= limit.cost, timed_out=tally.timed_out, problems=problems)


def judge(job: Job) -> tuple[Problem, ...]:
    """What makes a job impossible, or doubtful."""
    found: list[Problem] = []
    if not job.stocks:
        found.append(Problem(code="no-stock", says="the library gives no size that this stock is sold in", hint="Add its sheet or its lengths to the library."))
        return tuple(found)
    for stock in job.stocks:
        if stock.count is not None and stock.count < 0:
            found.append(Problem(code="negative-count", says=f"there are {stock.count} of {stock.id}", piece=stock.id))
        if stock.usable_length <= 0 or stock.usable_width <= 0:
            found.append(Problem(code="all-trim", says=f"{stock.id} is smaller than its trims", piece=stock.id, warning=True))
    for piece in job.pieces:
        if job.kerf >= max(piece.length, 1):
            found.append(Problem(code="kerf", says=f"the kerf is as wide as {piece.id} is long", piece=piece.id))
        if not any(_fits(piece, stock) for stock in job.stocks):
            found.append(_too_big(piece, job.stocks))
    return tuple(found)


def _fits(piece: Piece, stock: Stock, turned: bool = False) -> bool:
    length, width = piece.length + piece.allowance, piece.width
    ways = [(length, width), (width, length)] if piece.turnable or turned else [(length, width)]
    return any(long <= stock.usable_length and wide <= stock.usable_width for long, wide in ways)


def _too_big(piece: Piece, stocks: Sequence[Stock]) -> Problem:
    largest = max(stocks, key=lambda stock: (stock.usable_length * stock.usable_width, stock.id))
    over = max(piece.length + piece.allowance - largest.usable_length, 0), max(piece.width - largest.usable_width, 0)
    turned = any(_fits(piece, stock, turned=True) for stock in stocks)
    hint = "With its grain turned it would fit." if turned else "Glue it up, or choose a larger size."
    return Problem(code="too-big", says=f"{piece.id} is {over[0]} too long and {over[1]} too wide for {largest.id}", piece=piece.id, hint=hint)


def _useful(job: Job) -> tuple[Stock, ...]:
    return tuple(
        stock for stock in sorted(job.stocks, key=lambda stock: (stock.cost or 0, stock.area, stock.id))
        if stock.usable_length > 0 and stock.usable_width > 0 and (stock.count is None or stock.count > 0)
    )


def _best(bins: Sequence[Bin], blocks: Sequence[Block], kerf: int, linear: bool, tally: Tally) -> tuple[Pattern, ...] | None:
    """The best of a few methods, each with the first cuts either way."""
    ways = (First.ALONG,) if linear else (First.ALONG, First.ACROSS)
    efforts = (VALUES, KNAPSACKS) if len(bins) > 1 else (TREE_256, VALUES)
    found = []
    for effort in efforts:
        for first in ways:
            plan = pack(bins, blocks, kerf, aim=Aim.COST, effort=effort, first=first, tally=tally)
            if plan is not None:
                found.append((_rank(plan, bins, kerf), plan))
    return min(found)[1] if found else None


def _rank(plan: Sequence[Pattern], bins: Sequence[Bin], kerf: int) -> tuple[int, int, int, int]:
    """Cost, sheets, cuts, and how large the largest offcut is (larger is better)."""
    cuts, largest = 0, 0
    for pattern in plan:
        one = bins[pattern.bin]
        tree = saw_tree(pattern.spots, one.length, one.width, kerf)
        count, offcut, _ = score(tree, one.length, one.width, kerf)
        cuts, largest = cuts + count, max(largest, offcut)
    return (sum(bins[pattern.bin].cost for pattern in plan), len(plan), cuts, -largest)


def _sheets(plan: Sequence[Pattern], pieces: Sequence[Piece], stocks: Sequence[Stock], job: Job) -> tuple[Sheet, ...]:
    """Patterns with their cuts; equal ones counted."""
    counts = Counter(plan)
    made = []
    for pattern in sorted(counts, key=lambda one: (stocks[one.bin].offcut, -stocks[one.bin].area, -sum(s.length * s.width for s in one.spots), one.spots)):
        stock = stocks[pattern.bin]
        tree = saw_tree(_numbered(pattern), stock.usable_length, stock.usable_width, job.kerf)
        labels = [Label(pieces[spot.block].id, spot.length != pieces[spot.block].length + pieces[spot.block].allowance) for spot in pattern.spots]
        board = place(tree, labels, stock, job.kerf, job.bench)
        made.append(
            Sheet(
                stock=stock.id, length=stock.length, width=stock.width, copies=counts[pattern], placements=tuple(_placements(board)), tree=board,
                cuts=saw(board, stock, job.kerf, job.bench), offcuts=offcuts(board),
            )
        )
    return tuple(made)


def _numbered(pattern: Pattern) -> list[Spot]:
    """The spots, each with a number of its own, which is that of its label."""
    return [replace(spot, block=number) for number, spot in enumerate(pattern.spots)]


def _placements(board: Board) -> list[Placement]:
    if not board.children:
        return [Placement(piece=board.piece, box=board.box, turned=board.turned)] if board.piece else []
    return [found for child in board.children for found in _placements(child)]


def _empty(problems: tuple[Problem, ...]) -> Layout:
    return Layout(sheets=(), cost=0, bound=Bound(cost=0, sheets=0, reason="nothing laid out"), best_possible=False, problems=problems)
