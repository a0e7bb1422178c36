"""Which step does which operation.

In: the notes and the operations that the model asks for. Out: for each operation the heading of its first step, or "".
A step does an operation when its words name it; else the step that works on the parts (shaping) or adds them
(assembling). Which words name an operation is common practice, no source.
"""

from __future__ import annotations

import re

from compiler.api import Notes, NoteStep, OperationUse, plain

WORDS = {
    "break down sheet": "break down|sheet",
    "rip": r"\brip\b|ripp",
    "crosscut": "crosscut|to length",
    "mitre": "mitre",
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
    "tongue": "tongue",
    "drill": "drill|bore|hole",
    "counterbore": "counterbor",
    "countersink": "countersink",
    "shelf-pin holes": "pin hole|shelf-pin|drilling guide",
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
    "round-over": "round|shape its edges|ease",
    "cove": "cove",
    "chamfer": "chamfer|shape its edges|ease",
    "moulding on router table": "moulding|profile",
    "edge tape": "edge tape|edging|iron",
    "glue-up": "glue",
    "glue-up of mitres": "glue",
    "drive screws": "screw",
    "drive brads": "brad|pin the|pin one",
    "fit slides and hinges": "slide|hinge|hang",
    "sand": r"\bsand",
    "brush finish": "paint|varnish|shellac|finish",
    "oil finish": r"\boil",
    "spray finish": "spray",
    "lift heavy case": "stand the|lift",
    "mount to wall": "wall|stud",
    "fix anti-tip strap": "strap|anchor|stud",
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
