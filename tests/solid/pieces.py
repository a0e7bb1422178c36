"""Parts written by hand for tests and benchmarks of solids: boxes, what is cut from them and added to them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import cos, radians, sin

from compiler.base.measures import Length
from compiler.values.library import Stock
from compiler.values.model import Box, Part, Span
from compiler.values.shapes import (
    Block,
    Bore,
    Feature,
    Frame,
    OutlinePoint,
    Pose,
    Prism,
    Widening,
)

Number = int | str | Fraction
Triple = tuple[Number, Number, Number]
OAK = Stock(
    key="oak", name="red oak", called="oak", kind="board", thickness=Length(Fraction(3, 4)), density=Fraction(706)
)
# Planes in which outlines are drawn, and the way they are swept.
ALONG_X = Frame(along=(0.0, 1.0, 0.0), across=(0.0, 0.0, 1.0), into=(1.0, 0.0, 0.0))
ALONG_Y = Frame(along=(1.0, 0.0, 0.0), across=(0.0, 0.0, 1.0), into=(0.0, 1.0, 0.0))  # left-handed
ALONG_Z = Frame()


def length(number: Number) -> Length:
    """A length in inches; `1 1/2` is allowed."""
    return Length(sum((Fraction(word) for word in number.split()), Fraction(0)) if isinstance(number, str)
                  else Fraction(number))


def part(name: str, low: Triple, high: Triple, *features: Feature, pose: Pose | None = None) -> Part:
    """A part between two corners."""
    across, deep, up = (Span(length(a), length(b)) for a, b in zip(low, high, strict=True))
    return Part(
        name=name, kind=name, letter="", assembly=(), stock=OAK, box=Box(across, deep, up), pose=pose or Pose(),
        grain="across", thickness_axis="up", features=features, length=across.size, width=deep.size,
        thickness=up.size,
    )


def block(low: Triple, high: Triple) -> Block:
    """A block between two corners."""
    spans = [(length(a), length(b)) for a, b in zip(low, high, strict=True)]
    return Block(spans[0], spans[1], spans[2])


def cut(called: str, low: Triple, high: Triple) -> Feature:
    """A block cut away."""
    return Feature("cut", called, block(low, high), Frame(), called)


def grow(called: str, low: Triple, high: Triple) -> Feature:
    """A block added."""
    return Feature("grow", called, block(low, high), Frame(), called)


def hole(toward: str, at: tuple[Number, Number], diameter: Number, start: Number, end: Number) -> Feature:
    """A round hole along x, y or z, at the two other coordinates in their order."""
    axis = {"x": "along", "y": "across", "z": "into"}[toward]
    return Feature("cut", "hole", Bore(axis, (length(at[0]), length(at[1])), length(diameter),  # type: ignore[arg-type]
                                       (length(start), length(end))), Frame(), "hole")


def peg(toward: str, at: tuple[Number, Number], diameter: Number, start: Number, end: Number) -> Feature:
    """A round pin added."""
    made = hole(toward, at, diameter, start, end)
    return Feature("grow", "pin", made.shape, made.frame, "pin")


def point(x: Number, y: Number, radius: Number | None = None, bulge: int = 1) -> OutlinePoint:
    """A corner; with a radius the piece to it is an arc."""
    return OutlinePoint(length(x), length(y), None if radius is None else length(radius), bulge)  # type: ignore[arg-type]


def outline(frame: Frame, points: Sequence[OutlinePoint | tuple[Number, Number]], start: Number, end: Number) -> Prism:
    """An outline swept along."""
    corners = tuple(each if isinstance(each, OutlinePoint) else point(*each) for each in points)
    return Prism(corners, (length(start), length(end)))


def shaped(
    op: str, called: str, frame: Frame, points: Sequence[OutlinePoint | tuple[Number, Number]], start: Number, end: Number
) -> Feature:
    """A swept outline cut away or added."""
    return Feature(op, called, outline(frame, points, start, end), frame, called)  # type: ignore[arg-type]


def flared(low: Triple, high: Triple, toward: str, wider: tuple[tuple[Number, Number], tuple[Number, Number]]) -> Block:
    """A block that widens toward the end of an axis."""
    plain = block(low, high)
    first, second = (Widening(length(a), length(b)) for a, b in wider)
    return Block(plain.along, plain.across, plain.into, toward, (first, second))  # type: ignore[arg-type]


def turned(axis: str, angle: float, about: tuple[float, float, float]) -> Pose:
    """A turn by an angle in degrees about an axis through a point, counterclockwise seen against the axis."""
    c, s = cos(radians(angle)), sin(radians(angle))
    rows = {
        "x": ((1.0, 0.0, 0.0), (0.0, c, -s), (0.0, s, c)),
        "y": ((c, 0.0, s), (0.0, 1.0, 0.0), (-s, 0.0, c)),
        "z": ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0)),
    }[axis]
    moved = [sum(row[i] * about[i] for i in range(3)) for row in rows]
    return Pose(rows, (about[0] - moved[0], about[1] - moved[1], about[2] - moved[2]))
