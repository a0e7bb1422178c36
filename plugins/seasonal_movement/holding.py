"""What holds a board across its grain: joints that don't give, and grooves that leave room.

In: a solid part, the joints it has, the other parts. Out: where it is held from and to, the room in its grooves, and what gives.

A joint holds when it is glued or fastened to something that doesn't move the same way: a sheet, or wood whose grain runs along. Slotted
holes, buttons and clips give. Parts that move alike don't hold each other. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.api import JointUse, Length, Part

DRIVEN = ("wood screw", "pocket screw", "machine screw", "bolt", "brad", "nail", "dowel", "loose tongue")
AXES = ("across", "deep", "up")


@dataclass(frozen=True)
class Holding:
    """Where a part is held across its grain (None = nowhere), the room of its grooves there, and which joints give."""

    held: tuple[Length, Length] | None
    room: Length | None
    gives: tuple[JointUse, ...]
    glued_groove: bool = False


def holding(part: Part, joints: Sequence[JointUse], parts: dict[str, Part]) -> Holding:
    """All joints of a part together."""
    axis = AXES.index(part.width_axis)
    places: list[Length] = []
    rooms: list[Length] = []
    gives: list[JointUse] = []
    glued = False
    for joint in joints:
        other = parts.get(joint.receiver if joint.acting == part.name else joint.acting)
        if other is None or joint.family == "on" or not joint.frame.square:
            continue
        room = joint.value("room")
        if joint.acting == part.name and isinstance(room, Length) and abs(joint.frame.into[axis]) == 1.0 and not joint.fasteners:
            rooms.append(room)
            glued = glued or (joint.glue and not moves_alike(other, part.width_axis))
            continue
        if moves_alike(other, part.width_axis):
            continue
        if any(use.slotted for use in joint.fasteners) or any(use.item.kind not in DRIVEN for use in joint.fasteners):
            gives.append(joint)
            continue
        if joint.glue:
            places.extend(_extent(joint, axis))
        for use in joint.fasteners:
            places.extend(point[axis] for point in use.entry)
    return Holding(held=(min(places), max(places)) if places else None, room=sum(rooms[1:], rooms[0]) if rooms else None, gives=tuple(gives),
                   glued_groove=glued)


def moves_alike(other: Part, axis: str) -> bool:
    """Solid wood whose grain doesn't run on this axis moves on it, too."""
    return other.stock.kind != "sheet" and other.length_axis != axis


def _extent(joint: JointUse, axis: int) -> tuple[Length, Length]:
    ends = [joint.frame.origin[axis]]
    for share, size in ((joint.frame.along[axis], joint.length), (joint.frame.across[axis], joint.width)):
        ends.append(ends[-1] + size * int(share))
    return min(ends), max(ends)
