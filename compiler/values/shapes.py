"""Shapes that are added to a part or cut from it, and where they stand.

In: exact sizes in a frame of their own. Out: `Feature`s on a part, which solids, part drawings, lists and
details all read. A shape knows nothing of the part; its frame places it.

Frames: `origin` and three axes, in the coordinates of the part *as written* (before any tilt): x = across
(left to right), y = deep (front to back), z = up. For square work the axes are exact (0, 1, -1) and so are
sizes along them; for tilted work the axes are floats, while sizes stay exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import ZERO, Length
from compiler.base.showing import Style, show

Vector = tuple[float, float, float]
AxisName = Literal["along", "across", "into"]
AXIS_NAMES: tuple[AxisName, AxisName, AxisName] = ("along", "across", "into")
_STRAIGHT = frozenset((0.0, 1.0, -1.0))


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a shape stands. Axes are unit vectors; a mirrored frame is left-handed, which is allowed.

    `along`, `across`, `into` are the shape's own x, y, z: a point (a, b, c) of the shape stands at
    origin + a * along + b * across + c * into.
    """

    origin: tuple[Length, Length, Length] = (ZERO, ZERO, ZERO)
    along: Vector = (1.0, 0.0, 0.0)
    across: Vector = (0.0, 1.0, 0.0)
    into: Vector = (0.0, 0.0, 1.0)

    @property
    def square(self) -> bool:
        """True when every axis lies along one of the part's own axes."""
        return _STRAIGHT.issuperset((*self.along, *self.across, *self.into))


@dataclass(frozen=True, slots=True)
class Widening:
    """How much longer a block is at its far end: added at the low and at the high end of an axis."""

    low: Length = ZERO
    high: Length = ZERO


@dataclass(frozen=True, slots=True)
class Stopped:
    """How far a working stops short of the low and of the high end of its longer axis."""

    low: Length = ZERO
    high: Length = ZERO


@dataclass(frozen=True, slots=True)
class Measure:
    """A size of a block that a detail drawing shows: what it is called, how big, on which axis, of which block.

    `end` is "far" where a flared block is measured at its wide end.
    """

    called: str
    value: Length
    axis: AxisName
    block: Block
    end: Literal["near", "far"] = "near"


class WrongShape(ValueError):
    """A shape that can't be: raised when it is built. `says` has a {} for each length, so that the
    message can be shown in the edition's own units.
    """

    def __init__(self, says: str, *lengths: Length) -> None:
        self.says, self.lengths = says, lengths
        super().__init__(says.format(*(f"{show(length, _FINE).text} in" for length in lengths)))


_FINE = Style(step=Fraction(1, 1024))


@dataclass(frozen=True, slots=True)
class Block:
    """A box (start, end on each axis of its frame), wider toward one end when it is flared.

    `toward` names the axis along which it widens; at the end of that axis the block is longer by `flare`
    on each of the two other axes, in their order (along, across, into). Every method gives a new block.

    Raises WrongShape when a size is negative and TypeError when an end is not a Length. A size of nothing is
    allowed: a wedge may begin with an edge.
    """

    along: tuple[Length, Length]
    across: tuple[Length, Length]
    into: tuple[Length, Length]
    toward: AxisName | None = None
    flare: tuple[Widening, Widening] = (Widening(), Widening())

    def __post_init__(self) -> None:
        for axis in AXIS_NAMES:
            start, end = self.span(axis)
            for place in (start, end):
                if not isinstance(place, Length):
                    raise TypeError(f"{place!r} is no Length; write inch(...) or mm(...)")
            if end < start:
                raise WrongShape(f"a block of negative size {axis}, from {{}} to {{}}", start, end)

    def span(self, axis: AxisName) -> tuple[Length, Length]:
        """Where it starts and ends on an axis (at its near end)."""
        return {"along": self.along, "across": self.across, "into": self.into}[axis]

    def long(self, axis: AxisName, end: Literal["near", "far"] = "near") -> Length:
        """Its size on an axis, at the near or at the far end of its flare."""
        start, stop = self.span(axis)
        size = stop - start
        if end == "far" and self.toward is not None and axis != self.toward:
            widening = self.flare[self._others(self.toward).index(axis)]
            size = size + widening.low + widening.high
        return size

    def at(self, axis: AxisName, start: Length, end: Length) -> Block:
        """The same block from start to end on an axis."""
        along, across, into = (((start, end) if name == axis else self.span(name)) for name in AXIS_NAMES)
        return Block(along, across, into, self.toward, self.flare)

    def wider(self, axis: AxisName, by: Length) -> Block:
        """The block longer by so much on an axis, half of it at each end; shorter when it is negative."""
        start, end = self.span(axis)
        return self.at(axis, start - by / 2, end + by / 2)

    def clear_of(self, stopped: Stopped) -> Block:
        """The block shortened along, so far from its low and its high end."""
        start, end = self.along
        return self.at("along", start + stopped.low, end - stopped.high)

    def flared(self, toward: AxisName, *, along: tuple[Length, Length] = (ZERO, ZERO),
               across: tuple[Length, Length] = (ZERO, ZERO), into: tuple[Length, Length] = (ZERO, ZERO)) -> Block:
        """The block wider toward the end of an axis: by so much at the low and at the high end of the others."""
        given = {"along": along, "across": across, "into": into}
        if given[toward] != (ZERO, ZERO):
            raise ValueError(f"a block that flares toward {toward} can't be longer {toward} for it")
        one, two = (Widening(*given[axis]) for axis in self._others(toward))
        return Block(self.along, self.across, self.into, toward, (one, two))

    def moved(self, axis: AxisName, by: Length) -> Block:
        """The same block further on along an axis."""
        start, end = self.span(axis)
        return self.at(axis, start + by, end + by)

    def measure(self, axis: AxisName, called: str, end: Literal["near", "far"] = "near") -> Measure:
        """Its size on an axis as a detail drawing shows it."""
        return Measure(called, self.long(axis, end), axis, self, end)

    @staticmethod
    def _others(toward: AxisName) -> tuple[AxisName, AxisName]:
        one, two = (axis for axis in AXIS_NAMES if axis != toward)
        return one, two


@dataclass(frozen=True, slots=True)
class Bore:
    """A round hole or peg: an axis parallel to `toward` through `at` (the two other coordinates, in order).

    `diameter` at the start of `span`, `end_diameter` at its end (None = the same): a countersink is a cone.
    """

    toward: AxisName
    at: tuple[Length, Length]
    diameter: Length
    span: tuple[Length, Length]
    end_diameter: Length | None = None


@dataclass(frozen=True, slots=True)
class OutlinePoint:
    """A corner of an outline; with `radius` the edge that comes *to* it is an arc of that radius.

    `bulge` +1 puts the arc's centre on the left of the way from the last point, -1 on the right;
    the shorter arc is meant unless `long`.
    """

    x: Length
    y: Length
    radius: Length | None = None
    bulge: Literal[1, -1] = 1
    long: bool = False


@dataclass(frozen=True, slots=True)
class Prism:
    """A closed outline in the along/across plane, swept from `span[0]` to `span[1]` on the into axis."""

    outline: tuple[OutlinePoint, ...]
    span: tuple[Length, Length]


Shape = Block | Bore | Prism


@dataclass(frozen=True, slots=True)
class Feature:
    """Something added to a part's box (`grow`) or taken from it (`cut`).

    `called` is the trade's word (dado, tongue, mortise, hole, chamfer, taper …). `by` is the id of the joint or
    the working it comes from (`joint 3`, `working 2`). `sawn` is the shape as it is cut on the bench
    where that differs from its final one. `face` is the face a working is made in, as written.
    """

    op: Literal["grow", "cut"]
    called: str
    shape: Shape
    frame: Frame
    by: str
    sawn: Shape | None = None
    face: str = ""


@dataclass(frozen=True, slots=True)
class Pose:
    """How a tilted part is turned from the way it is written: p' = rotation . p + shift (inches).

    The identity for square parts.
    """

    rotation: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    shift: Vector = (0.0, 0.0, 0.0)

    @property
    def square(self) -> bool:
        """True when the part stands as written."""
        return self == Pose()


def length_of(span: tuple[Length, Length]) -> Length:
    """The size of a span."""
    return span[1] - span[0]


HALF = Fraction(1, 2)
