"""The pen that drawings are made with: few verbs, roles instead of widths, paper millimetres.

In: lines, circles, areas and lettering in painting order. Out: the marks of a Drawing. Neighbouring lines of one role
become one stroke, so that writers set each pen once. It must not know a theme, a page or a file format.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import hypot

from compiler.values.figure import (
    Circle,
    Drawing,
    FillRole,
    Lettering,
    LineRole,
    Mark,
    Point,
    Region,
    Stroke,
)


class Pen:
    """Records marks; it never leaves the function that draws."""

    def __init__(self) -> None:
        self._marks: list[Mark] = []

    def lines(self, role: LineRole, paths: Iterable[Sequence[Point]]) -> None:
        """Open or closed lines."""
        kept = tuple(tuple(path) for path in paths if len(path) > 1)
        if not kept:
            return
        last = self._marks[-1] if self._marks else None
        if isinstance(last, Stroke) and last.role == role:
            self._marks[-1] = Stroke(role, last.paths + kept)
        else:
            self._marks.append(Stroke(role, kept))

    def line(self, role: LineRole, *points: Point) -> None:
        """One line through points."""
        self.lines(role, (points,))

    def area(self, role: FillRole, *rings: Sequence[Point]) -> None:
        """A filled area: an outer ring and its holes."""
        self._marks.append(Region(role, tuple(tuple(ring) for ring in rings)))

    def circle(self, centre: Point, radius: float, role: LineRole | None = "leader", fill: FillRole | None = None) -> None:
        """A circle."""
        self._marks.append(Circle(centre, radius, role, fill))

    def dot(self, at: Point, radius: float = 0.55) -> None:
        """The dot that ends a leader inside a face."""
        self.circle(at, radius, None, "dot")

    def arrow(self, tip: Point, tail: Point, length: float = 3.0, width: float = 1.0) -> None:
        """A filled narrow arrowhead at `tip`, pointing away from `tail`; length 3 times the width."""
        along = hypot(tip[0] - tail[0], tip[1] - tail[1])
        if along == 0.0:
            return
        ux, uy = (tip[0] - tail[0]) / along, (tip[1] - tail[1]) / along
        foot = (tip[0] - ux * length, tip[1] - uy * length)
        half = width / 2
        self.area("arrow", (tip, (foot[0] - uy * half, foot[1] + ux * half), (foot[0] + uy * half, foot[1] - ux * half)))

    def letter(self, lettering: Lettering) -> None:
        """A line of lettering."""
        self._marks.append(lettering)

    def add(self, marks: Iterable[Mark], by: Point = (0.0, 0.0)) -> None:
        """Marks made before, moved."""
        for mark in marks:
            moved_mark = moved(mark, by)
            if isinstance(moved_mark, Stroke):
                self.lines(moved_mark.role, moved_mark.paths)
            else:
                self._marks.append(moved_mark)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """What was drawn so far."""
        return tuple(self._marks)

    def drawing(self, width: float, height: float, says: str, *, scale: str = "", letters: tuple[str, ...] = (),
                shows: tuple[str, ...] = (), name: str = "") -> Drawing:
        """The finished drawing."""
        return Drawing(width=width, height=height, marks=self.marks, says=says, scale=scale, letters=letters,
                       shows=shows, name=name)


def moved(mark: Mark, by: Point) -> Mark:
    """The mark shifted on the paper."""
    dx, dy = by
    if dx == 0.0 and dy == 0.0:
        return mark
    if isinstance(mark, Stroke):
        return Stroke(mark.role, tuple(tuple((x + dx, y + dy) for x, y in path) for path in mark.paths))
    if isinstance(mark, Region):
        return Region(mark.role, tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in mark.rings))
    if isinstance(mark, Circle):
        return replace(mark, centre=(mark.centre[0] + dx, mark.centre[1] + dy))
    return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
