"""Joint details: a joint cut through and drawn large, with its own sizes and the sign of each wood.

In: a model, its solids, one joint. Out: a Drawing at 1 : 1 or so: the cut faces in a window round the joint, broken off where the
parts run on. It must not know pages. Dovetails and box joints are seen from their face: a section through them says nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees
from typing import Literal

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from compiler.base.showing import Style, show
from compiler.draw import dimensions
from compiler.draw.bounds import Bounds, bounds
from compiler.draw.dimensions import Dimension, Manner, Room, lay_out, meets
from compiler.draw.lettering import SMALL, letter, size_runs
from compiler.draw.paint import Placing, area_of
from compiler.draw.pen import Pen
from compiler.draw.places import Places, of_parts
from compiler.draw.scales import Scale, legible
from compiler.draw.views import Camera, Section, Seen, look
from compiler.draw.woodsigns import Sign, sign
from compiler.solid.building import Solids
from compiler.solid.meshes import Floats
from compiler.values.figure import Drawing, Point
from compiler.values.model import AXES, JointUse, Model, Part
from compiler.values.shapes import Block, Vector

LEAST_MARGIN = 0.6
PULL = 0.12
LONG = 2.2
MOST = 5
LEAST_SCALE = Fraction(1, 5)
DISC = 2.7
FACED = ("dovetail", "box joint")
MANNER = Manner(first=10.0, pitch=7.5)


@dataclass(frozen=True, slots=True)
class _Cut:
    """A cut through a joint: what is seen, the window (inches on the picture), cut faces clipped to it, by part."""

    camera: Camera
    seen: Seen
    window: Bounds
    faces: tuple[tuple[str, BaseGeometry], ...]


def piece_of(model: Model, name: str) -> Part:
    """A part, or a loose piece that a joint brings along, by name. Raises KeyError."""
    return next((piece for piece in model.pieces if piece.name == name), None) or model.part(name)


def draw(model: Model, solids: Solids, joint: JointUse, *, width: float, height: float, style: Style, says: str = "") -> Drawing:
    """The detail at the largest scale that fits, from twice full size down to 1 : 4 (or 1 : 5)."""
    cut = _cut(model, solids, joint)
    made: dict[tuple[Scale, int], tuple[Pen, Bounds, tuple[str, ...]]] = {}

    def attempt(scale: Scale, most: int) -> tuple[Pen, Bounds, tuple[str, ...]]:
        if (scale, most) not in made:
            pen, letters = _drawn(model, joint, cut, scale.mm_per_inch, style, most)
            reach = bounds(pen.marks)
            assert reach is not None
            made[scale, most] = (pen, reach, letters)
        return made[scale, most]

    def fits(most_high: float, most: int) -> Callable[[Scale], bool]:
        def judge(scale: Scale) -> bool:
            if (cut.window[2] - cut.window[0]) * scale.mm_per_inch > width:
                return False
            box = attempt(scale, most)[1]
            return box[2] - box[0] <= width - 1 and box[3] - box[1] <= most_high - 1

        return judge

    # Sizes that part drawings give too are left out where that makes the detail larger than it would be with them.
    scale, most = legible(model.edition.units, lambda high: fits(high, MOST), height, 1.5), MOST
    for fewer in (3, 2):
        if scale.ratio >= LEAST_SCALE:
            break
        larger = legible(model.edition.units, lambda high, fewer=fewer: fits(high, fewer), height, 1.5)  # type: ignore[misc]
        if larger.ratio > scale.ratio:
            scale, most = larger, fewer
    pen, box, letters = attempt(scale, most)
    width = max(width, box[2] - box[0] + 1)
    final = Pen()
    final.add(pen.marks, ((width - (box[2] - box[0])) / 2 - box[0], 0.5 - box[1]))
    names = tuple(dict.fromkeys(name for name, _ in cut.faces))
    return final.drawing(width, box[3] - box[1] + 1, says, scale=scale.words, shows=names,
                         letters=letters)


# ---- the cut -----------------------------------------------------------------------------------------------------


def _cut(model: Model, solids: Solids, joint: JointUse) -> _Cut:
    low, high = _joint_box(solids, joint)
    frame = joint.frame
    along, across, into = (np.array(v) for v in (frame.along, frame.across, frame.into))
    sizes = [float(np.abs(high - low) @ np.abs(v)) for v in (along, across, into)]
    middle = (low + high) / 2
    one, two = model.part(joint.acting), model.part(joint.receiver)
    margin = max(LEAST_MARGIN, float(max(one.thickness, two.thickness)))
    if joint.kind in FACED or "dovetail" in joint.kind:
        normal = np.array(_unit(AXES.index(one.thickness_axis)))
        return _window(solids, joint, _camera(normal), None, low, high, margin)
    if sizes[0] > LONG * max(sizes[1], sizes[2]):
        candidates = [along]
    else:
        candidates = [across, along]
    cuts = [_window(solids, joint, _camera(n), middle, low, high, margin) for n in candidates]
    cuts += [_window(solids, joint, _camera(along), place, low, high, margin) for place in _beside(joint, one, middle)]

    def told(cut: _Cut) -> tuple[int, int]:
        both = {name for name, _ in cut.faces} >= {joint.acting, joint.receiver}
        return int(both), sum(len(shapely.get_coordinates(face)) for name, face in cut.faces if name in (joint.acting, joint.receiver))

    return max(cuts, key=told)


def _beside(joint: JointUse, acting: Part, middle: Floats) -> list[Floats]:
    """Where the first of several tenons or the like is to be cut: through its own middle, where that isn't the contact's."""
    origin, along = (np.array([float(v) for v in vector]) for vector in (joint.frame.origin, joint.frame.along))
    for feature in acting.features:
        if feature.by != joint.id or not isinstance(feature.shape, Block) or feature.op != "grow":
            continue
        start, end = feature.shape.along
        off = float(start + end) / 2 - float((middle - origin) @ along)
        return [middle + off * along] if abs(off) > 1e-6 else []
    return []


def _joint_box(solids: Solids, joint: JointUse) -> tuple[Floats, Floats]:
    """The box in which both parts' solids share space before they meet: their common box, seen round the contact."""
    one, two = solids[joint.acting], solids[joint.receiver]
    low = np.maximum(np.array(one.low), np.array(two.low))
    high = np.minimum(np.array(one.high), np.array(two.high))
    origin = np.array([float(v) for v in joint.frame.origin])
    far = origin + float(joint.length) * np.array(joint.frame.along) + float(joint.width) * np.array(joint.frame.across)
    contact_low, contact_high = np.minimum(origin, far), np.maximum(origin, far)
    low, high = np.minimum(low, high), np.maximum(low, high)
    low, high = np.minimum(np.maximum(low, contact_low - 3), contact_high), np.maximum(np.minimum(high, contact_high + 3), contact_low)
    return np.minimum(low, contact_low), np.maximum(high, contact_high)


def _unit(axis: int) -> Vector:
    values = [0.0, 0.0, 0.0]
    values[axis] = 1.0
    return values[0], values[1], values[2]


def _camera(normal: Floats) -> Camera:
    """Looks against a direction, turned so that the front, the right or the top is what the reader sees."""
    n = normal / np.linalg.norm(normal)
    i = int(np.argmax(np.abs(n)))
    wanted = -1.0 if i == 1 else 1.0
    if n[i] * wanted < 0:
        n = -n
    up = np.array([0.0, 1.0, 0.0]) if i == 2 else np.array([0.0, 0.0, 1.0])
    right = np.cross(up, n)
    right /= np.linalg.norm(right)
    top = np.cross(n, right)
    return Camera(_vector(n), _vector(right), _vector(top))


def _vector(values: Floats) -> Vector:
    # Adding 0.0 turns a negative zero into a zero.
    return float(values[0]) + 0.0, float(values[1]) + 0.0, float(values[2]) + 0.0


def _window(solids: Solids, joint: JointUse, camera: Camera, at: Floats | None, low: Floats, high: Floats, margin: float) -> _Cut:
    basis = np.array([camera.right, camera.up])
    corners = np.array([[(low, high)[i][0], (low, high)[j][1], (low, high)[k][2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)]) @ basis.T
    window = [corners[:, 0].min() - margin, corners[:, 1].min() - margin, corners[:, 0].max() + margin, corners[:, 1].max() + margin]
    near = [solid.name for solid in solids.parts
            if np.all(np.array(solid.low) <= high + margin) and np.all(np.array(solid.high) >= low - margin)]
    section = None
    if at is not None:
        section = Section(camera.toward, float(np.array(camera.toward) @ at) + 1e-4)
    seen = look(solids, camera, names=near, section=section)
    shapes = []
    patches = seen.caps if at is not None else seen.regions
    whole = shapely.box(-1e4, -1e4, 1e4, 1e4)
    for patch in patches:
        shapes.append((patch.part, area_of(patch, Placing(1.0)).intersection(whole)))
    # A face near the window's edge pulls it there, so that the part is shown whole and not broken off by a hair.
    for name, shape in shapes:
        if name not in (joint.acting, joint.receiver) or shape.is_empty:
            continue
        for i, sign_ in ((0, -1), (1, -1), (2, 1), (3, 1)):
            face = shape.bounds[i]
            if 0 < (face - window[i]) * sign_ < margin / 2 or 0 <= (window[i] - face) * sign_ < margin / 2:
                window[i] = face + sign_ * PULL
    frame = shapely.box(*window)
    faces = tuple((name, shape.intersection(frame)) for name, shape in shapes if shape.intersection(frame).area > 0.01)
    return _Cut(camera, seen, (window[0], window[1], window[2], window[3]), faces)


# ---- drawing -------------------------------------------------------------------------------------------------


def _drawn(model: Model, joint: JointUse, cut: _Cut, scale: float, style: Style, most: int) -> tuple[Pen, tuple[str, ...]]:
    pen, room = Pen(), Room()
    placing = Placing(scale)
    window = tuple(v * scale for v in cut.window)
    frame = (window[0], window[1], window[2], window[3])
    wanted = _dimensions(model, joint, cut, scale, style, most)
    solid = shapely.union_all([face for _, face in cut.faces]).bounds
    view = tuple(v * scale for v in solid)
    layout = lay_out((view[0], view[1], view[2], view[3]), wanted, MANNER, room)
    dimensions.draw(pen, layout, MANNER)
    for turn, (name, face) in enumerate(cut.faces):
        part = piece_of(model, name)
        paper = shapely.affinity.scale(face, scale, scale, origin=(0, 0))
        for piece in getattr(paper, "geoms", (paper,)):
            if piece.geom_type != "Polygon":
                continue
            what, angle = sign_of(part, cut.camera)
            if joint.kind not in FACED and "dovetail" not in joint.kind:
                pen.lines("hatch", sign(piece, what, angle=angle, turn=turn, thickness=float(part.thickness)))
    if joint.kind in FACED or "dovetail" in joint.kind:
        _face_lines(pen, cut, placing, frame)
    for _, face in cut.faces:
        _outline(pen, shapely.affinity.scale(face, scale, scale, origin=(0, 0)), frame)
    return pen, _letters(pen, model, cut, scale, room)


def _face_lines(pen: Pen, cut: _Cut, placing: Placing, frame: Bounds) -> None:
    window = shapely.box(*frame)
    for line in cut.seen.lines:
        piece = shapely.LineString(placing.path(line.points)).intersection(window)
        pen.lines("edge", (tuple(part.coords) for part in getattr(piece, "geoms", (piece,)) if part.geom_type == "LineString"))


def _outline(pen: Pen, face: BaseGeometry, frame: Bounds) -> None:
    """The face's edges, with a thin zigzag where the window breaks it off."""
    for polygon in getattr(face, "geoms", (face,)):
        if polygon.geom_type != "Polygon":
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            run: list[Point] = []
            for a, b in pairwise(ring.coords):
                if _on_frame(a, b, frame):
                    if len(run) > 1:
                        pen.lines("outline", [run])
                    run = []
                    pen.lines("break", [_zigzag((a[0], a[1]), (b[0], b[1]))])
                else:
                    run = run or [(a[0], a[1])]
                    run.append((b[0], b[1]))
            if len(run) > 1:
                pen.lines("outline", [run])


def _on_frame(a: Sequence[float], b: Sequence[float], frame: Bounds) -> bool:
    return any(abs(a[i % 2] - frame[i]) < 1e-6 and abs(b[i % 2] - frame[i]) < 1e-6 for i in range(4))


def _zigzag(a: Point, b: Point) -> tuple[Point, ...]:
    """A break line with one zigzag in its middle."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = (dx * dx + dy * dy) ** 0.5
    if long < 3:
        return a, b
    ux, uy = dx / long, dy / long
    nx, ny = -uy * 1.2, ux * 1.2
    m = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)

    def at(t: float, side: float) -> Point:
        return m[0] + ux * t + nx * side, m[1] + uy * t + ny * side

    return (a[0] - ux, a[1] - uy), at(-0.9, 0), at(-0.35, 1), at(0.35, -1), at(0.9, 0), (b[0] + ux, b[1] + uy)


def sign_of(part: Part, camera: Camera) -> tuple[Sign, float]:
    """Which sign a cut face of a part has, and its direction on paper."""
    rotation = np.array(part.pose.rotation)
    toward = np.array(camera.toward)

    def angle(axis: int) -> float:
        vector = rotation @ np.array(_unit(axis))
        x, y = camera.project((float(vector[0]), float(vector[1]), float(vector[2])))
        return degrees(atan2(y, x))

    thick = AXES.index(part.thickness_axis)
    if part.stock.kind == "sheet":
        across = abs(float(rotation @ np.array(_unit(thick)) @ toward))
        return ("face", 0.0) if across > 0.7 else ("edge", angle(thick) + 90.0)
    grain = AXES.index(part.length_axis)
    lengthwise = abs(float((rotation @ np.array(_unit(grain))) @ toward))
    return ("end", 0.0) if lengthwise > 0.7 else ("along", angle(grain))


def _letters(pen: Pen, model: Model, cut: _Cut, scale: float, room: Room) -> tuple[str, ...]:
    """The letter of each part in its cut face on a white disc, away from the joint and from all lines; gives those drawn."""
    drawn: list[str] = []
    middle = ((cut.window[0] + cut.window[2]) / 2 * scale, (cut.window[1] + cut.window[3]) / 2 * scale)
    for name, face in cut.faces:
        part = piece_of(model, name)
        if not part.letter or part.letter in drawn:
            continue
        spot = _spot(shapely.affinity.scale(face, scale, scale, origin=(0, 0)).buffer(-DISC - 0.2), middle, room)
        if spot is None:
            continue
        pen.circle(spot, DISC, "leader", "balloon")
        pen.letter(letter((spot[0], spot[1] - SMALL / 2), part.letter, anchor="middle", weight="semibold", role="balloon"))
        room.texts.append((spot[0] - DISC, spot[1] - DISC, spot[0] + DISC, spot[1] + DISC))
        drawn.append(part.letter)
    return tuple(drawn)


def _spot(area: BaseGeometry, middle: Point, room: Room) -> Point | None:
    """The place in an area farthest from the joint that no line or number touches."""
    if area.is_empty:
        return None
    left, low, right, high = area.bounds
    best: tuple[float, Point] | None = None
    for i in range(13):
        for j in range(13):
            at = (left + (right - left) * i / 12, low + (high - low) * j / 12)
            away = (at[0] - middle[0]) ** 2 + (at[1] - middle[1]) ** 2
            if (best is not None and away <= best[0]) or not area.buffer(1e-6).contains(shapely.Point(at)):
                continue
            rect = (at[0] - DISC - 0.4, at[1] - DISC - 0.4, at[0] + DISC + 0.4, at[1] + DISC + 0.4)
            if not any(meets(rect, other) for other in (*room.texts, *room.lines, *room.thin)):
                best = (away, at)
    return best[1] if best else None


# ---- sizes ----------------------------------------------------------------------------------------------------


def _dimensions(model: Model, joint: JointUse, cut: _Cut, scale: float, style: Style, most: int) -> list[Dimension]:
    wanted: list[Dimension] = []
    faces: dict[str, BaseGeometry] = {}
    for name, face in cut.faces:
        faces[name] = faces[name].union(face) if name in faces else face
    if joint.acting not in faces or joint.receiver not in faces:
        return []
    for i in (0, 1):
        places = _places(model, cut.camera, i)
        coordinates: dict[float, tuple[float, float]] = {}
        for name in (joint.acting, joint.receiver):
            for x, y in shapely.get_coordinates(faces[name]):
                value, beside = (x, y) if i == 0 else (y, x)
                if abs(value - cut.window[i]) < 1e-6 or abs(value - cut.window[i + 2]) < 1e-6:
                    continue
                key = next((k for k in coordinates if abs(k - value) < 2e-3), round(float(value), 4))
                old = coordinates.get(key, (float(beside), float(beside)))
                coordinates[key] = (min(old[0], float(beside)), max(old[1], float(beside)))
        values = sorted(coordinates)
        if len(values) < 2:
            continue
        whole = (values[0], values[-1])
        given: set[Fraction] = set()
        own = faces[joint.acting].bounds

        def rank(step: tuple[float, float], i: int = i, own: Bounds = own) -> tuple[bool, float, float]:
            """What the entering part fills comes first, then the small ones."""
            return not (own[i] - 1e-3 <= step[0] and step[1] <= own[i + 2] + 1e-3), step[1] - step[0], step[0]

        steps = sorted(pairwise(values), key=rank)
        if len(steps) > 1:
            # The last is told by the others and the overall one.
            steps = steps[:-1][:most - 1]
        for start, end in [*steps, whole] if len(values) > 2 else [whole]:
            length = places.between(start, end)
            if length.inches in given or show(length, style).text == "0":
                continue
            given.add(length.inches)
            axis: Literal["x", "y"] = "x" if i == 0 else "y"
            reach = tuple((low * scale, high * scale) for low, high in (coordinates[start], coordinates[end]))
            wanted.append(Dimension(axis=axis, start=start * scale, end=end * scale, runs=size_runs(length, style),
                                    reach=(reach[0], reach[1]), outermost=(start, end) == whole and len(values) > 2,
                                    side="high" if (start, end) == whole and len(values) > 2 else "low"))
    return wanted


def _places(model: Model, camera: Camera, which: int) -> Places:
    direction = camera.right if which == 0 else camera.up
    axis = max(range(3), key=lambda k: abs(direction[k]))
    if abs(direction[axis]) < 1 - 1e-9:
        return Places(())
    return of_parts(model.parts, axis).turned(1 if direction[axis] > 0 else -1)
