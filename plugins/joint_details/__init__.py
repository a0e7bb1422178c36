"""Joint details: each sort of joint cut through and drawn large, and where each was taken."""

from compiler.api import Blocks, Cells, Figure, JointUse, Model, Paragraph, Plugin, View, hook, section

from .choosing import kinds_of_joint

THIRD, HALF, HIGH = 50, 82, 66
"""The most of a detail, in mm: three to a row, two where words stand in it."""

FEW = 2
"""Sizes that a detail can show by dimensions alone; more need words."""


@section("Joint details", after="part drawings", name="joint details")
def joint_details(model: Model) -> Blocks:
    """Where they were taken, then those with words two to a row, the others three."""
    joints = kinds_of_joint(model)
    if not joints:
        return
    yield Paragraph(
        content=(
            "Each sort of joint once, cut through or from its face. A circle tells where, arrows which way it is looked at.",
        )
    )
    worded = [joint for joint in joints if len(joint.measures) > FEW]
    plain = [joint for joint in joints if joint not in worded]
    # None stands alone in its row.
    while plain and (len(worded) % 2 or len(plain) % 3 == 1):
        worded.append(plain.pop(0))
    joints = (*worded, *plain)
    marked = ", ".join(joint.id for joint in joints)
    yield Figure("Where the details were taken", View(f"details {marked}", width=168, height=92), name="where details are")
    figures = tuple(_figure(model, joint, number, HALF if joint in worded else THIRD) for number, joint in enumerate(joints, start=1))
    if worded:
        yield Cells(across=2, figures=figures[:len(worded)])
    if plain:
        yield Cells(across=3, figures=figures[len(worded):])


def _figure(model: Model, joint: JointUse, number: int, width: int) -> Figure:
    view = View(f"joint {joint.id}", width=width, height=HIGH)
    return Figure(_caption(model, joint, number), view, name=f"{joint.acting} in {joint.receiver}", placing="cell")


def _caption(model: Model, joint: JointUse, number: int) -> str:
    acting, receiver = model.part(joint.acting), model.part(joint.receiver)
    return f"Detail {number}, {joint.kind}: {acting.kind} ({acting.letter}), {receiver.kind} ({receiver.letter})"


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(joint_details,))
