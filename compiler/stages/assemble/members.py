"""The contact as a kind of joint sees it: two members in the contact's own frame.

In: a meeting. Out: a `Contact`, exact; for a tilted part, where it begins and ends along the middle of the contact.
"""

from __future__ import annotations

from typing import Literal

from compiler.base.measures import Length
from compiler.stages.assemble.contacts import Meeting
from compiler.stages.assemble.placing import (
    INDEX,
    Standing,
    dot,
    fine,
    unit,
)
from compiler.values.joinery import Contact, Member
from compiler.values.model import AXES, AXIS_OF, FACES
from compiler.values.shapes import AxisName, Frame


def contact_of(meeting: Meeting) -> Contact:
    """The contact as a joint kind sees it."""
    return Contact(acting=_member(meeting, meeting.acting, True), receiver=_member(meeting, meeting.receiver, False),
                   length=meeting.length, width=meeting.width, depth=meeting.depth, lean=meeting.lean)


def _member(meeting: Meeting, standing: Standing, acts: bool) -> Member:
    part = standing.part
    spans = _spans_in_frame(meeting, standing)
    depth = meeting.depth - spans[2][0] if acts else spans[2][1]
    return Member(name=part.name, stock=part.stock, grain=_grain(meeting, standing),
                  thickness=standing.box.span(part.thickness_axis).size, depth=depth, along=spans[0], across=spans[1], edges=_edges(meeting, standing))


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


def _edges(meeting: Meeting, standing: Standing) -> tuple[str, str]:
    """The part's faces at the low and the high end of the contact's `across`."""
    frame = meeting.frame if standing is meeting.acting else meeting.receiver_frame
    if not frame.square:
        return "", ""
    index = next(number for number in range(3) if frame.across[number])
    low, high = (face for face in FACES if AXIS_OF[face] == AXES[index])
    return (low, high) if frame.across[index] > 0 else (high, low)


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
