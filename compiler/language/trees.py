"""What a spoken text means, as frozen trees.

In: made by `parsing` from one text. Out: read by `evaluation` and by the stages. Every tree knows the characters
it came from (`start`, `end`, counted in the text as written). A tree knows no values and no names of the plan.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.values.model import Axis, Face

Unit = Literal["", "mm", "cm", "in", "deg"]


@dataclass(frozen=True, slots=True)
class Thing:
    """The name of a part, an assembly or a use: `left drawer.front`, with the place of each word group."""

    names: tuple[str, ...]
    spans: tuple[tuple[int, int], ...]

    @property
    def start(self) -> int:
        """Where it begins."""
        return self.spans[0][0]

    @property
    def end(self) -> int:
        """Where it ends."""
        return self.spans[-1][1]

    @property
    def text(self) -> str:
        """As written, in the house spelling."""
        return ".".join(self.names)


@dataclass(frozen=True, slots=True)
class Number:
    """A number with the unit that stands behind it; `odd` is a denominator that no rule has, else 0."""

    value: Fraction
    unit: Unit
    start: int
    end: int
    odd: int = 0


@dataclass(frozen=True, slots=True)
class Reference:
    """A name whose value is asked for: `width`, `left side.right`."""

    thing: Thing
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Sum:
    """Left plus or minus right."""

    sign: Literal["+", "-"]
    left: Size
    right: Size
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Product:
    """Left times or divided by right; `at` is the place of the sign."""

    sign: Literal["*", "/"]
    left: Size
    right: Size
    start: int
    end: int
    at: int


@dataclass(frozen=True, slots=True)
class Negative:
    """Less than nothing: `-1/2`."""

    of: Size
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Pick:
    """The larger or the smaller of some sizes."""

    larger: bool
    of: tuple[Size, ...]
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Rounded:
    """A size rounded to the nearest multiple of a step, or up or down to one."""

    of: Size
    way: Literal["", "up", "down"]
    step: Size
    start: int
    end: int


Size = Number | Reference | Sum | Product | Negative | Pick | Rounded


@dataclass(frozen=True, slots=True)
class FromTo:
    """From one place to another."""

    first: Size
    last: Size


@dataclass(frozen=True, slots=True)
class From:
    """From a place on; `size` None leaves it to the stock."""

    place: Size
    size: Size | None = None


@dataclass(frozen=True, slots=True)
class To:
    """Up to a place; `size` None leaves it to the stock."""

    place: Size
    size: Size | None = None


@dataclass(frozen=True, slots=True)
class Between:
    """Between the facing faces of two parts, `clear` less at each end."""

    low: Thing
    high: Thing
    clear: Size | None = None


@dataclass(frozen=True, slots=True)
class Centred:
    """About a place or a part; `size` None leaves it to the stock."""

    on: Size
    size: Size | None = None


@dataclass(frozen=True, slots=True)
class As:
    """The same two places as another part."""

    thing: Thing


Extent = FromTo | From | To | Between | Centred | As


@dataclass(frozen=True, slots=True)
class Mirror:
    """A mirror image on each axis named."""

    axes: tuple[Axis, ...]


@dataclass(frozen=True, slots=True)
class Repeat:
    """Several, at one pitch."""

    count: Size
    axis: Axis
    pitch: Size


@dataclass(frozen=True, slots=True)
class Evenly:
    """Several, with equal gaps between two parts."""

    count: Size
    axis: Axis
    low: Thing
    high: Thing


@dataclass(frozen=True, slots=True)
class Follow:
    """One for each copy of another part."""

    thing: Thing


Copies = Mirror | Repeat | Evenly | Follow


@dataclass(frozen=True, slots=True)
class Tilt:
    """A face goes by an angle toward another face's side, about an edge of the written box."""

    face: Face
    angle: Size
    goes: Face
    edge: tuple[Face, Face]


@dataclass(frozen=True, slots=True)
class Centre:
    """The middle of a part, on one axis or on both of a face."""

    axis: Axis | None = None


@dataclass(frozen=True, slots=True)
class Offset:
    """So far from a face; with `at` the size that is left at a face."""

    size: Size
    word: Literal["from", "at"]
    face: Face


@dataclass(frozen=True, slots=True)
class Place:
    """One or two coordinates, counted from the part's own edges."""

    spots: tuple[Centre | Offset, ...]


@dataclass(frozen=True, slots=True)
class Edge:
    """A face (one word), an edge (two) or the four edges round a face."""

    faces: tuple[Face, ...]
    all_round: bool = False


@dataclass(frozen=True, slots=True)
class Sizes:
    """Two or three sizes: `80 x 20`."""

    sizes: tuple[Size, ...]


Tree = Size | Extent | Copies | Tilt | Place | Edge | Sizes
