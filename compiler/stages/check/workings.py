"""Workings as written: kind and face judged, mirrored where the piece is a mirror image; their sizes are left to `assemble`.

In: the entries under a part's `workings`. Out: wishes with faces and places already exchanged for this copy. A working's own
keys and values are not judged here.
"""

from __future__ import annotations

import re

from compiler.base.measures import Angle
from compiler.base.report import Findings, Spot
from compiler.language import Refused, diagnostic, did_you_mean, house_spelling, listed, parse_edge
from compiler.stages.check.keys import WORKINGS
from compiler.stages.check.scope import OPPOSITE
from compiler.values.design import WorkingWish, Written
from compiler.values.draft import Mapping, Node, Scalar, Sequence
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Face

_FACE = "left|right|front|back|bottom|top"
_COUNTED = re.compile(rf"(?<![\w-])(from|at) ({_FACE})(?=$| and | to | for )")
_WHOLE = re.compile(rf"(all round )?({_FACE})( ({_FACE}))?")


def written(node: Node, at: Spot) -> Written:
    """A node as the maker wrote it."""
    if isinstance(node, Scalar):
        return Written(node.text, at)
    if isinstance(node, Sequence):
        return Written(tuple(written(item, at.key(index)) for index, item in enumerate(node.items)), at)
    return Written(tuple((house_spelling(key.text), written(value, at.key(key.text))) for key, value in node.entries), at)


def working(node: Mapping, at: Spot, findings: Findings, mirrored: tuple[Axis, ...]) -> WorkingWish | None:
    """One working of one copy; None when its kind or its face can't be understood."""
    key, first = node.entries[0]
    kind = house_spelling(key.text)
    if kind not in WORKINGS:
        near = did_you_mean(kind, WORKINGS)
        findings.error("unknown-working", f"There is no working `{key.text}`.", Spot(at.file, at.key(key.text).path, on_key=True),
                       f"Did you mean {near}?" if near else f"Workings are {listed(WORKINGS)}; the kind stands first.")
        return None
    where = _where(first, kind, at.key(key.text), findings)
    if not where:
        return None
    parameters = tuple((house_spelling(name.text), _mirrored(written(value, at.key(name.text)), mirrored)) for name, value in node.entries[1:])
    return WorkingWish(kind=kind, where=tuple(_swap_words(each, mirrored) for each in where), parameters=parameters, mirrored=mirrored, at=at)


def bevelled_end(face: Face, angle: Angle, long_at: Face, at: Spot) -> WorkingWish:
    """The cut that lets an end fit a leaning neighbour."""
    value = angle.degrees
    text = f"{value.numerator}" if value.denominator == 1 else f"{float(value):.3f}".rstrip("0")
    return WorkingWish(kind="mitre", where=(face,), parameters=(("angle", Written(f"{text} deg", at)), ("long at", Written(long_at, at))), at=at)


def _where(node: Node, kind: str, at: Spot, findings: Findings) -> list[str]:
    """Faces (`right`) or edges (`top front`); the four edges round a face are named one by one."""
    texts = [(item.text, at.key(index)) for index, item in enumerate(node.items) if isinstance(item, Scalar)] if isinstance(node, Sequence) else \
        [(node.text, at)] if isinstance(node, Scalar) else []
    if not texts:
        findings.error("wrong-shape", f"`{kind}` takes a face or an edge.", at, f"Write {kind}: right, or {kind}: top front.")
    found: list[str] = []
    for text, place in texts:
        try:
            edge = parse_edge(text)
        except Refused as fault:
            findings.add(diagnostic(fault, place))
            return []
        if edge.all_round:
            face = edge.faces[0]
            found.extend(f"{face} {other}" for other in FACES if AXIS_OF[other] != AXIS_OF[face])
        elif len(edge.faces) == 2 and AXIS_OF[edge.faces[0]] == AXIS_OF[edge.faces[1]]:
            findings.error("no-edge", f"`{text}` is no edge: these two faces never meet.", place, "An edge is where two faces meet: top front.")
            return []
        else:
            found.append(" ".join(edge.faces))
    return found


def _swap(face: str, mirrored: tuple[Axis, ...]) -> str:
    return OPPOSITE[face] if AXIS_OF[face] in mirrored else face


def _swap_words(text: str, mirrored: tuple[Axis, ...]) -> str:
    return " ".join(_swap(word, mirrored) if word in AXIS_OF else word for word in text.split(" "))


def _mirrored(value: Written, mirrored: tuple[Axis, ...]) -> Written:
    """The value as the mirror image has it: faces that are named, and faces that places are counted from."""
    if not mirrored:
        return value
    if isinstance(value.value, str):
        text = value.value
        if _WHOLE.fullmatch(text):
            return Written(_swap_words(text, mirrored), value.at)
        return Written(_COUNTED.sub(lambda found: f"{found[1]} {_swap(found[2], mirrored)}", text), value.at)
    items = []
    for item in value.value:
        items.append((item[0], _mirrored(item[1], mirrored)) if isinstance(item, tuple) else _mirrored(item, mirrored))
    return Written(tuple(items), value.at)  # type: ignore[arg-type]  # pairs stay pairs, items stay items


def axes_of(mirrored: set[Axis]) -> tuple[Axis, ...]:
    """Axes in their order."""
    return tuple(axis for axis in AXES if axis in mirrored)
