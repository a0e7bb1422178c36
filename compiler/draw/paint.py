"""A view put on paper: fills first, edges next, outlines last, each in its role.

In: what is seen (inches on the picture's plane) and where it goes (millimetres for an inch, and a shift). Out: marks on a pen.
It must not know what the view is of, or who asked for it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from compiler.draw.pen import Pen
from compiler.draw.views import Line, Patch, Seen
from compiler.values.figure import FillRole, LineRole, Point

Manner = Literal["picture", "plain", "step", "small"]

_OUTLINES: dict[str, tuple[LineRole, LineRole]] = {
    "picture": ("picture-outline", "picture-edge"),
    "plain": ("outline", "edge"),
    "small": ("small-outline", "small-edge"),
    "done": ("done-outline", "done-edge"),
}
_DONE_FILLS: dict[str, FillRole] = {"top": "paper", "front": "done", "side": "done"}
_ADDED_FILLS: dict[str, FillRole] = {"top": "added-top", "front": "added", "side": "added-side"}
_PLAIN_FILLS: dict[str, FillRole] = {"top": "top", "front": "front", "side": "side"}


@dataclass(frozen=True, slots=True)
class Placing:
    """From the picture's plane to paper: millimetres for an inch, then a shift in millimetres."""

    scale: float
    dx: float = 0.0
    dy: float = 0.0

    def point(self, point: Point) -> Point:
        """A point of the picture on paper."""
        return point[0] * self.scale + self.dx, point[1] * self.scale + self.dy

    def path(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """A line of the picture on paper."""
        return tuple(self.point(point) for point in points)


def fitted(bounds: tuple[float, float, float, float], room: tuple[float, float, float, float], most: float = 1e9) -> Placing:
    """The largest picture that fits in `room` (left, low, right, high in mm), in its middle. `most` mm for an inch."""
    width, height = max(bounds[2] - bounds[0], 1e-6), max(bounds[3] - bounds[1], 1e-6)
    scale = min((room[2] - room[0]) / width, (room[3] - room[1]) / height, most)
    dx = (room[0] + room[2]) / 2 - scale * (bounds[0] + bounds[2]) / 2
    dy = (room[1] + room[3]) / 2 - scale * (bounds[1] + bounds[3]) / 2
    return Placing(scale, dx, dy)


def paint(pen: Pen, seen: Seen, placing: Placing, manner: Manner = "picture", tinted: Collection[str] = (),
          fills: bool = True) -> None:
    """Fills and lines of a view. In a step, `tinted` parts are set off and the others drawn back."""
    added = set(tinted)

    def fill_of(patch: Patch) -> FillRole | None:
        if patch.shade in ("cut", ""):
            return "paper"
        if patch.part in added:
            return _ADDED_FILLS[patch.shade]
        return (_DONE_FILLS if manner == "step" else _PLAIN_FILLS)[patch.shade]

    if fills:
        for patch in seen.fills:
            role = fill_of(patch)
            if role is not None:
                pen.area(role, *(placing.path(ring) for ring in patch.rings))
    if manner == "step":
        _lines(pen, seen.lines, placing, "done", lambda line: line.part not in added and line.beyond not in added)
        _lines(pen, seen.lines, placing, "plain", lambda line: line.part in added or line.beyond in added)
    else:
        _lines(pen, seen.lines, placing, manner, lambda line: True)


def _lines(pen: Pen, lines: Iterable[Line], placing: Placing, manner: str, wanted: Callable[[Line], bool]) -> None:
    outline, edge = _OUTLINES[manner]
    chosen = [line for line in lines if wanted(line)]
    pen.lines(edge, (placing.path(line.points) for line in chosen if line.kind != "outline"))
    pen.lines(outline, (placing.path(line.points) for line in chosen if line.kind == "outline"))


def hidden_lines(pen: Pen, seen: Seen, placing: Placing) -> None:
    """Lines out of sight, dashed."""
    pen.lines("hidden", (placing.path(line.points) for line in seen.hidden))


def area_of(patch: Patch, placing: Placing) -> BaseGeometry:
    """A patch on paper as a shape to measure with: rings are even-odd."""
    shape: BaseGeometry = shapely.Polygon()
    for ring in sorted((shapely.Polygon(placing.path(ring)) for ring in patch.rings if len(ring) > 2), key=lambda p: -p.area):
        shape = shape.symmetric_difference(ring if ring.is_valid else ring.buffer(0))
    return shape
