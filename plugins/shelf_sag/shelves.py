"""Model → shelves: flat parts held at both ends, with their clear span, cross-section and what holds them in between.

In: joints with their frames, hardware with its places. Out: `Shelf`s, one a kind. What counts:

* A part lies flat (its thickness is up), is thick and deep enough to carry things, and is held near both ends: by upright parts that reach
  below it, or by pins. The span is the widest gap between neighbouring supports.
* A part glued along a shelf and held by nothing else (a nosing, a lip) is part of the beam.
* A part along it that is held elsewhere (a back, a rail) holds that edge: with two edges held it is no beam any more and not judged.

A top that rests on rails or bearers away from its ends, a seat, is no shelf. All of this is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import ZERO, JointUse, Length, Model, Part, inch

from .beam import PSI_PER_GPA, Strip

PINS = ("pin", "shelf support")
END = Fraction(1, 12)
"""A support belongs to an end when it stands in this share of the length."""
LENGTHWISE = Fraction(1, 4)
"""A contact longer than this share of the length runs along the shelf."""
THINNEST = inch("3/8")
AXES = ("across", "deep", "up")


@dataclass(frozen=True)
class Shelf:
    """One kind of shelf. `strips` are None when the library knows no stiffness; `turned`: the grain runs across the span."""

    part: str
    letter: str
    name: str
    span: Length
    depth: Length
    strips: tuple[Strip, ...] | None
    held: bool = False
    turned: bool = False


def shelves(model: Model, least_depth: Length) -> tuple[Shelf, ...]:
    """The shelves of a model, each kind once, that of the widest span first found."""
    parts = {part.name: part for part in model.parts}
    joints: dict[str, list[JointUse]] = {}
    for joint in model.joints:
        for name in (joint.acting, joint.receiver):
            joints.setdefault(name, []).append(joint)
    pins: dict[str, list[tuple[Length, Length, Length]]] = {}
    for use in model.hardware:
        if use.item.kind in PINS and use.on:
            pins.setdefault(use.on[0], []).extend(use.places)
    found: dict[str, Shelf] = {}
    for part in model.parts:
        shelf = _shelf(part, parts, joints, pins.get(part.name, [])) if _flat(part) else None
        if shelf is not None and shelf.depth >= least_depth and (part.kind not in found or shelf.span > found[part.kind].span):
            found[part.kind] = shelf
    return tuple(found.values())


def _flat(part: Part) -> bool:
    return part.thickness_axis == "up" and part.pose.square and part.thickness >= THINNEST


def _shelf(part: Part, parts: dict[str, Part], joints: dict[str, list[JointUse]], pins: list[tuple[Length, Length, Length]]) -> Shelf | None:
    axis, other = ("across", "deep") if part.box.across.size >= part.box.deep.size else ("deep", "across")
    start, end = (part.box.span(axis).start, part.box.span(axis).end)  # type: ignore[arg-type]  # one of AXES
    long = end - start
    at = [(place[AXES.index(axis)],) * 2 for place in pins]
    strips = _strips(part, other)
    held: set[str] = set()
    for joint in joints.get(part.name, []):
        mate = parts.get(joint.receiver if joint.acting == part.name else joint.acting)
        span = _along(joint, axis)
        if mate is None or span is None:
            continue
        if span[1] - span[0] < long * LENGTHWISE:
            if mate.thickness_axis != "up" and mate.box.up.start < part.box.up.start:
                at.append(span)
        elif any(_mate(one, mate.name) != part.name for one in joints.get(mate.name, []) if one.family != "on"):
            middle = (mate.box.span(other).start + mate.box.span(other).end) / 2  # type: ignore[arg-type]
            held.add("near" if middle < (part.box.span(other).start + part.box.span(other).end) / 2 else "far")  # type: ignore[arg-type]
        elif joint.glue:
            more = _strips(mate, other)
            strips = strips + more if strips and more else strips
    at.sort()
    if len(at) < 2 or at[0][0] > start + long * END or max(one[1] for one in at) < end - long * END or len(held) > 1:
        return None
    clear = max(_gaps(at), default=ZERO)
    return Shelf(part=part.name, letter=part.letter, name=part.kind, span=clear, depth=part.box.span(other).size,  # type: ignore[arg-type]
                 strips=strips, held=bool(held), turned=part.grain not in ("any", axis))


def _mate(joint: JointUse, name: str) -> str:
    return joint.receiver if joint.acting == name else joint.acting


def _gaps(at: list[tuple[Length, Length]]) -> Iterator[Length]:
    reached = at[0][1]
    for start, end in at[1:]:
        if start > reached:
            yield start - reached
        reached = max(reached, end)


def _along(joint: JointUse, axis: str) -> tuple[Length, Length] | None:
    """Where a contact starts and ends on an axis; None when it leans."""
    index = AXES.index(axis)
    frame = joint.frame
    if not frame.square:
        return None
    ends = [frame.origin[index]]
    for share, size in ((frame.along[index], joint.length), (frame.across[index], joint.width)):
        ends.append(ends[-1] + size * int(share))
    return min(ends), max(ends)


def _strips(part: Part, other: str) -> tuple[Strip, ...] | None:
    """The part's own cross-section, its lower edge at its height in the plan."""
    stock = part.stock
    stiffness = stock.stiffness or (stock.species.stiffness if stock.species is not None else None)
    if stiffness is None:
        return None
    return (Strip(part.box.span(other).size, part.box.up.size, part.box.up.start, stiffness * PSI_PER_GPA),)  # type: ignore[arg-type]
