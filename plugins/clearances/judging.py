"""Drawers and doors → remarks where they would bind, rattle, or not fit their slides and hinges.

Rules: a drawer on slides has on each side what the slides' maker asks for (the library's limits), and slides end before the back; a drawer on wood has
1/32 in or 0.8 mm on each side and above; a door has 1/32 in or 0.8 mm all round and 1/8 in or 3.5 mm at most beside another door; the front of solid wood
that stands in its opening has room for its own movement; hinges by the height of the door, 2 to 40 in, 3 to 60 in, 4 to 80 in (hinge guides; 1000, 1500, 2000
mm). But for the hinges and slides: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    ZERO,
    Edition,
    Findings,
    HardwareUse,
    Length,
    Model,
    Part,
    advice,
    check,
    inch,
    mm,
    warning,
)
from plugins.loads_and_movement.amounts import length
from plugins.seasonal_movement.judging import Movements

from .gaps import Side, gaps

HINGES = ((inch(40), mm(1000), 2), (inch(60), mm(1500), 3), (inch(80), mm(2000), 4))


@dataclass(frozen=True)
class Moving:
    """One drawer or door: its name in the plan, its parts, the hardware that it runs or swings on."""

    name: str
    parts: tuple[Part, ...]
    slides: tuple[HardwareUse, ...]
    hinges: tuple[HardwareUse, ...]

    @property
    def box(self) -> tuple[Part, ...]:
        """The sides of a drawer; of a door all parts."""
        sides = tuple(part for part in self.parts if part.thickness_axis == "across" and part.pose.square)
        return sides if self.slides or len(sides) == 2 else self.parts


@check
def tight_or_loose(model: Model, edition: Edition, movements: Movements) -> Findings:
    """Drawers and doors that bind or rattle, slides and hinges that don't fit."""
    said: set[str] = set()
    for moving in _all(model):
        kind = moving.parts[0].component
        others = [part for part in model.parts if part.assembly != moving.parts[0].assembly]
        found = gaps(moving.box, others)
        for bad, says, hint, at in _faults(moving, found, model, edition, movements):
            if f"{kind} {says}" not in said:
                said.add(f"{kind} {says}")
                yield (warning if bad else advice)(f"`{moving.name}`: {says}.", at=at, hint=hint)


def _all(model: Model) -> Iterator[Moving]:
    uses: dict[tuple[str, ...], list[Part]] = {}
    for part in model.parts:
        if part.component and part.assembly:
            uses.setdefault(part.assembly, []).append(part)
    for path, parts in uses.items():
        names = {part.name for part in parts}
        slides = tuple(use for use in model.hardware if use.item.kind == "slide" and (use.per == ".".join(path) or names & set(use.on)))
        hinges = tuple(use for use in model.hardware if use.item.kind == "hinge" and names & set(use.on))
        if slides or hinges or "drawer" in parts[0].component:
            yield Moving(".".join(path), tuple(parts), slides, hinges)


Fault = tuple[bool, str, str, HardwareUse | Part]


def _faults(moving: Moving, found: dict[Side, tuple[Length, str]], model: Model, edition: Edition, movements: Movements) -> Iterator[Fault]:
    least = inch("1/32") if edition.units == "inch" else mm("0.8")
    if moving.slides:
        yield from _on_slides(moving, found, model, edition)
    elif moving.hinges:
        yield from _on_hinges(moving, found, model, edition, least)
    else:
        for side in ("left", "right", "top"):
            if side in found and found[side][0] < least:
                yield (True, f"it has {length(found[side][0], edition)} on its {side} side, beside {found[side][1]}: it will bind",
                       f"Leave {length(least, edition)} or more.", moving.parts[0])
    yield from _movement(moving, model, edition, movements)


def _on_slides(moving: Moving, found: dict[Side, tuple[Length, str]], model: Model, edition: Edition) -> Iterator[Fault]:
    slide = moving.slides[0]
    limits = _limits(dict(slide.item.facts).get("clearance limits", ""), slide, edition)
    for side in ("left", "right"):
        if limits is None or side not in found:
            continue
        gap, other = found[side]
        if not limits[0] <= gap <= limits[1]:
            yield (True, f"it has {length(gap, edition)} on its {side} side, beside {other}; the slide asks for {length(limits[0], edition)} to"
                         f" {length(limits[1], edition)}", "Make the box narrower or wider, or pack out the case.", slide)
    long = slide.item.measure("length")
    behind = _behind(moving, model)
    if long is not None and behind is not None:
        front = min(part.box.deep.start for part in moving.box)
        if front + long > behind - (inch("1/8") if edition.units == "inch" else mm(3)):
            yield (True, f"its slide of {length(long, edition)} reaches the back", "Take the next shorter slide.", slide)


def _behind(moving: Moving, model: Model) -> Length | None:
    """The face of the first part behind the box."""
    end, parts = max(part.box.deep.end for part in moving.box), []
    for part in model.parts:
        if part.assembly == moving.parts[0].assembly or part.box.deep.start < end or part.thickness_axis != "deep":
            continue
        if any(part.box.up.start < one.box.up.end and one.box.up.start < part.box.up.end and part.box.across.start < one.box.across.end
               and one.box.across.start < part.box.across.end for one in moving.box):
            parts.append(part.box.deep.start)
    return min(parts, default=None)


def _on_hinges(moving: Moving, found: dict[Side, tuple[Length, str]], model: Model, edition: Edition, least: Length) -> Iterator[Fault]:
    hinge = moving.hinges[0]
    doors = {part.name for part in model.parts if part.component == moving.parts[0].component}
    most = inch("1/8") if edition.units == "inch" else mm("3.5")
    for side, (gap, other) in found.items():
        if ZERO <= gap < least:
            yield True, f"it has {length(gap, edition)} on its {side} side, beside {other}: it will bind", f"Leave {length(least, edition)} or more.", hinge
        elif other in doors and gap > most:
            yield False, f"there are {length(gap, edition)} between it and {other}", f"Up to {length(most, edition)} looks even.", hinge
    count = sum(max(use.count, len(use.places)) for use in moving.hinges)
    tall = max(part.box.up.end for part in moving.parts) - min(part.box.up.start for part in moving.parts)
    wanted = next((number for low, metric, number in HINGES if tall <= (low if edition.units == "inch" else metric)), 5)
    if count < wanted:
        yield False, f"it is {length(tall, edition)} high and hangs on {count} hinges", f"Use {wanted}, by its height.", hinge


def _movement(moving: Moving, model: Model, edition: Edition, movements: Movements) -> Iterator[Fault]:
    """A front of one solid board, grain across, standing in its opening."""
    rows = {row.name: row for row in movements.rows}
    for part in moving.parts:
        row = rows.get(part.kind)
        if row is None or part.thickness_axis != "deep" or part.width_axis != "up":
            continue
        others = [other for other in model.parts if other.assembly != part.assembly]
        beside = gaps([part], others)
        room = [beside[side][0] for side in ("bottom", "top") if side in beside]
        if len(room) == 2 and min(room) >= ZERO and sum(room[1:], room[0]) < row.moves:
            yield (False, f"its {part.kind} moves {length(row.moves, edition)} with the seasons and has {length(room[0] + room[1], edition)} above and"
                          " below together", "Leave that much in the dry season.", part)


def _limits(text: str, slide: HardwareUse, edition: Edition) -> tuple[Length, Length] | None:
    """`1/2 to 17/32`, `12.7 to 13.5`: in the edition's unit; else the clearance alone."""
    found = re.fullmatch(r"\s*([\d./ ]+?) to ([\d./ ]+?)\s*", text)
    if found is not None:
        low, high = (_number(word) for word in found.groups())
        return (inch(low), inch(high)) if edition.units == "inch" else (mm(low), mm(high))
    clearance = slide.item.measure("clearance")
    return (clearance, clearance) if clearance is not None else None


def _number(text: str) -> Fraction:
    return sum((Fraction(word) for word in text.split()), Fraction(0))


