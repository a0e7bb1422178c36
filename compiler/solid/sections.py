"""Solids cut by a plane.

In: a part's body and a plane. Out: the arrays of what is left behind the plane, and the number of the cut face.
It must not know about cameras or wood signs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from compiler.solid.building import CRUMB, Body
from compiler.solid.geometry import Geometry, pack
from compiler.solid.meshes import Floats, Mesh, Registry, box_mesh
from compiler.values.shapes import Vector


@dataclass(frozen=True, slots=True)
class Section:
    """A cutting plane: points p with normal · p = at (inches). What lies on the normal's side is taken away.

    The normal (a unit vector) usually points to the reader.
    """

    normal: Vector
    at: float


def across_axis(axis: int, at: float, toward_high: bool) -> Section:
    """The section across a plan axis (0 across, 1 deep, 2 up); the high or the low side is taken away."""
    sign = 1.0 if toward_high else -1.0
    normal = [0.0, 0.0, 0.0]
    normal[axis] = sign
    return Section((normal[0], normal[1], normal[2]), sign * at)


@lru_cache(maxsize=1024)
def cut_solid(body: Body, section: Section) -> tuple[Geometry | None, int]:
    """What is left of a solid, and its cut face's number (-1 when the plane misses it). None: nothing is left."""
    geometry = body.geometry
    if not len(geometry.corners):
        return None, -1
    reach = geometry.corners @ np.array(section.normal) - section.at
    if reach.max() <= 1e-9:
        return geometry, -1
    if reach.min() >= -1e-9:
        return None, -1
    registry = Registry(list(body.registry.surface_of), list(body.registry.surfaces))
    face = len(registry.surface_of)
    cutter = _half_space(section, geometry, registry)
    left = body.manifold - cutter.solid()
    if left.volume() < CRUMB:
        return None, -1
    return pack(left, registry), face


def _half_space(section: Section, geometry: Geometry, registry: Registry) -> Mesh:
    """A box on the normal's side of the plane, large enough for the solid; its first face is the cut."""
    w = np.array(section.normal)
    u = np.cross(w, np.eye(3)[int(np.argmin(np.abs(w)))])
    u /= np.linalg.norm(u)
    axes = np.array([u, np.cross(w, u), w])
    middle = (geometry.low + geometry.high) / 2
    size = float(np.linalg.norm(geometry.high - geometry.low)) + 1.0
    foot: Floats = middle - (middle @ w - section.at) * w
    mesh = box_mesh((-size, -size, 0.0), (size, size, 2 * size), registry)
    corners = mesh.corners @ axes + foot
    if np.abs(w).max() > 1 - 1e-12:
        # A square cut stays exactly in its plane.
        axis = int(np.argmax(np.abs(w)))
        corners[:4, axis] = section.at * w[axis]
    return Mesh(corners, mesh.triangles, mesh.faces)


