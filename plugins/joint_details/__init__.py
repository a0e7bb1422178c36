"""Joint details: each sort of joint cut through and drawn large, and where each was taken."""

from compiler.api import Blocks, Cells, Figure, JointUse, Model, Paragraph, Plugin, View, hook, section

from .choosing import kinds_of_joint

ACROSS, HIGH = 50, 60
"""The most of a detail, in mm: three to a row."""


@section("Joint details", after="part drawings", name="joint details")
def joint_details(model: Model) -> Blocks:
    """Three to a row."""
    joints = kinds_of_joint(model)
    if not joints:
        return
    yield Paragraph(
        content=(
            "Each sort of joint once, cut through; dovetails and fingers from their face. A circle tells where a detail was taken,"
            " arrows where it is cut and which way it is looked at. The signs of the woods are explained in the key.",
        )
    )
    marked = ", ".join(joint.id for joint in joints)
    yield Figure("Where the details were taken", View(f"details {marked}", width=168, height=56), name="where details are")
    yield Cells(
        across=3,
        figures=tuple(
            Figure(_caption(model, joint, number), View(f"joint {joint.id}", width=ACROSS, height=HIGH), name=f"{joint.acting} in {joint.receiver}", placing="cell")
            for number, joint in enumerate(joints, start=1)
        )
    )


def _caption(model: Model, joint: JointUse, number: int) -> str:
    acting, receiver = model.part(joint.acting), model.part(joint.receiver)
    return f"{number}  {joint.kind[:1].upper()}{joint.kind[1:]}: {acting.kind} ({acting.letter}) and {receiver.kind} ({receiver.letter})"


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(joint_details,))
