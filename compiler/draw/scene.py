"""The chosen parts as one set of arrays in view coordinates: moved apart, cut by a section, turned to the reader.

In: bodies, a camera, moves, a section. Out: a Scene. It must not know about lines, fills or paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from compiler.draw.cameras import Camera
from compiler.solid.building import Body
from compiler.solid.geometry import Geometry
from compiler.solid.meshes import Floats, Integers
from compiler.solid.sections import Section, cut_solid
from compiler.values.shapes import Vector

# A facet whose normal is nearer than this to the picture's plane is seen edge-on: neither front nor cover.
EDGE_ON = 1e-6
# Triangles under this doubled area on the picture (square inches) cover nothing.
SPECK = 1e-9


Shown = tuple[tuple[str, Body], ...]
"""Bodies by the names of their parts."""


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Triangles and edges of all parts seen. `points` are (right, up, toward the reader) in inches.

    `facets` are plan normals, `normals` the same in view coordinates; `owner` and `edge_owner` index `names`;
    `curve` numbers curved surfaces throughout the scene (-1: flat); `cap` marks triangles on the cutting plane; `front` those that face the reader; `covers` index the front
    triangles with an area on the picture, `areas` those doubled areas.
    """

    names: tuple[str, ...]
    points: Floats
    triangles: Integers
    facets: Floats
    normals: Floats
    owner: Integers
    curve: Integers
    cap: NDArray[np.bool_]
    edges: Integers
    sides: Integers
    classes: NDArray[np.int8]
    edge_owner: Integers
    front: NDArray[np.bool_]
    covers: Integers
    areas: Floats


def stage(shown: Shown, moves: Sequence[Vector], camera: Camera, section: Section | None) -> Scene:
    """The scene of some bodies, each moved (none when there are no moves) after the section is cut."""
    chosen: list[tuple[str, Geometry, int]] = []
    moved: list[Vector] = []
    for index, (name, body) in enumerate(shown):
        geometry, face = (body.geometry, -1) if section is None else cut_solid(body, section)
        if geometry is not None and len(geometry.triangles):
            chosen.append((name, geometry, face))
            moved.append(moves[index] if moves else (0.0, 0.0, 0.0))
    return _packed(chosen, np.array(moved, dtype=np.float64).reshape(-1, 3), basis_of(camera))


def basis_of(camera: Camera) -> Floats:
    """The directions of view coordinates as rows: right, up, toward the reader."""
    return np.array([camera.right, camera.up, camera.toward])


def _packed(chosen: list[tuple[str, Geometry, int]], moved: Floats, basis: Floats) -> Scene:
    geometries = [geometry for _, geometry, _ in chosen]
    numbers = np.arange(len(chosen))
    corner_counts = [len(geometry.corners) for geometry in geometries]
    triangle_counts = [len(geometry.triangles) for geometry in geometries]
    corner_base = np.concatenate([[0], np.cumsum(corner_counts)]).astype(np.int64)
    triangle_base = np.concatenate([[0], np.cumsum(triangle_counts)]).astype(np.int64)
    owner = np.repeat(numbers, triangle_counts)
    edge_owner = np.repeat(numbers, [len(geometry.edges) for geometry in geometries])
    corners = _joined([geometry.corners for geometry in geometries], (0, 3), np.float64)
    points = (corners + moved[np.repeat(numbers, corner_counts)]) @ basis.T
    triangles = _joined([geometry.triangles for geometry in geometries], (0, 3), np.int64)
    triangles = triangles + corner_base[owner][:, None]
    edges = _joined([geometry.edges for geometry in geometries], (0, 2), np.int64)
    edges = edges + corner_base[edge_owner][:, None]
    sides = _joined([geometry.sides for geometry in geometries], (0, 2), np.int64)
    sides = sides + triangle_base[edge_owner][:, None]
    facets = _joined([geometry.normals for geometry in geometries], (0, 3), np.float64)
    normals = facets @ basis.T
    curves = _joined([geometry.surfaces_at for geometry in geometries], (0,), np.int64)
    curve_base = np.concatenate([[0], np.cumsum([len(geometry.surfaces) for geometry in geometries])]).astype(np.int64)
    cap = _joined([geometry.faces == face for _, geometry, face in chosen], (0,), np.bool_)
    front = normals[:, 2] > EDGE_ON
    a, b, c = (points[triangles[:, i], :2] for i in range(3))
    doubled = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    covers = np.flatnonzero(front & (doubled > SPECK))
    return Scene(
        tuple(name for name, _, _ in chosen), points, triangles, facets, normals, owner,
        np.where(curves < 0, -1, curves + curve_base[owner]), cap, edges, sides,
        _joined([geometry.classes for geometry in geometries], (0,), np.int8), edge_owner, front,
        covers, doubled[covers],
    )


def _joined(arrays: list[NDArray], empty: tuple[int, ...], kind: type) -> NDArray:  # type: ignore[type-arg]
    return np.concatenate(arrays) if arrays else np.zeros(empty, dtype=kind)
