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

_AROUND = ((0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0), (0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7))

_FRACTION = re.compile(r" ?(\d+)/(\d+)")

Area = tuple[float, float, float, float]


@dataclass(slots=True)
class Paper:
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


def near(paper: Paper, points: list[tuple[float, float]], text: str, *, black: bool) -> None:
    """The text as near to one of the points as there is room, with a line to it."""
    paper.crowded = True
    for away in (4.5, 6.0, 8.0, 10.0, 12.5, 15.0, 18.0, 22.0, 27.0):
        for point in points:
            for across, up in _AROUND:
                if written(paper, (point[0] + across * away, point[1] + up * away), text, black=black, point=point):
                    return


def written(paper: Paper, at: tuple[float, float], text: str, *, black: bool, point: tuple[float, float] | None = None) -> bool:
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
