"""The values of a style filled in at once: a short cut through WeasyPrint 70, with the same result.

The engine works out each property when it is first asked for, and most of them say nothing but "as the parent" or "as it was at first". Here
a style begins with all that its parent hands down and with the first values of what boxes are asked for most.

A value that waits for something (a variable, a sum, the size of a page) is left to the engine. tests/stages/test_shortcuts.py holds documents made
this way against the engine's own.
"""

from __future__ import annotations

import importlib
from typing import Any

from compiler.draw.swapping import Swap

_css: Any = importlib.import_module("weasyprint.css")
_tokens: Any = importlib.import_module("tinycss2.ast")
_Dimension: Any = importlib.import_module("weasyprint.css.properties").Dimension
_COMPUTERS: Any = importlib.import_module("weasyprint.css.computed_values").COMPUTER_FUNCTIONS
_init, _init_anonymous, _missing = _css.ComputedStyle.__init__, _css.AnonymousStyle.__init__, _css.ComputedStyle.__missing__

_ASKED = (
    "box_sizing", "counter_reset", "counter_set", "counter_increment", "anchor", "overflow", "transform", "border_image_source", "mask_border_source",
    "box_shadow", "bookmark_state", "appearance", "bookmark_level", "image_orientation", "background_image", "background_color", "opacity",
    "outline_style", "outline_offset", "outline_color", "box_decoration_break", "string_set", "vertical_align", "continue", "max_lines", "column_width",
    "column_count", "content", "z_index", "break_before", "break_after", "margin_break", "object_fit", "object_position",
)
"""Properties of its own that the engine looks up for nearly every box."""
_ASKED_SIDES = tuple(name for name in _css.PHYSICAL_FUNCTIONS if name not in _css.INITIAL_NOT_COMPUTED and name not in ("top", "right", "bottom", "left"))
_FRESH, _FRESH_SIDES = ({name: _css.INITIAL_VALUES[name] for name in names} for names in (_ASKED, _ASKED_SIDES))
_AT_FIRST = {name: value for name, value in _css.INITIAL_VALUES.items() if (name in _css.INHERITED and name[:2] != "__") or name[:16] == "text_decoration_"}
_HANDED_DOWN = _AT_FIRST.keys()
"""What a parent hands down: the inherited properties, and lines under a text, which go on unless another is asked for."""
_LOGICAL = frozenset(logical(block="ttb", inline=way) for logical in _css.PHYSICAL_FUNCTIONS.values() for way in ("ltr", "rtl"))
"""Names of sides and sizes by the direction of writing: where a style uses one, the engine has to look."""
_UNPLACED = {name: _css.INITIAL_VALUES[name] for name in ("position", "float")}
_INLINE = _css.INITIAL_VALUES["display"]
_LINES = tuple((f"border_{side}_width", f"border_{side}_style") for side in ("top", "right", "bottom", "left"))
_SPECIAL = frozenset(("position", "float", "display", "page"))
_PREFIXED = ("__", "text_decoration_")
_NOTHING = (None, None)
_PLAIN = (str, int, float, _tokens.HashToken, _tokens.IdentToken)
"""Words, numbers, and colours by their code or their name."""
_OF_A_PAGE = ("vw", "vh", "vi", "vb", "vmin", "vmax")


def _settled(value: Any) -> bool:
    """Whether a value waits for nothing that is known only later: no variable, sum or size of a page in it."""
    if value is None or isinstance(value, _PLAIN):
        return True
    if isinstance(value, _Dimension):
        return value.unit is None or not value.unit.endswith(_OF_A_PAGE)
    return isinstance(value, (tuple, list, set, frozenset)) and all(map(_settled, value))


def _handed_by(style: Any) -> dict[str, Any]:
    """What a style hands down to the styles under it; where something waits, that and all that is said here and below it is left out."""
    told = style.__dict__
    handed: dict[str, Any] | None = told.get("hands_down")
    if handed is None:
        received, cascaded = told["received"], style.cascaded
        own = _HANDED_DOWN & cascaded.keys()
        if not own:
            handed = received
        elif len(received) == len(_HANDED_DOWN) and all(_settled(cascaded[name][0]) for name in own):
            handed = {**received, **{name: style[name] for name in own}}
        else:
            handed = {name: value for name, value in received.items() if name not in own}
        told["hands_down"] = handed
    return handed


def _quick_init(self: Any, parent_style: Any, cascaded: Any, *more: Any) -> None:
    """In place of `ComputedStyle.__init__`: what nothing is said about is filled in at once, before anybody asks."""
    _init(self, parent_style, cascaded, *more)
    told = self.__dict__
    handed = told["received"] = _handed_by(parent_style) if parent_style is not None else _AT_FIRST
    self.update(handed)
    self.update(_FRESH)
    plain = told["plain_sides"] = _LOGICAL.isdisjoint(cascaded)
    if plain:
        self.update(_FRESH_SIDES)
    for name in cascaded:
        self.pop(name, None)
    if plain:
        for width, line in _LINES:
            if line not in cascaded:
                self[width] = 0
    if "outline_style" not in cascaded:
        self["outline_width"] = 0
    if parent_style is not None:
        if "page" not in cascaded:
            self["page"] = parent_style["page"]
        if "position" not in cascaded and "float" not in cascaded:
            self.specified.update(_UNPLACED)
            self.update(_UNPLACED)
            display = cascaded["display"][0] if "display" in cascaded else _INLINE
            if isinstance(display, tuple):
                self["display"] = self.specified["display"] = display


def _quick_init_anonymous(self: Any, parent_style: Any) -> None:
    """In place of `AnonymousStyle.__init__`."""
    handed = _handed_by(parent_style)
    self.__dict__["hands_down"] = handed
    self.update({name: parent_style[name] for name in handed})
    self.update(_FRESH)
    self.update(_FRESH_SIDES)
    self.update(_UNPLACED)
    self["display"] = _INLINE
    self["page"] = parent_style["page"]
    _init_anonymous(self, parent_style)


def _quick_missing(self: Any, key: str) -> Any:
    """In place of `ComputedStyle.__missing__`: straight to the value of a property that needs no more than its own say."""
    value, _ = self.cascaded.get(key, _NOTHING)
    if value is None or key in _SPECIAL or key.startswith(_PREFIXED) or not (self.__dict__["plain_sides"] or key not in _css.PHYSICAL_FUNCTIONS):
        return _missing(self, key)
    if value == "inherit" or not _settled(value):
        return _missing(self, key)
    if value == "initial":
        if key in _css.INITIAL_NOT_COMPUTED:
            return _missing(self, key)
        value = self[key] = _css.INITIAL_VALUES[key]
        return value
    compute = _COMPUTERS.get(key)
    value = self[key] = value if compute is None else compute(self, key, value)
    return value


def _quick_set(self: Any, key: str, value: Any) -> None:
    """In place of `Style.__setitem__`: what was kept of a style holds until a value that it had is another.

    What is handed down stays: all elements have got it before any value changes.
    """
    if key in self and self[key] != value:
        self.__dict__.pop("kept", None)
    dict.__setitem__(self, key, value)


SWAPS = (
    Swap(_css.Style, "__setitem__", dict.__setitem__, _quick_set),
    Swap(_css.ComputedStyle, "__init__", _init, _quick_init),
    Swap(_css.AnonymousStyle, "__init__", _init_anonymous, _quick_init_anonymous),
    Swap(_css.ComputedStyle, "__missing__", _missing, _quick_missing),
)
