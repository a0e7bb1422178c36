"""Which parts a joint wish joins: each pair that meets, or by how much they miss.

In: joint wishes, parts as they stand, the kinds' families. Out: meetings in the order of writing. Each piece that acts
must meet a receiver, each receiver named must be met. It makes no joints.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.stages.assemble.contacts import Meeting, meet, overlap, share
from compiler.stages.assemble.misses import miss
from compiler.stages.assemble.placing import Standing
from compiler.stages.assemble.wording import said
from compiler.values.design import JointWish
from compiler.values.joinery import Family

VERBS: dict[Family, str] = {"into": "goes into a part", "to": "stands against a part", "with": "is shared by two parts",
                            "on": "lets a part rest on another"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairing:
    """What one wish pairs, and the family of its kind."""

    wish: JointWish
    family: Family
    standing: Mapping[str, Standing]
    units: Units


def pairs_of(pairing: Pairing, findings: Findings) -> tuple[Meeting, ...]:
    """All meetings of a wish; what misses is reported at its name."""
    wish = pairing.wish
    receivers = tuple(name for group, _ in wish.receivers for name in group)
    found: dict[tuple[str, str], Meeting] = {}
    missed: set[str] = set()
    for group, at in wish.acting:
        for name in group:
            mine = [meeting for other in receivers if other != name and (name, other) not in found
                    and (meeting := _meeting(pairing, name, other)) is not None]
            for meeting in mine:
                found[(name, meeting.receiver.name)] = meeting
            base = pairing.standing[name].part.kind
            if not mine and base not in missed and not any(acting == name for acting, _ in found):
                missed.add(base)  # copies miss alike: the first is named
                _report_miss(pairing, name, receivers, at, findings)
    for group, at in wish.receivers:
        met = any(receiver in group for _, receiver in found)
        if not met and not missed:
            _report_unmet(pairing, group, at, findings)
    return tuple(found.values())


def _meeting(pairing: Pairing, acting: str, receiver: str) -> Meeting | None:
    one, two = pairing.standing[acting], pairing.standing[receiver]
    match pairing.family:
        case "with":
            return share(one, two) if one.square and two.square else None
        case "on":
            touching = meet(one, two, pairing.units)
            return touching or (share(one, two) if one.square and two.square else None)
        case _:
            return meet(one, two, pairing.units)


def _report_miss(pairing: Pairing, acting: str, receivers: tuple[str, ...], at: Spot, findings: Findings) -> None:
    """One acting piece that meets no receiver."""
    standing = pairing.standing
    one = standing[acting]
    others = tuple(standing[name] for name in receivers if name != acting)
    if pairing.family == "with":
        touching = next((other for other in others if meet(one, other, pairing.units)), None)
        if touching is not None:
            findings.error("not-overlapping", f"A {pairing.wish.kind} is cut where both parts run through; `{acting}` and `{touching.name}` end at each other.",
                           at, "Let both run to the outer corner.")
            return
    _say_miss(pairing, one, others, at, findings)


def _report_unmet(pairing: Pairing, group: tuple[str, ...], at: Spot, findings: Findings) -> None:
    """One receiver that no acting piece meets: the acting piece that comes nearest is named."""
    acting = tuple(pairing.standing[name] for names, _ in pairing.wish.acting for name in names)
    receivers = tuple(pairing.standing[name] for name in group)
    nearest: tuple[tuple[bool, float], Standing] | None = None
    for one in acting:
        gap = miss(one, receivers)
        if gap is not None:
            key = (gap.by.inches < 0, abs(float(gap.by)))
            if nearest is None or key < nearest[0]:
                nearest = (key, one)
    _say_miss(pairing, nearest[1] if nearest else acting[0], receivers, at, findings)


def _say_miss(pairing: Pairing, one: Standing, others: tuple[Standing, ...], at: Spot, findings: Findings) -> None:
    gap = miss(one, others)
    units = pairing.units
    if gap is None:
        names = " or ".join(f"`{other.name}`" for other in others[:3])
        findings.error("parts-dont-meet", f"`{one.name}` does not touch {names or 'any other part'}.", at,
                       "Check the places of both, as tilted.")
        return
    other = gap.receiver
    if gap.by.inches < 0 or (not gap.by.inches and overlap(one, other) is not None):
        findings.error("parts-overlap", f"`{one.name}` reaches {said(-gap.by, units)} into `{other.name}` ({gap.axis}); for a {pairing.wish.kind} they touch.",
                       at, f"Write it to the shoulder: {gap.acting_face} at {other.name}.{gap.receiver_face}, {said(other.box.face(gap.receiver_face), units)}.",
                       also=(other.part.at,))
        return
    if not gap.by.inches:
        findings.error("parts-dont-meet", f"`{one.name}` and `{other.name}` touch along an edge only.", at, "A joint needs a face.",
                       also=(other.part.at,))
        return
    mine, theirs = one.box.face(gap.acting_face), other.box.face(gap.receiver_face)
    findings.error("parts-dont-meet", f"`{one.name}` stops {said(gap.by, units)} short of `{other.name}` ({gap.axis}).", at,
                   f"Nearest faces: {one.name}.{gap.acting_face} {said(mine, units)}, {other.name}.{gap.receiver_face} {said(theirs, units)}.",
                   also=(other.part.at,))
