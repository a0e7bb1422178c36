"""Names as makers write them: their spelling, their rules, and the name that was probably meant.

In: texts. Out: the house spelling, a broken rule in words, or a suggestion. Knows nothing of a plan.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

from compiler.language.grammar import RESERVED

_SPELLINGS = {
    "miter": "mitre", "miters": "mitres", "mitered": "mitred", "molding": "moulding", "moldings": "mouldings",
    "center": "centre", "centered": "centred", "rabbett": "rabbet", "rebate": "rabbet",
}
_SPELLED = re.compile(r"(?<![\w-])(" + "|".join(sorted(_SPELLINGS, key=len, reverse=True)) + r")(?![\w-])")
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*( ([a-z][a-z0-9]*(-[a-z0-9]+)*|\d+))*")


def house_spelling(name: str) -> str:
    """The name with one spelling for words that have two: `base molding` → `base moulding`."""
    return _SPELLED.sub(lambda found: _SPELLINGS[found.group()], name)


def rule_broken(name: str) -> tuple[str, str] | None:
    """Why a text can't be a name, and the cure; None when it can."""
    if name.startswith(("“", "”", "‘", "’")):
        return f"The curly quotes are kept as part of the name: {name}.", 'Use plain " or none.'
    for word in name.split(" "):
        if word in RESERVED or (word == "middle" and name == "middle"):
            return f"A name can't contain `{word}`.", f"Join the words: {name.replace(' ', '-')}."
    if re.search(r" \d+$", name):
        return f"A name can't end in a number: `{name}`. Copies do that.", f"Call it {re.sub(r' [0-9]+$', '', name)}."
    if not _NAME.fullmatch(name):
        plain = re.sub(r"[^a-z0-9 -]+", " ", name.lower())
        plain = re.sub(r" +", " ", plain).strip(" -0123456789")
        return (f"`{name}` can't be a name: a name is lower-case words, spaces and hyphens.",
                f"Call it {plain}." if plain and _NAME.fullmatch(plain) else "Begin it with a letter.")
    for word in name.split(" ")[1:]:
        if word in ("across", "deep", "up"):
            return f"A name can't contain `{word}`.", f"Join the words: {name.replace(' ', '-')}."
    return None


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """The known name nearest to a name, "" when none is near."""
    choices = sorted(set(known))
    if name in choices:
        return name
    for ending in ("s", "es"):
        if name.endswith(ending) and name[: -len(ending)] in choices:
            return name[: -len(ending)]
        if name + ending in choices:
            return name + ending
    near = difflib.get_close_matches(name, choices, n=1, cutoff=0.6 if len(name) <= 4 else 0.7)
    if near:
        return near[0]
    if len(name) >= 4:
        holding = [choice for choice in choices if choice.startswith(name + " ") or choice.endswith(" " + name)]
        if len(holding) == 1:
            return holding[0]
    return ""


def listed(names: Iterable[str], word: str = "and") -> str:
    """Names in a sentence: `a, b and c`."""
    items = list(names)
    if len(items) <= 1:
        return "".join(items)
    return f"{', '.join(items[:-1])} {word} {items[-1]}"


def meant(name: str, known: Iterable[str], otherwise: str = "") -> str:
    """The cure for a name that is none: `Did you mean middle rail?`, or what there is where nothing is near."""
    choices = list(known)
    near = did_you_mean(name, choices)
    return f"Did you mean {near}?" if near else otherwise or f"There {'are' if len(choices) > 1 else 'is'} {listed(choices) or 'none'}."
