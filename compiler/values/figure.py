"""A finished drawing: what to put on paper, in paper millimetres, with roles instead of widths and colours.

In: made by compiler/draw on a pen. Out: replayed on any pen (PDF operators, SVG, DXF, bounds). x runs right,
y runs *up*, (0, 0) is the lower left corner of the frame. The theme gives each role its width, dash and colour.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
LineRole = Literal[
    "outline",
    "edge",
    "hidden",
    "centre",
    "dimension",
    "extension",
    "leader",
    "trail",
    "hatch",
    "cut",
    "break",
    "frame",
    "done-outline",
    "done-edge",
    "grain",
    "tick",
]
FillRole = Literal[
    "paper",
    "front",
    "side",
    "top",
    "added",
    "added-side",
    "added-top",
    "done",
    "cut",
    "deep-cut",
    "arrow",
    "dot",
    "offcut",
    "balloon",
    "number",
]


@dataclass(frozen=True, slots=True)
class Stroke:
    """Open or closed lines of one role; all paths of a stroke are drawn with one pen setting."""

    role: LineRole
    paths: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle: outlined in `role`, filled in `fill` when given."""

    centre: Point
    radius: float
    role: LineRole | None = "leader"
    fill: FillRole | None = None


@dataclass(frozen=True, slots=True)
class Region:
    """A filled area: outer ring and holes (even-odd)."""

    role: FillRole
    rings: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class StackedFraction:
    """A fraction set on a bar, as drawings letter it."""

    numerator: str
    denominator: str


@dataclass(frozen=True, slots=True)
class Lettering:
    """One line of lettering. `at` is on the baseline; `size` is the cap height in mm; `width` is the room it was laid out for.

    `runs` mixes plain text and stacked fractions. `angle` in degrees, counterclockwise; a writer that finds the
    theme's letters wider than `width` narrows them.
    """

    at: Point
    runs: tuple[str | StackedFraction, ...]
    size: float = 2.5
    width: float = 0.0
    anchor: Literal["start", "middle", "end"] = "start"
    angle: float = 0.0
    weight: Literal["regular", "medium", "semibold"] = "medium"
    role: Literal["dimension", "balloon", "label", "note", "title", "cut"] = "label"

    @property
    def text(self) -> str:
        """What it says, in plain text."""
        return "".join(
            run if isinstance(run, str) else f"{run.numerator}/{run.denominator}" for run in self.runs
        )


Mark = Stroke | Circle | Region | Lettering


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing of a fixed printed size. `marks` are in painting order.

    `says` is its description in words, made from the model, for readers who can't see it. `scale` is printed
    under it where it has one (`1 : 8`, `1 1/2 in = 1 ft`); pictorial views have none. `letters` are the part letters
    shown in balloons; `shows` are names of parts seen.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    says: str
    scale: str = ""
    letters: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    name: str = ""
