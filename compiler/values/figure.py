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
    # Pictures of the whole are finer than drawings of one part; the smallest ones are finer again.
    "picture-outline",
    "picture-edge",
    "small-outline",
    "small-edge",
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
LetterRole = Literal["dimension", "balloon", "label", "note", "title", "cut"]


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
    role: LetterRole = "label"

    @property
    def text(self) -> str:
        """What it says, in plain text: `25 15/16`."""
        words = ""
        for run in self.runs:
            if isinstance(run, str):
                words += run
            else:
                words += f"{' ' if words[-1:].isdigit() else ''}{run.numerator}/{run.denominator}"
        return words


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


# ---- what a theme gives --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePen:
    """How a line role is drawn: width and dashes in millimetres on paper, colour as `#rrggbb`."""

    width: float
    dash: tuple[float, ...] = ()
    colour: str = "#000000"


@dataclass(frozen=True, slots=True, kw_only=True)
class PenStyle:
    """What a theme gives to each role. A role that is missing here is not drawn.

    `family` is the font of the lettering, "" = the one that the page's own style gives the figure.
    `cap_height` is the height of a capital as a share of the font's size, so that a size in millimetres is true.
    """

    lines: tuple[tuple[LineRole, LinePen], ...]
    fills: tuple[tuple[FillRole, str], ...]
    letters: tuple[tuple[LetterRole, str], ...] = ()
    family: str = ""
    cap_height: float = 0.7

    def line(self, role: LineRole) -> LinePen | None:
        """The pen of a line role."""
        return dict(self.lines).get(role)

    def fill(self, role: FillRole) -> str | None:
        """The colour of a fill role."""
        return dict(self.fills).get(role)

    def letter(self, role: LetterRole) -> str:
        """The colour of a lettering role; black when nothing is said."""
        return dict(self.letters).get(role, "#000000")
