"""Parts as they stand: corners, faces and planes of square and tilted parts, in the plan and in their own coordinates.

In: a part's written box, its pose, its level ends. Out: exact places for square parts, floats (inches) for tilted
ones. It knows nothing of joints.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.base.measures import MM_PER_INCH, ZERO, Length
from compiler.base.showing import Units, nearest
from compiler.values.design import DesignPart
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Box, Face, Span
from compiler.values.shapes import Frame, Pose, Vector

LOW_FACE: dict[Axis, Face] = {"across": "left", "deep": "front", "up": "bottom"}
HIGH_FACE: dict[Axis, Face] = {"across": "right", "deep": "back", "up": "top"}
INDEX: dict[Axis, int] = {"across": 0, "deep": 1, "up": 2}

TOUCH = 1 / 512
"""How far apart (inches) faces of tilted parts may be and still touch: twice the step of a length from trigonometry."""


def is_low(face: str) -> bool:
    """True for the faces where an axis begins: left, front, bottom."""
    return face in ("left", "front", "bottom")


def face_on(axis: Axis, low: bool) -> Face:
    """The face at the low or high end of an axis."""
    return LOW_FACE[axis] if low else HIGH_FACE[axis]


def opposite(face: Face) -> Face:
    """The face on the other side."""
    return face_on(AXIS_OF[face], not is_low(face))


def others(axis: Axis) -> tuple[Axis, Axis]:
    """The two other axes, in their usual order."""
    one, two = (name for name in AXES if name != axis)
    return one, two


def unit(axis: Axis, sign: int = 1) -> Vector:
    """The unit vector of an axis, turned round when sign is -1."""
    x, y, z = (float(sign) if name == axis else 0.0 for name in AXES)
    return x, y, z


def dot(one: Vector, two: Vector) -> float:
    """The dot product."""
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def turned(pose: Pose, direction: Vector) -> Vector:
    """A direction of the written part as it points in the plan."""
    x, y, z = (dot(row, direction) for row in pose.rotation)
    return x, y, z


def turned_back(pose: Pose, direction: Vector) -> Vector:
    """A direction in the plan, as the written part sees it."""
    x, y, z = (sum(pose.rotation[row][column] * direction[row] for row in range(3)) for column in range(3))
    return x, y, z


def placed(pose: Pose, point: Vector) -> Vector:
    """A point of the written part where it stands in the plan."""
    x, y, z = turned(pose, point)
    return x + pose.shift[0], y + pose.shift[1], z + pose.shift[2]


def placed_back(pose: Pose, point: Vector) -> Vector:
    """A point of the plan, in the coordinates of the written part."""
    moved = (point[0] - pose.shift[0], point[1] - pose.shift[1], point[2] - pose.shift[2])
    return turned_back(pose, moved)


def fine(value: float) -> Length:
    """A place from trigonometry (inches), exact at 2^-30 in: for frames, which nobody reads."""
    return Length(Fraction(round(value * 2**30), 2**30))


def made_exact(value: float, units: Units) -> Length:
    """A length from trigonometry (inches) made exact: 1/1024 in, or 0.01 mm in a metric edition."""
    if units == "inch":
        return Length(nearest(Fraction(value), Fraction(1, 1024)))
    return Length(nearest(Fraction(value) * MM_PER_INCH, Fraction(1, 100)) / MM_PER_INCH)


def frame_in(pose: Pose, frame: Frame) -> Frame:
    """A frame given in the plan, in the coordinates of a written part."""
    if pose.square:
        return frame
    x, y, z = placed_back(pose, (float(frame.origin[0]), float(frame.origin[1]), float(frame.origin[2])))
    along, across, into = (_clean(turned_back(pose, axis)) for axis in (frame.along, frame.across, frame.into))
    return Frame((fine(x), fine(y), fine(z)), along, across, into)


def frame_out(pose: Pose, frame: Frame) -> Frame:
    """A frame given in a written part's coordinates, in the plan."""
    if pose.square:
        return frame
    x, y, z = placed(pose, (float(frame.origin[0]), float(frame.origin[1]), float(frame.origin[2])))
    along, across, into = (_clean(turned(pose, axis)) for axis in (frame.along, frame.across, frame.into))
    return Frame((fine(x), fine(y), fine(z)), along, across, into)


def _clean(axis: Vector) -> Vector:
    """An axis that is square but for the last bits of a float, made square."""
    x, y, z = (float(round(c)) if abs(c - round(c)) < 1e-12 else c for c in axis)
    return x + 0.0, y + 0.0, z + 0.0


@dataclass(frozen=True, slots=True)
class Plane:
    """All points p of the plan with normal · p = at (inches); the normal points out of the part."""

    normal: Vector
    at: float

    def beyond(self, point: Vector) -> float:
        """How far outside the plane a point lies, negative inside."""
        return dot(self.normal, point) - self.at


@dataclass(frozen=True, slots=True)
class Standing:
    """A part as it stands before joints: its box with the ends lengthened that are cut level, its pose."""

    part: DesignPart
    box: Box

    @property
    def reach(self) -> tuple[float, float, float, float, float, float]:
        """Where it begins and ends on each axis of the plan (inches): enough to tell what can't touch it."""
        corners = self.standing_corners()
        x, y, z = ([corner[i] for corner in corners] for i in range(3))
        return min(x), max(x), min(y), max(y), min(z), max(z)

    @property
    def name(self) -> str:
        """The part's full name."""
        return self.part.name

    @property
    def pose(self) -> Pose:
        """How it is tilted."""
        return self.part.pose

    @property
    def square(self) -> bool:
        """True when it stands as written."""
        return self.part.pose.square

    def plane(self, face: Face) -> Plane:
        """The plane of a face in the plan; that of a level end is level."""
        outward = -1 if is_low(face) else 1
        if face in self.part.level:
            return Plane(unit(AXIS_OF[face], outward), outward * float(self.part.box.face(face)))
        normal = turned(self.pose, unit(AXIS_OF[face], outward))
        return Plane(normal, dot(normal, placed(self.pose, self.corners(face)[0])))

    def corners(self, face: Face) -> tuple[Vector, Vector, Vector, Vector]:
        """The four corners of a face in the part's own coordinates, going round; a level end's on its level plane."""
        axis = AXIS_OF[face]
        one, two = others(axis)
        ring = (("start", "start"), ("end", "start"), ("end", "end"), ("start", "end"))
        points: list[Vector] = []
        for first, second in ring:
            at = {axis: float(self.box.face(face)), one: float(getattr(self.box.span(one), first)),
                  two: float(getattr(self.box.span(two), second))}
            points.append((at["across"], at["deep"], at["up"]))
        if face in self.part.level:
            points = [cut_by(level_plane(self.part, face), axis, point) for point in points]
        return points[0], points[1], points[2], points[3]

    def standing_corners(self) -> tuple[Vector, ...]:
        """All corners in the plan (of level ends, those on the level plane)."""
        seen: list[Vector] = []
        for face in ("bottom", "top"):
            seen.extend(placed(self.pose, point) for point in self.corners(face))
        return tuple(seen)


def level_plane(part: DesignPart, face: Face) -> Plane:
    """The plane that a level end is cut in, in the part's own coordinates."""
    outward = -1 if is_low(face) else 1
    world = unit(AXIS_OF[face], outward)
    return Plane(turned_back(part.pose, world), outward * float(part.box.face(face)) - dot(world, part.pose.shift))


def cut_by(plane: Plane, axis: Axis, point: Vector) -> Vector:
    """Where the line along an axis through a point meets a plane (all in one set of coordinates)."""
    index = INDEX[axis]
    along = plane.normal[index]
    rest = sum(plane.normal[i] * point[i] for i in range(3) if i != index)
    x, y, z = ((plane.at - rest) / along if i == index else point[i] for i in range(3))
    return x, y, z


def near(one: tuple[float, ...], two: tuple[float, ...], within: float = TOUCH) -> bool:
    """False when two reaches are farther apart than `within`: those parts neither touch nor overlap."""
    return all(one[i] <= two[i + 1] + within and two[i] <= one[i + 1] + within for i in (0, 2, 4))


def standing(part: DesignPart, units: Units) -> Standing:
    """The part with its level ends lengthened so far that the level cut takes a corner off, no more."""
    box = part.box
    for face in FACES:
        if face in part.level and not part.pose.square:
            axis = AXIS_OF[face]
            plain = Standing(part, box)
            ends = [point[INDEX[axis]] for point in plain.corners(face)]
            end = made_exact(min(ends) if is_low(face) else max(ends), units)
            box = with_face(box, face, end)
    return Standing(part, box)


def with_face(box: Box, face: Face, place: Length) -> Box:
    """The box with one face moved to a place."""
    axis = AXIS_OF[face]
    span = box.span(axis)
    moved = Span(place, span.end) if is_low(face) else Span(span.start, place)
    across, deep, up = (moved if name == axis else box.span(name) for name in AXES)
    return Box(across, deep, up)


def with_span(box: Box, axis: Axis, span: Span) -> Box:
    """The box with another extent on an axis."""
    across, deep, up = (span if name == axis else box.span(name) for name in AXES)
    return Box(across, deep, up)


def common(one: Span, two: Span) -> Span | None:
    """What two spans share, None when they don't overlap."""
    start, end = max(one.start, two.start), min(one.end, two.end)
    return Span(start, end) if end > start else None


def gap(one: Span, two: Span) -> Length:
    """How far two spans are apart; zero when they touch or overlap."""
    return max(ZERO, max(one.start, two.start) - min(one.end, two.end))
