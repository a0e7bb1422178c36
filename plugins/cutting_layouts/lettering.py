"""Lettering on a layout: where letters, sizes and numbers find room.

In: a drawing that grows, the areas that are taken, and what is to be written. Out: whether there was room; what was written takes its area.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from compiler.api import Pen

from .layout import Box

MARGIN = 6.0
CAP = 2.5
PER_LETTER = 0.56
"""Width of a letter in heights of a capital, on the wide side for the condensed lettering."""

_ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
"""Where on a thin part its letter may stand."""

_LONG = 12.0
"""A part at least so long may bear a letter that stands over its edges."""

_AROUND = (
    (0.0, 1.0), (0.0, -1.0), (0.38, 0.92), (-0.38, 0.92), (0.38, -0.92), (-0.38, -0.92), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7),
    (1.0, 0.0), (-1.0, 0.0),
)
_AWAY = (4.5, 5.2, 6.0, 7.0, 8.0, 9.0, 10.0, 11.2, 12.5, 15.0, 18.0, 22.0, 27.0)
"""Where text beside a point may stand: ways, upright ones first, and how far in millimetres."""

_FRACTION = re.compile(r" ?(\d+)/(\d+)")

Area = tuple[float, float, float, float]
Point = tuple[float, float]
Line = tuple[Point, Point]


@dataclass(slots=True)
class Paper:
    """The pen, the scale, the room above and below the stock, and what is taken on the paper.

    `crowded` tells that some text stands beside what it belongs to, `lost` how many found no place at all. On a `trial`, places beside are not
    looked for.
    """

    pen: Pen
    scale: float
    size: tuple[float, float]
    room: float = MARGIN
    taken: list[Area] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    crowded: bool = False
    lost: int = 0
    trial: bool = False
    sized: set[str] = field(default_factory=set)

    def at(self, x: int, y: int) -> Point:
        return (MARGIN + x * self.scale, self.room + y * self.scale)

    def area(self, box: Box) -> Area:
        x, y = self.at(box.x, box.y)
        return (x, y, x + box.length * self.scale, y + box.width * self.scale)

    def within(self, place: Point, half: tuple[float, float]) -> bool:
        """Whether a number there lies on the drawing."""
        return half[0] <= place[0] <= self.size[0] - half[0] and half[1] <= place[1] <= self.size[1] - half[1]

    def free(self, area: Area) -> bool:
        """Whether no text stands there, and no line to a text runs through it."""
        apart = all(area[2] <= one[0] or one[2] <= area[0] or area[3] <= one[1] or one[3] <= area[1] for one in self.taken)
        return apart and not any(_runs_through(line, area) for line in self.lines)

    def clear(self, line: Line) -> bool:
        """Whether a line to a text runs through no text and over no other such line."""
        return not any(_runs_through(line, area) for area in self.taken) and not any(_cross(line, other) for other in self.lines)


def _runs_through(line: Line, area: Area) -> bool:
    """Whether a line has a point inside an area: clipped at each side in turn, something is left."""
    (x0, y0), (x1, y1) = line
    first, last = 0.0, 1.0
    for step, start, low, high in ((x1 - x0, x0, area[0], area[2]), (y1 - y0, y0, area[1], area[3])):
        if abs(step) < 1e-9:
            if not low < start < high:
                return False
            continue
        enter, leave = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, enter), min(last, leave)
    return first < last - 1e-9


def _cross(one: Line, two: Line) -> bool:
    def side(line: Line, point: Point) -> float:
        (x0, y0), (x1, y1) = line
        return (x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)

    return side(one, two[0]) * side(one, two[1]) < 0 and side(two, one[0]) * side(two, one[1]) < 0


def _width(text: str) -> float:
    """How wide lettering is; a fraction stands above itself, after a space that it needs no more."""
    return len(_FRACTION.sub(lambda found: "0" * max(len(found[1]), len(found[2])), text)) * CAP * PER_LETTER


def label(paper: Paper, area: Area, letter: str, size: str, *, ground: bool = False) -> bool:
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


def over(paper: Paper, area: Area, letter: str) -> bool:
    """The letter over the edges of a part that is long, but not as broad as lettering; where on its length there is room."""
    paper.crowded = True
    wide, high = area[2] - area[0], area[3] - area[1]
    if max(wide, high) < _LONG or min(wide, high) < CAP / 2:
        return False
    middle = ((area[0] + area[2]) / 2, (area[1] + area[3]) / 2)
    points = [(area[0] + wide * share, middle[1]) if wide >= high else (middle[0], area[1] + high * share) for share in _ALONG]
    return any(written(paper, point, letter, black=False) for point in points)


def near(paper: Paper, points: list[Point], text: str, *, black: bool) -> None:
    """The text as near to one of the points as there is room, with a line to it that runs through no other."""
    paper.crowded = True
    if paper.trial:
        return
    for away in _AWAY:
        for point in points:
            for across, up in _AROUND:
                if written(paper, (point[0] + across * away, point[1] + up * away), text, black=black, point=point):
                    return
    paper.lost += 1


def written(paper: Paper, at: Point, text: str, *, black: bool, point: Point | None = None) -> bool:
    """Whether there was room for it: a cut's number on black, a part's letter on white."""
    half = (len(text) * 0.95 + 0.75, 1.75 if black else CAP / 2 + 0.3)
    area = (at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1])
    if not paper.free(area) or (point is not None and not paper.within(at, half)):
        return False
    if point is not None:
        leader = (point, _edge(area, point, at))
        if _inside(area, point) or not paper.clear(leader):
            return False
        paper.pen.line(*leader, role="leader")
        paper.lines.append(leader)
    paper.taken.append(area)
    if black:
        paper.pen.number(*at, text)
    else:
        paper.pen.area((area[0], area[1]), (area[2], area[1]), (area[2], area[3]), (area[0], area[3]), role="paper")
        paper.pen.letters(at[0], at[1] - CAP / 2, text, size=CAP, anchor="middle")
    return True


def _inside(area: Area, point: Point) -> bool:
    return area[0] <= point[0] <= area[2] and area[1] <= point[1] <= area[3]


def _edge(area: Area, point: Point, at: Point) -> Point:
    """Where a line from a point outside to the middle of an area meets its edge, and a hair before it."""
    x, y = point[0] - at[0], point[1] - at[1]
    share = min((area[2] - at[0]) / abs(x) if x else 1.0, (area[3] - at[1]) / abs(y) if y else 1.0) + 0.02
    return (at[0] + x * share, at[1] + y * share)
