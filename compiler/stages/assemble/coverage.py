"""Faces of parts: how large they are, and how much of them other parts cover.

In: parts as they stand. Out: areas, exact for square parts; a tilted part's face counts whole. Finishes and floating
groups read it; it knows no joints.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compiler.base.measures import Area
from compiler.base.showing import Units
from compiler.stages.assemble.contacts import Meeting, meet
from compiler.stages.assemble.placing import Standing, near, others
from compiler.values.model import AXIS_OF, FACES, Face


@dataclass(frozen=True, slots=True)
class Touching:
    """Two parts whose faces touch."""

    one: str
    two: str
    meeting: Meeting


def touching(standing: Mapping[str, Standing], units: Units) -> tuple[Touching, ...]:
    """Every pair of parts that touch, once, in the order of the parts."""
    parts = tuple(standing.values())
    reach = {part.name: part.reach for part in parts}
    found: list[Touching] = []
    for number, one in enumerate(parts):
        for two in parts[number + 1:]:
            if not near(reach[one.name], reach[two.name]):
                continue
            meeting = meet(one, two, units) or (meet(two, one, units) if not (one.square and two.square) else None)
            if meeting is not None:
                found.append(Touching(one.name, two.name, meeting))
    return tuple(found)


def face_area(part: Standing, face: Face) -> Area:
    """The area of a face as written."""
    one, two = others(AXIS_OF[face])
    return part.box.span(one).size * part.box.span(two).size


def covered(pairs: Sequence[Touching]) -> dict[tuple[str, Face], Area]:
    """How much of each face lies against other parts."""
    found: dict[tuple[str, Face], Area] = {}
    for pair in pairs:
        meeting = pair.meeting
        area = meeting.length * meeting.width
        for key in ((meeting.acting.name, meeting.face), (meeting.receiver.name, meeting.on)):
            found[key] = found.get(key, Area()) + area
    return found


def free_area(part: Standing, hidden: Mapping[tuple[str, Face], Area], faces: Sequence[Face] = FACES) -> Area:
    """The area of a part that a finish can reach."""
    total = Area()
    for face in faces:
        whole = face_area(part, face)
        hides = hidden.get((part.name, face), Area())
        total = total + (whole - hides if hides < whole else Area())
    return total
