"""Work that a design asks for, in the words of the library's operations: what guides tools and cautions.

In: stock, workings, joints, hardware and finishes as made. Out: `OperationUse`s, each with what asks for it. The tables
here are from trade words to the library's; tools come with the library.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from compiler.values.model import FinishUse, HardwareUse, JointUse, OperationUse, Part

OF_WORKING = {
    "hole": "drill", "holes": "drill", "dado": "dado with router", "groove": "groove", "rabbet": "rabbet", "notch": "cut-out",
    "bevel": "bevel rip", "mitre": "mitre", "taper": "taper cut", "chamfer": "chamfer", "round-over": "round-over", "cove": "cove",
    "arc": "band-saw curve", "cut-out": "cut-out", "outline": "band-saw curve", "profile": "moulding on router table",
}
OF_STOCK = {
    "sheet": ("break down sheet",), "board": ("joint", "plane to thickness", "rip", "crosscut"), "rod": ("crosscut",),
    "moulding": ("crosscut",), "tape": (),
}
OF_HARDWARE = {
    "slide": "fit slides and hinges", "hinge": "fit slides and hinges", "anchor": "fix anti-tip strap", "wood screw": "drive screws",
    "brad": "drive brads", "lid stay": "fit lid", "catch": "fit slides and hinges", "cleat": "mount to wall",
}
OILS = ("oil", "oil-varnish", "hard wax oil", "mineral oil")


def operations_of(parts: Sequence[Part], from_joints: Iterable[OperationUse], joints: Sequence[JointUse],
                  hardware: Sequence[HardwareUse], finishes: Sequence[FinishUse]) -> tuple[OperationUse, ...]:
    """All work, equal work of one source once."""
    uses: list[OperationUse] = []
    for part in parts:
        uses.extend(OperationUse(does=does, parts=(part.name,), by="stock") for does in OF_STOCK[part.stock.kind])
        if part.strips > 1:
            uses.append(OperationUse(does="glue-up", parts=(part.name,), by="strips"))
        if part.band:
            uses.append(OperationUse(does="edge tape", parts=(part.name,), by="edge band"))
        for called, does in (("mitre", "mitre"), ("profile", "moulding on router table"), ("level end", "mitre"), ("bevelled end", "mitre")):
            if any(feature.called == called and feature.by == "shape" for feature in part.features):
                uses.append(OperationUse(does=does, parts=(part.name,), by="shape"))
        for working in part.workings:
            pins = working.kind == "holes" and "for" in dict(working.values)
            uses.append(OperationUse(does="shelf-pin holes" if pins else OF_WORKING[working.kind], parts=(part.name,), by=working.id))
            for mouth in ("countersink", "counterbore"):
                if any(feature.called == mouth for feature in working.features):
                    uses.append(OperationUse(does=mouth, parts=(part.name,), by=working.id))
    uses.extend(from_joints)
    uses.extend(OperationUse(does="mount to wall", parts=(joint.acting, joint.receiver), by=joint.id) for joint in joints if joint.kind == "hang")
    if any(joint.glue for joint in joints):
        uses.append(OperationUse(does="dry assembly", by="joints"))
    for use in hardware:
        does = "mount to wall" if use.item.key.startswith("wall screw") else OF_HARDWARE.get(use.item.kind, "")
        if does:
            uses.append(OperationUse(does=does, parts=use.on, by=use.item.key))
    for finish in finishes:
        uses.append(OperationUse(does="sand", parts=finish.parts, by=finish.kind))
        uses.append(OperationUse(does="oil finish" if finish.kind in OILS else "brush finish", parts=finish.parts, by=finish.kind))
    return tuple(dict.fromkeys(uses))
