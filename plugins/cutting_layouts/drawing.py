"""A sheet, board or length as it is taken to the saw: parts with letter and size, cuts with numbers, offcuts hatched.

In: one pattern with the unit's length and the way sizes are shown. Out: a Drawing as wide as a page's text, to scale. Lettering is
never smaller than 2.5 mm; the sizes that find no room in their parts are told by `unsized`, for the caption.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from compiler.api import Drawing, Length, Pen

from .layout import Box, Cut, Placement, Sheet

WIDE, HIGH = 168.0, 118.0
BESIDE = 96.0
"""Width of a sheet that has its list of cuts beside it: the wider of two columns on either paper."""
MARGIN = 6.0
CAP = 2.5
PER_LETTER = 0.56
"""Width of a letter in heights of a capital, on the wide side for the condensed lettering."""

_SHARES = (0.02, 0.98, 0.5, 0.25, 0.75, 0.12, 0.88, 0.37, 0.63, 0.0, 1.0)
"""Where on a cut's line its number may stand, as shares of the line."""

_ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
"""Where on a thin part its letter may stand."""

_LONG = 12.0
"""A part at least so long may bear a letter that stands over its edges."""

_AROUND = ((0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0), (0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7))

_FRACTION = re.compile(r" ?(\d+)/(\d+)")

Show = Callable[[Length], str]
Area = tuple[float, float, float, float]


@dataclass(slots=True)
class _Sheet:
    """The pen, the scale, and what is taken on the paper."""

    pen: Pen
    scale: float
    size: tuple[float, float]
    taken: list[Area] = field(default_factory=list)
    crowded: bool = False
    sized: set[str] = field(default_factory=set)

    def at(self, x: int, y: int) -> tuple[float, float]:
        return (MARGIN + x * self.scale, MARGIN + y * self.scale)

    def area(self, box: Box) -> Area:
        x, y = self.at(box.x, box.y)
        return (x, y, x + box.length * self.scale, y + box.width * self.scale)

    def within(self, place: tuple[float, float], half: tuple[float, float]) -> bool:
        """Whether a number there lies on the drawing."""
        return half[0] <= place[0] <= self.size[0] - half[0] and half[1] <= place[1] <= self.size[1] - half[1]

    def free(self, area: Area) -> bool:
        return all(area[2] <= one[0] or one[2] <= area[0] or area[3] <= one[1] or one[3] <= area[1] for one in self.taken)


def draw(sheet: Sheet, unit: Length, show: Show, says: str, *, linear: bool = False, wide: float = WIDE) -> Drawing:
    """The pattern, at most `wide` mm across. `says` describes it in words; the scale stands in the drawing's own data."""
    breadth = sheet.width if not linear else max(sheet.length // 40, 1)
    paper = _paper(sheet, breadth, wide)
    pen, scale = paper.pen, paper.scale
    if linear:
        _bar(paper, sheet, breadth, show, unit)
    else:
        _board(paper, sheet, show, unit)
    ratio = float(unit.mm) / scale
    return pen.picture(says, scale=f"1 : {ratio:.1f}")


def crowded(sheet: Sheet, unit: Length, show: Show, wide: float) -> bool:
    """Whether some number of a cut, or some part's letter, finds no room of its own at this width."""
    paper = _paper(sheet, sheet.width, wide)
    _board(paper, sheet, show, unit)
    return paper.crowded


def unsized(sheet: Sheet, unit: Length, show: Show, wide: float) -> tuple[Placement, ...]:
    """One of each part whose size finds no room in the drawing at this width."""
    paper = _paper(sheet, sheet.width, wide)
    _board(paper, sheet, show, unit)
    first = {placement.piece: placement for placement in reversed(sheet.placements)}
    return tuple(placement for name, placement in sorted(first.items()) if name not in paper.sized)


def _paper(sheet: Sheet, breadth: int, wide: float) -> _Sheet:
    scale = min((wide - 2 * MARGIN) / sheet.length, (HIGH - 2 * MARGIN) / breadth)
    size = (sheet.length * scale + 2 * MARGIN, breadth * scale + 2 * MARGIN)
    return _Sheet(Pen(*size), scale, size)


def _board(paper: _Sheet, sheet: Sheet, show: Show, unit: Length) -> None:
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
        if not _label(paper, paper.area(placement.box), placement.piece, f"{show(unit * wide)} × {show(unit * long)}"):
            unnamed.append(placement)
    for offcut in sheet.offcuts:
        if offcut.keep:
            text = f"keep {show(unit * offcut.box.width)} × {show(unit * offcut.box.length)}"
            _label(paper, paper.area(offcut.box), "", text, ground=True)
    aside = [placement for placement in unnamed if not _over(paper, paper.area(placement.box), placement.piece)]
    for cut in sheet.cuts:
        _number(paper, cut)
    for placement in aside:
        area = paper.area(placement.box)
        _near(paper, [((area[0] + area[2]) / 2, (area[1] + area[3]) / 2)], placement.piece, black=False)
    _grain(pen, x0, y0)


def _bar(paper: _Sheet, sheet: Sheet, breadth: int, show: Show, unit: Length) -> None:
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
        _label(paper, area, placement.piece, show(unit * placement.box.length))


def _width(text: str) -> float:
    """How wide lettering is; a fraction stands above itself, after a space that it needs no more."""
    return len(_FRACTION.sub(lambda found: "0" * max(len(found[1]), len(found[2])), text)) * CAP * PER_LETTER


def _label(paper: _Sheet, area: Area, letter: str, size: str, *, ground: bool = False) -> bool:
    """Letter and size in the middle of a part, along its longer side; the letter alone where both don't fit. Whether there was room."""
    wide, high = area[2] - area[0], area[3] - area[1]
    middle = ((area[0] + area[2]) / 2, (area[1] + area[3]) / 2)
    upright = high > wide
    room, breadth = (high, wide) if upright else (wide, high)
    for text in (f"{letter}  {size}".strip(), letter or size.removeprefix("keep ")):
        width = _width(text)
        tall = CAP * (1.9 if "/" in text else 1.0)
        if not text or width > room - 1.0 or breadth < tall + 0.5:
            continue
        half = (width / 2 + 0.6, tall / 2 + 0.3)
        box = (middle[0] - half[1], middle[1] - half[0], middle[0] + half[1], middle[1] + half[0]) if upright else (
            middle[0] - half[0], middle[1] - half[1], middle[0] + half[0], middle[1] + half[1])  # fmt: skip
        if ground:
            paper.pen.area((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]), role="paper")
        if upright:
            paper.pen.letters(middle[0] + CAP / 2, middle[1], text, size=CAP, anchor="middle", angle=90)
        else:
            paper.pen.letters(middle[0], middle[1] - CAP / 2, text, size=CAP, anchor="middle")
        paper.taken.append(box)
        if text != letter:
            paper.sized.add(letter)
        return True
    return False


def _over(paper: _Sheet, area: Area, letter: str) -> bool:
    """The letter over the edges of a part that is long, but not as broad as lettering; where on its length there is room."""
    paper.crowded = True
    wide, high = area[2] - area[0], area[3] - area[1]
    if max(wide, high) < _LONG or min(wide, high) < CAP / 2:
        return False
    middle = ((area[0] + area[2]) / 2, (area[1] + area[3]) / 2)
    points = [(area[0] + wide * share, middle[1]) if wide >= high else (middle[0], area[1] + high * share) for share in _ALONG]
    return any(_written(paper, point, letter, black=False) for point in points)


def _number(paper: _Sheet, cut: Cut) -> None:
    """The cut's number on a black ground, where on its line nothing else stands; else near it, with a line to it."""
    start, end = paper.at(*cut.start), paper.at(*cut.end)
    points = [(start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share) for share in _SHARES]
    if not any(_written(paper, point, str(cut.number), black=True) for point in points):
        _near(paper, points, str(cut.number), black=True)


def _near(paper: _Sheet, points: list[tuple[float, float]], text: str, *, black: bool) -> None:
    """The text as near to one of the points as there is room, with a line to it."""
    paper.crowded = True
    for away in (4.5, 6.0, 8.0, 10.0, 12.5, 15.0, 18.0, 22.0, 27.0):
        for point in points:
            for across, up in _AROUND:
                if _written(paper, (point[0] + across * away, point[1] + up * away), text, black=black, point=point):
                    return


def _written(paper: _Sheet, at: tuple[float, float], text: str, *, black: bool, point: tuple[float, float] | None = None) -> bool:
    """Whether there was room for it: a cut's number on black, a part's letter on white."""
    half = (len(text) * 0.95 + 0.75, 1.75 if black else CAP / 2 + 0.3)
    area = (at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1])
    if not paper.free(area) or (point is not None and not paper.within(at, half)):
        return False
    paper.taken.append(area)
    if point is not None:
        paper.pen.line(point, at, role="leader")
    if black:
        paper.pen.number(*at, text)
    else:
        paper.pen.area((area[0], area[1]), (area[2], area[1]), (area[2], area[3]), (area[0], area[3]), role="paper")
        paper.pen.letters(at[0], at[1] - CAP / 2, text, size=CAP, anchor="middle")
    return True


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
