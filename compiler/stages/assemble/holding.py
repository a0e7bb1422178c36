"""Does it hold together? Overlaps that no joint shares, pieces that nothing holds, groups that touch nothing, tapered shoulders.

In: parts as they stand, their features, joints, hardware, touching faces. Out: diagnostics only. Square boxes are judged
exactly; overlaps of tilted parts are left to the check of solids.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from compiler.base.groups import connected
from compiler.base.measures import ZERO, Length
from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.stages.assemble.contacts import Meeting, overlap
from compiler.stages.assemble.coverage import Touching
from compiler.stages.assemble.growth import bounds_of
from compiler.stages.assemble.placing import INDEX, Standing, fine, near, placed, placed_back
from compiler.stages.assemble.wording import said
from compiler.values.design import JointWish
from compiler.values.model import AXES, AXIS_OF, Box, HardwareUse, JointUse, Part
from compiler.values.shapes import Block, Prism

CARRIERS = ("slide", "hinge", "caster")
"""Kinds of hardware that carry the component's use they are written in, though no part of it touches the rest."""


def judge_overlaps(standing: Mapping[str, Standing], parts: Mapping[str, Part], wishes: Sequence[JointWish], units: Units,
                   findings: Findings) -> None:
    """Report parts that stand in the same place without a joint between them and without a cut that makes room.

    Whether a joint that is written fits its parts is judged where it is made.
    """
    joined = {frozenset((one, two)) for wish in wishes for one in _names(wish.acting) for two in _names(wish.receivers)}
    told: set[frozenset[str]] = set()
    all_parts = tuple(standing.values())
    reach = {part.name: part.reach for part in all_parts}
    for number, one in enumerate(all_parts):
        for two in all_parts[number + 1:]:
            if not near(reach[one.name], reach[two.name]):
                continue
            if not (one.square and two.square) or frozenset((one.name, two.name)) in joined or _mitred(one, two):
                continue
            box = overlap(one, two)
            if box is None or _cut_away(box, parts[one.name]) or _cut_away(box, parts[two.name]):
                continue
            kinds = frozenset((one.part.kind, two.part.kind))
            if kinds in told:
                continue
            told.add(kinds)
            sizes = " × ".join(said(box.span(axis).size, units) for axis in AXES)
            findings.error("overlap", f"`{one.name}` and `{two.name}` overlap by {sizes} and no joint says how.", one.part.at,
                           "Notch one, or join them.", also=(two.part.at,))


def _names(groups: Sequence[tuple[tuple[str, ...], Spot]]) -> list[str]:
    return [name for group, _ in groups for name in group]


def _mitred(one: Standing, two: Standing) -> bool:
    """True for neighbours of one run: they overlap at their mitred corner."""
    alike = one.part.base == two.part.base and one.part.use == two.part.use
    return alike and all(any(how == "mitre" for _, how in part.part.run_ends) for part in (one, two))


def _cut_away(box: Box, part: Part) -> bool:
    """True when one of a part's square cuts takes all of a box."""
    for feature in part.features:
        if feature.op != "cut" or not isinstance(feature.shape, Block) or feature.shape.toward is not None:
            continue
        bounds = bounds_of(feature.shape, feature.frame)
        if bounds is not None and all(bounds.span(axis).start <= box.span(axis).start and box.span(axis).end <= bounds.span(axis).end for axis in AXES):
            return True
    return False


def judge_holding(standing: Mapping[str, Standing], wishes: Sequence[JointWish], joints: Sequence[JointUse], hardware: Sequence[HardwareUse],
                  pairs: Sequence[Touching], findings: Findings) -> None:
    """Warn of a piece in no joint and no hardware; report a group that touches nothing else."""
    held = {name for wish in wishes for name in (*_names(wish.acting), *_names(wish.receivers))} | {name for use in hardware for name in use.on}
    links = [(joint.acting, joint.receiver) for joint in joints]
    links += [(pair.one, pair.two) for pair in pairs]
    links += [(use.on[0], name) for use in hardware for name in use.on[1:]]
    groups = connected(tuple(standing), links)
    largest = max(groups, key=len, default=())
    told: set[str] = set()
    carried = {use.per for use in hardware if use.item.kind in CARRIERS and use.per}
    for group in groups:
        if group is not largest and not any(standing[name].part.use in carried for name in group):
            names = ", ".join(f"`{name}`" for name in group[:6])
            more = f" and {len(group) - 6} more" if len(group) > 6 else ""
            verb = "touches" if len(group) == 1 else "touch"
            findings.error("floating", f"{names}{more} {verb} nothing else.", _name_spot(standing[group[0]].part.at),
                           "Check its places. Hardware with `under:` joins a shelf to its pins.")
            told.update(standing[name].part.kind for name in group)
    for part in standing.values():
        if part.name not in held and part.part.kind not in told and len(standing) > 1:
            told.add(part.part.kind)
            findings.warning("nothing-holds", f"Nothing holds `{part.name}`.", _name_spot(part.part.at), "Name it in a joint, or in hardware.")


def _name_spot(at: Spot) -> Spot:
    return Spot(at.file, at.path, True) if at.path else at


def judge_tapers(meetings: Iterable[tuple[Meeting, str, Spot]], parts: Mapping[str, Part], units: Units, findings: Findings) -> None:
    """Report a joint at a face that is tapered away where the parts should touch."""
    told: set[tuple[Spot, str]] = set()
    for meeting, kind, at in meetings:
        gap = _tapered_gap(meeting, parts[meeting.receiver.name])
        if gap > ZERO and (at, kind) not in told:
            told.add((at, kind))
            acting, receiver = meeting.acting.name, meeting.receiver.name
            findings.error("tapered-away", f"`{acting}` stops {said(gap, units)} short of `{receiver}`: the {receiver} is tapered there.", at,
                           "Taper the other face, or begin the taper beyond the joint.")


def _tapered_gap(meeting: Meeting, receiver: Part) -> Length:
    """How far a taper of the receiver's face falls away within the contact, at most."""
    most = ZERO
    for working in receiver.workings:
        for feature in working.features:
            if working.kind != "taper" or feature.face != meeting.on or not isinstance(feature.shape, Prism):
                continue
            run, rise = feature.shape.outline[1].x, feature.shape.outline[2].y
            along = next(i for i in range(3) if feature.frame.along[i])
            end, sign = feature.frame.origin[along], int(feature.frame.along[along])
            nearest = min((place - end) * sign for place in _reach(meeting, along))
            if nearest < run:
                most = max(most, rise * ((run - max(nearest, ZERO)) / run))
    return most


def _reach(meeting: Meeting, index: int) -> tuple[Length, Length]:
    """Where the contact begins and ends on one of the receiver's axes."""
    axis = AXES[index]
    acting = meeting.acting.box
    if meeting.acting.square and meeting.receiver.square and AXIS_OF[meeting.face] != axis:
        span = acting.span(axis)
        return span.start, span.end
    corners = [placed_back(meeting.receiver.pose, placed(meeting.acting.pose, point))[INDEX[axis]] for point in meeting.acting.corners(meeting.face)]
    low, high = min(corners), max(corners)
    return fine(low), fine(high)
