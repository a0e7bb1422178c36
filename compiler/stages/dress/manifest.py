"""theme.toml → what it says, judged: known keys, right types, the contract.

In: the bytes of a theme.toml. Out: its table with faulty keys left out, or None; the places of its keys; faults. It must not know other files.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from compiler.base.report import Findings, Spot
from compiler.language.names import meant
from compiler.stages.dress.toml_text import TomlText
from compiler.values.theme import CONTRACT, PAPERS

_KINDS = {str: "a text", int: "a whole number", bool: "true or false", list: "a list", dict: "a table"}
KEYS: dict[str, type] = {
    "name": str, "contract": int, "says": str, "parent": object, "styles": list, "pictures": list, "leave_out": list, "flows": list,
    "papers": dict, "fonts": list, "options": dict, "set": dict, "pens": dict, "fills": dict, "letters": dict, "lettering": dict,
}
TEXTS = ("styles", "pictures", "leave_out", "flows", "papers", "fills", "letters")
"""Lists and tables that hold texts and nothing else."""
ROWS: dict[str, dict[str, type]] = {"fonts": {"family": str, "weight": int, "italic": bool, "file": str}}
"""Lists of tables, with the keys of these."""
NAMED: dict[str, tuple[str, ...]] = {"papers": PAPERS, "lettering": ("family", "cap_height")}
"""Tables whose keys are all known."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a theme.toml says, and where."""

    says: dict[str, Any]
    toml: TomlText


def read_manifest(name: str, content: bytes, found: Findings) -> Manifest | None:
    """The table of a theme.toml; None when it can't be read at all. `name` is the theme's."""
    file = f"themes/{name}/theme.toml"
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        column = fault.start - content.rfind(b"\n", 0, fault.start)
        found.error("theme-encoding", "theme.toml is not UTF-8 text.", Spot(file, line=line, column=column), "Save it as UTF-8.")
        return None
    toml = TomlText(file, text)
    try:
        says = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        what, spot = toml.refused(str(fault))
        found.error("theme-syntax", *_refused(what, spot))
        return None
    for key, value in list(says.items()):
        if key not in KEYS:
            _unknown("theme.toml", key, KEYS, toml.key(key), found)
        elif not _fits(key, value, toml, found):
            del says[key]
    if says.get("contract") != CONTRACT:
        has = f"is made for contract {says['contract']!s}" if "contract" in says else "says no contract"
        found.error("theme-contract", f"Theme `{name}` {has}; this compiler has contract {CONTRACT}.", toml.value("contract"),
                    f"Adapt it as themes/README.md says, then write `contract = {CONTRACT}`.")
    return Manifest(says, toml)


def _refused(what: str, spot: Spot) -> tuple[str, Spot, str]:
    """The reader's complaint in words of this file, its place, and the cure."""
    if what.startswith("Illegal character '\\n'"):
        return "A quote is not closed on this line.", spot, "Close it, or write the text on one line."
    cure = 'Each line is `key = value`; texts stand in "quotes", lists in [brackets].'
    if "twice" in what or "overwrite" in what:
        cure = "Write each key once, and all keys of a table under one heading."
    elif what.startswith("Invalid value"):
        cure = 'Put a text into quotes: "…".'
    return f"theme.toml can't be read from here on: {what[0].lower()}{what[1:]}.", spot, cure


def _unknown(where: str, key: str, known: Iterable[str], spot: Spot, found: Findings) -> None:
    found.error("theme-unknown-key", f"{where} has no key `{key}`.", spot, meant(key, known))


def _fits(key: str, value: Any, toml: TomlText, found: Findings) -> bool:
    """Whether a value is what its key takes; each part of it that is not is told."""
    if not _is(value, KEYS[key]):
        _bad(key, value, _wanted(key), toml.value(key), found)
        return False
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    fits = True
    for place, part in parts:
        if key in NAMED and place not in NAMED[key]:
            _unknown(f"`[{key}]`", str(place), NAMED[key], toml.key(key, place), found)
        elif key in TEXTS and not isinstance(part, str):
            _bad(f"{key}.{place}" if isinstance(place, str) else f"Number {place + 1} of {key}", part, "a text", toml.value(key, place), found)
            fits = False
        elif key in ROWS:
            fits &= _row_fits(key, place, part, toml, found)
    return fits


def _row_fits(key: str, place: int, row: Any, toml: TomlText, found: Findings) -> bool:
    known, fits = ROWS[key], True
    if not isinstance(row, dict):
        _bad(f"Number {place + 1} of {key}", row, "a table", toml.value(key, place), found)
        return False
    for name, part in row.items():
        if name not in known:
            _unknown(f"A table of {key}", name, known, toml.key(key, place, name), found)
        elif not _is(part, known[name]):
            _bad(f"`{name}` of {key}", part, _KINDS[known[name]], toml.value(key, place, name), found)
            fits = False
    for name in ("family", "file"):
        if name not in row:
            found.error("theme-bad-key", f"A table of {key} has no `{name}`.", toml.key(key, place), f"Its keys are {', '.join(known)}.")
            fits = False
    return fits


def _bad(what: str, value: Any, wanted: str, spot: Spot, found: Findings) -> None:
    what = what if " " in what else f"`{what}`"
    found.error("theme-bad-key", f"{what} is {str(value)[:60]!r}.", spot, f"It takes {wanted}.")


def _is(value: Any, kind: type) -> bool:
    return isinstance(value, kind) and not (kind is int and isinstance(value, bool))


def _wanted(key: str) -> str:
    if key in ROWS:
        return "tables, each under [[fonts]]"
    return 'a list of texts: ["…"]' if key in TEXTS and KEYS[key] is list else _KINDS[KEYS[key]]
