"""Pieces become blocks for the search, and blocks become pieces again in the tree of cuts.

A block is one piece, or a whole run of figure: its pieces in order, a kerf apart, as one rectangle that isn't turned. In: a job.
Out: lots, and after the search trees whose leaves are pieces. Knows nothing of bins, prices or the solver.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .job import Job, Piece, Run, Stock, Way
from .layout import Problem
from .packing import Block
from .sawing import Label
from .tree import Leaf, Split, Tree


@dataclass(frozen=True, slots=True)
class Lot:
    """A block with the pieces that each of its copies holds, one after another in `way`."""

    block: Block
    members: tuple[Piece, ...]
    way: Way = Way.ALONG


def lots(job: Job) -> tuple[tuple[Lot, ...], tuple[Problem, ...]]:
    """Runs as one block each where some stock holds them, all other pieces singly; sorted, so that the order of writing is of no account."""
    pieces = {piece.id: piece for piece in job.pieces}
    left = Counter({piece.id: piece.count for piece in job.pieces})
    together: Counter[tuple[tuple[str, ...], Way]] = Counter()
    problems = []
    for run in job.runs:
        members = Counter(run.members)
        fits = len(run.members) > 1 and not members - left and _holds(job.stocks, _joined(run, pieces, job.kerf))
        if fits:
            left.subtract(members)
            together[run.members, run.way] += 1
        elif len(run.members) > 1:
            problems.append(_apart(run))
    found = [Lot(_single(piece, left[piece.id]), (piece,)) for piece in job.pieces if left[piece.id] > 0]
    for (names, way), count in together.items():
        length, width = _joined(Run(name="", members=names, way=way), pieces, job.kerf)
        found.append(Lot(Block(length, width, False, count), tuple(pieces[name] for name in names), way))
    return (tuple(sorted(found, key=_order)), tuple(problems))


def opened(tree: Tree, found: Sequence[Lot], kerf: int, labels: list[Label]) -> Tree:
    """The tree with a leaf for every piece: its number is that of its label, which is added to `labels`."""
    if isinstance(tree, Split):
        children = tuple(opened(child, found, kerf, labels) for child in tree.children)
        return Split(tree.way, children, tree.length, tree.width, tree.fixed)
    lot = found[tree.block]
    if len(lot.members) == 1:
        labels.append(Label(lot.members[0].id, (tree.length, tree.width) != (lot.block.length, lot.block.width)))
        return Leaf(len(labels) - 1, tree.length, tree.width)
    leaves = []
    for piece in lot.members:
        labels.append(Label(piece.id))
        leaves.append(Leaf(len(labels) - 1, piece.length + piece.allowance, piece.width))
    return Split(lot.way, tuple(leaves), tree.length, tree.width, fixed=True)


def _single(piece: Piece, count: int) -> Block:
    return Block(piece.length + piece.allowance, piece.width, piece.turnable and piece.length != piece.width, count)


def _joined(run: Run, pieces: dict[str, Piece], kerf: int) -> tuple[int, int]:
    """The least rectangle that holds a run."""
    lengths = [pieces[name].length + pieces[name].allowance for name in run.members]
    widths = [pieces[name].width for name in run.members]
    gaps = kerf * (len(run.members) - 1)
    return (sum(lengths) + gaps, max(widths)) if run.way is Way.ALONG else (max(lengths), sum(widths) + gaps)


def _holds(stocks: Sequence[Stock], size: tuple[int, int]) -> bool:
    return any(size[0] <= stock.usable_length and size[1] <= stock.usable_width and stock.count != 0 for stock in stocks)


def _apart(run: Run) -> Problem:
    says = "{piece} and the parts beside it on one run of figure, {0} in all, are more than any sheet holds side by side"
    return Problem(
        code="run-apart", says=says, piece=run.members[0],
        counts=(len(run.members),), hint="Make the run shorter, or choose a larger sheet.", warning=True,
    )  # fmt: skip


def _order(lot: Lot) -> tuple[int, int, bool, tuple[str, ...]]:
    return (-lot.block.length, -lot.block.width, lot.block.turnable, tuple(piece.id for piece in lot.members))
