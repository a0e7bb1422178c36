"""A theme's options: declared with a kind by one theme, set by its children.

In: the tables [options] and [set] of theme.toml. Out: options by name, added to or changed in place; faults. Colours and pens are judged here, too.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any, cast

from compiler.base.report import Findings
from compiler.language.names import meant
from compiler.stages.dress.toml_text import TomlText
from compiler.values.theme import Option, OptionKind, OptionValue

OPTION_KEYS = ("kind", "default", "says", "choices")
PEN_KEYS = ("width", "dash", "colour")
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


def declare(table: dict[str, Any], options: dict[str, Option], toml: TomlText, found: Findings) -> None:
    """Add the options that a theme declares: `accent = {kind = "colour", default = "#1d4f7c", says = "…"}`."""
    for name, says in table.items():
        kind = says.get("kind") if isinstance(says, dict) else None
        if not _NAME.fullmatch(name):
            found.error("theme-option", f"`{name}` can't be the name of an option.", toml.key("options", name),
                        "Use small letters, figures and hyphens, a letter first.")
            continue
        if kind not in KINDS or "default" not in says:
            wrong = kind is not None and kind not in KINDS
            found.error("theme-option", f"Option `{name}` needs a kind ({', '.join(KINDS)}) and a default.",
                        toml.value("options", name, "kind") if wrong else toml.key("options", name),
                        meant(str(kind), KINDS if wrong else (), f'Write `{name} = {{kind = "colour", default = "#000000", says = "what it is for"}}`.'))
            continue
        for key in says:
            if key not in OPTION_KEYS:
                found.error("theme-unknown-key", f"An option has no key `{key}`.", toml.key("options", name, key), meant(key, OPTION_KEYS))
        if name in options:
            found.error("theme-option-twice", f"Option `{name}` is declared by the parent already.", toml.key("options", name),
                        f"To give it another value, write `{name} = …` under [set].")
            continue
        choices = tuple(str(choice) for choice in says["choices"]) if isinstance(says.get("choices"), list) else ()
        option = Option(name=name, kind=cast(OptionKind, kind), value=says["default"], says=str(says.get("says", "")),
                        choices=choices)
        if _fits(option, says["default"]):
            options[name] = option
        else:
            found.error("theme-option-value", f"The default of option `{name}` is {_written(says['default'])}; it takes {_wanted(option)}.",
                        toml.value("options", name, "default"))


def set_options(table: dict[str, Any], options: dict[str, Option], toml: TomlText, found: Findings) -> None:
    """Give options of this theme or its parents another value."""
    for name, value in table.items():
        option = options.get(name)
        if option is None:
            found.error("theme-unknown-option", f"There is no option `{name}`.", toml.key("set", name), meant(name, options))
        elif not _fits(option, value):
            found.error("theme-option-value", f"Option `{name}` is {_written(value)}; it takes {_wanted(option)}.", toml.value("set", name),
                        meant(str(value), option.choices, option.says or f"Write such as `{name} = {_written(option.value)}`."))
        else:
            options[name] = replace(option, value=cast(OptionValue, value))
            if name == "accent" and contrast_on_white(str(value)) < LEAST_CONTRAST:
                found.warning("theme-pale-accent", f"`{value}` on white has a contrast of {contrast_on_white(str(value)):.1f} : 1.",
                              toml.value("set", name), f"Take a darker one: letters in it need at least {LEAST_CONTRAST} : 1.")


def colour_fault(wish: object) -> tuple[str, ...]:
    """What is wrong with a colour, () when nothing is."""
    return () if isinstance(wish, str) and _COLOUR.fullmatch(wish) else (f"is {_written(wish)}; it takes {WANTED['colour']}",)


def pen_fault(wish: object) -> tuple[str, ...]:
    """What is wrong with a pen, and the key that it stands under; () when nothing is."""
    if not isinstance(wish, dict):
        return (f"is {_written(wish)}; it takes a table",)
    for key, value in wish.items():
        match key:
            case "width" if not _above_nothing(value):
                return (f"has the width {_written(value)}; it takes millimetres as a number", key)
            case "dash" if not isinstance(value, list) or not all(_above_nothing(part) for part in value):
                return ("has dashes that are no numbers; it takes a list of millimetres", key)
            case "colour" if colour_fault(value):
                return (f"has the colour {_written(value)}; it takes {WANTED['colour']}", key)
    return ()


def _above_nothing(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and value > 0


def _wanted(option: Option) -> str:
    return f"one of {', '.join(option.choices)}" if option.kind == "choice" else WANTED[option.kind]


def _written(value: object) -> str:
    return f'"{value[:60]}"' if isinstance(value, str) else str(value).lower() if isinstance(value, bool) else str(value)[:60]


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
