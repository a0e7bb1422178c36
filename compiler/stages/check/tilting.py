"""Tilted parts: how they are turned, how much longer their level ends make them, where their faces are.

In: a part's tilts and its box as written. Out: a Pose in the plan's coordinates, lengths made exact again at 1/1024 in or 0.01 mm.
Floats live here and in the pose, nowhere else in `check`. The box stays the one that was written.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import cast

from compiler.base.measures import Angle, Length, inch, mm
from compiler.base.showing import Units, nearest
from compiler.stages.check.copies import Copy
from compiler.stages.check.rules import PartRule
from compiler.stages.check.scope import HIGH, LOW, OPPOSITE, Piece, Scope
from compiler.values.model import AXES, AXIS_OF, Axis, Box, Face, Span
from compiler.values.shapes import Pose, Vector

Matrix = tuple[Vector, Vector, Vector]
_INDEX = {"across": 0, "deep": 1, "up": 2}


def exact_again(value: float, units: Units) -> Length:
    """A length from trigonometry, in inches, made exact: to 1/1024 in, or 0.01 mm."""
    if units == "inch":
        return inch(nearest(Fraction(value), Fraction(1, 1024)))
    return mm(nearest(Fraction(value) * Fraction(254, 10), Fraction(1, 100)))


def pose_of(scope: Scope, rule: PartRule, box: Box, flipped: tuple[Axis, ...]) -> Pose:
    """How the piece in `box` stands; `flipped` are the axes on which it is a mirror image of the one written."""
    pose = Pose()
    for spoken in rule.tilts:
        tilt = spoken.tree
        angle = cast(Angle, scope.work.tree_value(tilt.angle, spoken.sized, scope.lookup(), "angle"))
        faces = [_seen(face, flipped) for face in (tilt.face, tilt.goes, *tilt.edge)]
        face, goes, *edge = faces
        axes = {AXIS_OF[each] for each in edge}
        if len(axes) != 2 or AXIS_OF[face] == AXIS_OF[goes] or {AXIS_OF[face], AXIS_OF[goes]} != axes:
            raise scope.work.refuse("tilt", f"`{rule.name}` can't be tilted so: the edge must run square to the way `{tilt.face}` goes.", spoken.at,
                                    "Name a face, the side it goes to, and an edge of those two directions: bottom by 10 deg to front about top front edge.")
        if not 0 < angle.degrees < 90:
            raise scope.work.refuse("tilt", f"A tilt is more than 0 and less than 90 deg; this is {angle.degrees}.", spoken.at, "Write 10 deg.")
        pose = _then(pose, _turn(box, face, goes, (edge[0], edge[1]), math.radians(float(angle))))
    return pose


def reach_of(scope: Scope, rule: PartRule, box: Box, pose: Pose, flipped: tuple[Axis, ...]) -> tuple[tuple[Face, Length], ...]:
    """How much longer each level end makes the part, along its own axis: to the far corner of the cut."""
    found = []
    for word, at in rule.level:
        if word not in AXIS_OF:
            raise scope.work.refuse("unknown-face", f"`{word}` is no face.", at, "Faces: left right front back bottom top.")
        face = _seen(word, flipped)
        axis = AXIS_OF[face]
        index = _INDEX[axis]
        plane, slope = float(box.face(face)), pose.rotation[index][index]
        if slope < 0.1:
            raise scope.work.refuse("level", f"`{rule.name}` is turned too far for its {word} to be cut level.", at, "Leave that end out of `level`.")
        sign = -1 if face in LOW.values() else 1
        reaches = []
        for corner in _face_corners(box, face):
            seen = _apply(pose, corner)
            reaches.append(sign * (plane - seen[index]) / slope)
        found.append((face, exact_again(max(reaches), scope.work.edition)))
    return tuple(found)


def leaning_face(scope: Scope, rule: PartRule, copy: Copy, axis: Axis, neighbour: Piece, face: Face) -> Length:
    """Where a piece that runs up to a tilted neighbour's face reaches it: at its long point."""
    spans: dict[Axis, Span] = {each: Span(scope.face_of(neighbour, LOW[each]), scope.face_of(neighbour, HIGH[each])) for each in AXES}
    box = Box(spans["across"], spans["deep"], spans["up"])
    flipped = _flips(scope, neighbour)
    pose = pose_of(neighbour.scope, neighbour.rule, box, flipped)
    others = [each for each in AXES if each != axis]
    ends = {each: (scope.face(rule, copy, LOW[each]), scope.face(rule, copy, HIGH[each])) for each in others}
    own = _INDEX[AXIS_OF[face]]
    normal = tuple(row[own] for row in pose.rotation)
    point = _apply(pose, _on_face(box, face))
    index = _INDEX[axis]
    if abs(normal[index]) < 0.1:
        at = rule.extents[axis].at if axis in rule.extents else rule.at
        raise scope.work.refuse("leaning", f"The {face} of `{neighbour.name}` leans away too far to be reached.", at, "Give this end a place of its own.")
    places = []
    for first in ends[others[0]]:
        for second in ends[others[1]]:
            rest = sum(normal[_INDEX[each]] * (float(end) - point[_INDEX[each]]) for each, end in zip(others, (first, second), strict=True))
            places.append(point[index] - rest / normal[index])
    reached = min(places) if face == HIGH[axis] else max(places)
    return exact_again(reached, scope.work.edition)


def leaning_end(scope: Scope, neighbour: Piece, axis: Axis, face: Face) -> tuple[Angle, Face] | None:
    """The bevel that an end needs to fit a tilted neighbour's face: its angle, and the face at which it is long.

    None for a neighbour that leans in two directions. A neighbour that stands square on this face has an angle of nothing.
    """
    spans: dict[Axis, Span] = {each: Span(scope.face_of(neighbour, LOW[each]), scope.face_of(neighbour, HIGH[each])) for each in AXES}
    flipped = _flips(scope, neighbour)
    pose = pose_of(neighbour.scope, neighbour.rule, Box(spans["across"], spans["deep"], spans["up"]), flipped)
    normal = [row[_INDEX[AXIS_OF[face]]] for row in pose.rotation]
    leans = [each for each in AXES if each != axis and abs(normal[_INDEX[each]]) > 1e-9]
    if not leans:
        return Angle(Fraction(0)), LOW[next(each for each in AXES if each != axis)]
    if len(leans) > 1:
        return None
    other = leans[0]
    slope = -normal[_INDEX[other]] / normal[_INDEX[axis]]
    degrees = nearest(Fraction(math.degrees(math.atan(abs(slope)))), Fraction(1, 1000))
    low_end = face == HIGH[axis]
    long_at = LOW[other] if (slope > 0) == low_end else HIGH[other]
    return Angle(degrees), long_at


def _flips(scope: Scope, piece: Piece) -> tuple[Axis, ...]:
    """The axes on which a piece is a mirror image, seen from a scope."""
    flips = set(piece.copy.mirrored)
    inner = piece.scope
    while inner is not scope:
        assert inner.use is not None
        flips ^= set(inner.use.copy.mirrored)
        inner = inner.use.scope
    return tuple(axis for axis in AXES if axis in flips)


def _seen(face: str, flipped: tuple[Axis, ...]) -> Face:
    known = cast(Face, face)
    return OPPOSITE[known] if AXIS_OF[known] in flipped else known


def _outward(face: Face) -> Vector:
    vector = [0.0, 0.0, 0.0]
    vector[_INDEX[AXIS_OF[face]]] = -1.0 if face in LOW.values() else 1.0
    return (vector[0], vector[1], vector[2])


def _turn(box: Box, face: Face, goes: Face, edge: tuple[Face, Face], angle: float) -> Pose:
    """The turn that moves `face` towards `goes`, about an edge of the written box."""
    first, second = _outward(face), _outward(goes)
    cos, sin = math.cos(angle), math.sin(angle)
    rows = []
    for row in range(3):
        cells = []
        for column in range(3):
            along_first, along_second = first[column], second[column]
            new = (along_first * (cos * first[row] + sin * second[row]) + along_second * (cos * second[row] - sin * first[row]))
            still = (1.0 if row == column else 0.0) - first[row] * along_first - second[row] * along_second
            cells.append(new + still)
        rows.append((cells[0], cells[1], cells[2]))
    rotation = (rows[0], rows[1], rows[2])
    pivot = [0.0, 0.0, 0.0]
    for each in edge:
        pivot[_INDEX[AXIS_OF[each]]] = float(box.face(each))
    turned = _rotate(rotation, (pivot[0], pivot[1], pivot[2]))
    return Pose(rotation, (pivot[0] - turned[0], pivot[1] - turned[1], pivot[2] - turned[2]))


def _rotate(rotation: Matrix, point: Vector) -> Vector:
    values = [sum(row[index] * point[index] for index in range(3)) for row in rotation]
    return (values[0], values[1], values[2])


def _apply(pose: Pose, point: Vector) -> Vector:
    turned = _rotate(pose.rotation, point)
    return (turned[0] + pose.shift[0], turned[1] + pose.shift[1], turned[2] + pose.shift[2])


def _then(first: Pose, second: Pose) -> Pose:
    rows = [[sum(second.rotation[row][inner] * first.rotation[inner][column] for inner in range(3)) for column in range(3)] for row in range(3)]
    rotation = ((rows[0][0], rows[0][1], rows[0][2]), (rows[1][0], rows[1][1], rows[1][2]), (rows[2][0], rows[2][1], rows[2][2]))
    return Pose(rotation, _apply(second, first.shift))


def _face_corners(box: Box, face: Face) -> list[Vector]:
    axis = AXIS_OF[face]
    others = [each for each in AXES if each != axis]
    found = []
    for first in (box.span(others[0]).start, box.span(others[0]).end):
        for second in (box.span(others[1]).start, box.span(others[1]).end):
            point = [0.0, 0.0, 0.0]
            point[_INDEX[axis]] = float(box.face(face))
            point[_INDEX[others[0]]], point[_INDEX[others[1]]] = float(first), float(second)
            found.append((point[0], point[1], point[2]))
    return found


def _on_face(box: Box, face: Face) -> Vector:
    return _face_corners(box, face)[0]
