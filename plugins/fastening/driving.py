"""Model → every screw and nail with what it goes through and into, measured along its way.

In: joints with the places of their fasteners, hardware driven from one part to another, boxes of parts. Out: `Drive`s, one for each fastener
entry of a joint or hardware. Tilted parts and ways that lean are left out: boxes can't judge them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from compiler.api import ZERO, HardwareUse, Item, JointUse, Length, Model, Part

DRIVEN = ("wood screw", "pocket screw", "brad", "nail", "finish nail")
Axis = Literal["across", "deep", "up"]
AXES: tuple[Axis, Axis, Axis] = ("across", "deep", "up")
Point = tuple[Length, Length, Length]


@dataclass(frozen=True)
class Drive:
    """Some equal fasteners driven `toward` an axis: wood behind the head (`near`), in line behind that (`far`), and their places."""

    item: Item
    count: int
    through: Part
    into: Part
    axis: Axis
    near: Length
    far: Length
    places: tuple[Point, ...]
    use: JointUse | HardwareUse

    @property
    def length(self) -> Length:
        """Of the fastener; nothing when the library does not say."""
        return self.item.measure("length") or ZERO

    @property
    def diameter(self) -> Length:
        """Of its shank; nothing when the library does not say."""
        return self.item.measure("diameter") or ZERO

    @property
    def thread(self) -> Length:
        """How much of it is in the far part."""
        return self.length - self.near

    @property
    def in_end_grain(self) -> bool:
        """Driven along the grain of solid wood."""
        return self.into.stock.kind != "sheet" and self.into.grain != "any" and self.into.length_axis == self.axis

    @property
    def in_sheet_edge(self) -> bool:
        """Driven between the layers of a sheet."""
        return self.into.stock.kind == "sheet" and self.into.thickness_axis != self.axis


def drives(model: Model) -> Iterator[Drive]:
    """Every driven fastener of the plan, those of joints first."""
    parts = {part.name: part for part in model.parts}
    for joint in model.joints:
        for use in joint.fasteners:
            through, into = parts.get(use.through), parts.get(use.into)
            if use.item.kind not in DRIVEN or through is None or into is None or not (through.pose.square and into.pose.square):
                continue
            axis = next((name for name, share in zip(AXES, use.toward, strict=True) if abs(share) == 1.0), None)
            if axis is not None:
                pocket = use.item.kind == "pocket screw"
                yield Drive(use.item, use.count, through, into, axis, ZERO if pocket else through.box.span(axis).size, into.box.span(axis).size,
                            use.entry, joint)
    for fitting in model.hardware:
        if fitting.item.kind == "wood screw" and len(fitting.on) == 2 and all(parts[name].pose.square for name in fitting.on if name in parts):
            through, into = parts[fitting.on[0]], parts[fitting.on[1]]
            axis = _shared(through, into)
            if axis is not None:
                yield Drive(fitting.item, fitting.count, through, into, axis, through.box.span(axis).size, into.box.span(axis).size,
                            fitting.places, fitting)


def _shared(one: Part, two: Part) -> Axis | None:
    """The axis on which two parts lie against each other."""
    for axis in AXES:
        first, second = one.box.span(axis), two.box.span(axis)
        if first.end == second.start or second.end == first.start:
            return axis
    return None
