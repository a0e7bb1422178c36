"""Drives → remarks: too long, too short, near an edge, in end grain, pocket screws of the wrong length, and tops that screws must carry.

The length of a joint's own screws is judged when the joint is made and from the solids; here it is that of screws in `hardware`, which have no
places. All that share a fault are one remark.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from compiler.api import ZERO, Edition, Findings, HardwareUse, Length, Model, Weights, advice, check, warning
from plugins.loads_and_movement.amounts import POUND, length, weight

from .driving import AXES, Drive, drives
from .rules import (
    EDGE,
    END_GRAIN,
    END_OF_PANEL,
    OF_SHEET,
    least_thread,
    pocket_length,
    spare,
    withdrawal,
)

CRUMBLY = ("MDF", "particleboard", "fibreboard")
COUNTED = 2
"""Lifting by a top shakes it: the screws hold this many times the weight (common practice)."""


@check
def doubtful_fastener(model: Model, edition: Edition) -> Findings:
    """A screw or nail that comes out, holds too little, or stands where the wood splits."""
    said: set[tuple[str, str]] = set()
    for drive in drives(model):
        where = f"{drive.through.kind} to {drive.into.kind}"
        for bad, says, hint in _faults(drive, edition):
            if (where, says) not in said:
                said.add((where, says))
                yield (warning if bad else advice)(f"`{drive.item.name}`, {where}: {says}.", at=drive.use, hint=hint)


def _faults(drive: Drive, edition: Edition) -> Iterator[tuple[bool, str, str]]:
    """Whether it is a fault or a doubt, the sentence, the cure."""
    def shown(size: Length) -> str:
        return length(size, edition)

    if drive.item.kind == "pocket screw":
        thick = drive.through.thickness
        low, high = pocket_length(thick)
        if not low - spare(edition) / 2 <= drive.length <= high + spare(edition) / 2:
            yield False, f"{shown(thick)} stock takes a pocket screw {shown(low)} long", "Take that length."
        return
    room = drive.near + drive.far - spare(edition)
    if isinstance(drive.use, HardwareUse) and drive.length > room:
        yield True, (f"it is {shown(drive.length)} long and comes through or nearly through: {shown(drive.near)} and {shown(drive.far)}"
                     f" leave {shown(room)}"), "Take a shorter one."
    elif isinstance(drive.use, HardwareUse) and drive.thread <= ZERO:
        yield True, f"it does not come through the {drive.through.kind}, {shown(drive.near)} thick", "Take a longer one, or counterbore."
    if drive.item.kind != "wood screw":
        return
    if drive.in_end_grain and ZERO < drive.thread < END_GRAIN:
        yield False, f"{shown(drive.thread)} of it is in end grain, which holds little", f"Let {shown(END_GRAIN)} go in, or use another joint."
    elif isinstance(drive.use, HardwareUse) and ZERO < drive.thread < least_thread(edition):
        yield False, f"only {shown(drive.thread)} of it is in the {drive.into.kind}", "Take a longer one, or counterbore."
    if drive.in_sheet_edge and drive.diameter * OF_SHEET > drive.into.thickness:
        yield False, f"it is thick for the edge of a sheet of {shown(drive.into.thickness)}", "Take a thinner screw: no more than a third of the sheet."
    near = _nearest_edge(drive)
    if near is not None and near < drive.diameter * EDGE:
        yield False, f"it stands {shown(near)} from an edge; {shown(drive.diameter * EDGE)} is the least that does not split", \
            "Move it in, or take a thinner one."
    if any(word in drive.into.stock.name for word in CRUMBLY) and drive.in_sheet_edge:
        end = _nearest_end(drive)
        if end is not None and end < END_OF_PANEL:
            yield False, f"it stands {shown(end)} from the end of a panel that crumbles", f"Keep {shown(END_OF_PANEL)} off its ends."


def _nearest_edge(drive: Drive) -> Length | None:
    """To an edge of solid wood beside its way, in either part; sheets don't split along an edge."""
    found = []
    for part in (drive.through, drive.into):
        if part.stock.kind == "sheet":
            continue
        for number, axis in enumerate(AXES):
            if axis != drive.axis and axis != part.length_axis:
                span = part.box.span(axis)
                found += [gap for place in drive.places for gap in (place[number] - span.start, span.end - place[number]) if gap >= ZERO]
    return min(found, default=None)


def _nearest_end(drive: Drive) -> Length | None:
    axis = next(name for name in AXES if name not in (drive.axis, drive.into.thickness_axis))
    span = drive.into.box.span(axis)
    return min((gap for place in drive.places for gap in (place[AXES.index(axis)] - span.start, span.end - place[AXES.index(axis)])), default=None)


@check
def held_by_screws(model: Model, edition: Edition, weights: Weights) -> Findings:
    """A top that is screwed on from below carries the piece when it is lifted by it."""
    found: dict[str, list[Drive]] = {}
    highest = model.overall.up.end
    for drive in drives(model):
        if drive.axis == "up" and drive.into.box.up.end == highest and drive.item.kind == "wood screw":
            found.setdefault(drive.into.name, []).append(drive)
    heavy = dict(weights.parts)
    for name, screws in found.items():
        part = model.part(name)
        density = part.stock.density or (part.stock.species.density if part.stock.species is not None else None)
        if density is None:
            continue
        pounds = sum((withdrawal(density, one.diameter, max(one.thread, ZERO)) * one.count for one in screws), Fraction(0))
        below = weights.total - heavy.get(name, Fraction(0))
        if pounds * POUND < below * COUNTED:
            yield advice(f"The screws in `{part.kind}` hold about {weight(pounds * POUND, edition, to='down')}, and what hangs on them weighs"
                         f" {weight(below, edition)}.", at=part, hint="Use more or longer ones, or tell the reader not to lift it by its top.")
