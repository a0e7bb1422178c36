"""Where the fasteners of a joint stand, which part they go through, and whether they are the right length.

In: a joint's fasteners, its contact. Out: counted fasteners with their places in the plan. Length rule: no screw is
longer than both parts together less 1/8 in (3 mm); FAS-47, common practice.
"""

from __future__ import annotations

from compiler.base.measures import ZERO, Length, inch, mm
from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.stages.assemble.contacts import Meeting
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.placing import fine
from compiler.stages.assemble.wording import said
from compiler.values.ask import Fasteners as Wanted
from compiler.values.joinery import Contact, Member
from compiler.values.model import AXIS_OF, Fasteners
from compiler.values.shapes import Frame

DRIVEN = ("wood screw", "brad", "nail", "pin", "finish nail")


def placed_fasteners(wanted: Wanted, meeting: Meeting, contact: Contact, items: Items, at: Spot,
                     findings: Findings) -> Fasteners:
    """The fasteners with their count and places; a wrong length is reported at `at`."""
    places = wanted.spread(contact.length, contact.width)
    here = (contact.acting.name, contact.receiver.name)
    slotted = next((name for name in here if name in wanted.slotted), "")
    from_acting = wanted.item.kind not in DRIVEN or _through_acting(meeting, contact, bool(wanted.slotted), slotted)
    near, far = (contact.acting, contact.receiver) if from_acting else (contact.receiver, contact.acting)
    if wanted.item.kind in DRIVEN:
        _judge_length(wanted, near, far, items, at, findings, bored=_bored(meeting, near.name))
    start = contact.depth - contact.acting.depth if from_acting else contact.receiver.depth
    if wanted.item.kind not in DRIVEN:
        start = ZERO
    frame = meeting.plan_frame
    sign = 1.0 if from_acting else -1.0
    return Fasteners(item=wanted.item, count=len(places), through=near.name, into=far.name,
                     entry=tuple(point_in(frame, along, across, start) for along, across in places),
                     toward=(sign * frame.into[0] + 0.0, sign * frame.into[1] + 0.0, sign * frame.into[2] + 0.0), slotted=slotted)


def _through_acting(meeting: Meeting, contact: Contact, slots: bool, slotted: str) -> bool:
    """True when the head is in the acting part: the slotted one, the one whose face lies on the other's edge, the thinner."""
    if slotted:
        return slotted == contact.acting.name
    acting_faces = AXIS_OF[meeting.face] == meeting.acting.part.thickness_axis
    receiver_faces = AXIS_OF[meeting.on] == meeting.receiver.part.thickness_axis
    if acting_faces and receiver_faces:
        return not slots
    if acting_faces != receiver_faces:
        return acting_faces
    return contact.acting.depth <= contact.receiver.depth


def _bored(meeting: Meeting, name: str) -> bool:
    """True when a part has holes of its own, in which heads may be sunk: how deep a screw goes is left to the check of solids."""
    part = next(standing.part for standing in (meeting.acting, meeting.receiver) if standing.name == name)
    return any(working.kind in ("hole", "holes") for working in part.workings)


def _judge_length(wanted: Wanted, near: Member, far: Member, items: Items, at: Spot, findings: Findings, *, bored: bool) -> None:
    units = items.design.edition.units
    length = wanted.item.measure("length")
    if length is None:
        return
    spare = inch("1/8") if units == "inch" else mm(3)
    room = near.depth + far.depth - spare
    if length > room:
        findings.error("fastener-too-long", f"`{wanted.item.name}` comes out of `{far.name}`: {said(near.depth, units)} + {said(far.depth, units)} less {said(spare, units)} leaves {said(room, units)}.",
                       at, _fitting(wanted, room, units, items))
    elif length <= near.depth and wanted.item.kind == "wood screw" and not bored:
        findings.warning("fastener-too-short", f"`{wanted.item.name}` does not come through `{near.name}`, which is {said(near.depth, units)} thick there.",
                         at, "Take a longer one, or counterbore.")


def _fitting(wanted: Wanted, room: Length, units: Units, items: Items) -> str:
    """The longest of its thickness that the library has and that stays inside."""
    best = items.longest_below(wanted.item, room)
    return f"Take {best.name}." if best else f"Take one no longer than {said(room, units)}."


def point_in(frame: Frame, along: Length, across: Length, into: Length) -> tuple[Length, Length, Length]:
    """A point of a frame in the frame's outer coordinates; exact where the frame is square."""
    point: list[Length] = []
    for index in range(3):
        moves = ((along, frame.along[index]), (across, frame.across[index]), (into, frame.into[index]))
        place = frame.origin[index]
        for length, share in moves:
            if share in (1.0, -1.0):
                place = place + length * int(share)
            elif share:
                place = place + fine(float(length) * share)
        point.append(place)
    return point[0], point[1], point[2]
