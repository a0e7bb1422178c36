"""How the solids stand to each other: parts that run into each other, parts that float, joints whose parts don't meet.

In: the model and its solids, tilted parts included. Out: faults told. It knows nothing of fasteners.
"""

from __future__ import annotations

from compiler.base.groups import connected
from compiler.base.report import Spot
from compiler.solid import Solids, collisions, contacts, gap
from compiler.stages.inspect.telling import Telling
from compiler.values.model import JointUse, Model, Part

# A panel may have this much play on each face in its groove (inches), and still be held. Common practice, no source.
PLAY = 1 / 32
# Kinds of hardware that carry what they are written in, though no wood of it touches the rest.
CARRIERS = ("slide", "hinge", "caster")


def judge_standing(model: Model, solids: Solids, telling: Telling, *, whole: bool = True) -> None:
    """Tell of parts in the same place, joints that don't meet, parts that touch nothing (only when all parts are there: `whole`)."""
    _judge_collisions(model, solids, telling)
    touching = {frozenset((contact.first, contact.second)) for contact in contacts(solids)}
    apart = _judge_meeting(model, solids, touching, telling)
    if whole:
        _judge_floating(model, solids, touching, apart, telling)


def _judge_collisions(model: Model, solids: Solids, telling: Telling) -> None:
    joints = {frozenset((joint.acting, joint.receiver)): joint for joint in model.joints}
    for found in collisions(solids):
        one, two = solids[found.first].part, solids[found.second].part
        joint = joints.get(frozenset((one.name, two.name)))
        says = (f"`{one.name}` and `{two.name}` run into each other by {telling.length(found.depth)}: both fill the same "
                f"{telling.volume(found.volume)}, round {telling.place(found.at)}.")
        hint = f"The {joint.kind} between them doesn't clear it: change its sizes." if joint else "Move one, cut one away, or join them."
        telling.error("collision", says, _name(one), hint, also=(_name(two), joint.at if joint else None))


def _judge_meeting(model: Model, solids: Solids, touching: set[frozenset[str]], telling: Telling) -> set[frozenset[str]]:
    """Tell of joints whose parts don't meet; the pairs of parts that are apart."""
    apart: set[frozenset[str]] = set()
    for joint in model.joints:
        pair = frozenset((joint.acting, joint.receiver))
        if pair in touching or len(pair) < 2 or not all(name in solids for name in pair):
            continue
        between = gap(solids, joint.acting, joint.receiver)
        if between > PLAY and joint.family != "on":
            apart.add(pair)
            says = f"`{joint.acting}` and `{joint.receiver}` don't meet: what is cut from them leaves {telling.length(between)} between."
            telling.error("joint-apart", says, joint.at, "Move the cut away from the joint, or the parts together.",
                          also=(_name(solids[joint.acting].part), _name(solids[joint.receiver].part)))
    return apart


def _judge_floating(model: Model, solids: Solids, touching: set[frozenset[str]], apart: set[frozenset[str]], telling: Telling) -> None:
    """Tell of groups that touch nothing else and that no hardware carries."""
    links = [tuple(sorted(pair)) for pair in touching]
    links += [(joint.acting, joint.receiver) for joint in model.joints if _holds(joint, apart)]
    links += [(use.on[0], name) for use in model.hardware for name in use.on[1:]]
    groups = connected(solids.names, links)
    if len(groups) < 2:
        return
    carried = {name for use in model.hardware if use.item.kind in CARRIERS and use.per for name in model.named(use.per)}
    largest = max(groups, key=lambda group: (len(group), -solids.names.index(group[0])))
    for group in groups:
        if group is largest or carried & set(group):
            continue
        names = ", ".join(f"`{name}`" for name in group[:6]) + (f" and {len(group) - 6} more" if len(group) > 6 else "")
        verb = "touches" if len(group) == 1 else "touch"
        telling.error("floating", f"{names} {verb} nothing else.", _name(solids[group[0]].part),
                      "Check its places. Hardware with `under:` joins a shelf to its pins.")


def _holds(joint: JointUse, apart: set[frozenset[str]]) -> bool:
    return frozenset((joint.acting, joint.receiver)) not in apart


def _name(part: Part) -> Spot | None:
    """The part's name in the design."""
    return Spot(part.at.file, part.at.path, True) if part.at is not None and part.at.path else part.at
