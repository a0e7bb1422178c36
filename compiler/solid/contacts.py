"""Where parts touch: flat faces that lie on each other, pegs in their holes.

In: solids. Out: contacts with their patches: area, direction, place. It must not know about joints or glue.

Flat contacts are exact: two faces with opposite normals in one plane, their common area. Round ones are read from the
surfaces' axes and radii, as facets of two circles seldom match.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from compiler.solid.building import Solids
from compiler.solid.checking import TOLERANCE, near_pairs
from compiler.solid.geometry import Geometry
from compiler.solid.meshes import FLAT, Floats, Integers
from compiler.values.shapes import Vector

# Faces that share less than this (square inches) touch along a line.
SPECK = 1e-5


@dataclass(frozen=True, slots=True)
class ContactPatch:
    """One connected place of contact: square inches, the box (low, high) it lies in.

    `normal` points out of the first part into the second; for a round contact it is the axis, and `round` is set.
    """

    area: float
    normal: Vector
    low: Vector
    high: Vector
    round: bool = False

    @property
    def middle(self) -> Vector:
        """The middle of its box."""
        return (
            (self.low[0] + self.high[0]) / 2, (self.low[1] + self.high[1]) / 2, (self.low[2] + self.high[2]) / 2
        )


@dataclass(frozen=True, slots=True)
class Contact:
    """Two parts that touch, and where. `first` comes before `second` in the parts' order."""

    first: str
    second: str
    patches: tuple[ContactPatch, ...]

    @property
    def area(self) -> float:
        """Square inches in all."""
        return sum(patch.area for patch in self.patches)

    @property
    def pull(self) -> Vector:
        """Area times normal over all flat patches: the cheeks of a joint cancel, what is left is its axis."""
        total = [0.0, 0.0, 0.0]
        for patch in self.patches:
            if not patch.round:
                for axis in range(3):
                    total[axis] += patch.area * patch.normal[axis]
        return total[0], total[1], total[2]


@dataclass(frozen=True, slots=True, eq=False)
class _Planes:
    """A solid's flat faces by plane: normals, offsets, boxes, and the triangles of each plane."""

    normals: Floats
    offsets: Floats
    low: Floats
    high: Floats
    members: tuple[Integers, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Round:
    """A cylinder's surface: a point and direction of its axis, radius, +1 when its wood is inside, area, reach."""

    point: Floats
    direction: Floats
    radius: float
    sense: int
    area: float
    start: float
    end: float
    low: Floats
    high: Floats


def contacts(solids: Solids, *, tolerance: float = TOLERANCE) -> tuple[Contact, ...]:
    """Every pair of parts that share an area of contact, faces at most `tolerance` (inches) apart."""
    found = ((first.name, second.name, _touching(first.geometry, second.geometry, tolerance)) for first, second in near_pairs(solids, tolerance))
    return tuple(Contact(first, second, patches) for first, second, patches in found if patches)


@lru_cache(maxsize=16384)
def _touching(one: Geometry, two: Geometry, tolerance: float) -> tuple[ContactPatch, ...]:
    """The patches of two solids: pictures of the same parts ask for them again and again."""
    patches = [*_round_patches(one, two, tolerance), *_flat_patches(one, two, _facing(one, two, tolerance))]
    return tuple(sorted(patches, key=lambda patch: (patch.low, patch.high, patch.normal)))


def _facing(one: Geometry, two: Geometry, tolerance: float) -> list[tuple[int, int]]:
    """Planes of two solids that look at each other, lie together, and whose boxes share more than a line."""
    first, second = _planes(one), _planes(two)
    facing = first.normals @ second.normals.T < -1 + 1e-6
    facing &= np.abs(first.offsets[:, None] + second.offsets[None]) <= tolerance
    mine, other = np.nonzero(facing)
    shared = np.minimum(first.high[mine], second.high[other]) - np.maximum(first.low[mine], second.low[other])
    wide = (shared >= -tolerance).all(axis=1) & ((shared > 1e-6).sum(axis=1) >= 2)
    return list(zip(mine[wide].tolist(), other[wide].tolist(), strict=True))


def _flat_patches(one: Geometry, two: Geometry, facing: list[tuple[int, int]]) -> Iterator[ContactPatch]:
    """What pairs of planes share."""
    normals = [_planes(one).normals[mine] for mine, _ in facing]
    axes = [int(np.abs(normal).argmax()) for normal in normals]
    faces = [(_face(one, mine, axis), _face(two, other, axis)) for (mine, other), axis in zip(facing, axes, strict=True)]
    if not faces:
        return
    pieces, row = shapely.get_parts(shapely.intersection(*np.array(faces, dtype=object).T), return_index=True)
    for piece, index, area in zip(pieces, row.tolist(), shapely.area(pieces).tolist(), strict=True):
        normal, axis = normals[index], axes[index]
        size = area / abs(float(normal[axis]))
        if size < SPECK:
            continue
        kept = [i for i in range(3) if i != axis]
        ring = shapely.get_coordinates(piece)
        corners = np.zeros((len(ring), 3))
        corners[:, kept] = ring
        offset = _planes(one).offsets[facing[index][0]]
        corners[:, axis] = (offset - ring @ normal[kept]) / normal[axis]
        yield ContactPatch(round(size, 6), _vector(normal), _vector(corners.min(axis=0)), _vector(corners.max(axis=0)))


def _vector(values: Floats) -> Vector:
    x, y, z = (round(value, 6) + 0.0 for value in values.tolist())
    return x, y, z


@lru_cache(maxsize=4096)
def _planes(geometry: Geometry) -> _Planes:
    flat = np.flatnonzero(geometry.surfaces_at == FLAT)
    normals = geometry.normals[flat]
    offsets = (normals * geometry.corners[geometry.triangles[flat, 0]]).sum(axis=1)
    keys = np.round(np.column_stack([normals, offsets]), 5) + 0.0
    order = np.lexsort(keys.T)
    fresh = (np.diff(keys[order], axis=0) != 0).any(axis=1)
    members = tuple(flat[rows] for rows in np.split(order, np.flatnonzero(fresh) + 1)) if len(flat) else ()
    boxes = [geometry.corners[geometry.triangles[rows]].reshape(-1, 3) for rows in members]
    lead = np.array([rows[0] for rows in members], dtype=np.int64)
    return _Planes(
        geometry.normals[lead].reshape(-1, 3),
        (geometry.normals[lead] * geometry.corners[geometry.triangles[lead, 0]]).sum(axis=1),
        np.array([box.min(axis=0) for box in boxes]).reshape(-1, 3),
        np.array([box.max(axis=0) for box in boxes]).reshape(-1, 3),
        members,
    )


@lru_cache(maxsize=16384)
def _face(geometry: Geometry, plane: int, axis: int) -> shapely.Geometry:
    """All of a solid's wood in one plane, seen along an axis."""
    rows = _planes(geometry).members[plane]
    kept = [i for i in range(3) if i != axis]
    triangles = shapely.polygons(geometry.corners[geometry.triangles[rows]][:, :, kept])
    if len(triangles) == 1:
        return triangles[0]
    # Triangles of one solid share whole sides, which makes their union cheap; a sliver may spoil that.
    try:
        face = shapely.coverage_union_all(triangles)
    except shapely.errors.GEOSException:
        return shapely.union_all(triangles)
    return face if shapely.is_valid(face) else shapely.union_all(triangles)


def _round_patches(one: Geometry, two: Geometry, tolerance: float) -> list[ContactPatch]:
    patches = []
    for mine in _rounds(one):
        for other in _rounds(two):
            if mine.sense == other.sense or abs(mine.radius - other.radius) > tolerance:
                continue
            along = float(mine.direction @ other.direction)
            apart = other.point - mine.point
            aside = apart - (apart @ mine.direction) * mine.direction
            if abs(along) < 1 - 1e-6 or float(np.linalg.norm(aside)) > tolerance:
                continue
            shift = float(apart @ mine.direction)
            ends = sorted((shift + along * other.start, shift + along * other.end))
            reach = min(mine.end, ends[1]) - max(mine.start, ends[0])
            if reach <= tolerance:
                continue
            area = min(
                mine.area * reach / (mine.end - mine.start), other.area * reach / (other.end - other.start)
            )
            low, high = np.maximum(mine.low, other.low), np.minimum(mine.high, other.high)
            patches.append(ContactPatch(
                round(area, 6), _vector(mine.direction), _vector(np.minimum(low, high)), _vector(np.maximum(low, high)),
                round=True,
            ))
    return patches


@lru_cache(maxsize=4096)
def _rounds(geometry: Geometry) -> tuple[_Round, ...]:
    """The cylinders that are left on a solid."""
    found = []
    for index in sorted(set(geometry.surfaces_at.tolist()) - {FLAT}):
        surface = geometry.surfaces[index]
        if surface.cone:
            continue
        rows = np.flatnonzero(geometry.surfaces_at == index)
        corners = geometry.corners[geometry.triangles[rows]]
        point, direction = np.array(surface.point), np.array(surface.direction)
        heights = (corners - point) @ direction
        size = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
        away = corners.mean(axis=1) - point
        away -= (away @ direction)[:, None] * direction
        outward = float(((geometry.normals[rows] * away).sum(axis=1) * size).sum())
        flat = corners.reshape(-1, 3)
        found.append(_Round(
            point, direction, surface.radius, 1 if outward > 0 else -1, float(size.sum() / 2),
            float(heights.min()), float(heights.max()), flat.min(axis=0), flat.max(axis=0),
        ))
    return tuple(found)
