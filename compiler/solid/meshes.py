"""Shapes as closed triangle meshes, every facet knowing the surface it belongs to.

In: a Shape in its Frame. Out: corner coordinates in the part's own coordinates, triangles turned outward, a face
number for each flat facet and a description of each curved surface. It must not know about parts or booleans.

Coordinates are rounded to 1e-10 in, so that two ways of reaching the same place give the same float.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import manifold3d
import numpy as np
import shapely
from numpy.typing import NDArray

from compiler.solid.outlines import Fineness, OutlineFault, Polygon, circle, polygon
from compiler.values.shapes import Block, Bore, Frame, Prism, Shape, Vector

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]

DIGITS = 10
FLAT = -1


@dataclass(frozen=True, slots=True)
class Surface:
    """A curved surface: the angle between two neighbouring facets, a point and direction of its axis, its radius.

    A cone has its larger radius and `cone` set.
    """

    step: float
    point: Vector
    direction: Vector
    radius: float
    cone: bool = False


@dataclass(slots=True)
class Registry:
    """What the face numbers of one part mean. `surface_of[face]` is an index in `surfaces`, or FLAT."""

    surface_of: list[int] = field(default_factory=list)
    surfaces: list[Surface] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Mesh:
    """A closed mesh: corners (n, 3), triangles (m, 3) counterclockwise seen from outside, face number of each."""

    corners: Floats
    triangles: Integers
    faces: Integers

    def solid(self) -> manifold3d.Manifold:
        """The mesh as a solid of the kernel; its face numbers go with it through cuts and joins."""
        return manifold3d.Manifold(
            manifold3d.Mesh64(
                vert_properties=np.ascontiguousarray(self.corners),
                tri_verts=self.triangles.astype(np.uint64),
                face_id=self.faces.astype(np.uint64),
            )
        )


# Corners of a block are numbered by bits: 1 = far along, 2 = far across, 4 = far into.
_BLOCK_QUADS = ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5))
_BLOCK_TRIANGLES = np.array([t for a, b, c, d in _BLOCK_QUADS for t in ((a, b, c), (a, c, d))], dtype=np.int64)
_BLOCK_FACES = np.repeat(np.arange(6, dtype=np.int64), 2)
_TOWARD = {"along": 0, "across": 1, "into": 2}


def box_mesh(low: Vector, high: Vector, registry: Registry) -> Mesh:
    """A box between two corners."""
    return _block(np.array([[(low, high)[i >> bit & 1][bit] for bit in range(3)] for i in range(8)]), registry)


def shape_mesh(shape: Shape, frame: Frame, fineness: Fineness, registry: Registry) -> Mesh:
    """The shape as a mesh in the coordinates its frame is given in.

    Raises OutlineFault for a shape without volume or an outline that crosses itself.
    """
    if isinstance(shape, Block):
        mesh = _block(_block_corners(shape), registry)
    elif isinstance(shape, Bore):
        mesh = _bore(shape, fineness, registry)
    else:
        mesh = _prism(shape, fineness, registry)
    return _placed(mesh, frame, registry)


def _block(corners: Floats, registry: Registry) -> Mesh:
    first = len(registry.surface_of)
    registry.surface_of.extend([FLAT] * 6)
    corners = np.round(corners, DIGITS)
    kept, same = np.unique(corners, axis=0, return_inverse=True)
    if len(kept) == len(corners):
        return Mesh(corners, _BLOCK_TRIANGLES, _BLOCK_FACES + first)
    # A wedge: two pairs of corners fall into one edge, and the triangles between them are no faces.
    triangles = same.reshape(-1)[_BLOCK_TRIANGLES]
    faces = (triangles[:, 0] != triangles[:, 1]) & (triangles[:, 1] != triangles[:, 2]) & (triangles[:, 2] != triangles[:, 0])
    return Mesh(kept, triangles[faces], (_BLOCK_FACES + first)[faces])


def _block_corners(block: Block) -> Floats:
    spans = [sorted((float(span[0]), float(span[1]))) for span in (block.along, block.across, block.into)]
    toward = None if block.toward is None else _TOWARD[block.toward]
    others = [axis for axis in range(3) if axis != toward]
    wider = {axis: widening for axis, widening in zip(others, block.flare, strict=False)} if toward is not None else {}
    grown = [float(wider[axis].low) + float(wider[axis].high) if axis in wider else 0.0 for axis in range(3)]
    # It may begin or end in an edge, not both.
    if any(max(high - low, high - low + more) < 1e-9 for (low, high), more in zip(spans, grown, strict=True)):
        raise OutlineFault("a block has no thickness")
    corners = np.array([[spans[bit][i >> bit & 1] for bit in range(3)] for i in range(8)])
    if toward is not None:
        far = (np.arange(8) >> toward & 1).astype(bool)
        for axis, widening in wider.items():
            high = (np.arange(8) >> axis & 1).astype(bool)
            corners[far & ~high, axis] -= float(widening.low)
            corners[far & high, axis] += float(widening.high)
            if (corners[far & high, axis] - corners[far & ~high, axis]).min() < -1e-9:
                raise OutlineFault("a block narrows to less than nothing")
    return corners


def _bore(bore: Bore, fineness: Fineness, registry: Registry) -> Mesh:
    toward = _TOWARD[bore.toward]
    others = [axis for axis in range(3) if axis != toward]
    end_diameter = bore.diameter if bore.end_diameter is None else bore.end_diameter
    ends = [float(bore.diameter) / 2, float(end_diameter) / 2]
    span = [float(bore.span[0]), float(bore.span[1])]
    if span[0] > span[1]:
        span.reverse()
        ends.reverse()
    if max(ends) < 1e-9 or span[1] - span[0] < 1e-9:
        raise OutlineFault("a hole has no width or no depth")
    unit = circle(fineness.around(max(ends)))
    ring = np.array(unit.corners)
    count = len(ring)
    corners = np.zeros((2 * count, 3))
    for end in (0, 1):
        rows = slice(end * count, (end + 1) * count)
        # A cone's point still needs a ring; one of 1e-6 in loses nothing that shows.
        corners[rows, others[0]] = float(bore.at[0]) + ring[:, 0] * max(ends[end], 1e-6)
        corners[rows, others[1]] = float(bore.at[1]) + ring[:, 1] * max(ends[end], 1e-6)
        corners[rows, toward] = span[end]
    cap = np.array([(0, i, i + 1) for i in range(1, count - 1)], dtype=np.int64)
    first = len(registry.surface_of)
    surface = len(registry.surfaces)
    registry.surface_of.extend([FLAT, FLAT, *[surface] * count])
    slope = abs(ends[1] - ends[0]) / (span[1] - span[0])
    point, direction = [0.0] * 3, [0.0] * 3
    point[others[0]], point[others[1]], point[toward] = float(bore.at[0]), float(bore.at[1]), span[0]
    direction[toward] = 1.0
    registry.surfaces.append(
        Surface(
            unit.curves[0].step / (1 + slope**2) ** 0.5,
            (point[0], point[1], point[2]),
            (direction[0], direction[1], direction[2]),
            max(ends),
            ends[0] != ends[1],
        )
    )
    mesh = _swept(corners, cap, count, first)
    # Across is the odd one out: (along, into, across) is a left-handed order of axes.
    return Mesh(mesh.corners, mesh.triangles[:, ::-1], mesh.faces) if bore.toward == "across" else mesh


def _prism(prism: Prism, fineness: Fineness, registry: Registry) -> Mesh:
    flat: Polygon = polygon(prism.outline, fineness)
    low, high = sorted((float(prism.span[0]), float(prism.span[1])))
    if high - low < 1e-9:
        raise OutlineFault("an outline is swept through no depth")
    ring = np.round(np.array(flat.corners), DIGITS)
    if not shapely.LinearRing(ring).is_simple:
        raise OutlineFault("the outline crosses or touches itself")
    count = len(ring)
    cap = np.asarray(manifold3d.triangulate([ring]), dtype=np.int64)
    corners = np.vstack([np.column_stack([ring, np.full(count, low)]), np.column_stack([ring, np.full(count, high)])])
    first = len(registry.surface_of)
    base = len(registry.surfaces)
    registry.surface_of.extend([FLAT, FLAT, *(FLAT if curve < 0 else base + curve for curve in flat.curve_of)])
    registry.surfaces.extend(
        Surface(curve.step, (*curve.centre, low), (0.0, 0.0, 1.0), curve.radius) for curve in flat.curves
    )
    return _swept(corners, cap, count, first)


def _swept(corners: Floats, cap: Integers, count: int, first: int) -> Mesh:
    """Bottom and top (faces first, first + 1) and the strip of quads between two rings of `count` corners."""
    near = np.arange(count, dtype=np.int64)
    after = (near + 1) % count
    side = np.column_stack([near, after, after + count, near, after + count, near + count]).reshape(-1, 3)
    triangles = np.vstack([cap[:, ::-1], cap + count, side])
    faces = np.concatenate([
        np.full(len(cap), first), np.full(len(cap), first + 1), np.repeat(near + first + 2, 2)
    ])
    return Mesh(corners, triangles, faces)


def _placed(mesh: Mesh, frame: Frame, registry: Registry) -> Mesh:
    """The mesh moved into its frame; a left-handed frame turns its triangles, so that they still face outward."""
    axes = np.array([frame.along, frame.across, frame.into])
    origin = np.array([float(value) for value in frame.origin])
    corners = np.round(mesh.corners @ axes + origin, DIGITS)
    triangles = mesh.triangles if np.linalg.det(axes) > 0 else mesh.triangles[:, ::-1]
    used = sorted({registry.surface_of[face] for face in np.unique(mesh.faces).tolist()} - {FLAT})
    for index in used:
        surface = registry.surfaces[index]
        point, direction = np.array(surface.point) @ axes + origin, np.array(surface.direction) @ axes
        registry.surfaces[index] = Surface(
            surface.step, (point[0], point[1], point[2]), (direction[0], direction[1], direction[2]),
            surface.radius, surface.cone,
        )
    return Mesh(corners, triangles, mesh.faces)


