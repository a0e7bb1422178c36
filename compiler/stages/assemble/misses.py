"""By how much two parts miss each other, for the sentences that say so.

In: a part and those it should meet. Out: the nearest of them, with the gap on one axis. Square parts only.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.base.measures import ZERO, Length
from compiler.stages.assemble.placing import (
    Standing,
    common,
    face_on,
    gap,
)
from compiler.values.model import AXES, Axis, Face


@dataclass(frozen=True, slots=True)
class Miss:
    """By how much two square parts miss each other: on one axis, between two faces. `by` below nothing = they overlap."""

    receiver: Standing
    axis: Axis
    acting_face: Face
    receiver_face: Face
    by: Length


def miss(acting: Standing, receivers: tuple[Standing, ...]) -> Miss | None:
    """The receiver that an acting part comes nearest to, and how far it stays away; None when nothing square is there.

    Judged by the sum of the gaps on the three axes; an overlap counts as none.
    """
    found: list[tuple[Length, int, Miss]] = []
    for number, receiver in enumerate(receivers):
        if not (acting.square and receiver.square):
            continue
        gaps = {axis: gap(acting.box.span(axis), receiver.box.span(axis)) for axis in AXES}
        total = gaps["across"] + gaps["deep"] + gaps["up"]
        if total:
            axis = max(AXES, key=lambda name: gaps[name])
            before = acting.box.span(axis).end <= receiver.box.span(axis).start
            found.append((total, number, Miss(receiver, axis, face_on(axis, not before), face_on(axis, before), gaps[axis])))
            continue
        inner = {axis: common(acting.box.span(axis), receiver.box.span(axis)) for axis in AXES}
        sizes = {axis: span.size if span else ZERO for axis, span in inner.items()}
        axis = min(AXES, key=lambda name: sizes[name])
        before = acting.box.span(axis).start < receiver.box.span(axis).start
        found.append((sizes[axis], number, Miss(receiver, axis, face_on(axis, not before), face_on(axis, before), -sizes[axis])))
    return min(found, key=lambda entry: entry[:2])[2] if found else None
