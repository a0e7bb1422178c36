"""The fields that a joint or a setting asks for: whether their defaults and limits can be worked out.

In: a class of fields. Out: sentences about what is wrong. Only names and plain numbers are judged at load, which
is quick; whether a default is within its limits depends on the contact.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable

from compiler.values.ask import Asked
from compiler.values.joinery import Fields

NAMES = (
    "receiver.thickness", "receiver.depth", "acting.thickness", "acting.depth",
    "contact.length", "contact.width", "contact.depth", "shop.fit", "shop.kerf",
)
_NOT_NAMES = {"rounded", "up", "down", "to", "larger", "smaller", "of", "and", "mm", "cm", "in", "deg", "x"}
_SIZES = ("size", "count", "ratio", "angle")
_BREAK = re.compile(r"[^a-z0-9 .\-]+| - |(?<![a-z0-9])-")


def judge_fields(kind: type[Fields], ground: tuple[str, ...], refuse: Callable[[str, Asked, str], None]) -> None:
    """Tell `refuse` about each field that can't work. `ground` are the names it may use, or beginnings of them with their point."""
    known = [name for name in NAMES if name.startswith(ground)] + [name for name in ground if not name.endswith(".")]
    for asked in kind.asks:
        called = f"`{kind.__name__}.{asked.field}`"
        if not asked.says.strip():
            refuse(f"{called} does not say what it is; makers read it in hints and in the reference.", asked, "")
        if asked.takes in _SIZES:
            texts = (("default", asked.default), ("metric", asked.metric), ("least", asked.least), ("most", asked.most))
            for label, text in texts:
                for name in names_in(text or ""):
                    if name not in known:
                        near = difflib.get_close_matches(name, known, 1, 0.6)
                        refuse(f"The `{label}` of {called} names `{name}`, which is nothing.", asked, f"Did you mean {near[0]}?" if near else "")
        if asked.takes == "word" and asked.words and asked.default is not None and asked.default not in asked.words:
            refuse(f"The default of {called} is `{asked.default}`, which is none of {', '.join(asked.words)}.", asked, "")
        known += [f"{asked.key}.thickness"] if asked.takes == "stock" else [asked.key]


def names_in(text: str) -> tuple[str, ...]:
    """The names that a size uses, in order: words and dots between numbers, signs and the grammar's own words."""
    found: list[str] = []
    for piece in _BREAK.split(text):
        run: list[str] = []
        for word in [*piece.split(), ""]:
            if word and word[0].isalpha() and word not in _NOT_NAMES:
                run.append(word)
            elif run:
                found.append(" ".join(run))
                run = []
    return tuple(found)
