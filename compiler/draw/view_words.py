"""Are these the words of a view? Judged without drawing, so that a misspelt word is told where it is written.

In: words and the model. Out: what is wrong and the cure, or None. What only the drawing shows (a view in which nothing is left to
see) is told when it is drawn.
"""

from __future__ import annotations

import re

from compiler.draw.cameras import camera
from compiler.draw.sections import plane_of
from compiler.language import did_you_mean
from compiler.values.document import VIEW_SIDES as SIDES
from compiler.values.document import VIEW_WORDS
from compiler.values.model import Model

KINDS = tuple(word for word in VIEW_WORDS if word != "sheets")
FILLERS = ("from", "the", "side", "view", "corner", "and", "seen")
WAYS = "Write front, left side, top, a corner such as front left top, section at 12 from the front, detail of a part, or exploded."

Fault = tuple[str, str]


def fault_of(words: str, model: Model) -> Fault | None:
    """What is wrong with the words of a view, and the cure; None when they can be drawn."""
    plain, *dropped = words.strip().replace(",", " ").split(" without ")
    if dropped:
        fault = _left_out(" ".join(dropped), model)
        if fault is not None:
            return fault
    first, _, rest = " ".join(plain.split()).partition(" ")
    if not first:
        return "A view without words.", WAYS
    if first == "section":
        return _section(rest, model)
    if first in ("detail", "part", "profile", "thumb"):
        return _of(re.sub(r" from the \w+( side)?$", "", rest.removeprefix("of").strip()), first, model)
    if first == "joint":
        return None if any(joint.id == rest for joint in model.joints) else (f"`{rest}` is no joint of this plan.", "Write detail of and a part.")
    if first in ("exploded", "step"):
        return _corner(rest, words) if rest else None
    if first in KINDS:
        return None
    return _corner(" ".join(plain.split()), words)


def _corner(rest: str, words: str) -> Fault | None:
    try:
        camera(rest)
    except ValueError:
        for word in rest.lower().split():
            if word not in SIDES and word not in FILLERS:
                near = did_you_mean(word, (*SIDES, *KINDS))
                return f"`{words}` is no view: `{word}` is no side.", f"Did you mean {near}?" if near else WAYS
        return f"`{words}` is no view: two of its sides are opposite, or the same.", "A corner is two or three sides that meet: front left top."
    return None


def _section(rest: str, model: Model) -> Fault | None:
    shape = re.fullmatch(r"(?:at )?(.+?) (?:seen )?from the (\w+)(?: side)?", rest)
    if shape is None:
        return f"`section {rest}` doesn't say from which side.", "Write section at a place from a side: section at 12 from the front."
    if shape[2] not in SIDES[:6]:
        near = did_you_mean(shape[2], SIDES[:6])
        return f"`{shape[2]}` is no side to look from.", f"Did you mean {near}?" if near else "Sides: front, back, left, right, top, bottom."
    try:
        plane_of(model, rest)
    except ValueError as fault:
        says = str(fault).replace("“", "`").replace("”", "`")
        near = did_you_mean(shape[1].partition(".")[0], _names(model) + [name for name, _ in model.measures])
        if "misses" in says:
            return says, "Write a place inside the piece: middle, a face such as shelf.top, or a size."
        return says, f"Did you mean {near}?" if near else "A place is a size, a face such as shelf.top, or middle."
    return None


def _of(name: str, kind: str, model: Model) -> Fault | None:
    parts = model.named(name)
    if not parts:
        return _unknown(name, model)
    if kind == "detail" and not any(name in (joint.acting, joint.receiver) for joint in model.joints for name in parts[:1]):
        return f"`{name}` has no joint to show in a detail.", "Write the name of a part that a joint holds."
    return None


def _left_out(names: str, model: Model) -> Fault | None:
    away: set[str] = set()
    for name in re.split(r",| and | {2,}", names):
        if name.strip():
            parts = model.named(name.strip())
            if not parts:
                return _unknown(name.strip(), model)
            away.update(parts)
    if len(away) == len(model.parts):
        return "Nothing is left to see in this view.", "Leave fewer parts out."
    return None


def _unknown(name: str, model: Model) -> Fault:
    near = did_you_mean(name, _names(model))
    return f"`{name}` is no part of this plan.", f"Did you mean {near}?" if near else "Parts, kinds and assemblies can be named."


def _names(model: Model) -> list[str]:
    return list(dict.fromkeys([*(kind.name for kind in model.kinds), *(part.name for part in model.parts),
                               *(group.name for group in model.assemblies)]))
