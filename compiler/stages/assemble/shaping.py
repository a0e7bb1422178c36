"""What gives a part its shape before joints and workings: level ends, ends bevelled to fit, mitred runs, mouldings.

In: a part as it stands, the contacts of its joints. Out: features in the part's own coordinates, in the order in which
they are worked: what grows, then what is cut. Sizes are exact, slanting frames are floating.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from compiler.base.measures import ZERO, Length
from compiler.base.report import Findings
from compiler.base.showing import Units
from compiler.stages.assemble.contacts import Meeting
from compiler.stages.assemble.growth import block_feature
from compiler.stages.assemble.placing import (
    Plane,
    Standing,
    fine,
    is_low,
    level_plane,
    opposite,
    others,
    turned_back,
    unit,
    with_span,
)
from compiler.stages.assemble.profiles import profile_outline
from compiler.values.model import AXIS_OF, FACES, Axis, Face, Span, Working
from compiler.values.shapes import Block, Feature, Frame, OutlinePoint, Prism, Vector


def shape_features(standing: Standing, meetings: Sequence[Meeting], units: Units, findings: Findings) -> tuple[Feature, ...]:
    """The features that shape a part: first what it is longer by, then what is cut off slanting."""
    grows: list[Feature] = []
    cuts: list[Feature] = []
    part = standing.part
    for face in FACES:
        if face in part.level and not standing.square:
            grows.extend(_lengthened(standing, face))
            cuts.append(_off(standing, level_plane(part, face), "level end", face))
    cuts.extend(fitted_ends(standing, meetings).values())
    cuts.extend(_mitred_ends(standing))
    if part.profile:
        cuts.extend(_moulded(standing, units, findings))
    return (*grows, *dict.fromkeys(cuts))


def fitted_ends(standing: Standing, meetings: Sequence[Meeting]) -> dict[Face, Feature]:
    """The cuts that fit a part's ends to leaning neighbours, in the very plane of the neighbour's face."""
    return {meeting.face: _off(standing, _receiver_plane(meeting), "bevelled end", meeting.face) for meeting in meetings
            if meeting.acting.name == standing.name and meeting.wedge and meeting.face not in standing.part.level}


def fitted_workings(workings: Sequence[Working], ends: Mapping[Face, Feature]) -> tuple[Working, ...]:
    """Mitres at fitted ends keep their values for the drawings; the cut itself is that of the neighbour's plane."""
    return tuple(replace(working, features=()) if working.kind == "mitre" and all(face in ends for face in working.where.split(", "))
                 else working for working in workings)


def _lengthened(standing: Standing, face: Face) -> list[Feature]:
    """The wood by which a level end is longer than written."""
    axis = AXIS_OF[face]
    was, now = standing.part.box.face(face), standing.box.face(face)
    low, high = min(was, now), max(was, now)
    longer = now < was if is_low(face) else now > was
    return [block_feature("grow", "level end", with_span(standing.box, axis, Span(low, high)), "shape", face)] if longer else []


def _receiver_plane(meeting: Meeting) -> Plane:
    """The receiver's face, turned to point out of the acting part, in the acting part's coordinates."""
    plane = meeting.receiver.plane(meeting.on)
    own = turned_back(meeting.acting.pose, plane.normal)
    at = plane.at - sum(plane.normal[i] * meeting.acting.pose.shift[i] for i in range(3))
    return Plane((-own[0], -own[1], -own[2]), -at)


def _off(standing: Standing, plane: Plane, called: str, face: Face) -> Feature:
    """All wood beyond a plane (in the part's own coordinates), as a block large enough."""
    axis = AXIS_OF[face]
    one, _ = others(axis)
    box = standing.box
    middle: Vector = tuple(float(box.span(name).start + box.span(name).end) / 2 for name in ("across", "deep", "up"))  # type: ignore[assignment]
    distance = plane.at - sum(plane.normal[i] * middle[i] for i in range(3))
    origin = tuple(fine(middle[i] + plane.normal[i] * distance) for i in range(3))
    along = _square_to(plane.normal, unit(one))
    across = _cross(plane.normal, along)
    reach = box.across.size + box.deep.size + box.up.size
    block = Block((-reach, reach), (-reach, reach), (ZERO, reach))
    return Feature("cut", called, block, Frame((origin[0], origin[1], origin[2]), along, across, plane.normal), "shape", face=face)


def _square_to(normal: Vector, wish: Vector) -> Vector:
    """The unit vector nearest to a wish that is square to a normal."""
    share = sum(normal[i] * wish[i] for i in range(3))
    x, y, z = (wish[i] - share * normal[i] for i in range(3))
    size = (x * x + y * y + z * z) ** 0.5
    return x / size, y / size, z / size


def _cross(one: Vector, two: Vector) -> Vector:
    return (one[1] * two[2] - one[2] * two[1], one[2] * two[0] - one[0] * two[2], one[0] * two[1] - one[1] * two[0])


def outer_face(standing: Standing) -> Face:
    """The outer face of a piece of a run: the one of its thickness axis that it is called by, else the front or left."""
    axis: Axis = standing.part.thickness_axis
    for face in FACES:
        if AXIS_OF[face] == axis and standing.part.name.split(".")[-1].split()[0] == face:
            return face
    return next(face for face in FACES if AXIS_OF[face] == axis)


def _mitred_ends(standing: Standing) -> list[Feature]:
    """The mitres of a piece of a run: long at its outer face, 45 degrees."""
    part = standing.part
    outer = outer_face(standing)
    thickness = standing.box.span(part.thickness_axis).size
    cuts: list[Feature] = []
    for end, how in part.run_ends:
        face = next((name for name in FACES if name == end), None)
        if face is None or how not in ("mitre", "mitred"):
            continue
        cuts.append(corner_prism(standing, "mitre", opposite(outer), face, (OutlinePoint(ZERO, ZERO), OutlinePoint(thickness, ZERO), OutlinePoint(ZERO, thickness))))
    return cuts


def corner_prism(standing: Standing, called: str, one: Face, two: Face, outline: tuple[OutlinePoint, ...]) -> Feature:
    """An outline at the edge of two faces (x inward from the first, y inward from the second), swept along the edge."""
    third = next(axis for axis in ("across", "deep", "up") if axis not in (AXIS_OF[one], AXIS_OF[two]))
    sweep: Axis = "across" if third == "across" else "deep" if third == "deep" else "up"
    at: dict[str, Length] = {AXIS_OF[one]: standing.box.face(one), AXIS_OF[two]: standing.box.face(two), sweep: standing.box.span(sweep).start}
    frame = Frame((at["across"], at["deep"], at["up"]), unit(AXIS_OF[one], 1 if is_low(one) else -1),
                  unit(AXIS_OF[two], 1 if is_low(two) else -1), unit(sweep))
    return Feature("cut", called, Prism(outline, (ZERO, standing.box.span(sweep).size)), frame, "shape", face=two)


def _moulded(standing: Standing, units: Units, findings: Findings) -> list[Feature]:
    """The profile of a moulding, along its upper outer edge."""
    part = standing.part
    outline = profile_outline(part.profile, units)
    if outline is None:
        findings.error("unknown-profile", f"There is no profile `{part.profile}`.", part.at.key("profile"),
                       "There are ogee, cove, round-over, bead, chamfer and step, each with a size: ogee 3/4.")
        return []
    outer = outer_face(standing)
    size = max(point.x for point in outline)
    if size >= standing.box.span(part.thickness_axis).size:
        findings.error("working-outside", f"The profile {part.profile} is deeper than `{part.name}` is thick.", part.at.key("profile"),
                       "Take a smaller one.")
        return []
    return [corner_prism(standing, "profile", outer, "top", outline)]
