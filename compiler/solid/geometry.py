"""The kernel's solid of a part as arrays that views and checks read.

In: a solid whose face numbers are registered. Out: corners, triangles with sound normals, and edges in four
classes. It must not know about parts, cameras or paper.

Edge classes: FLAT lies inside a plane and is never drawn; SMOOTH lies inside one curved surface and shows only
as a silhouette; TANGENT is where a curved surface runs smoothly into its neighbour along a line parallel to its axis;
SHARP is everything else, such as the mitre of two round-overs.
A fixed crease angle would lose raised-panel bevels and the fillets of mouldings, so the registry decides.
"""

from __future__ import annotations

from dataclasses import dataclass

import manifold3d
import numpy as np
from numpy.typing import NDArray

from compiler.solid.meshes import FLAT as PLANE
from compiler.solid.meshes import Floats, Integers, Registry, Surface

FLAT, SMOOTH, TANGENT, SHARP = 0, 1, 2, 3
PARALLEL = 1 - 1e-9
# Two neighbouring facets of one curve meet at its step; a flat that runs on tangentially meets it at half of that.
JOIN = 0.55


@dataclass(frozen=True, slots=True, eq=False)
class Geometry:
    """A solid as arrays, in plan inches.

    `corners` (n, 3); `triangles` (m, 3) counterclockwise from outside; `normals` (m, 3) of the facet that each
    triangle belongs to; `faces` (m) face numbers; `surfaces_at` (m) index in `surfaces` or -1 for a plane;
    `edges` (e, 2) corners; `sides` (e, 2) triangles on both sides; `classes` (e).
    """

    corners: Floats
    triangles: Integers
    normals: Floats
    faces: Integers
    surfaces_at: Integers
    surfaces: tuple[Surface, ...]
    edges: Integers
    sides: Integers
    classes: NDArray[np.int8]
    low: Floats
    high: Floats


def pack(solid: manifold3d.Manifold, registry: Registry) -> Geometry:
    """The arrays of a closed solid."""
    mesh = solid.to_mesh64()
    corners = np.array(mesh.vert_properties[:, :3], dtype=np.float64)
    same = np.arange(len(corners))
    same[np.asarray(mesh.merge_from_vert, dtype=np.int64)] = np.asarray(mesh.merge_to_vert, dtype=np.int64)
    triangles = same[np.asarray(mesh.tri_verts, dtype=np.int64)]
    faces = np.asarray(mesh.face_id, dtype=np.int64)
    normals = _facet_normals(corners, triangles, faces)
    edges, sides = _edges(triangles)
    surface_of = np.array([*registry.surface_of, PLANE], dtype=np.int64)
    steps = np.array([*(surface.step for surface in registry.surfaces), 0.0])
    surfaces_at = surface_of[faces]
    # A surface joins smoothly along a line of its own: along its axis.
    axes = np.array([*((0.0, 0.0, 0.0) if surface.cone else surface.direction for surface in registry.surfaces),
                     (0.0, 0.0, 0.0)])
    way = corners[edges[:, 1]] - corners[edges[:, 0]]
    way /= np.maximum(np.sqrt((way * way).sum(axis=1)), 1e-300)[:, None]
    along = np.abs((way[:, None] * axes[surfaces_at[sides]]).sum(axis=2)) > PARALLEL
    ruled = (along | (surfaces_at[sides] == PLANE)).all(axis=1)
    classes = _classes(normals, faces, surfaces_at, steps, sides, ruled)
    low = corners.min(axis=0) if len(corners) else np.zeros(3)
    high = corners.max(axis=0) if len(corners) else np.zeros(3)
    return Geometry(
        corners, triangles, normals, faces, surfaces_at, tuple(registry.surfaces), edges, sides, classes, low, high
    )


def _facet_normals(corners: Floats, triangles: Integers, faces: Integers) -> Floats:
    """Each triangle gets the normal of the largest triangle of its face: slivers have none of their own."""
    a, b, c = (corners[triangles[:, i]] for i in range(3))
    cross = np.cross(b - a, c - a)
    doubled = np.sqrt((cross * cross).sum(axis=1))
    order = np.lexsort((-doubled, faces))
    _, first, which = np.unique(faces[order], return_index=True, return_inverse=True)
    best = np.empty(len(faces), dtype=np.int64)
    best[order] = order[first][which]
    normals: Floats = cross[best] / np.maximum(doubled[best], 1e-300)[:, None]
    return normals


def _edges(triangles: Integers) -> tuple[Integers, Integers]:
    """Each undirected edge once, with the two triangles that share it."""
    count = len(triangles)
    starts = triangles.ravel()
    ends = triangles[:, [1, 2, 0]].ravel()
    owner = np.repeat(np.arange(count), 3)
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    order = np.lexsort((high, low))
    pair = order.reshape(-1, 2)
    return np.column_stack([low[pair[:, 0]], high[pair[:, 0]]]), owner[pair]


def _classes(
    normals: Floats, faces: Integers, surfaces_at: Integers, steps: Floats, sides: Integers, ruled: NDArray[np.bool_]
) -> NDArray[np.int8]:
    one, two = sides[:, 0], sides[:, 1]
    cosine = np.clip((normals[one] * normals[two]).sum(axis=1), -1, 1)
    first, second = surfaces_at[one], surfaces_at[two]
    same = (first == second) & (first >= 0)
    # steps[-1] is the plane's, 0.
    join = JOIN * (steps[first] + steps[second])
    classes = np.full(len(sides), SHARP, dtype=np.int8)
    classes[(np.arccos(cosine) < join) & ruled] = TANGENT
    classes[same] = SMOOTH
    classes[(faces[one] == faces[two]) | (cosine > PARALLEL)] = FLAT
    return classes
