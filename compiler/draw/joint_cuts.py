"""Where a joint is cut for its detail: the plane that tells most, a window round the joint, the faces in it.

In: solids and one joint. Out: a `Cut`, in inches on its picture. It must not know paper. Dovetails and box joints are seen from
their face, outside the piece and without their neighbours: a section through them says nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from compiler.draw.bounds import Bounds
from compiler.draw.paint import Placing, area_of
from compiler.draw.views import Camera, Section, Seen, look
from compiler.solid.building import Solids
from compiler.solid.meshes import Floats
from compiler.values.model import JointUse, Model, Part
from compiler.values.shapes import Block, Vector

LEAST_MARGIN, MOST_MARGIN = 0.6, 0.8
PULL = 0.12
LONG = 2.2
FEW_TAILS = 4
SHOWN_TAILS = 2.7
LONG_CORNER = 8.0
FACED = ("dovetail", "box joint")


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut through a joint: what is seen, the window (inches on the picture), cut faces clipped to it, by part.

    `middle` is the plan point it was taken at; a face that is seen uncut has no `section`.
    """

    camera: Camera
    seen: Seen
    window: Bounds
    faces: tuple[tuple[str, BaseGeometry], ...]
    middle: Vector
    section: Section | None


def faced(joint: JointUse) -> bool:
    """True when a joint is told by its face."""
    return any(kind in joint.kind for kind in FACED)


def cut_of(model: Model, solids: Solids, joint: JointUse) -> Cut:
    """The cut, or the face, that tells most of a joint."""
    low, high = _joint_box(solids, joint)
    frame = joint.frame
    along, across, into = (np.array(v) for v in (frame.along, frame.across, frame.into))
    sizes = [float(np.abs(high - low) @ np.abs(v)) for v in (along, across, into)]
    middle = (low + high) / 2
    one, two = model.part(joint.acting), model.part(joint.receiver)
    margin = min(max(LEAST_MARGIN, float(max(one.thickness, two.thickness))), MOST_MARGIN)
    if faced(joint):
        return _window(solids, joint, _camera(across, solids.side(_vector(middle), _vector(across))), None, low, high, margin)
    if sizes[0] > LONG * max(sizes[1], sizes[2]):
        candidates = [along]
    else:
        candidates = [across, along]
    cuts = [_window(solids, joint, _camera(n), middle, low, high, margin) for n in candidates]
    cuts += [_window(solids, joint, _camera(along), place, low, high, margin) for place in _beside(joint, one, middle)]

    def told(cut: Cut) -> tuple[int, int, int]:
        both = {name for name, _ in cut.faces} >= {joint.acting, joint.receiver}
        # What leans is looked at so that its lean lies in the picture.
        return int(both), int(cut.camera.square_on), sum(len(shapely.get_coordinates(face)) for name, face in cut.faces if name in (joint.acting, joint.receiver))

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


def _camera(normal: Floats, sign: float = 0.0) -> Camera:
    """Looks against a direction times `sign`; for 0 so that the front, the right or the top is what the reader sees."""
    n = normal / np.linalg.norm(normal) * (sign or 1.0)
    i = int(np.argmax(np.abs(n)))
    wanted = -1.0 if i == 1 else 1.0
    if not sign and n[i] * wanted < 0:
        n = -n
    up = np.array([0.0, 1.0 if n[i] > 0 else -1.0, 0.0]) if i == 2 else np.array([0.0, 0.0, 1.0])
    right = np.cross(up, n)
    right /= np.linalg.norm(right)
    top = np.cross(n, right)
    return Camera(_vector(n), _vector(right), _vector(top))


def _vector(values: Floats) -> Vector:
    # Adding 0.0 turns a negative zero into a zero.
    return float(values[0]) + 0.0, float(values[1]) + 0.0, float(values[2]) + 0.0


def _break_long(window: list[float], joint: JointUse, camera: Camera) -> None:
    """Of a long corner with many tails or fingers two are shown, from its low or left end."""
    direction = camera.project(joint.frame.along)
    i = 0 if abs(direction[0]) > 0.5 else 1
    number = joint.value("tails")
    if isinstance(number, int) and number > FEW_TAILS and float(joint.length) > LONG_CORNER:
        window[i + 2] = window[i] + (window[i + 2] - window[i]) * SHOWN_TAILS / number


def _window(solids: Solids, joint: JointUse, camera: Camera, at: Floats | None, low: Floats, high: Floats, margin: float) -> Cut:
    basis = np.array([camera.right, camera.up])
    corners = np.array([[(low, high)[i][0], (low, high)[j][1], (low, high)[k][2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)]) @ basis.T
    window = [corners[:, 0].min() - margin, corners[:, 1].min() - margin, corners[:, 0].max() + margin, corners[:, 1].max() + margin]
    if at is None:
        _break_long(window, joint, camera)
    near = solids.near(_vector(low - margin), _vector(high + margin))
    if at is None:
        near = tuple(name for name in near if name in (joint.acting, joint.receiver))
    section = None
    if at is not None:
        section = Section(camera.toward, float(np.array(camera.toward) @ at) + 1e-4)
    seen = look(solids, camera, names=near, section=section)
    shapes = []
    patches = seen.caps if at is not None else seen.regions
    for patch in patches:
        shapes.append((patch.part, area_of(patch, Placing(1.0))))
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
    middle = (low + high) / 2 if at is None else at
    return Cut(camera, seen, (window[0], window[1], window[2], window[3]), faces, _vector(middle), section)


