"""Where two parts meet: touching faces, shared corners, and how far apart they are when they don't meet.

In: two parts as they stand. Out: a `Meeting` with its frame in the acting part's own coordinates: `along` the longer
side of the contact, `across` the shorter, `into` from the acting part to the receiver. Exact for square parts; for
tilted parts the frame is floating and sizes are made exact (1/1024 in, 0.01 mm). It knows nothing of joint kinds.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import acos, degrees
from typing import Literal

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
    fine,
    frame_in,
    frame_out,
    gap,
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
from compiler.values.joinery import Contact, Member
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


def contact_of(meeting: Meeting) -> Contact:
    """The contact as a joint kind sees it."""
    return Contact(acting=_member(meeting, meeting.acting, True), receiver=_member(meeting, meeting.receiver, False),
                   length=meeting.length, width=meeting.width, depth=meeting.depth, lean=meeting.lean)


def _member(meeting: Meeting, standing: Standing, acts: bool) -> Member:
    part = standing.part
    spans = _spans_in_frame(meeting, standing)
    depth = meeting.depth - spans[2][0] if acts else spans[2][1]
    return Member(name=part.name, stock=part.stock, grain=_grain(meeting, standing),
                  thickness=standing.box.span(part.thickness_axis).size, depth=depth, along=spans[0], across=spans[1])


def _spans_in_frame(meeting: Meeting, standing: Standing) -> list[tuple[Length, Length]]:
    """Where a part starts and ends on the three axes of the contact's frame."""
    frame = meeting.frame if standing is meeting.acting else meeting.receiver_frame
    spans: list[tuple[Length, Length]] = []
    for number, axis in enumerate((frame.along, frame.across, frame.into)):
        if frame.square:
            index = next(i for i in range(3) if axis[i])
            name, sign = AXES[index], int(axis[index])
            span, origin = standing.box.span(name), frame.origin[index]
            ends = (span.start - origin, span.end - origin)
            spans.append(ends if sign > 0 else (-ends[1], -ends[0]))
        else:
            spans.append(_slice(meeting, standing, frame, number))
    return spans


def _slice(meeting: Meeting, standing: Standing, frame: Frame, number: int) -> tuple[Length, Length]:
    """Where a part that stands askew begins and ends along a line through the middle of the contact."""
    axes = (frame.along, frame.across, frame.into)
    middle = (float(meeting.length) / 2, float(meeting.width) / 2, 0.0)
    start = [float(frame.origin[i]) + axes[0][i] * middle[0] + axes[1][i] * middle[1] for i in range(3)]
    # a step inside, so that the line along the contact runs within the part and not on its face
    if number != 2:
        step = 1 / 64 if standing is meeting.receiver else -1 / 64
        start = [start[i] + axes[2][i] * step for i in range(3)]
    low, high = float("-inf"), float("inf")
    for name in AXES:
        index = INDEX[name]
        speed = axes[number][index]
        if abs(speed) < 1e-9:
            continue
        span = standing.box.span(name)
        ends = sorted((float(place) - start[index]) / speed for place in (span.start, span.end))
        low, high = max(low, ends[0]), min(high, ends[1])
    return fine(low + middle[number]), fine(high + middle[number])


def _grain(meeting: Meeting, standing: Standing) -> AxisName | Literal[""]:
    part = standing.part
    if part.grain == "any" or part.stock.kind == "sheet":
        return ""
    frame = meeting.frame if standing is meeting.acting else meeting.receiver_frame
    direction = unit(part.grain)
    names: tuple[AxisName, AxisName, AxisName] = ("along", "across", "into")
    for name, axis in zip(names, (frame.along, frame.across, frame.into), strict=True):
        if abs(dot(direction, axis)) > 0.9:
            return name
    return ""


@dataclass(frozen=True, slots=True)
class Miss:
    """By how much two square parts miss each other: on one axis, between two faces. `by` below nothing = they overlap."""

    receiver: Standing
    axis: Axis
    acting_face: Face
    receiver_face: Face
    by: Length


def miss(acting: Standing, receivers: tuple[Standing, ...]) -> Miss | None:
    """The receiver that an acting part comes nearest to, and how far it stays away; None when nothing square is there.

    Judged by the sum of the gaps on the three axes; an overlap counts as none.
    """
    found: list[tuple[Length, int, Miss]] = []
    for number, receiver in enumerate(receivers):
        if not (acting.square and receiver.square):
            continue
        gaps = {axis: gap(acting.box.span(axis), receiver.box.span(axis)) for axis in AXES}
        total = gaps["across"] + gaps["deep"] + gaps["up"]
        if total:
            axis = max(AXES, key=lambda name: gaps[name])
            before = acting.box.span(axis).end <= receiver.box.span(axis).start
            found.append((total, number, Miss(receiver, axis, face_on(axis, not before), face_on(axis, before), gaps[axis])))
            continue
        inner = {axis: common(acting.box.span(axis), receiver.box.span(axis)) for axis in AXES}
        sizes = {axis: span.size if span else ZERO for axis, span in inner.items()}
        axis = min(AXES, key=lambda name: sizes[name])
        before = acting.box.span(axis).start < receiver.box.span(axis).start
        found.append((sizes[axis], number, Miss(receiver, axis, face_on(axis, not before), face_on(axis, before), -sizes[axis])))
    return min(found, key=lambda entry: entry[:2])[2] if found else None
