"""Why so many sheets, and what would save one.

In: a job and its layout. Out: where the stock goes, the smallest piece of which one less saves a sheet, and by how much sizes would
have to shrink for it. Every saving told has been laid out. One that is not told may still exist, unless the bound forbids it:
so many changes are tried, each with a fixed amount of work, and what was left untried is told.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from .bound import bound
from .eject import Work
from .job import Job, Piece, Way
from .judging import useful
from .layout import Bound, Layout
from .packing import Tally
from .search import cheapest
from .solving import task_of

_TRIALS = 48
_SHRUNK = 4
"""Sizes whose least shrinking is looked for."""

_FURTHEST = 4
"""A size is shrunk by no more than this part of it."""

_WORK = (150.0, 10.0, 800.0)
"""For one trial: least, for each piece, most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent:
    """Areas in square units; together they are the area of the stock used."""

    parts: int
    trims: int
    kerfs: int
    kept: int
    waste: int

    @property
    def stock(self) -> int:
        return self.parts + self.trims + self.kerfs + self.kept + self.waste


@dataclass(frozen=True, slots=True, kw_only=True)
class Saving:
    """A change after which the job was laid out for less: `fewer` of a piece, or these pieces smaller `by`, in `way`."""

    pieces: tuple[str, ...]
    fewer: int = 0
    by: int = 0
    way: Way = Way.ALONG
    cost: int
    sheets: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Reasons:
    """The answer. `forcing` is the smallest piece of which one less, or a few less, save a sheet; empty if none was found.

    `least` is what the parts' area alone would cost. With `untried` some changes were not looked at.
    """

    spent: Spent
    bound: Bound
    least: int
    forcing: str
    savings: tuple[Saving, ...]
    untried: bool


def explain(job: Job, layout: Layout, *, step: int = 1) -> Reasons:
    """The reasons for a layout that has sheets. Sizes shrink by whole `step`s."""
    trials = _Trials(job, layout)
    fewer = _fewer(job, trials)
    smaller = _smaller(job, trials, step)
    area = sum(piece.count * (piece.length + piece.allowance) * piece.width for piece in job.pieces)
    rates = [(stock.price, stock.area) for stock in job.stocks if useful(stock) and stock.price] or [(0, 1)]
    return Reasons(
        spent=_spent(layout),
        bound=layout.bound,
        least=min(-(-area * cost // whole) for cost, whole in rates),
        forcing=fewer.pieces[0] if fewer else "",
        savings=(*((fewer,) if fewer else ()), *smaller),
        untried=trials.left <= 0,
    )


class _Trials:
    """Changed jobs laid out for less than the layout costs by at least one of its cheapest sheets, while trials are left."""

    def __init__(self, job: Job, layout: Layout) -> None:
        self.left = _TRIALS
        prices = {stock.id: stock.price for stock in job.stocks}
        bought = [prices[sheet.stock] for sheet in layout.sheets if prices[sheet.stock]]
        self._most = layout.cost - min(bought, default=layout.cost + 1)

    def saved(self, job: Job) -> tuple[int, int] | None:
        """Cost and sheets of the changed job, if that saves a sheet."""
        if self.left <= 0:
            return None
        task, _, _ = task_of(job)
        if not task.blocks or bound(task.bins, task.counts, task.blocks, task.kerf).cost > self._most:
            return None
        self.left -= 1
        least, each, most = _WORK
        work = Work(min(most, max(least, each * task.number)))
        # A plan at this price is enough, so the search may stop there.
        enough = Bound(cost=self._most, sheets=task.number, reason="")
        plan, _, _, _ = cheapest(task, enough, work=work, tally=Tally())
        if plan is None or task.cost(plan) > self._most:
            return None
        return (task.cost(plan), len(plan))


def _fewer(job: Job, trials: _Trials) -> Saving | None:
    """One less of the smallest piece that saves a sheet; failing that, as few as it takes of one of the largest."""
    free = sorted(_free(job), key=lambda one: (one.length * one.width, one.id))
    for piece in free:
        saved = trials.saved(_changed(job, {piece.id: replace(piece, count=piece.count - 1)}))
        if saved:
            return Saving(pieces=(piece.id,), fewer=1, cost=saved[0], sheets=saved[1])
        if trials.left <= _TRIALS // 2:
            return None
    dropped = []
    for piece in free[: -_SHRUNK - 1 : -1]:
        saving = _fewest(job, trials, piece)
        if saving is not None:
            dropped.append((saving.fewer * piece.length * piece.width, saving))
    return min(dropped, key=lambda one: (one[0], one[1].pieces))[1] if dropped else None


def _fewest(job: Job, trials: _Trials, piece: Piece) -> Saving | None:
    """The least number to leave out of one piece, by halving, with at least one of them left."""

    def without(number: int) -> Saving | None:
        saved = trials.saved(_changed(job, {piece.id: replace(piece, count=piece.count - number)}))
        return None if saved is None else Saving(pieces=(piece.id,), fewer=number, cost=saved[0], sheets=saved[1])

    return _halved(without, 2, piece.count - 1, trials)


def _halved(change: Callable[[int], Saving | None], low: int, high: int, trials: _Trials) -> Saving | None:
    """The smallest change from `low` to `high` that saves a sheet, if the largest does."""
    best = change(high) if low <= high else None
    while best is not None and low < high and trials.left > 0:
        middle = (low + high) // 2
        saving = change(middle)
        if saving is None:
            low = middle + 1
        else:
            best, high = saving, middle
    return best


def _free(job: Job) -> list[Piece]:
    """Pieces that stand in no run: a run can't do without one."""
    bound_up = {member for run in job.runs for member in run.members}
    return [piece for piece in job.pieces if piece.count > 0 and piece.id not in bound_up]


def _smaller(job: Job, trials: _Trials, step: int) -> tuple[Saving, ...]:
    """Sizes with the least by which they would have to shrink, the least part of themselves first."""
    found: list[tuple[float, Saving]] = []
    for way, size, pieces in _sizes(job):
        if len(found) == _SHRUNK or trials.left <= 0:
            break
        saving = _least(job, trials, way, pieces, size // _FURTHEST // step, step)
        if saving is not None:
            found.append((saving.by / size, saving))
    return tuple(saving for _, saving in sorted(found, key=lambda one: (one[0], one[1].pieces)))


def _sizes(job: Job) -> list[tuple[Way, int, tuple[Piece, ...]]]:
    """Every size with the pieces that have it, those first that take the most area."""
    groups: dict[tuple[Way, int], list[Piece]] = {}
    for piece in job.pieces:
        if piece.count > 0:
            groups.setdefault((Way.ALONG, piece.length), []).append(piece)
            if piece.width > 1:
                groups.setdefault((Way.ACROSS, piece.width), []).append(piece)
    ranked = [
        (-sum(piece.count * piece.length * piece.width for piece in pieces), way, size, tuple(pieces))
        for (way, size), pieces in groups.items()
    ]
    return [(way, size, pieces) for _, way, size, pieces in sorted(ranked, key=lambda one: one[:3])]


def _least(job: Job, trials: _Trials, way: Way, pieces: Sequence[Piece], most: int, step: int) -> Saving | None:
    """The least number of steps by which these pieces have to shrink."""

    def smaller(steps: int) -> Saving | None:
        saved = trials.saved(_changed(job, {piece.id: _shrunk(piece, way, steps * step) for piece in pieces}))
        if saved is None:
            return None
        names = tuple(piece.id for piece in pieces)
        return Saving(pieces=names, by=steps * step, way=way, cost=saved[0], sheets=saved[1])

    return _halved(smaller, 1, most, trials)


def _shrunk(piece: Piece, way: Way, by: int) -> Piece:
    if way is Way.ALONG:
        return replace(piece, length=piece.length - by)
    return replace(piece, width=piece.width - by)


def _changed(job: Job, pieces: dict[str, Piece]) -> Job:
    return replace(job, pieces=tuple(pieces.get(piece.id, piece) for piece in job.pieces))


def _spent(layout: Layout) -> Spent:
    parts = trims = kerfs = kept = waste = 0
    for sheet in layout.sheets:
        usable = sheet.tree.box.area
        made = sum(place.box.area for place in sheet.placements)
        left = {True: 0, False: 0}
        for offcut in sheet.offcuts:
            left[offcut.keep] += offcut.box.area
        parts, trims = parts + sheet.copies * made, trims + sheet.copies * (sheet.length * sheet.width - usable)
        kept, waste = kept + sheet.copies * left[True], waste + sheet.copies * left[False]
        kerfs += sheet.copies * (usable - made - left[True] - left[False])
    return Spent(parts=parts, trims=trims, kerfs=kerfs, kept=kept, waste=waste)
