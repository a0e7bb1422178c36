"""The model: every part in its place, with its letter, its joints and everything cut from it.

In: made by `assemble` from a Design and the joint kinds. Out: read by every task, section, check and
drawing. All coordinates are the plan's: across (left to right), deep (front to back), up (bottom to top).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from compiler.base.measures import ZERO, Angle, Area, Length, Volume
from compiler.base.report import Spot
from compiler.base.showing import Style, Units, nearest, show
from compiler.values.library import Item, Stock
from compiler.values.shapes import Block, Feature, Frame, Pose, Vector

Axis = Literal["across", "deep", "up"]
Face = Literal["left", "right", "front", "back", "bottom", "top"]
AXES: tuple[Axis, Axis, Axis] = ("across", "deep", "up")
FACES: tuple[Face, ...] = ("left", "right", "front", "back", "bottom", "top")
AXIS_OF: dict[str, Axis] = {
    "left": "across",
    "right": "across",
    "front": "deep",
    "back": "deep",
    "bottom": "up",
    "top": "up",
}


@dataclass(frozen=True, slots=True)
class Span:
    """From one place to another on one axis."""

    start: Length
    end: Length

    @property
    def size(self) -> Length:
        """How long it is."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Box:
    """A part's three extents as written: to the shoulders, before tilts, without tongues and tenons."""

    across: Span
    deep: Span
    up: Span

    def span(self, axis: Axis) -> Span:
        """The extent on an axis."""
        return {"across": self.across, "deep": self.deep, "up": self.up}[axis]

    def face(self, face: Face) -> Length:
        """The place of a face on its axis."""
        span = self.span(AXIS_OF[face])
        return span.start if face in ("left", "front", "bottom") else span.end


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """Which edition of the plan this is."""

    units: Units
    paper: Literal["letter", "a4"]
    step: Fraction | None = None

    @property
    def name(self) -> str:
        """`inch letter`, `metric a4`."""
        return f"{'metric' if self.units == 'mm' else 'inch'} {self.paper}"

    @property
    def style(self) -> Style:
        """How it shows lengths: to the shop's smallest step, else to 1/32 in or 1/2 mm."""
        return Style(self.units, self.step or (Fraction(1, 2) if self.units == "mm" else Fraction(1, 32)))

    def show(self, quantity: Length | Area | Volume) -> str:
        """A quantity as plain text without its unit, for exports: `35 1/16`, `891`; square feet or square metres;
        board feet or cubic metres (to 1/100 and 1/1000).
        """
        if isinstance(quantity, Length):
            return show(quantity, self.style).text.replace("−", "-")
        if isinstance(quantity, Area):
            return _decimal(quantity.square_metres if self.units == "mm" else quantity.square_feet, 2)
        return _decimal(quantity.cubic_metres, 3) if self.units == "mm" else _decimal(quantity.board_feet, 2)


def _decimal(number: Fraction, digits: int) -> str:
    """The number with so many decimals; halves go away from zero."""
    units = nearest(number, Fraction(1, 10**digits)) * 10**digits
    whole, rest = divmod(abs(units.numerator), 10**digits)
    return f"{'-' if units < 0 else ''}{whole}.{rest:0{digits}d}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFacts:
    """What stands at the head of the design."""

    title: str
    number: str
    issue: int
    date: str
    units: Units
    folder: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """A working as written, judged: its kind, face or edge, and its values (lengths, angles, counts, words)."""

    id: str
    kind: str
    where: str
    values: tuple[tuple[str, Length | Angle | int | str], ...]
    features: tuple[Feature, ...] = ()
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One piece of wood in its place.

    `name` is its full name (`left side`, `left drawer.left side`); `kind` names the row it belongs to
    (`side`, `drawer side`); `letter` is that row's. `assembly` is the path of groups it belongs to,
    component uses included. `length` runs along the grain (the longer side when grain is `any`), `width` across it:
    both hold joints and are the finished size to cut. `thickness` is the finished one. `level` are ends cut
    level on a tilted part. `strips` counts the boards of a glued-up part (1 = one board).
    `band` are the faces that get edge tape.
    """

    name: str
    kind: str
    letter: str
    assembly: tuple[str, ...]
    component: str = ""
    stock: Stock
    box: Box
    pose: Pose = Pose()
    grain: Literal["across", "deep", "up", "any"]
    thickness_axis: Axis
    features: tuple[Feature, ...] = ()
    workings: tuple[Working, ...] = ()
    length: Length
    width: Length
    thickness: Length
    strips: int = 1
    band: tuple[tuple[str, str], ...] = ()
    hand: Literal["", "left", "right", "front", "back"] = ""
    note: str = ""
    at: Spot | None = None

    @property
    def length_axis(self) -> Axis:
        """The axis that the length runs on: the grain's, or the longer face side where grain is `any`."""
        if self.grain != "any":
            return self.grain
        rest = [axis for axis in AXES if axis != self.thickness_axis]
        return max(rest, key=lambda axis: self.box.span(axis).size)

    @property
    def width_axis(self) -> Axis:
        """The axis across the grain, in the face."""
        return next(axis for axis in AXES if axis not in (self.length_axis, self.thickness_axis))


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """All equal parts: one row of the cut list, one letter. A mirrored pair counts as one kind, `hands` says how many of each."""

    letter: str
    name: str
    parts: tuple[str, ...]
    hands: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """A group that is built on its own, or a use of a component. `parts` are full names, those of inner groups left out."""

    name: str
    path: tuple[str, ...]
    parts: tuple[str, ...]
    component: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fasteners:
    """Some fasteners in one joint or piece of hardware.

    `entry` is where they stand (plan coordinates, at the face the head rests on), `toward` the way they are driven.
    `slotted` names the part that gets slotted holes, if any.
    """

    item: Item
    count: int
    through: str = ""
    into: str = ""
    entry: tuple[tuple[Length, Length, Length], ...] = ()
    toward: tuple[float, float, float] = (0.0, 0.0, 1.0)
    slotted: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailMeasure:
    """A size that a joint's detail drawing shows."""

    called: str
    value: Length
    axis: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointUse:
    """One joint between two parts. `values` are its parameters as made; `area` is the touching face (for glue)."""

    id: str
    kind: str
    family: Literal["into", "to", "with", "on"]
    acting: str
    receiver: str
    frame: Frame
    length: Length
    width: Length
    values: tuple[tuple[str, Length | Angle | int | str], ...] = ()
    fasteners: tuple[Fasteners, ...] = ()
    glue: bool = True
    area: Area = Area()
    measures: tuple[DetailMeasure, ...] = ()
    at: Spot | None = None
    plugin: str = ""

    def value(self, name: str) -> Length | Angle | int | str | None:
        """A parameter by name."""
        return dict(self.values).get(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationUse:
    """Work done on a part: the library's operation (or a plugin's bare words), the tools, and what asks for it."""

    does: str
    tools: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareUse:
    """Some pieces of one item, where they belong."""

    item: Item
    count: int
    on: tuple[str, ...] = ()
    per: str = ""
    places: tuple[tuple[Length, Length, Length], ...] = ()
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishUse:
    """One finish on some parts: kind (`oil`, `paint` …), coats, and the area it covers once."""

    kind: str
    coats: int
    parts: tuple[str, ...]
    area: Area
    item: Item | None = None
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """How a quantity came about: `shelf.length` = text, value, and the quantities it stands on."""

    name: str
    text: str
    value: Length | Angle | int | str
    needs: tuple[str, ...] = ()
    because: str = ""
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """The whole piece, in one edition.

    `kinds` are in the order of their letters. `measures` are all named sizes of the plan (`height`, `left drawer.overlay`),
    for notes and for the check of hand-typed figures. `hazards` are those that joints found,
    with their places. `views` are the author's wishes, as written; `explode` are directions, with inches where he says how far.
    """

    plan: PlanFacts
    edition: Edition
    parts: tuple[Part, ...]
    kinds: tuple[Kind, ...]
    assemblies: tuple[Assembly, ...] = ()
    joints: tuple[JointUse, ...] = ()
    hardware: tuple[HardwareUse, ...] = ()
    finishes: tuple[FinishUse, ...] = ()
    operations: tuple[OperationUse, ...] = ()
    runs_of_figure: tuple[tuple[str, ...], ...] = ()
    measures: tuple[tuple[str, Length], ...] = ()
    middles: tuple[tuple[str, Length], ...] = ()
    views: tuple[tuple[str, str], ...] = ()
    explode: tuple[tuple[str, str], ...] = ()
    traces: tuple[Trace, ...] = field(default=(), compare=False)
    pieces: tuple[Part, ...] = ()
    hazards: tuple[tuple[str, Spot | None], ...] = ()

    def part(self, name: str) -> Part:
        """A part by its full name. Raises KeyError."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)

    def kind(self, name: str) -> Kind:
        """A kind by its name or its letter. Raises KeyError."""
        for kind in self.kinds:
            if name in (kind.name, kind.letter):
                return kind
        raise KeyError(name)

    def named(self, name: str) -> tuple[str, ...]:
        """Full names of the parts that a maker's name means, in plan order; empty when it means none.

        A name means a part, all copies of a part (`side`), all parts of an assembly (`case`), all parts of a
        component's use (`left drawer`) or of all its uses (`drawer`), or an inner name (`drawer.side`).
        """
        wanted = name.split(".")
        found = tuple(part.name for part in self.parts if _means(wanted, part.name.split(".")))
        if found:
            return found
        return tuple(
            part.name for part in self.parts if name in part.assembly or name in (part.kind, part.letter)
        )

    def measure(self, name: str) -> Length | None:
        """A named size of the plan, None when there is none."""
        return dict(self.measures).get(name)

    @property
    def largest_face(self) -> tuple[Length, Length]:
        """The greatest length and the greatest width among the parts."""
        return max((part.length for part in self.parts), default=ZERO), max((part.width for part in self.parts), default=ZERO)

    @property
    def hung(self) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
        """Hinges, slides and pins, on which parts move: the item's kind, what each is for, the parts that it is on."""
        return tuple((use.item.kind, use.per, use.on) for use in self.hardware if use.item.kind in ("hinge", "slide", "pin"))

    def driven_through(self, name: str) -> tuple[Fasteners, ...]:
        """The fasteners of joints that go through a part, in the order of the joints."""
        return tuple(use for joint in self.joints if name in (joint.acting, joint.receiver) for use in joint.fasteners if use.through == name)

    @property
    def leaning(self) -> tuple[tuple[str, str, Vector], ...]:
        """Joints that are not square to the plan's axes: the acting part, the receiver, the direction from one into the other."""
        return tuple((joint.acting, joint.receiver, joint.frame.into) for joint in self.joints if not joint.frame.square)

    @property
    def overall(self) -> Box:
        """The smallest box round all parts as written."""
        if not self.parts:
            nothing = Span(ZERO, ZERO)
            return Box(nothing, nothing, nothing)

        def around(axis: Axis) -> Span:
            spans = [part.box.span(axis) for part in self.parts]
            return Span(min(span.start for span in spans), max(span.end for span in spans))

        return Box(around("across"), around("deep"), around("up"))

    @property
    def outside(self) -> Box:
        """The box round all parts with what their joints make grow from them: tenons that stand out at the ends count."""
        box = self.overall

        def around(place: int, axis: Axis) -> Span:
            ends = [box.span(axis).start, box.span(axis).end]
            for part in self.parts:
                ends += [end for feature in part.features if part.pose.square for end in _reach(feature, place)]
            return Span(min(ends), max(ends))

        return Box(around(0, "across"), around(1, "deep"), around(2, "up"))

    @property
    def is_case(self) -> bool:
        """Whether things are kept in it, so that it is climbed and loaded: two floors one above another, or one between upright panels.

        A floor lies level below the highest face and takes a quarter of the footprint or more; a panel takes half of the depth and height.
        A table, a bench and a stool are none. Common practice, no source.
        """
        whole = self.overall
        footprint = whole.across.size.inches * whole.deep.size.inches
        square = [part for part in self.parts if part.pose.square]
        floors = {part.box.up.start for part in square
                  if part.thickness_axis == "up" and part.box.up.end < whole.up.end
                  and part.box.across.size.inches * part.box.deep.size.inches * 4 >= footprint}
        panels = [part for part in square
                  if part.thickness_axis == "across" and part.box.deep.size * 2 >= whole.deep.size and part.box.up.size * 2 >= whole.up.size]
        return len(floors) > 1 or bool(floors and len(panels) > 1)


def _reach(feature: Feature, place: int) -> tuple[Length, ...]:
    """Where a block that grows square from its part begins and ends on the plan's axis of this number; nothing for other shapes."""
    if feature.op != "grow" or not feature.frame.square or not isinstance(feature.shape, Block):
        return ()
    frame, spans = feature.frame, (feature.shape.along, feature.shape.across, feature.shape.into)
    return tuple(frame.origin[place] + end * int(vector[place])
                 for vector, span in zip((frame.along, frame.across, frame.into), spans, strict=True) if vector[place] for end in span)


def _means(wanted: list[str], parts: list[str]) -> bool:
    """A wanted dotted name covers a full one when each of its segments is that segment, or all copies of it."""
    return len(wanted) <= len(parts) and all(
        actual == word
        or (actual.endswith(f" {word}") and _hands(actual[: -len(word) - 1]))
        or _numbered(word, actual)
        for word, actual in zip(wanted, parts, strict=False)
    )


def _hands(words: str) -> bool:
    return all(word in FACES for word in words.split())


def _numbered(word: str, actual: str) -> bool:
    return actual.startswith(f"{word} ") and actual[len(word) + 1 :].isdigit()
