"""Parts as closed solids.

In: parts with their boxes, features and poses. Out: `Solids`: for each part the kernel's solid, its volume, its
arrays and what went wrong. It must not know about joints, views or paper.

Features are worked in the order in which they are written: what is grown later is not touched by an earlier cut.
A feature that can't be made is left out and reported, so there is always something to draw.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import groupby
from typing import Literal

import manifold3d
import numpy as np

from compiler.solid.extents import Extent, near, side
from compiler.solid.geometry import Geometry, pack
from compiler.solid.meshes import Registry, Surface, box_mesh, shape_mesh
from compiler.solid.outlines import Fineness, OutlineFault
from compiler.values.model import Box, Part
from compiler.values.shapes import Bore, Feature, Pose, Prism, Vector

Quality = Literal["coarse", "fine"]
Trouble = Literal["shapeless", "misses", "empty", "split", "open"]
Fault = tuple[Trouble, Feature | None, str]
FINENESS: dict[Quality, Fineness] = {"coarse": Fineness(0.004, 12), "fine": Fineness(0.001, 24)}
# A solid or a piece of it under this volume (cubic inches) is the kernel's crumb, not wood.
CRUMB = 1e-7


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with a part's solid, and the feature that did it (None: the box itself).

    `shapeless`: the feature has no volume or its outline crosses itself. `misses`: it never touches the part.
    `empty`: nothing is left of the part. `split`: the part falls into pieces. `open`: the kernel refused it.
    """

    part: str
    kind: Trouble
    feature: Feature | None
    says: str


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A solid and what its face numbers mean, without the name of the part it belongs to."""

    manifold: manifold3d.Manifold
    registry: Registry
    volume: float
    faults: tuple[Fault, ...]
    geometry: Geometry


@dataclass(frozen=True, slots=True)
class PartSolid:
    """A part and its solid. `volume` in cubic inches; `low` and `high` are the corners of its bounding box."""

    part: Part
    body: Body

    @property
    def name(self) -> str:
        """The part's full name."""
        return self.part.name

    @property
    def manifold(self) -> manifold3d.Manifold:
        """The kernel's solid."""
        return self.body.manifold

    @property
    def geometry(self) -> Geometry:
        """Its arrays."""
        return self.body.geometry

    @property
    def volume(self) -> float:
        """Cubic inches."""
        return self.body.volume

    @property
    def low(self) -> Vector:
        """The low corner of its bounding box."""
        x, y, z = self.body.geometry.low.tolist()
        return x, y, z

    @property
    def high(self) -> Vector:
        """The high corner of its bounding box."""
        x, y, z = self.body.geometry.high.tolist()
        return x, y, z

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What went wrong."""
        return tuple(Problem(self.name, kind, feature, says) for kind, feature, says in self.body.faults)


@dataclass(frozen=True)
class Solids:
    """The solids of some parts, in the parts' order."""

    quality: Quality
    parts: tuple[PartSolid, ...]

    @cached_property
    def extents(self) -> tuple[Extent, ...]:
        """Where each part stands."""
        return tuple((solid.name, solid.low, solid.high) for solid in self.parts)

    def near(self, low: Vector, high: Vector) -> tuple[str, ...]:
        """The parts whose bounding box shares a place with a box."""
        return near(self.extents, low, high)

    def side(self, point: Vector, direction: Vector) -> float:
        """On which side of the middle of the parts a point lies: see `side`."""
        return side(self.extents, point, direction)

    @cached_property
    def _by_name(self) -> dict[str, PartSolid]:
        return {solid.name: solid for solid in self.parts}

    def __getitem__(self, name: str) -> PartSolid:
        """A solid by its part's full name. Raises KeyError."""
        return self._by_name[name]

    def __contains__(self, name: object) -> bool:
        return name in self._by_name

    @property
    def names(self) -> tuple[str, ...]:
        """The parts' full names, in order."""
        return tuple(solid.name for solid in self.parts)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What went wrong with any part."""
        return tuple(problem for solid in self.parts for problem in solid.problems)

    def only(self, names: Iterable[str]) -> Solids:
        """The solids of some of the parts, in the same order."""
        wanted = set(names)
        return Solids(self.quality, tuple(solid for solid in self.parts if solid.name in wanted))


def build(parts: Sequence[Part], *, quality: Quality) -> Solids:
    """The parts as solids. Equal parts in equal places are built once. Raises nothing: see `Solids.problems`.

    Take `coarse` for drawings and `fine` for volumes, weights and collisions; parts without curves are the same in both.
    """
    return Solids(quality, tuple(
        PartSolid(part, body(part.box, part.features, part.pose, quality if any(_curved(feature) for feature in part.features) else "fine"))
        for part in parts))


def _curved(feature: Feature) -> bool:
    """Whether the feature's solid depends on how fine circles are."""
    shape = feature.shape
    return isinstance(shape, Bore) or (isinstance(shape, Prism) and any(point.radius is not None for point in shape.outline))


@lru_cache(maxsize=4096)
def body(box: Box, features: tuple[Feature, ...], pose: Pose, quality: Quality) -> Body:
    """The solid of a box with its features, in its pose."""
    faults: list[Fault] = []
    registry = Registry()
    low = (float(box.across.start), float(box.deep.start), float(box.up.start))
    high = (float(box.across.end), float(box.deep.end), float(box.up.end))
    if any(end - start < 1e-9 for start, end in zip(low, high, strict=True)):
        faults.append(("empty", None, "the part has no size on one of its axes"))
        nothing = manifold3d.Manifold()
        return Body(nothing, registry, 0.0, tuple(faults), pack(nothing, registry))
    solid = box_mesh(low, high, registry).solid()
    made: list[tuple[Feature, manifold3d.Manifold]] = []
    reach_low, reach_high = np.array(low), np.array(high)
    for feature in features:
        try:
            mesh = shape_mesh(feature.shape, feature.frame, FINENESS[quality], registry)
        except OutlineFault as fault:
            faults.append(("shapeless", feature, str(fault)))
            continue
        near, far = mesh.corners.min(axis=0), mesh.corners.max(axis=0)
        meets = bool((near < reach_high + 1e-9).all() and (far > reach_low - 1e-9).all())
        if feature.op == "cut":
            meets = bool((near < reach_high - 1e-9).all() and (far > reach_low + 1e-9).all())
        if not meets:
            faults.append(("misses", feature, f"the {feature.called} doesn't touch the part"))
            continue
        if feature.op == "grow":
            reach_low, reach_high = np.minimum(reach_low, near), np.maximum(reach_high, far)
        made.append((feature, mesh.solid()))
    for op, group in groupby(made, key=lambda pair: pair[0].op):
        kind = manifold3d.OpType.Add if op == "grow" else manifold3d.OpType.Subtract
        solid = manifold3d.Manifold.batch_boolean([solid, *(shape for _, shape in group)], kind)
    trouble = _trouble(solid)
    if trouble is not None:
        faults.append(_culprit(box_mesh(low, high, Registry()).solid(), made, trouble))
    solid = placed(solid, pose)
    registry.surfaces = [turned(surface, pose) for surface in registry.surfaces]
    return Body(solid, registry, float(solid.volume()), tuple(faults), pack(solid, registry))


def placed(solid: manifold3d.Manifold, pose: Pose) -> manifold3d.Manifold:
    """The solid turned and moved into its pose."""
    if pose.square:
        return solid
    return solid.transform(np.column_stack([np.array(pose.rotation), np.array(pose.shift)]))


def turned(surface: Surface, pose: Pose) -> Surface:
    """The surface's axis turned and moved into the pose."""
    if pose.square:
        return surface
    rotation = np.array(pose.rotation)
    x, y, z = (rotation @ surface.point + pose.shift).tolist()
    a, b, c = (rotation @ surface.direction).tolist()
    return replace(surface, point=(x, y, z), direction=(a, b, c))


def _trouble(solid: manifold3d.Manifold) -> Trouble | None:
    if solid.status() != manifold3d.Error.NoError:
        return "open"
    if solid.volume() < CRUMB:
        return "empty"
    if sum(piece.volume() > CRUMB for piece in solid.decompose()) > 1:
        return "split"
    return None


_SAYS = {
    "empty": "nothing is left of the part after the {}",
    "split": "the {} leaves the part in more than one piece",
    "open": "the {} leaves no sound solid",
}


def _culprit(
    solid: manifold3d.Manifold,
    made: Sequence[tuple[Feature, manifold3d.Manifold]],
    trouble: Trouble,
) -> Fault:
    """The last feature after which the fault came and stayed, found by working them one at a time."""
    culprit: Feature | None = None
    for feature, shape in made:
        solid = solid + shape if feature.op == "grow" else solid - shape
        if _trouble(solid) is None:
            culprit = None
        elif culprit is None:
            culprit = feature
    return trouble, culprit, _SAYS[trouble].format(culprit.called if culprit else "shaping")
