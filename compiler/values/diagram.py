"""A small pen for diagrams that a plugin draws itself: a rule, a curve, a layout of sheets.

In: lines, areas, circles and lettering, in millimetres of paper; x runs right, y up, from the lower left corner.
Out: a `Drawing`, whose roles the theme gives width and colour. Pictures of the piece are not drawn here: a
section asks for them with a `View`.
"""

from __future__ import annotations

import re
from typing import Literal

from compiler.values.figure import (
    Circle,
    Drawing,
    FillRole,
    Lettering,
    LineRole,
    Mark,
    Point,
    Region,
    StackedFraction,
    Stroke,
)


class Pen:
    """Gathers marks in painting order; it lives inside one function, `picture()` is its value."""

    def __init__(self, width: float, height: float) -> None:
        self._width, self._height = float(width), float(height)
        self._marks: list[Mark] = []

    def line(self, *points: Point, role: LineRole = "outline", closed: bool = False) -> None:
        """An open line through the points, or a closed one."""
        path = tuple((float(x), float(y)) for x, y in points)
        self._marks.append(Stroke(role, ((*path, path[0]) if closed else path,)))

    def area(self, *points: Point, role: FillRole = "front") -> None:
        """A filled area."""
        self._marks.append(Region(role, (tuple((float(x), float(y)) for x, y in points),)))

    def rectangle(self, x: float, y: float, width: float, height: float, *, role: LineRole = "outline",
                  fill: FillRole | None = None) -> None:
        """A rectangle by its lower left corner, filled when `fill` is given."""
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        if fill is not None:
            self.area(*corners, role=fill)
        self.line(*corners, role=role, closed=True)

    def circle(self, x: float, y: float, radius: float, *, role: LineRole | None = "outline",
               fill: FillRole | None = None) -> None:
        """A circle about a point."""
        self._marks.append(Circle((float(x), float(y)), float(radius), role, fill))

    def letters(self, x: float, y: float, text: str, *, size: float = 2.5,
                anchor: Literal["start", "middle", "end"] = "start", angle: float = 0.0, width: float = 0.0,
                weight: Literal["regular", "medium", "semibold"] = "medium") -> None:
        """One line of lettering on a baseline that begins (or is centred, or ends) at a point; `size` is the cap height.

        Letters of a theme that are wider than `width` are narrowed to it (0: as wide as they are). Fractions (`3/4`, `35 1/16`) are stacked, as drawings letter them.
        """
        self._marks.append(Lettering((float(x), float(y)), _runs(text), float(size), float(width), anchor, float(angle), weight))

    def number(self, x: float, y: float, text: str) -> None:
        """A number on a dark ground about a point: the order of cuts, of places."""
        wide, high = len(text) * 0.95 + 0.75, 1.75
        self.area((x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high), role="number")
        self._marks.append(Lettering((float(x), float(y) - 1.25), (text,), 2.5, anchor="middle", role="cut"))

    def picture(self, says: str, *, scale: str = "") -> Drawing:
        """The diagram. `says` describes it in words, for readers who can't see it."""
        return Drawing(width=self._width, height=self._height, marks=tuple(self._marks), says=says, scale=scale)


def _runs(text: str) -> tuple[str | StackedFraction, ...]:
    """The text with its fractions as runs of their own; the space before one is the stack's own."""
    runs: list[str | StackedFraction] = []
    at = 0
    for match in re.finditer(r" ?(?<![\d/])(\d+)/(\d+)(?![\d/])", text):
        if match.start() > at:
            runs.append(text[at : match.start()])
        runs.append(StackedFraction(match[1], match[2]))
        at = match.end()
    if at < len(text) or not runs:
        runs.append(text[at:])
    return tuple(runs)
