"""Which step does which operation.

In: the notes and the operations that the model asks for. Out: for each operation the heading of its first step, or "".
A step does an operation when its words name it; else the step that works on the parts (shaping) or adds them
(assembling). Which words name an operation is common practice, no source.
"""

from __future__ import annotations

import re

from compiler.api import Notes, NoteStep, OperationUse, plain

WORDS = {
    "break down sheet": r"\bsheets? (down|parts)|break down",
    "rip": r"\brip\b|\bripp",
    "crosscut": r"\bcrosscut|to length",
    "mitre": r"\bmitre",
    "bevel rip": "bevel",
    "taper cut": "taper",
    "band-saw curve": "curve|arch",
    "cut-out": "cut-out|cut out",
    "joint": r"joint one|joint the edge|\bmill",
    "plane to thickness": r"\bplane\b|\bmill",
    "dado with stacked cutter": "dado|housing",
    "dado with router": "dado|housing",
    "groove": "groove|plough",
    "rabbet": "rabbet",
    "tongue": r"\bcut the tongue",
    "drill": r"\bdrill|\bbore\b|\bboring",
    "counterbore": "counterbor",
    "countersink": "countersink",
    "shelf-pin holes": r"pin hole|shelf-pin|drilling guide",
    "pocket hole": "pocket hole",
    "dowel holes": "dowel",
    "mortise with router": "mortise",
    "mortise with drill and chisel": "mortise",
    "tenon": "tenon",
    "half-lap": "half-lap",
    "box joint": "box joint",
    "dovetail": "dovetail",
    "cut hinge mortise": "hinge",
    "template rout": "template",
    "round-over": r"\bround (its|over|the)|shape its edges|\bease\b",
    "cove": "cove",
    "chamfer": r"\bchamfer|shape its edges|\bease\b",
    "moulding on router table": "moulding|profile",
    "edge tape": r"edge tape|\bedging\b|\biron\b",
    "glue-up": r"\bglue\b",
    "glue-up of mitres": r"\bglue\b",
    "drive screws": r"\b(drive|screw)",
    "drive brads": "brad|pin the|pin one",
    "fit slides and hinges": r"\bslides\b|\bhinges?\b|\bhang ",
    "sand": r"\bsand",
    "brush finish": r"\bpaint\b|\bvarnish|\bshellac",
    "oil finish": r"\boil",
    "spray finish": "spray",
    "lift heavy case": r"\bstand the \w+ where|\blift the",
    "mount to wall": r"\bto the wall\b|\bstuds?\b",
    "fix anti-tip strap": r"\bstraps?\b|\banchor",
}
ASSEMBLING = ("glue-up", "glue-up of mitres", "drive screws", "drive brads", "fit slides and hinges", "dry assembly")


def step_of(operation: OperationUse, notes: Notes) -> str:
    """The heading of the first step that does it; "" when no step can be told."""
    pattern = re.compile(WORDS.get(operation.does, re.escape(operation.does)), re.IGNORECASE)
    parts = set(operation.parts)
    best = (0, "")
    for step in notes.steps:
        touched = parts & {*step.works, *step.adds, *step.makes}
        if parts and not touched:
            continue
        points = 4 if pattern.search(step.key) else 0
        points += 2 if pattern.search(_text(step)) else 0
        if points == 0 and parts:
            points = 1 if (parts & set(step.adds)) == touched == parts and operation.does in ASSEMBLING else 0
        if points > best[0]:
            best = (points, step.key)
    return best[1]


def _text(step: NoteStep) -> str:
    return " ".join(plain(block) for block in step.content)
