"""theme.toml → what it says, judged: known keys, right types, the contract.

In: the bytes of a theme.toml. Out: its table with faulty keys left out, or None; faults. It must not know other files.
"""

from __future__ import annotations

import difflib
import tomllib
from typing import Any

from compiler.base.report import Findings, Spot
from compiler.values.theme import CONTRACT

KEYS: dict[str, tuple[type, str]] = {
    "name": (str, "a text"),
    "contract": (int, "a number"),
    "says": (str, "a text"),
    "parent": (object, "a name"),
    "styles": (list, "a list of texts"),
    "pictures": (list, "a list of texts"),
    "leave_out": (list, "a list of texts"),
    "flows": (list, "a list of texts"),
    "papers": (dict, "a table"),
    "fonts": (list, "a list of tables"),
    "options": (dict, "a table"),
    "set": (dict, "a table"),
    "pens": (dict, "a table"),
    "fills": (dict, "a table"),
    "letters": (dict, "a table"),
    "lettering": (dict, "a table"),
}
FONT_KEYS: dict[str, type] = {"family": str, "weight": int, "italic": bool, "file": str}


def read_manifest(name: str, content: bytes, found: Findings) -> dict[str, Any] | None:
    """The table of a theme.toml; None when it can't be read at all. `name` is the theme's."""
    spot = Spot(f"themes/{name}/theme.toml")
    try:
        says = tomllib.loads(content.decode("utf-8"))
    except UnicodeDecodeError:
        found.error("theme-encoding", "theme.toml is not UTF-8 text", spot, "Save it as UTF-8.")
        return None
    except tomllib.TOMLDecodeError as fault:
        found.error("theme-syntax", f"theme.toml can't be read: {fault}", spot)
        return None
    for key, value in list(says.items()):
        if key not in KEYS:
            near = difflib.get_close_matches(key, KEYS, 1)
            found.error("theme-unknown-key", f"theme.toml has the unknown key {key}", spot.key(key),
                        f"Did you mean {near[0]}?" if near else f"Known are: {', '.join(KEYS)}.")
        elif not isinstance(value, KEYS[key][0]) or not _entries_fit(key, value):
            found.error("theme-bad-key", f"{key} in theme.toml is {str(value)[:60]!r}", spot.key(key), f"It is {KEYS[key][1]}.")
            del says[key]
    if says.get("contract") != CONTRACT:
        found.error("theme-contract", f"theme {name} is made for contract {says.get('contract', 'none')!s}, this compiler has {CONTRACT}",
                    spot.key("contract"), f"Adapt it as themes/README.md says, then write `contract = {CONTRACT}`.")
    return says


def _entries_fit(key: str, value: Any) -> bool:
    if key == "fonts":
        return all(isinstance(face, dict) and {"family", "file"} <= face.keys() <= FONT_KEYS.keys()
                   and all(isinstance(part, FONT_KEYS[name]) for name, part in face.items()) for face in value)
    if key in ("styles", "pictures", "leave_out", "flows"):
        return all(isinstance(item, str) for item in value)
    if key in ("papers", "fills", "letters"):
        return all(isinstance(item, str) for item in value.values())
    return True
