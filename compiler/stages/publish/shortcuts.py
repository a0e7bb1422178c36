"""Short cuts through WeasyPrint 70 for what it asks most often of a box: its sizes, and what is behind it; with the same result.

tests/stages/test_shortcuts.py holds documents made with them against the engine's own.
"""

from __future__ import annotations

import copy
import importlib
import re
from collections.abc import Iterator
from typing import Any

from compiler.draw import quick_lines
from compiler.draw.quick_lines import kept
from compiler.draw.swapping import Swap, swap
from compiler.stages.publish import packing, quick_matching, quick_styles

_percent: Any = importlib.import_module("weasyprint.layout.percent")
_boxes: Any = importlib.import_module("weasyprint.formatting_structure.boxes")
BASE: Any = importlib.import_module("weasyprint.html").UA_STYLESHEET
_Placeholder: Any = importlib.import_module("weasyprint.layout.absolute").AbsolutePlaceholder
_backgrounds: Any = importlib.import_module("weasyprint.layout.background")
_preferred: Any = importlib.import_module("weasyprint.layout.preferred")
_floats: Any = importlib.import_module("weasyprint.layout.float")
_adjust, _avoid = _preferred.adjust, _floats.avoid_collisions
_in_flow, _descendants = _boxes.Box.is_in_normal_flow, _boxes.Box.descendants
_resolve, _lay_background = _percent.resolve_percentages, _backgrounds.layout_box_backgrounds

_SIZES = ("margin_left", "margin_right", "margin_top", "margin_bottom", "padding_left", "padding_right", "padding_top", "padding_bottom",
          "width", "min_width", "max_width", "height", "min_height", "max_height")
_LEAST = frozenset(("min_width", "min_height"))
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


def _under(box: Any) -> dict[str, Any]:
    """The attributes of a box, or of the box that a placeholder stands for."""
    return (box._box if type(box) is _Placeholder else box).__dict__  # type: ignore[no-any-return]


def _quick_resolve(box: Any, containing_block: Any) -> None:
    """In place of `resolve_percentages`: a style gives each of its boxes the same sizes, where they ask for another box's in each of one size."""
    sizes = kept(box.style, _own_sizes)
    own = _under(box)
    if not sizes:
        if isinstance(box, _boxes.PageBox) or box.style["border_collapse"] == "collapse":
            _resolve(box, containing_block)
            return
        within = (containing_block.width, containing_block.height) if isinstance(containing_block, _boxes.Box) else (*containing_block,)
        known = kept(box.style, _sizes_within)
        if within not in known:
            _resolve(box, within)
            known[within] = {name: own[name] for name in _SIZES + _BORDERS}
            return
        sizes = known[within]
    own.update(sizes)
    if "border_top_width" not in sizes:
        for name in _BORDERS:
            own.setdefault(name, box.style[name])


def _sizes_within(style: Any) -> dict[tuple[Any, Any], dict[str, Any]]:
    """Sizes of the boxes of a style by the width and height of what they stand in: none are known at first."""
    return {}


def _own_sizes(style: Any) -> dict[str, Any]:
    """The sizes of each box of this style, borders left out where neighbours may share them; nothing where another box's size is asked for."""
    shared, plain = style["border_collapse"] == "collapse", style["box_sizing"] == "content-box"
    sizes: dict[str, Any] = {}
    for name in _SIZES:
        size = style[name]
        if size == "auto":
            sizes[name] = 0 if name in _LEAST else size
        elif getattr(size, "unit", None) == "px":
            sizes[name] = size.value
        else:
            return {}
    if not shared:
        sizes.update((name, style[name]) for name in _BORDERS)
    if not plain:
        if shared:
            return {}
        bare = _boxes.Box(None, style, None)
        _resolve(bare, (0, 0))
        sizes = {name: bare.__dict__[name] for name in sizes}
    return sizes


def _quick_background(page: Any, box: Any, get_image: Any, layout_children: bool = True, style: Any = None) -> None:
    """In place of `layout_box_backgrounds`: little to do for a box that shows nothing behind it."""
    if kept(box.style, _shows_behind) or style is not None or box is page:
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


def _quick_adjust(box: Any, outer: bool, width: float, left: bool = True, right: bool = True) -> float:
    """In place of `adjust`: a width within its bounds, and what a style puts around it."""
    around = kept(box.style, _around)
    if around is None or not (left and right) or isinstance(box, _boxes.ReplacedBox):
        return _adjust(box, outer, width, left, right)  # type: ignore[no-any-return]
    least, most, edges = around
    width = max(least, min(width, most))
    if outer:
        for edge in edges:  # one after the other, as the engine adds them: another order would round otherwise
            width += edge
        shared = box.style["border_collapse"] == "collapse"
        for name in ("border_left_width", "border_right_width"):
            width += getattr(box, name) if shared and hasattr(box, name) else box.style[name]
    return width


def _around(style: Any) -> tuple[float, float, tuple[float, ...]] | None:
    """The least and the most width, and the margins and paddings beside it that are not 0; None where something else counts, too."""
    own = kept(style, _own_sizes)
    if not own or style["box_sizing"] != "content-box":
        return None
    edges = [own[name] for name in ("margin_left", "padding_left", "margin_right", "padding_right")]
    return own["min_width"], own["max_width"], tuple(edge for edge in edges if edge not in (0, "auto"))


def _quick_avoid(context: Any, box: Any, containing_block: Any, outer: bool = True) -> tuple[float, float, float]:
    """In place of `avoid_collisions`: the place and width of a box where nothing floats."""
    if context.excluded_shapes or box.style["float"] != "none" or containing_block.style["direction"] != "ltr":
        return _avoid(context, box, containing_block, outer)  # type: ignore[no-any-return]
    left = containing_block.content_box_x()
    if outer:
        return left, box.position_y, left + containing_block.width - left
    inner = left + box.margin_left
    return inner - box.margin_left, box.border_box_y() - box.margin_top, left + containing_block.width - box.margin_right - inner


def _quick_in_flow(self: Any) -> Any:
    """In place of `Box.is_in_normal_flow`."""
    style = self.style
    return (style["float"] == "none" and style["position"] in ("static", "relative")) or _in_flow(self)


def _quick_descendants(self: Any, placeholders: bool = False) -> Iterator[Any]:
    """In place of `Box.descendants`: one walk, where the engine has a generator for every box on the way down."""
    if placeholders:
        yield from _descendants(self, placeholders)
        return
    waiting = [self]
    while waiting:
        box = waiting.pop()
        yield box
        if isinstance(box, _boxes.Box):
            waiting.extend(reversed(box.children))


SWAPS = (
    *quick_lines.SWAPS,
    *quick_matching.SWAPS,
    *quick_styles.SWAPS,
    *packing.SWAPS,
    Swap(_boxes.Box, "descendants", _descendants, _quick_descendants),
    Swap(_boxes.Box, "is_in_normal_flow", _in_flow, _quick_in_flow),
    Swap(_preferred, "adjust", _adjust, _quick_adjust),
    Swap(_floats, "avoid_collisions", _avoid, _quick_avoid),
    Swap(_percent, "resolve_percentages", _resolve, _quick_resolve),
    Swap(_backgrounds, "layout_box_backgrounds", _lay_background, _quick_background),
)
"""All of them: those in lines of text, in styles and in the writing of the file, too."""


def take_shortcuts() -> None:
    """Have the engine take them."""
    swap(SWAPS)
