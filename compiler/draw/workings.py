"""A part's workings as its drawing reads them: where each starts and ends on the part's length, width and thickness.

In: a Part. Out: `Shaping`s in exact lengths along the part's own three directions. It must not know views or paper.

Directions: 0 length (along the grain), 1 width, 2 thickness; places are those of the plan as the part is written, so that
neighbouring drawings count the same way. Shapes are as sawn on the bench where that differs from the final one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

import numpy as np

from compiler.base.measures import Angle, Length
from compiler.draw.places import feature_places
from compiler.solid.outlines import Fineness, OutlineFault, polygon
from compiler.values.model import AXES, Part
from compiler.values.shapes import Block, Bore, Feature, Prism
from compiler.values.tiles import EDGES

Three = tuple[Fraction, Fraction, Fraction]
FlatPoint = tuple[float, float]
Side = tuple[int, int]
"""A side of the part: direction (0 length, 1 width, 2 thickness) and sign."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaping:
    """One thing grown or cut. `low`, `high` are clipped to the part. A hole has a `diameter` and an `axis`.

    `outline` are the corners of a prism swept on `axis` (in the two other directions, in order), `curve` the same with its
    arcs in short steps, `radii` its arcs' ones.
    `told` is what the maker wrote of it, in words, for shapes whose section no view shows. `lean` is the angle (degrees) of a
    block that is cut askew: its `low`, `high` are then those of its mouth, where it is marked out. `edge` marks what follows
    an edge of the part (chamfer, round-over, moulding).
    """

    op: Literal["grow", "cut"]
    called: str
    low: Three
    high: Three
    sort: Literal["block", "hole", "prism", "turned"]
    axis: int = 2
    diameter: Fraction = Fraction(0)
    outline: tuple[FlatPoint, ...] = ()
    curve: tuple[FlatPoint, ...] = ()
    radii: tuple[Fraction, ...] = ()
    by: str = ""
    lean: float = 0.0
    edge: bool = False
    told: tuple[tuple[str, Length | Angle | int | str], ...] = ()

    def size(self, direction: int) -> Fraction:
        """Its extent in a direction."""
        return self.high[direction] - self.low[direction]


@dataclass(frozen=True, slots=True)
class Blank:
    """A part's extents: `low`, `high` with what grows, `box_low`, `box_high` to the shoulders; plan axis of each direction."""

    low: Three
    high: Three
    box_low: Three
    box_high: Three
    axes: tuple[int, int, int]


def blank(part: Part) -> Blank:
    """The extents of a part as it is written."""
    axes = tuple(AXES.index(axis) for axis in (part.length_axis, part.width_axis, part.thickness_axis))
    spans = [part.box.span(AXES[axis]) for axis in axes]
    box_low, box_high = tuple(s.start.inches for s in spans), tuple(s.end.inches for s in spans)
    low, high = list(box_low), list(box_high)
    for feature in part.features:
        if feature.op == "grow" and feature.frame.square:
            for i, axis in enumerate(axes):
                places = list(_extent(_sawn(feature), axis))
                low[i], high[i] = min(low[i], *places), max(high[i], *places)
    return Blank(_three(low), _three(high), _three(box_low), _three(box_high), (axes[0], axes[1], axes[2]))


def shapings(part: Part, within: Blank) -> tuple[Shaping, ...]:
    """All workings and joints' cuts of a part, in the order they are made; those in a turned frame keep their words only."""
    told = {working.id: working.values for working in part.workings}
    found = []
    for feature in part.features:
        sawn = _sawn(feature)
        values = told.get(feature.by, ())
        if not feature.frame.square:
            found.append(_askew(sawn, within, values))
            continue
        places = [sorted(_extent(sawn, axis)) for axis in within.axes]
        low = _three([max(p[0], edge) for p, edge in zip(places, within.low, strict=True)])
        high = _three([min(p[-1], edge) for p, edge in zip(places, within.high, strict=True)])
        if any(a >= b for a, b in zip(low, high, strict=True)):
            continue
        found.append(_shaping(sawn, within, low, high, values))
    return _grown_together(found)


def _grown_together(found: list[Shaping]) -> tuple[Shaping, ...]:
    """Blocks that grow on from each other (a tenon's straight foot and its end) are one."""
    result: list[Shaping] = []
    for one in found:
        for k, other in enumerate(result):
            axis = _abutting(one, other)
            if axis is not None:
                low, high = list(other.low), list(other.high)
                low[axis], high[axis] = min(one.low[axis], other.low[axis]), max(one.high[axis], other.high[axis])
                result[k] = replace(other, low=_three(low), high=_three(high))
                break
        else:
            result.append(one)
    return tuple(result)


def _abutting(one: Shaping, other: Shaping) -> int | None:
    """The direction in which two growths of one joint follow each other with the same section."""
    if (one.op, other.op) != ("grow", "grow") or one.called != other.called or one.by != other.by or one.sort != other.sort != "block":
        return None
    for axis in range(3):
        rest = [i for i in range(3) if i != axis]
        same = all(one.low[i] == other.low[i] and one.high[i] == other.high[i] for i in rest)
        if same and (one.low[axis] == other.high[axis] or one.high[axis] == other.low[axis]):
            return axis
    return None


def _shaping(feature: Feature, within: Blank, low: Three, high: Three,
             told: tuple[tuple[str, Length | Angle | int | str], ...]) -> Shaping:
    shape = feature.shape
    if isinstance(shape, Bore):
        axis = _direction(feature, within, shape.toward)
        return Shaping(op=feature.op, called=feature.called, low=low, high=high, sort="hole", axis=axis,
                       diameter=max(shape.diameter, shape.end_diameter or shape.diameter).inches, by=feature.by, told=told)
    if isinstance(shape, Prism):
        axis = _direction(feature, within, "into")
        return Shaping(op=feature.op, called=feature.called, low=low, high=high, sort="prism", axis=axis,
                       outline=_outline(feature, _corners(shape), within, axis), curve=_outline(feature, _curve(shape), within, axis),
                       edge=feature.called in EDGES, radii=tuple(dict.fromkeys(p.radius.inches for p in shape.outline if p.radius is not None)), by=feature.by,
                       told=told)
    return Shaping(op=feature.op, called=feature.called, low=low, high=high, sort="block", by=feature.by, told=told)


def _askew(feature: Feature, within: Blank, told: tuple[tuple[str, Length | Angle | int | str], ...]) -> Shaping:
    """A block in a turned frame by its mouth: where its edges leave the face that it goes into.

    Other turned shapes, and blocks that cut an end off, keep their words and their angle only.
    """
    frame, shape = feature.frame, feature.shape
    axes = np.array([[vector[i] for i in within.axes] for vector in (frame.along, frame.across, frame.into)])
    origin = np.array([float(frame.origin[i]) for i in within.axes])
    nearest = int(np.argmax(np.abs(axes[2])))
    lean = float(np.degrees(np.arccos(min(1.0, abs(float(axes[2][nearest]))))))
    low, high = np.array([float(v) for v in within.low]), np.array([float(v) for v in within.high])
    words = Shaping(op=feature.op, called=feature.called, low=within.low, high=within.high, sort="turned", axis=nearest, by=feature.by,
                    lean=lean, told=told)
    if not isinstance(shape, Block) or (isinstance(shape, Block) and shape.toward is not None):
        return words
    ends = [origin + float(a) * axes[0] + float(b) * axes[1] + float(c) * axes[2] for a in shape.along for b in shape.across for c in shape.into]
    starts = [ends[i] for i in range(0, 8, 2)]
    depths = [point[nearest] for point in ends]
    # Wholly through, or from one of the two faces: the mouth lies in the face that the block reaches beyond.
    side = -1 if min(depths) <= low[nearest] + 1e-6 else 1
    plane = low[nearest] if side < 0 else high[nearest]
    mouth = np.array([start + (plane - start[nearest]) / axes[2][nearest] * axes[2] for start in starts])
    inner = [min(max(depth, low[nearest]), high[nearest]) for depth in depths]
    first, last = np.maximum(mouth.min(axis=0), low), np.minimum(mouth.max(axis=0), high)
    first[nearest], last[nearest] = (low[nearest], max(inner)) if side < 0 else (min(inner), high[nearest])
    if (last - first <= 1e-6).any() or nearest == 0:
        return words
    return Shaping(op=feature.op, called=feature.called, low=_three([_exact(v) for v in first]), high=_three([_exact(v) for v in last]),
                   sort="block", by=feature.by, lean=lean, told=told)


def _exact(value: float) -> Fraction:
    return Fraction(round(float(value) * 1024), 1024)


def _direction(feature: Feature, within: Blank, name: str) -> int:
    """Which of the part's directions one of the feature's own axes runs in."""
    vector = {"along": feature.frame.along, "across": feature.frame.across, "into": feature.frame.into}[name]
    plan = next(i for i in range(3) if vector[i] != 0)
    return within.axes.index(plan)


def _corners(shape: Prism) -> tuple[FlatPoint, ...]:
    return tuple((float(point.x), float(point.y)) for point in shape.outline)


def _curve(shape: Prism) -> tuple[FlatPoint, ...]:
    """The outline with its arcs, fine enough to measure a rise to 1/1024 in."""
    try:
        return tuple((float(x), float(y)) for x, y in polygon(shape.outline, Fineness(0.0005, 24)).corners)
    except OutlineFault:
        return _corners(shape)


def _outline(feature: Feature, corners: tuple[FlatPoint, ...], within: Blank, axis: int) -> tuple[FlatPoint, ...]:
    rest = [i for i in range(3) if i != axis]
    frame = feature.frame
    points = []
    for x, y in corners:
        plan = [float(frame.origin[i]) + x * frame.along[i] + y * frame.across[i] for i in range(3)]
        own = [plan[within.axes[i]] for i in rest]
        points.append((own[0], own[1]))
    return tuple(points)


def _sawn(feature: Feature) -> Feature:
    if feature.sawn is None:
        return feature
    return Feature(feature.op, feature.called, feature.sawn, feature.frame, feature.by, face=feature.face)


def _extent(feature: Feature, axis: int) -> list[Fraction]:
    """Where a feature lies on a plan axis; a hole reaches half its diameter to both sides."""
    places = list(feature_places(feature, axis))
    shape = feature.shape
    if isinstance(shape, Bore):
        vectors = {"along": feature.frame.along, "across": feature.frame.across, "into": feature.frame.into}
        if vectors[shape.toward][axis] == 0:
            radius = max(shape.diameter, shape.end_diameter or shape.diameter).inches / 2
            return [places[0] - radius, places[0] + radius]
    if isinstance(shape, Prism) and feature.frame.into[axis] == 0:
        vector = feature.frame.along if feature.frame.along[axis] else feature.frame.across
        which = 0 if feature.frame.along[axis] else 1
        origin, sign = feature.frame.origin[axis].inches, int(vector[axis])
        reached = [point[which] for point in _curve(shape)]
        for value in (min(reached), max(reached)):
            place = origin + sign * Fraction(round(value * 1024), 1024)
            # A corner's place is exact; only an arc's crown is read from the curve.
            if min(abs(corner - place) for corner in places) > Fraction(1, 700):
                places.append(place)
    return places


def _three(values: list[Fraction] | tuple[Fraction, ...]) -> Three:
    return values[0], values[1], values[2]


def opens(shaping: Shaping, within: Blank) -> set[Side]:
    """The sides of the part at which a cut is open."""
    sides: set[Side] = set()
    for i in range(3):
        if shaping.sort == "prism" and i != shaping.axis:
            continue
        if shaping.sort == "hole" and i != shaping.axis:
            continue
        if shaping.low[i] <= within.box_low[i]:
            sides.add((i, -1))
        if shaping.high[i] >= within.box_high[i]:
            sides.add((i, 1))
    return sides


def beyond(s: Shaping, within: Blank) -> bool:
    """True when a cut lies wholly in what has grown from the part, such as a kerf in a tenon."""
    return s.op == "cut" and any(s.high[i] <= within.box_low[i] or s.low[i] >= within.box_high[i] for i in range(3))
