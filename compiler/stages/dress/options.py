"""A theme's options: declared with a kind by one theme, set by its children.

In: the tables [options] and [set] of theme.toml. Out: options by name, added to or changed in place; faults.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import replace
from typing import Any, cast

from compiler.base.report import Findings, Spot
from compiler.values.theme import Option, OptionKind, OptionValue

KINDS = ("colour", "length", "number", "text", "choice", "flag")
_COLOUR = re.compile(r"#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})")
_LENGTH = re.compile(r"-?\d+(\.\d+)?(pt|mm|in)")
_NAME = re.compile(r"[a-z][a-z0-9-]*")
WANTED = {
    "colour": "a colour such as #1d4f7c",
    "length": "a length such as 9.75pt, 12mm or 0.5in",
    "number": "a number",
    "text": "a text",
    "choice": "one of its choices",
    "flag": "true or false",
}


def declare(table: dict[str, Any], options: dict[str, Option], spot: Spot, found: Findings) -> None:
    """Add the options that a theme declares: `accent = {kind = "colour", default = "#1d4f7c", says = "…"}`."""
    for name, says in table.items():
        place = spot.key("options", name)
        kind = says.get("kind") if isinstance(says, dict) else None
        if kind not in KINDS or "default" not in says or not _NAME.fullmatch(name):
            found.error("theme-option", f"option {name} needs a kind ({', '.join(KINDS)}) and a default", place,
                        f'Write `{name} = {{kind = "colour", default = "#000000", says = "what it is for"}}`.')
            continue
        if name in options:
            found.error("theme-option-twice", f"option {name} is declared by the parent already", place,
                        f"To give it another value, write `{name} = …` under [set].")
            continue
        choices = tuple(str(choice) for choice in says.get("choices", ()))
        option = Option(name=name, kind=cast(OptionKind, kind), value=says["default"], says=str(says.get("says", "")),
                        choices=choices)
        if _fits(option, says["default"]):
            options[name] = option
        else:
            found.error("theme-option-value", f"option {name} is {WANTED[option.kind]}, its default is {says['default']!r}", place)


def set_options(table: dict[str, Any], options: dict[str, Option], spot: Spot, found: Findings) -> None:
    """Give options of this theme or its parents another value."""
    for name, value in table.items():
        place = spot.key("set", name)
        option = options.get(name)
        if option is None:
            near = difflib.get_close_matches(name, options, 1)
            found.error("theme-unknown-option", f"there is no option {name}", place,
                        f"Did you mean {near[0]}?" if near else f"Options are: {', '.join(options) or 'none'}.")
        elif not _fits(option, value):
            wanted = f"one of {', '.join(option.choices)}" if option.kind == "choice" else WANTED[option.kind]
            found.error("theme-option-value", f"option {name} is {wanted}, not {value!r}", place, option.says)
        else:
            options[name] = replace(option, value=cast(OptionValue, value))
            if name == "accent" and contrast_on_white(str(value)) < LEAST_CONTRAST:
                found.warning("theme-pale-accent", f"{value} on white has a contrast of {contrast_on_white(str(value)):.1f} : 1",
                              place, f"Take a darker one: letters in it need at least {LEAST_CONTRAST} : 1.")


LEAST_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3 (AA)."""


def contrast_on_white(colour: str) -> float:
    """Contrast ratio with white by relative luminance (WCAG 2.2); 1 for white, 21 for black."""
    digits = colour.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    channels = [int(digits[place:place + 2], 16) / 255 for place in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)


def _fits(option: Option, value: Any) -> bool:
    match option.kind:
        case "colour":
            return isinstance(value, str) and bool(_COLOUR.fullmatch(value))
        case "length":
            return isinstance(value, str) and bool(_LENGTH.fullmatch(value))
        case "number":
            return isinstance(value, (int, float)) and not isinstance(value, bool)
        case "text":
            return isinstance(value, str) and len(value) <= 500
        case "choice":
            return value in option.choices
        case "flag":
            return isinstance(value, bool)
