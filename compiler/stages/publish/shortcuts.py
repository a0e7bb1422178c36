"""Short cuts through WeasyPrint 70 for what it asks most often: the value of a property, the sizes of a box; with the same result.

tests/stages/test_shortcuts.py holds documents made with them against the engine's own.
"""

from __future__ import annotations

import copy
import importlib
import re
from typing import Any

from compiler.draw import quick_lines
from compiler.draw.swapping import Swap, swap
from compiler.stages.publish import packing

_css: Any = importlib.import_module("weasyprint.css")
_percent: Any = importlib.import_module("weasyprint.layout.percent")
_boxes: Any = importlib.import_module("weasyprint.formatting_structure.boxes")
BASE: Any = importlib.import_module("weasyprint.html").UA_STYLESHEET
_Placeholder: Any = importlib.import_module("weasyprint.layout.absolute").AbsolutePlaceholder
_backgrounds: Any = importlib.import_module("weasyprint.layout.background")
_init, _init_anonymous = _css.ComputedStyle.__init__, _css.AnonymousStyle.__init__
_missing, _resolve, _lay_background = _css.ComputedStyle.__missing__, _percent.resolve_percentages, _backgrounds.layout_box_backgrounds

_ASKED = (
    "box_sizing", "counter_reset", "counter_set", "counter_increment", "anchor", "overflow", "transform", "border_image_source", "mask_border_source",
    "box_shadow", "bookmark_state", "appearance", "bookmark_level", "image_orientation", "background_image", "background_color", "opacity",
    "outline_style", "outline_offset", "outline_color", "box_decoration_break", "string_set", "vertical_align", "continue", "max_lines", "column_width",
    "column_count",
)
"""Properties of its own that the engine looks up for nearly every box."""
_ASKED_SIDES = tuple(name for name in _css.PHYSICAL_FUNCTIONS if name not in _css.INITIAL_NOT_COMPUTED and name not in ("top", "right", "bottom", "left"))
_FRESH, _FRESH_SIDES = ({name: _css.INITIAL_VALUES[name] for name in names} for names in (_ASKED, _ASKED_SIDES))
_HANDED_DOWN = {name: _css.INITIAL_VALUES[name] for name in _css.INHERITED if name not in _css.INITIAL_NOT_COMPUTED and not name.startswith(("__", "text_decoration_"))}
_LOGICAL = frozenset(logical(block="ttb", inline=way) for logical in _css.PHYSICAL_FUNCTIONS.values() for way in ("ltr", "rtl"))
"""Names of sides and sizes by the direction of writing: where a style uses one, the engine has to look."""
_SPECIAL = frozenset(("position", "float", "display", "page"))
_SIZES = ("margin_left", "margin_right", "margin_top", "margin_bottom", "padding_left", "padding_right", "padding_top", "padding_bottom",
          "width", "min_width", "max_width", "height", "min_height", "max_height")
_BORDERS = ("border_top_width", "border_right_width", "border_bottom_width", "border_left_width")
_RADII = tuple(f"border_{corner}_radius" for corner in ("top_left", "top_right", "bottom_right", "bottom_left"))
_NOTES = re.compile(r"(?<![.\w-])(?:foot)?note|list-item")
_LISTED = ("li", "summary")


def base_sheet(style: str) -> Any:
    """The engine's own style sheet; without what it says of every element for notes and list items, where the pages' style makes none."""
    if _NOTES.search(style):
        return BASE
    sheet, matcher = copy.copy(BASE), copy.copy(BASE.matcher)
    markers = [each for each in matcher.other_selectors if each[3] == "marker"]
    by_name = dict(matcher.lower_local_name_selectors)
    by_name.update((name, [*by_name.get(name, ()), *markers]) for name in _LISTED)
    matcher.other_selectors, matcher.lower_local_name_selectors = [each for each in matcher.other_selectors if each[3] is None], by_name
    sheet.matcher = matcher
    return sheet


def _quick_init(self: Any, parent_style: Any, cascaded: Any, pseudo_type: Any, *more: Any) -> None:
    """In place of `ComputedStyle.__init__`: what nothing is said about is filled in at once, before anybody asks."""
    _init(self, parent_style, cascaded, pseudo_type, *more)
    if pseudo_type is not None:
        return
    handed = _HANDED_DOWN if parent_style is None else parent_style.__dict__.get("handed_down", {})
    if not handed.keys().isdisjoint(cascaded):
        handed = {name: value for name, value in handed.items() if name not in cascaded}
    self.__dict__["handed_down"] = handed
    self.update(handed)
    self.update(_FRESH)
    if _LOGICAL.isdisjoint(cascaded):
        self.update(_FRESH_SIDES)
    for name in cascaded:
        self.pop(name, None)


def _quick_init_anonymous(self: Any, parent_style: Any) -> None:
    """In place of `AnonymousStyle.__init__`."""
    self.update(parent_style.__dict__.get("handed_down", {}))
    self.update(_FRESH)
    self.update(_FRESH_SIDES)
    _init_anonymous(self, parent_style)


def _quick_missing(self: Any, key: str) -> Any:
    """In place of `ComputedStyle.__missing__`: straight to the value of a property of which the style says nothing."""
    if key in self.cascaded or key in _SPECIAL or key.startswith(("__", "text_decoration_")):
        return _missing(self, key)
    if key in _css.PHYSICAL_FUNCTIONS:
        told = self.__dict__
        if "says_logical" not in told:
            told["says_logical"] = not _LOGICAL.isdisjoint(self.cascaded)
        if told["says_logical"]:
            return _missing(self, key)
    if key in _css.INHERITED:
        value = self.parent_style[key] if self.parent_style is not None else None
        if value is None or (not isinstance(value, (str, int, float)) and _css.check_math(value)):
            return _missing(self, key)
    elif key in _css.INITIAL_NOT_COMPUTED:
        return _missing(self, key)
    else:
        value = _css.INITIAL_VALUES[key]
    self[key] = value
    return value


def _under(box: Any) -> dict[str, Any]:
    """The attributes of a box, or of the box that a placeholder stands for."""
    return (box._box if type(box) is _Placeholder else box).__dict__  # type: ignore[no-any-return]


def _quick_resolve(box: Any, containing_block: Any) -> None:
    """In place of `resolve_percentages`: a style that asks for no other box's size gives each of its boxes the same sizes."""
    told = box.style.__dict__
    sizes = told.get("sizes_of_its_own")
    if sizes is None:
        sizes = told["sizes_of_its_own"] = _own_sizes(box.style)
    if not sizes:
        _resolve(box, containing_block)
        return
    own = _under(box)
    own.update(sizes)
    if "border_top_width" not in sizes:
        for name in _BORDERS:
            own.setdefault(name, box.style[name])


def _own_sizes(style: Any) -> dict[str, Any]:
    """The sizes of each box of this style, borders left out where neighbours may share them; nothing where another box's size is asked for."""
    shared = style["border_collapse"] == "collapse"
    if shared and style["box_sizing"] != "content-box":
        return {}
    for name in _SIZES:
        size = style[name]
        if size != "auto" and getattr(size, "unit", None) != "px":
            return {}
    bare = _boxes.Box(None, style, None)
    _resolve(bare, (0, 0))
    return {name: bare.__dict__[name] for name in (_SIZES if shared else _SIZES + _BORDERS)}


def _quick_background(page: Any, box: Any, get_image: Any, layout_children: bool = True, style: Any = None) -> None:
    """In place of `layout_box_backgrounds`: little to do for a box that shows nothing behind it."""
    told = box.style.__dict__
    if "shows_behind" not in told:
        told["shows_behind"] = _shows_behind(box.style)
    if told["shows_behind"] or style is not None or box is page:
        _lay_background(page, box, get_image, layout_children, style)
        return
    own = _under(box)
    for name in _RADII:
        own[name] = (0, 0)
    own["background"] = None
    if layout_children:
        for child in box.all_children():
            _quick_background(page, child, get_image)


def _shows_behind(style: Any) -> bool:
    """Whether a box of this style has a background, a shadow, a picture at its edge or round corners."""
    behind = style["background_color"]
    colour = style["color"] if behind == "currentcolor" else behind
    return bool(
        colour.alpha or style["box_shadow"] or any(kind != "none" for kind, _ in style["background_image"])
        or style["border_image_source"][0] != "none" or style["mask_border_source"][0] != "none"
        or any((0, "px") not in style[name] for name in _RADII))


SWAPS = (
    *quick_lines.SWAPS,
    *packing.SWAPS,
    Swap(_css.ComputedStyle, "__init__", _init, _quick_init),
    Swap(_css.AnonymousStyle, "__init__", _init_anonymous, _quick_init_anonymous),
    Swap(_css.ComputedStyle, "__missing__", _missing, _quick_missing),
    Swap(_percent, "resolve_percentages", _resolve, _quick_resolve),
    Swap(_backgrounds, "layout_box_backgrounds", _lay_background, _quick_background),
)
"""All of them: those in lines of text and in the writing of the file, too."""


def take_shortcuts() -> None:
    """Have the engine take them."""
    swap(SWAPS)
