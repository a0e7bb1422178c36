"""The sizes of tails, pins and fingers on the face that shows them.

In: a joint whose detail is its face. Out: dimensions in paper millimetres, not yet placed, and a note. The layout is that of the
maker: from the low or left edge the first pin, a tail, the pin between two, at the ends of the tails, where they are scribed;
the length of a tail; the whole. What repeats is given once, its number and slope in the note.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Length
from compiler.base.showing import Style
from compiler.draw.dimensions import Dimension
from compiler.draw.joint_cuts import Cut
from compiler.draw.lettering import Runs, size_runs
from compiler.draw.notes import Note
from compiler.values.figure import Point
from compiler.values.model import JointUse, Model
from compiler.values.shapes import Block, Feature, Vector

Axis = Literal["x", "y"]


@dataclass(frozen=True, slots=True)
class Tail:
    """A tail or finger in its frame, in inches: where it ends on the corner's direction, root first, and on its own length."""

    root: tuple[Fraction, Fraction]
    end: tuple[Fraction, Fraction]
    into: tuple[Fraction, Fraction]


def tails_of(model: Model, joint: JointUse) -> tuple[tuple[Tail, ...], Feature | None]:
    """Tails (fingers) of the acting part, read from the sockets that they fill, in the order of the corner; a feature with their frame."""
    found: list[Tail] = []
    frame: Feature | None = None
    for feature in model.part(joint.receiver).features:
        shape = feature.shape
        if feature.by != joint.id or feature.op != "cut" or not isinstance(shape, Block) or not feature.frame.square:
            continue
        start, end = (value.inches for value in shape.along)
        wider = shape.flare[0] if shape.toward == "into" else None
        far = (start - wider.low.inches, end + wider.high.inches) if wider else (start, end)
        found.append(Tail((start, end), far, (shape.into[0].inches, shape.into[1].inches)))
        frame = frame or feature
    return tuple(sorted(found, key=lambda tail: tail.root)), frame


def sizes_of_face(model: Model, joint: JointUse, cut: Cut, scale: float, style: Style, whole: bool) -> tuple[list[Dimension], list[Note]]:
    """At most five sizes, and what they are of; the whole corner, which is a part's width, can be left out."""
    tails, feature = tails_of(model, joint)
    if not tails or feature is None:
        return [], []
    frame = feature.frame
    picture = _Picture(cut, frame.origin, frame.along, frame.into, scale)
    if picture.turned:
        tails = tuple(reversed(tails))
    first = tails[0]
    root, end = first.into
    low, high = Fraction(0), joint.length.inches
    near, far = (high, low) if picture.turned else (low, high)
    own = first.end[::-1] if picture.turned else first.end
    steps = [(near, own[0]), own]
    if len(tails) > 1:
        following = tails[1].end[::-1] if picture.turned else tails[1].end
        steps.append((own[1], following[0]))
    if whole and picture.shows(far):
        steps.append((near, far))
    wanted: list[Dimension] = []
    given: set[Fraction] = set()
    for start, stop in steps:
        length = abs(stop - start)
        if length in given or length == 0:
            continue
        given.add(length)
        wanted.append(picture.across(start, stop, end, size_runs(Length(length), style), outermost=(start, stop) == (near, far)))
    wanted.append(picture.along(root, end, (low, high), size_runs(Length(abs(end - root)), style)))
    shown = [tail for tail in tails if picture.shows(tail.root[0]) and picture.shows(tail.root[1])]
    places = tuple(picture.at((tail.root[0] + tail.root[1]) / 2, (root + end) / 2) for tail in shown[-1:] or tails[:1])
    return wanted, [Note(_words(joint, len(tails)), places)]


def _words(joint: JointUse, number: int) -> Runs:
    if "dovetail" not in joint.kind:
        return (f"{number} fingers",)
    called = f"{number} tails" if number > 1 else "tail"
    return (f"{called}, {joint.value('slope')}",)


@dataclass(frozen=True, slots=True)
class _Picture:
    """From the joint's own directions to paper: the corner runs on one axis of the picture, the tails on the other."""

    cut: Cut
    origin: tuple[Length, Length, Length]
    corner: Vector
    tails: Vector
    scale: float

    @property
    def axis(self) -> Axis:
        """The picture's axis that the corner runs on."""
        return "x" if abs(self.cut.camera.project(self.corner)[0]) > 0.5 else "y"

    @property
    def turned(self) -> bool:
        """The corner's own direction runs left or down on the picture."""
        return sum(self.cut.camera.project(self.corner)) < 0

    def at(self, along: Fraction, into: Fraction) -> Point:
        """A place of the joint on paper."""
        a, b = float(along), float(into)
        plan = [float(self.origin[i]) + a * self.corner[i] + b * self.tails[i] for i in range(3)]
        x, y = self.cut.camera.project((plan[0], plan[1], plan[2]))
        return x * self.scale, y * self.scale

    def shows(self, along: Fraction) -> bool:
        """True when the window reaches there."""
        i = 0 if self.axis == "x" else 1
        return self.cut.window[i] <= self.at(along, Fraction(0))[i] / self.scale <= self.cut.window[i + 2]

    def across(self, start: Fraction, end: Fraction, level: Fraction, runs: Runs, outermost: bool) -> Dimension:
        """A size along the corner, at the ends of the tails."""
        i = 0 if self.axis == "x" else 1
        one, two = sorted((self.at(start, level), self.at(end, level)), key=lambda point: point[i])
        outward = sum(self.cut.camera.project(self.tails))
        return Dimension(axis=self.axis, start=one[i], end=two[i], runs=runs, reach=((one[1 - i],) * 2, (two[1 - i],) * 2),
                         side="high" if outward > 0 else "low", outermost=outermost)

    def along(self, root: Fraction, end: Fraction, corner: tuple[Fraction, Fraction], runs: Runs) -> Dimension:
        """The length of a tail, at the corner's near edge."""
        i = 1 if self.axis == "x" else 0
        one, two = sorted((self.at(corner[0], root), self.at(corner[0], end)), key=lambda point: point[i])
        beside = sorted((self.at(corner[0], root)[1 - i], self.at(corner[1], root)[1 - i]))
        return Dimension(axis="y" if i else "x", start=one[i], end=two[i], runs=runs, reach=((beside[0], beside[1]),) * 2)
