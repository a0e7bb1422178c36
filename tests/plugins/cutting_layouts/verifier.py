"""Judges layouts by the saw's own rules, in another way than the solver makes them.

In: a job and its layout. Out: what is wrong with it, in sentences. Sheets are rectangles of raw stock; nothing of the tree of cuts is read:
whether edge-to-edge cuts part the pieces is found by separating them again, and the numbered cuts are made one after another
on the raw stock, to see whether the pieces come off.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from plugins.cutting_layouts.job import Job, Piece, Run, Stock, Way
from plugins.cutting_layouts.layout import Box, Care, Cut, Is, Layout, Placement, Sheet

type Rectangle = tuple[int, int, int, int]
"""Low x, low y, high x, high y."""


def faults(job: Job, layout: Layout) -> tuple[str, ...]:
    """Everything that breaks a rule; nothing for a layout that can be sawn and is complete."""
    stocks, pieces = {stock.id: stock for stock in job.stocks}, {piece.id: piece for piece in job.pieces}
    found: list[str] = []
    for number, sheet in enumerate(layout.sheets, 1):
        if sheet.stock not in stocks:
            found.append(f"sheet {number} is of no stock of the job")
            continue
        found.extend(f"sheet {number}: {fault}" for fault in _of_sheet(sheet, stocks[sheet.stock], pieces, job))
    return (*found, *_counts(job, layout), *_runs(job, layout), *_money(job, layout, stocks))


def separable(boxes: Sequence[Rectangle], kerf: int) -> bool:
    """Whether edge-to-edge cuts a kerf wide part all rectangles from each other.

    Any cut that passes between them is as good as another: what can be parted can be parted in each of its subsets.
    """
    if len(boxes) <= 1:
        return True
    for low, high in ((0, 2), (1, 3)):
        ordered = sorted(boxes, key=lambda box, low=low: box[low])  # type: ignore[misc]
        reach = ordered[0][high]
        for at, box in enumerate(ordered[1:], 1):
            if box[low] - reach >= kerf:
                return separable(ordered[:at], kerf) and separable(ordered[at:], kerf)
            reach = max(reach, box[high])
    return False


def _of_sheet(sheet: Sheet, stock: Stock, pieces: dict[str, Piece], job: Job) -> list[str]:
    found = []
    if (sheet.length, sheet.width) != (stock.length, stock.width):
        found.append("its size is not the stock's")
    if sheet.copies < 1:
        found.append("sawn no times")
    left, bottom = stock.trims.left, stock.trims.bottom
    right, top = stock.length - stock.trims.right, stock.width - stock.trims.top
    boxes = []
    for place in sheet.placements:
        box = _rectangle(place.box)
        boxes.append(box)
        if place.piece not in pieces:
            found.append(f"{place.piece} is no piece of the job")
        elif not _as_ordered(place, pieces[place.piece]):
            found.append(f"{place.piece} has another size, or lies against its grain")
        if box[0] < left or box[1] < bottom or box[2] > right or box[3] > top:
            found.append(f"{place.piece} reaches into the trim")
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            gap = max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])
            if gap < job.kerf:
                found.append(f"{one} and {other} are {gap} apart")
    if not separable(boxes, job.kerf):
        found.append("no edge-to-edge cuts part its pieces")
    return found + _sawn(sheet, stock, job)


def _as_ordered(place: Placement, piece: Piece) -> bool:
    wanted = (piece.length + piece.allowance, piece.width)
    if place.turned:
        return piece.turnable and (place.box.width, place.box.length) == wanted
    return (place.box.length, place.box.width) == wanted


def _sawn(sheet: Sheet, stock: Stock, job: Job) -> list[str]:
    """Make the numbered cuts on the raw stock; then the pieces and the offcuts must lie on the bench, and nothing be left in the way."""
    found = []
    bench: Counter[Rectangle] = Counter([(0, 0, stock.length, stock.width)])
    for number, cut in enumerate(sheet.cuts, 1):
        if cut.number != number:
            found.append(f"cut {number} is numbered {cut.number}")
        hand = _rectangle(cut.hand)
        if not bench[hand]:
            found.append(f"cut {number} saws {hand}, which no cut before has freed")
            break
        bench[hand] -= 1
        parts = _parted(hand, cut, job.kerf)
        if parts is None:
            found.append(f"cut {number} does not run from edge to edge of what is in hand")
            break
        bench.update(part for part in parts if part[2] > part[0] and part[3] > part[1])
        found.extend(f"cut {number} {fault}" for fault in _tells(cut, parts, job))
    wanted = Counter(_rectangle(place.box) for place in sheet.placements)
    if wanted - bench:
        found.append(f"these never come off: {sorted((wanted - bench).elements())}")
    rest = bench - wanted
    for offcut in sheet.offcuts:
        if not rest[_rectangle(offcut.box)]:
            found.append(f"offcut {offcut.box} never comes off")
        if offcut.keep != offcut.box.holds(job.bench.keep):
            found.append(f"offcut {offcut.box} is wrongly kept or thrown away")
    return found


def _parted(hand: Rectangle, cut: Cut, kerf: int) -> tuple[Rectangle, Rectangle] | None:
    """Low and high side of the blade, which may overhang the low edge where a factory edge is thinner than it."""
    x0, y0, x1, y1 = hand
    if cut.runs is Way.ACROSS:
        at = cut.start[0]
        if cut.start != (at, y0) or cut.end != (at, y1) or not x0 - kerf < at <= x1:
            return None
        return ((x0, y0, at, y1), (at + kerf, y0, x1, y1))
    at = cut.start[1]
    if cut.start != (x0, at) or cut.end != (x1, at) or not y0 - kerf < at <= y1:
        return None
    return ((x0, y0, x1, at), (x0, at + kerf, x1, y1))


def _tells(cut: Cut, parts: tuple[Rectangle, Rectangle], job: Job) -> list[str]:
    """What the list says of a cut against what it does."""
    found = []
    low, high = parts
    span = (2, 0) if cut.runs is Way.ACROSS else (3, 1)
    real = {part for part in parts if part[2] > part[0] and part[3] > part[1]}
    named = {_rectangle(box) for box in (cut.freed, cut.rest) if box is not None and box.area > 0}
    if real != named:
        found.append(f"frees {sorted(real)} but names {sorted(named)}")
    fence = {part[span[0]] - part[span[1]] for part in (low, high)}
    if cut.setting not in fence:
        found.append(f"has its fence at {cut.setting}, but leaves {sorted(fence)}")
    kept = _rectangle(cut.rest) if cut.frees is Is.TRIM and cut.rest is not None else _rectangle(cut.freed)
    if cut.setting != kept[span[0]] - kept[span[1]]:
        found.append("has its fence set for the wrong side")
    table, safe = job.bench.table, job.bench.safe
    too_big = table is not None and (cut.hand.sides[0] > max(table) or cut.hand.sides[1] > min(table))
    if cut.by_hand != too_big:
        found.append("is on the wrong saw")
    small = safe is not None and (
        not cut.hand.holds(safe) or (cut.frees in (Is.PART, Is.STRIP) and not cut.freed.holds(safe))
    )
    if small != (cut.care is not Care.NONE):
        found.append("should say whether it is safe to hold")
    return found


def _counts(job: Job, layout: Layout) -> list[str]:
    if not layout.sheets:
        return [] if layout.problems or not any(piece.count for piece in job.pieces) else ["nothing laid out, and no reason told"]
    made: Counter[str] = Counter()
    used: Counter[str] = Counter()
    for sheet in layout.sheets:
        used[sheet.stock] += sheet.copies
        for place in sheet.placements:
            made[place.piece] += sheet.copies
    wanted = Counter({piece.id: piece.count for piece in job.pieces})
    found = [f"{name}: {made[name]} made, {wanted[name]} wanted" for name in sorted(made | wanted) if made[name] != wanted[name]]
    for stock in job.stocks:
        if stock.count is not None and used[stock.id] > stock.count:
            found.append(f"{used[stock.id]} of {stock.id} used, of which there are {stock.count}")
    return found


def _runs(job: Job, layout: Layout) -> list[str]:
    """Each run on a sheet of its own finding, a kerf apart and in order; a placement serves one run only."""
    if not layout.sheets:
        return []
    told_apart = {(problem.piece, problem.counts) for problem in layout.problems if problem.code == "run-apart"}
    sheets = [list(sheet.placements) for sheet in layout.sheets for _ in range(sheet.copies)]
    wanted = [run for run in job.runs if (run.members[0], (len(run.members),)) not in told_apart]
    return [] if _all_found(wanted, sheets, job.kerf) else ["a run of figure is not kept side by side in its order"]


def _all_found(runs: Sequence[Run], sheets: list[list[Placement]], kerf: int) -> bool:
    if not runs:
        return True
    run, rest = runs[0], runs[1:]
    for places in sheets:
        for chain in _chains(run, places, kerf):
            for place in chain:
                places.remove(place)
            if _all_found(rest, sheets, kerf):
                return True
            places.extend(chain)
    return False


def _chains(run: Run, places: Sequence[Placement], kerf: int) -> list[list[Placement]]:
    chains = [[place] for place in places if place.piece == run.members[0] and not place.turned]
    for member in run.members[1:]:
        chains = [
            [*chain, place]
            for chain in chains
            for place in places
            if place.piece == member and not place.turned and _follows(chain[-1].box, place.box, run.way, kerf)
        ]
    return chains


def _follows(one: Box, other: Box, way: Way, kerf: int) -> bool:
    if way is Way.ALONG:
        return other.y == one.y and other.x == one.x + one.length + kerf
    return other.x == one.x and other.y == one.y + one.width + kerf


def _money(job: Job, layout: Layout, stocks: dict[str, Stock]) -> list[str]:
    cost = sum(sheet.copies * stocks[sheet.stock].price for sheet in layout.sheets if sheet.stock in stocks)
    found = []
    if layout.cost != cost:
        found.append(f"costs {cost}, but says {layout.cost}")
    if layout.sheets and layout.cost < layout.bound.cost:
        found.append(f"costs {layout.cost}, less than its bound of {layout.bound.cost}")
    if layout.best_possible and layout.cost != layout.bound.cost:
        found.append("says best possible, but does not meet its bound")
    return found


def _rectangle(box: Box) -> Rectangle:
    return (box.x, box.y, box.x + box.length, box.y + box.width)
