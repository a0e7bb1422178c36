"""Which joints get a detail.

In: the model. Out: one joint of each sort that a drawing tells something about. Butted and resting parts need none.
"""

from __future__ import annotations

from compiler.api import JointUse, Model


def kinds_of_joint(model: Model) -> tuple[JointUse, ...]:
    """One joint for each kind with its values, width of contact and the stocks of its two parts."""
    found: dict[object, JointUse] = {}
    for joint in model.joints:
        if joint.family not in ("into", "with"):
            continue
        one, two = model.part(joint.acting), model.part(joint.receiver)
        key = (joint.kind, joint.values, joint.width, one.thickness, two.thickness, one.stock.key, two.stock.key)
        found.setdefault(key, joint)
    return tuple(found.values())
