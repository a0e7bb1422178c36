"""Where two parts meet: touching faces, shared corners, and how far apart they are when they don't meet.

In: two parts as they stand. Out: a `Meeting` with its frame in the acting part's own coordinates: `along` the longer
side of the contact, `across` the shorter, `into` from the acting part to the receiver. Exact for square parts; for
tilted parts the frame is floating and sizes are made exact (1/1024 in, 0.01 mm). It knows nothing of joint kinds.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import acos, degrees

from compiler.base.measures import ZERO, Angle, Length
from compiler.base.showing import Units
from compiler.stages.assemble.placing import (
    INDEX,
    TOUCH,
    Plane,
    Standing,
    common,
    cut_by,
    dot,
    face_on,
    frame_in,
    frame_out,
    is_low,
    made_exact,
    opposite,
    others,
    placed,
    placed_back,
    turned,
    turned_back,
    unit,
)
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Box, Face, Span
from compiler.values.shapes import AxisName, Frame, Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """One contact between two parts.

    `frame` stands in the acting part's own coordinates, `axes` are that part's axes for along, across and into,
    with `signs` +1 or -1. `face` is the acting part's face, `on` the receiver's. `depth` is nothing unless they
    overlap. `wedge` is how far back the receiver's face leans into the acting part (nothing for square work).
    """

    acting: Standing
    receiver: Standing
    frame: Frame
    axes: tuple[Axis, Axis, Axis]
    signs: tuple[int, int, int]
    length: Length
    width: Length
    depth: Length = ZERO
    face: Face
    on: Face
    lean: Angle = Angle(Fraction(0))
    wedge: Length = ZERO

    @property
    def plan_frame(self) -> Frame:
        """The frame in the plan's coordinates."""
        return frame_out(self.acting.pose, self.frame)

    @property
    def receiver_frame(self) -> Frame:
        """The frame in the receiver's own coordinates."""
        return frame_in(self.receiver.pose, self.plan_frame)

    def axis_name(self, axis: Axis) -> AxisName:
        """What one of the acting part's axes is called in the contact's frame."""
        names: tuple[AxisName, AxisName, AxisName] = ("along", "across", "into")
        return names[self.axes.index(axis)]


def meet(acting: Standing, receiver: Standing, units: Units) -> Meeting | None:
    """The contact of two parts whose faces touch, None when they don't."""
    if acting.square and receiver.square:
        return _meet_square(acting, receiver)
    return _meet_tilted(acting, receiver, units)


def _meet_square(acting: Standing, receiver: Standing) -> Meeting | None:
    for face in FACES:
        axis = AXIS_OF[face]
        if acting.box.face(face) != receiver.box.face(opposite(face)):
            continue
        one, two = others(axis)
        first = common(acting.box.span(one), receiver.box.span(one))
        second = common(acting.box.span(two), receiver.box.span(two))
        if first is not None and second is not None:
            return _meeting(acting, receiver, face, opposite(face), {one: first, two: second})
    return None


def _meeting(acting: Standing, receiver: Standing, face: Face, on: Face, region: dict[Axis, Span], *,
             lean: Angle | None = None, wedge: Length = ZERO) -> Meeting:
    """A meeting at the acting part's face over a region of it (spans on the two other axes)."""
    axis = AXIS_OF[face]
    one, two = region
    along, across = (one, two) if region[one].size >= region[two].size else (two, one)
    sign = -1 if is_low(face) else 1
    at = {axis: acting.box.face(face), along: region[along].start, across: region[across].start}
    frame = Frame((at["across"], at["deep"], at["up"]), unit(along), unit(across), unit(axis, sign))
    return Meeting(acting=acting, receiver=receiver, frame=frame, axes=(along, across, axis), signs=(1, 1, sign),
                   length=region[along].size, width=region[across].size, face=face, on=on,
                   lean=lean or Angle(Fraction(0)), wedge=wedge)


def _meet_tilted(acting: Standing, receiver: Standing, units: Units) -> Meeting | None:
    """The touching faces of parts of which one is tilted: in one plane, or at the acting part's long point."""
    for face in FACES:
        corners = tuple(placed(acting.pose, point) for point in acting.corners(face))
        own = acting.plane(face).normal
        for on in FACES:
            plane = receiver.plane(on)
            facing = -dot(own, plane.normal)
            if facing < 0.5:
                continue
            beyond = [plane.beyond(point) for point in corners]
            flat = all(abs(distance) < TOUCH for distance in beyond)
            if not flat and (abs(max(beyond)) >= TOUCH or face in acting.part.level):
                continue
            region = _shared_face(acting, receiver, face, on, units)
            if region is None:
                continue
            axis = AXIS_OF[face]
            outward = turned(acting.pose, unit(axis, -1 if is_low(face) else 1))
            cosine = -dot(outward, plane.normal)
            lean = Angle(Fraction(round(degrees(acos(min(1.0, cosine))) * 10**6), 10**6))
            wedge = ZERO
            if lean.degrees:
                wedge = made_exact(_lean_back(acting, face, region, plane.normal, plane.at), units)
            return _meeting(acting, receiver, face, on, region, lean=lean, wedge=wedge)
    return None


def _shared_face(acting: Standing, receiver: Standing, face: Face, on: Face, units: Units) -> dict[Axis, Span] | None:
    """What the acting part's face and the receiver's face share, seen along the acting part's own axis."""
    shared: dict[Axis, Span] = {}
    seen = [placed_back(acting.pose, placed(receiver.pose, point)) for point in receiver.corners(on)]
    for axis in others(AXIS_OF[face]):
        mine = acting.box.span(axis)
        places = [point[INDEX[axis]] for point in seen]
        low, high = min(places), max(places)
        start = mine.start if low <= float(mine.start) + TOUCH else made_exact(low, units)
        end = mine.end if high >= float(mine.end) - TOUCH else made_exact(high, units)
        if float(end - start) <= TOUCH:
            return None
        shared[axis] = Span(start, end)
    return shared


def _lean_back(acting: Standing, face: Face, region: dict[Axis, Span], normal: Vector, at: float) -> float:
    """How far the receiver's plane lies behind the acting part's face (inches), at the corner of the region where most."""
    own = turned_back(acting.pose, normal)
    plane = Plane(own, at - dot(normal, acting.pose.shift))
    axis = AXIS_OF[face]
    one, two = region
    deepest = 0.0
    for first in (region[one].start, region[one].end):
        for second in (region[two].start, region[two].end):
            place = {axis: 0.0, one: float(first), two: float(second)}
            on_plane = cut_by(plane, axis, (place["across"], place["deep"], place["up"]))[INDEX[axis]]
            inward = float(acting.box.face(face)) - on_plane
            deepest = max(deepest, -inward if is_low(face) else inward)
    return deepest


def overlap(one: Standing, two: Standing) -> Box | None:
    """The box that two square parts share, None when they share none."""
    spans = [common(one.box.span(axis), two.box.span(axis)) for axis in AXES]
    if any(span is None for span in spans):
        return None
    across, deep, up = (span for span in spans if span is not None)
    return Box(across, deep, up)


def share(acting: Standing, receiver: Standing) -> Meeting | None:
    """The shared corner of two square parts written at full length over each other, None when they don't overlap.

    Frames, whose thickness lies on one axis: `into` is that thickness, from front to back, left to right, bottom to
    top. Panels that cross: `into` is the axis that both stand on, bottom to top. Carcase corners: `into` is the axis of the
    receiver's thickness, towards the acting part's end. `along` is the longer of the two other sides of the overlap.
    """
    box = overlap(acting, receiver)
    if box is None:
        return None
    thickness = receiver.part.thickness_axis
    sign = 1
    other = acting.part.thickness_axis
    if other != thickness and _runs_through(acting, box, thickness) and _runs_through(receiver, box, other):
        thickness = next(axis for axis in AXES if axis not in (thickness, other))
    elif other != thickness:
        mine, shared = acting.box.span(thickness), box.span(thickness)
        ahead, behind = mine.end - shared.end, shared.start - mine.start
        sign = 1 if behind >= ahead else -1
    one, two = others(thickness)
    along, across = (one, two) if box.span(one).size >= box.span(two).size else (two, one)
    start = box.span(thickness).start if sign > 0 else box.span(thickness).end
    at = {thickness: start, along: box.span(along).start, across: box.span(across).start}
    frame = Frame((at["across"], at["deep"], at["up"]), unit(along), unit(across), unit(thickness, sign))
    face = face_on(thickness, sign < 0)
    return Meeting(acting=acting, receiver=receiver, frame=frame, axes=(along, across, thickness), signs=(1, 1, sign),
                   length=box.span(along).size, width=box.span(across).size, depth=box.span(thickness).size,
                   face=face, on=opposite(face))


def _runs_through(part: Standing, shared: Box, axis: Axis) -> bool:
    """True when a part runs on past the overlap at both ends of an axis."""
    mine, common_span = part.box.span(axis), shared.span(axis)
    return mine.start < common_span.start and mine.end > common_span.end
