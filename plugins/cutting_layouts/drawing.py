"""A sheet, board or length as it is taken to the saw: parts with letter and size, cuts with numbers, offcuts hatched.

In: one pattern with the unit's length and the way sizes are shown. Out: a Drawing as wide as a page's text, to scale. Lettering is
never smaller than 2.5 mm; the sizes that find no room in their parts are told by `unsized`, for the caption.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache

from compiler.api import Drawing, Length, Pen

from .layout import Box, Cut, Placement, Sheet
from .lettering import CAP, MARGIN, Area, Paper, label, near, over, written

WIDE, HIGH = 168.0, 118.0
BESIDE = 96.0
"""Width of a sheet that has its list of cuts beside it: the wider of two columns on either paper."""
_SHARES = (0.02, 0.98, 0.5, 0.25, 0.75, 0.12, 0.88, 0.37, 0.63, 0.0, 1.0)
"""Where on a cut's line its number may stand, as shares of the line."""

_ROOMS = (MARGIN, 11.0, 16.0, 21.0)
"""Millimetres above and below a sheet or board, for what finds no room on it."""

_SHORT = 5.0
"""A cut drawn shorter than this many millimetres is hidden by a number that stands on it."""

_ALIKE = 3
"""More parts of one kind without room for a letter have one letter together."""

Show = Callable[[Length], str]


def draw(sheet: Sheet, unit: Length, show: Show, says: str, *, linear: bool = False, wide: float = WIDE) -> Drawing:
    """The pattern, at most `wide` mm across. `says` describes it in words; the scale stands in the drawing's own data."""
    if linear:
        breadth = max(sheet.length // 40, 1)
        paper = _paper(sheet, breadth, wide)
        _bar(paper, sheet, breadth, show, unit)
    else:
        paper = _drawn(sheet, show, unit, wide)
    return paper.pen.picture(says, scale=f"1\u00a0:\u00a0{_ratio(float(unit.mm) / paper.scale)}")


def _ratio(ratio: float) -> str:
    return f"{ratio:.1f}".removesuffix(".0")


def crowded(sheet: Sheet, unit: Length, show: Show, wide: float) -> bool:
    """Whether some number of a cut, or some part's letter, finds no room of its own at this width."""
    paper = _paper(sheet, sheet.width, wide)
    paper.trial = True
    _board(paper, sheet, show, unit, fanned=False, sized=True)
    return paper.crowded


def unsized(sheet: Sheet, unit: Length, show: Show, wide: float) -> tuple[Placement, ...]:
    """One of each part whose size finds no room in the drawing at this width."""
    paper = _drawn(sheet, show, unit, wide)
    first = {placement.piece: placement for placement in reversed(sheet.placements)}
    return tuple(placement for name, placement in sorted(first.items()) if name not in paper.sized)


@lru_cache(maxsize=8)
def _drawn(sheet: Sheet, show: Show, unit: Length, wide: float) -> Paper:
    """The sheet or board, with as little room above and below as its lettering needs; kept, since its caption asks what has no size."""
    best: Paper | None = None
    for fanned, sized in ((False, True), (True, True), (True, False)):
        for room in _ROOMS:
            paper = _paper(sheet, sheet.width, wide, room)
            _board(paper, sheet, show, unit, fanned=fanned, sized=sized)
            if best is None or paper.lost < best.lost:
                best = paper
            if not best.lost:
                return best
    assert best is not None
    return best


def _paper(sheet: Sheet, breadth: int, wide: float, room: float = MARGIN) -> Paper:
    scale = min((wide - 2 * MARGIN) / sheet.length, (HIGH - 2 * MARGIN) / breadth)
    size = (sheet.length * scale + 2 * MARGIN, breadth * scale + 2 * room)
    return Paper(Pen(*size), scale, size, room)


def _board(paper: Paper, sheet: Sheet, show: Show, unit: Length, *, fanned: bool, sized: bool) -> None:
    """Parts, offcuts, cuts. `fanned`: numbers of short cuts stand beside them, and are set before those of long ones. `sized`: parts bear sizes."""
    pen = paper.pen
    whole = Box(0, 0, sheet.length, sheet.width)
    x0, y0, x1, y1 = paper.area(whole)
    pen.rectangle(x0, y0, x1 - x0, y1 - y0, role="edge")
    paper.taken.append((x0, y0 - 5.5, x0 + 26, y0 - 1))  # the grain's arrow
    for offcut in sheet.offcuts:
        area = paper.area(offcut.box)
        if min(area[2] - area[0], area[3] - area[1]) < 0.4:
            continue
        for start, end in _hatch(area, 5.5 if offcut.keep else 1.8):
            pen.line(start, end, role="hatch")
        pen.rectangle(area[0], area[1], area[2] - area[0], area[3] - area[1], role="edge")
    for placement in sheet.placements:
        area = paper.area(placement.box)
        pen.rectangle(area[0], area[1], area[2] - area[0], area[3] - area[1], role="outline", fill="paper")
    unnamed = []
    for placement in sheet.placements:
        long, wide = placement.box.length, placement.box.width
        if placement.turned:
            long, wide = wide, long
        if not label(paper, paper.area(placement.box), placement.piece, f"{show(unit * wide)} × {show(unit * long)}" if sized else ""):
            unnamed.append(placement)
    for offcut in sheet.offcuts:
        if offcut.keep:
            text = f"keep {show(unit * offcut.box.width)} × {show(unit * offcut.box.length)}"
            label(paper, paper.area(offcut.box), "", text, ground=True)
    short = [cut for cut in sheet.cuts if fanned and _drawn_length(paper, cut) < _SHORT]
    for cut in short:
        near(paper, _points(paper, cut), str(cut.number), black=True)
    aside = [placement for placement in unnamed if not over(paper, paper.area(placement.box), placement.piece)]
    for text, alike in _together(aside):
        areas = [paper.area(placement.box) for placement in alike]
        near(paper, [((area[0] + area[2]) / 2, (area[1] + area[3]) / 2) for area in areas], text, black=False)
    for cut in sheet.cuts:
        if cut not in short:
            _number(paper, cut)
    _grain(pen, x0, y0)


def _together(placements: list[Placement]) -> Iterator[tuple[str, list[Placement]]]:
    """What is written beside the parts too small for a letter: each its own, or one for many alike, at any of them."""
    for name in dict.fromkeys(placement.piece for placement in placements):
        alike = [placement for placement in placements if placement.piece == name]
        if len(alike) <= _ALIKE:
            yield from ((name, [placement]) for placement in alike)
        else:
            yield f"{name} × {len(alike)}", alike


def _bar(paper: Paper, sheet: Sheet, breadth: int, show: Show, unit: Length) -> None:
    pen = paper.pen
    x0, y0, x1, y1 = paper.area(Box(0, 0, sheet.length, breadth))
    pen.rectangle(x0, y0, x1 - x0, y1 - y0, role="edge")
    for offcut in sheet.offcuts:
        area = paper.area(Box(offcut.box.x, 0, offcut.box.length, breadth))
        for start, end in _hatch(area, 5.5 if offcut.keep else 1.8):
            pen.line(start, end, role="hatch")
    for placement in sheet.placements:
        area = paper.area(Box(placement.box.x, 0, placement.box.length, breadth))
        pen.rectangle(area[0], area[1], area[2] - area[0], area[3] - area[1], role="outline", fill="paper")
        label(paper, area, placement.piece, show(unit * placement.box.length))


def _number(paper: Paper, cut: Cut) -> None:
    """The cut's number on a black ground, where on its line nothing else stands; else near it, with a line to it."""
    points = _points(paper, cut)
    if not any(written(paper, point, str(cut.number), black=True) for point in points):
        near(paper, points, str(cut.number), black=True)


def _points(paper: Paper, cut: Cut) -> list[tuple[float, float]]:
    start, end = paper.at(*cut.start), paper.at(*cut.end)
    return [(start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share) for share in _SHARES]


def _drawn_length(paper: Paper, cut: Cut) -> float:
    start, end = paper.at(*cut.start), paper.at(*cut.end)
    return abs(end[0] - start[0]) + abs(end[1] - start[1])


def _grain(pen: Pen, x: float, y: float) -> None:
    """An arrow with half barbs, as part drawings have it."""
    low = y - 3.6
    pen.line((x, low), (x + 14, low), role="grain")
    pen.line((x + 14, low), (x + 11.5, low + 0.9), role="grain")
    pen.line((x, low), (x + 2.5, low - 0.9), role="grain")
    pen.letters(x + 16, low - 1.2, "grain", size=CAP)


def _hatch(area: Area, pitch: float) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Lines at 45 degrees inside a rectangle."""
    x0, y0, x1, y1 = area
    offset = pitch - (x0 - y1) % pitch + (x0 - y1)
    while offset < x1 - y0:
        low = max(x0, y0 + offset)
        high = min(x1, y1 + offset)
        if high > low:
            yield (low, low - offset), (high, high - offset)
        offset += pitch
