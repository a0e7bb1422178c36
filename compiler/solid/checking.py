"""Solids against each other: parts that run into each other, gaps between parts, and what everything weighs.

In: solids (fine ones: coarse circles of the same radius but another turn overlap by their sagitta). Out: collisions
with their depth, gaps, weights. It must not know about joints or reports.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import manifold3d
import numpy as np
import shapely

from compiler.solid.building import CRUMB, PartSolid, Solids
from compiler.solid.meshes import Floats, Integers
from compiler.values.shapes import Vector

# Parts may run into each other by this much (inches) before it is a mistake: rounding and arithmetic.
TOLERANCE = 0.002
POUND = 0.45359237  # kilograms, exact (international yard and pound agreement of 1959)
INCH = 0.0254  # metres, exact


@dataclass(frozen=True, slots=True)
class Collision:
    """Two parts that fill the same space: volume (cubic inches), depth (inches: the way to push them apart), and
    the box (low, high) that the shared space lies in."""

    first: str
    second: str
    volume: float
    depth: float
    low: Vector
    high: Vector

    @property
    def at(self) -> Vector:
        """The middle of the shared space."""
        return (
            (self.low[0] + self.high[0]) / 2, (self.low[1] + self.high[1]) / 2, (self.low[2] + self.high[2]) / 2
        )


@dataclass(frozen=True, slots=True)
class Weight:
    """A part's volume (cubic inches) and mass (None when its stock's density is unknown)."""

    part: str
    volume: float
    kilograms: float | None

    @property
    def pounds(self) -> float | None:
        """The mass in pounds."""
        return None if self.kilograms is None else self.kilograms / POUND


def near_pairs(solids: Solids, within: float) -> Iterator[tuple[PartSolid, PartSolid]]:
    """Pairs of parts whose boxes are at most `within` apart (negative: overlap by more than that), in the parts' order."""
    parts = [solid for solid in solids.parts if solid.volume > CRUMB]
    if not parts:
        return
    low = np.array([solid.geometry.low for solid in parts])
    high = np.array([solid.geometry.high for solid in parts])
    close = ((low[:, None] <= high[None] + within) & (high[:, None] >= low[None] - within)).all(axis=2)
    for first, second in np.argwhere(np.triu(close, 1)).tolist():
        yield parts[first], parts[second]


def collisions(solids: Solids, *, tolerance: float = TOLERANCE) -> tuple[Collision, ...]:
    """Every pair of parts that run into each other by more than the tolerance, in the parts' order."""
    found = []
    for first, second in near_pairs(solids, -tolerance):
        shared = first.manifold ^ second.manifold
        if shared.volume() < CRUMB:
            # Touching solids share sheets without volume.
            continue
        pieces = [piece for piece in shared.decompose() if piece.volume() > CRUMB]
        depth = max((_depth(piece) for piece in pieces), default=0.0)
        if depth > tolerance:
            boxes = np.array([piece.bounding_box() for piece in pieces])
            low, high = boxes[:, :3].min(axis=0).tolist(), boxes[:, 3:].max(axis=0).tolist()
            found.append(Collision(
                first.name, second.name, sum(float(piece.volume()) for piece in pieces), depth,
                (low[0], low[1], low[2]), (high[0], high[1], high[2]),
            ))
    return tuple(found)


def _depth(piece: manifold3d.Manifold) -> float:
    """The piece's volume over its largest shadow along one of its faces' normals: exact for slabs."""
    mesh = piece.to_mesh64()
    corners = mesh.vert_properties[:, :3][mesh.tri_verts.astype(np.int64)]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(cross, axis=1)
    corners, cross, size = corners[size > 1e-14], cross[size > 1e-14], size[size > 1e-14]
    normals = cross / size[:, None]
    # Both sides of a plane get the same normal; the sign says which side.
    main = np.abs(normals).argmax(axis=1)
    sign = np.sign(normals[np.arange(len(normals)), main])
    normals = normals * sign[:, None]
    offsets = (normals * corners[:, 0]).sum(axis=1)
    keys = np.round(np.column_stack([normals, offsets]), 6)
    planes, which = np.unique(keys, axis=0, return_inverse=True)
    which = which.ravel()
    areas = np.array([_net_area(corners, normals, sign, size, np.flatnonzero(which == i)) for i in range(len(planes))])
    shadows = np.abs(planes[:, :3] @ planes[:, :3].T) @ areas / 2
    return float(piece.volume() / shadows.max())


def _net_area(corners: Floats, normals: Floats, sign: Floats, size: Floats, rows: Integers) -> float:
    """The area of a plane's triangles; a sheet without thickness lies there twice, once a side, and counts nothing."""
    if abs(sign[rows].sum()) == len(rows):
        return float(size[rows].sum() / 2)
    axis = int(np.abs(normals[rows[0]]).argmax())
    kept = [i for i in range(3) if i != axis]
    up = shapely.union_all(shapely.polygons(corners[rows[sign[rows] > 0]][:, :, kept]))
    down = shapely.union_all(shapely.polygons(corners[rows[sign[rows] < 0]][:, :, kept]))
    return float(shapely.symmetric_difference(up, down).area / abs(normals[rows[0], axis]))


def gap(solids: Solids, first: str, second: str, *, within: float = 12.0) -> float:
    """The least distance between two parts in inches, `within` when they are further apart. 0 when they touch."""
    one, two = solids[first], solids[second]
    return float(one.manifold.min_gap(two.manifold, within))


def weights(solids: Solids) -> tuple[Weight, ...]:
    """Each part's weight: volume times the density of its stock, or of its species."""
    found = []
    for solid in solids.parts:
        stock = solid.part.stock
        density = stock.density
        if density is None and stock.species is not None:
            density = stock.species.density
        mass = None if density is None else solid.volume * INCH**3 * float(density)
        found.append(Weight(solid.name, solid.volume, mass))
    return tuple(found)
