"""Dimensions round a view: their lines, ends and numbers.

In: sizes on two axes with the reach of the features they belong to, placed by compiler.draw.dimension_places, in millimetres on paper.
Out: marks on a pen. It must not know parts or lengths: a number comes as lettering. Which sizes to show is decided before
(compiler.draw.elevations, part_sizes, joint_sizes).

Sources: ASME Y14.5 practice as textbooks print it: first line at least 10 mm off the outline, next ones at least 6 mm
apart, short inside long, extension lines about 1.5 mm off the feature and 2 to 3 mm past, arrowheads three times as long as wide.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from compiler.draw.lettering import SMALL, Runs, letter, reach, runs_width
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect, Segment
from compiler.values.figure import Point

OFF_FEATURE = 1.5
PAST = 2.0
ARROW = 3.0
TAIL = 5.0
GAP = 0.8

SideName = Literal["low", "high"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How dimensions are drawn: arrows or oblique ticks, numbers upright or along the line, the first line's distance and the next ones'."""

    ticks: bool = False
    aligned: bool = False
    first: float = 10.0
    pitch: float = 7.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A size on one axis (`x` runs across, `y` up).

    `reach` gives for each end the lowest and highest place of its feature on the other axis, where the extension line
    starts. `side`: `low` is below or left. `outermost` puts it outside all others.
    """

    axis: Literal["x", "y"]
    start: float
    end: float
    runs: Runs
    reach: tuple[tuple[float, float], tuple[float, float]]
    side: SideName = "low"
    outermost: bool = False

    @property
    def length(self) -> float:
        """Its length on paper."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A dimension with its line's place on the other axis, its number's place along it and whether the arrows stand outside."""

    dimension: Dimension
    side: SideName
    level: int
    line: float
    text: float
    text_inside: bool
    arrows_inside: bool


@dataclass(slots=True)
class Room:
    """What is taken on the paper so far: numbers and words, and lines no number may touch. It never leaves the layout."""

    texts: list[Rect] = field(default_factory=list)
    lines: list[Segment] = field(default_factory=list)
    thin: list[Segment] = field(default_factory=list)
    solid: list[Rect] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Layout:
    """Placed dimensions, and those for which no free place was found."""

    placed: tuple[Placed, ...]
    left_out: tuple[Dimension, ...] = ()


def draw(pen: Pen, layout: Layout, manner: Manner) -> None:
    """Extension lines, dimension lines, arrows or ticks, numbers."""
    seen: set[Segment] = set()
    for placed in layout.placed:
        for segment in extension_segments(placed):
            if segment not in seen:
                seen.add(segment)
                pen.line("extension", segment[:2], segment[2:])
    for placed in layout.placed:
        for segment in line_segments(placed, manner):
            pen.line("dimension", segment[:2], segment[2:])
    for placed in layout.placed:
        _draw_ends(pen, placed, manner)
    for placed in layout.placed:
        d = placed.dimension
        if d.axis == "x":
            pen.letter(letter((placed.text, placed.line - SMALL / 2), d.runs, anchor="middle", role="dimension"))
        elif manner.aligned:
            pen.letter(letter((placed.line + SMALL / 2, placed.text), d.runs, anchor="middle", angle=90, role="dimension"))
        else:
            pen.letter(letter((placed.line, placed.text - SMALL / 2), d.runs, anchor="middle", role="dimension"))


def _draw_ends(pen: Pen, placed: Placed, manner: Manner) -> None:
    d = placed.dimension

    def at(along: float, off: float = 0.0) -> Point:
        return (along, placed.line + off) if d.axis == "x" else (placed.line + off, along)

    for end, inward in ((d.start, 1.0), (d.end, -1.0)):
        if manner.ticks:
            pen.line("tick", at(end - 0.65, -0.65), at(end + 0.65, 0.65))
        else:
            direction = inward if placed.arrows_inside else -inward
            pen.arrow(at(end), at(end + direction * 10))


def text_size(dimension: Dimension, manner: Manner) -> tuple[float, float]:
    """The number's room along the dimension line and across it."""
    width = runs_width(dimension.runs, SMALL)
    low, high = reach(dimension.runs, SMALL)
    height = 2 * max(high - SMALL / 2, SMALL / 2 - low)
    if dimension.axis == "x" or manner.aligned:
        return width, height
    return height, width


def text_rect(placed: Placed, manner: Manner) -> Rect:
    """The number's room on paper."""
    along, across = text_size(placed.dimension, manner)
    a0, a1 = placed.text - along / 2, placed.text + along / 2
    c0, c1 = placed.line - across / 2, placed.line + across / 2
    return (a0, c0, a1, c1) if placed.dimension.axis == "x" else (c0, a0, c1, a1)


def line_segments(placed: Placed, manner: Manner) -> tuple[Segment, ...]:
    """The dimension line in pieces, interrupted by its number."""
    d = placed.dimension
    along, _ = text_size(d, manner)
    half = along / 2 + GAP
    pieces: list[tuple[float, float]] = []
    over = 1.2 if manner.ticks else 0.0 if placed.arrows_inside else TAIL
    if placed.text_inside:
        if placed.arrows_inside or manner.ticks:
            pieces = [(d.start - over, placed.text - half), (placed.text + half, d.end + over)]
        else:
            pieces = [(d.start - over, d.start), (d.end, d.end + over)]
    elif placed.text > d.end:
        pieces = [(d.start - over, max(d.end + over, placed.text - half))]
    else:
        pieces = [(min(d.start - over, placed.text + half), d.end + over)]
    kept = [(a, b) for a, b in pieces if b - a > 0.05]
    if d.axis == "x":
        return tuple((a, placed.line, b, placed.line) for a, b in kept)
    return tuple((placed.line, a, placed.line, b) for a, b in kept)


def extension_segments(placed: Placed) -> tuple[Segment, ...]:
    """From just off each feature to just past the line."""
    d = placed.dimension
    segments = []
    for end, (low, high) in ((d.start, d.reach[0]), (d.end, d.reach[1])):
        if placed.side == "low":
            a, b = low - OFF_FEATURE, placed.line - PAST
        else:
            a, b = high + OFF_FEATURE, placed.line + PAST
        segments.append((end, a, end, b) if d.axis == "x" else (a, end, b, end))
    return tuple(segments)
