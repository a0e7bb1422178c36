"""Lines of text, set up and shaped once for all that asks: a short cut through WeasyPrint 70, with the same result.

The engine shapes a line of text four or five times: for the narrowest and the widest that a cell may be, to break it, without its last blank, and
to draw it; each time it looks up its fonts anew. Here the set-up is kept for each way of lettering, a text that fits on its line is shaped
once and then known, and a line that was shaped is still there when it is drawn.

What is kept with a style is dropped when one of its values changes (`stages.publish.quick_styles`); a figure's lettering changes copies only.
tests/stages/test_shortcuts.py holds documents made this way against the engine's own.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from functools import lru_cache
from math import inf
from typing import Any, NamedTuple

from compiler.draw.swapping import Swap

_breaks: Any = importlib.import_module("weasyprint.text.line_break")
_fonts: Any = importlib.import_module("weasyprint.text.fonts")
_ffi: Any = importlib.import_module("weasyprint.text.ffi")
pango, gobject, ffi = _ffi.pango, _ffi.gobject, _ffi.ffi

_LOOKS = (
    "font_family", "font_style", "font_stretch", "font_weight", "font_size", "font_kerning", "font_variant_ligatures", "font_variant_position",
    "font_variant_caps", "font_variant_numeric", "font_variant_alternates", "font_variant_east_asian", "font_feature_settings",
    "font_variation_settings", "font_language_override", "lang", "direction", "letter_spacing", "word_spacing",
    "overflow_wrap", "word_break", "white_space", "hyphens", "line_height",
)
"""All that the look of a line, its height and its breaks depend on."""
_NARROW = 4
"""Letters are never narrower than the font's size over this, the engine reckons: a text of more letters than fit so is not tried whole."""
SOFT_HYPHEN = "\xad"
_PARAGRAPHS = ("\n", "\r", "\u2029")
_FEATURES = ("font_kerning", "font_variant_ligatures", "font_variant_position", "font_variant_caps", "font_variant_numeric",
             "font_variant_alternates", "font_variant_east_asian", "font_feature_settings")
_DECORATION = ("ascent", "underline_position", "strikethrough_position", "underline_thickness", "strikethrough_thickness")
_Layout = _breaks.Layout
_setup, _set_text, _deactivate, _reactivate = _Layout.setup, _Layout.set_text, _Layout.deactivate, _Layout.reactivate
_split, _strut, _next_break = _breaks.split_first_line, _breaks.strut, _breaks.get_next_break_point_from_text


class _Way(NamedTuple):
    """A way of lettering: what every text set in it begins with, and what is known of texts in it."""

    context: Any
    language: Any
    description: Any
    decoration: dict[str, float | None]
    features: bytes
    shared_features: Any
    spaced: bool
    wraps: bool
    by_words: bool
    size: float
    known: dict[Any, tuple[Any, ...]]


def kept[T](style: Any, make: Callable[[Any], T]) -> T:
    """What `make` finds of a style, found once for as long as the style stays as it is."""
    known: dict[Callable[[Any], T], T] = style.__dict__.setdefault("kept", {})
    if make not in known:
        known[make] = make(style)
    return known[make]


def _way_of(style: Any) -> _Way:
    """The way of lettering of a style."""
    return kept(style, _shared_way)


def _shared_way(style: Any) -> _Way:
    """The way of lettering that styles of one look share in their fonts; made for the first of its kind."""
    looks = (*[style[name] for name in _LOOKS], str(style["text_decoration_line"]))
    ways: dict[Any, _Way] = style.font_config.__dict__.setdefault("ways_of_lettering", {})
    if looks not in ways:
        ways[looks] = _made(style)
    return ways[looks]


def _made(style: Any) -> _Way:
    first = _Layout.__new__(_Layout)
    _setup(first, style)
    context = ffi.gc(pango.pango_font_map_create_context(style.font_config.font_map), gobject.g_object_unref)
    pango.pango_context_set_round_glyph_positions(context, False)
    pango.pango_context_set_base_dir(context, _breaks.PANGO_DIRECTION[style["direction"]])
    if style["lang"] or style["font_language_override"] != "normal":
        pango.pango_context_set_language(context, first.language)
    features = ",".join(f"{key} {value}" for key, value in _breaks.font_features(*[style[name] for name in _FEATURES]).items()).encode()
    spaced = bool(style["word_spacing"]) or style["letter_spacing"] not in ("normal", 0) or style["overflow_wrap"] in ("anywhere", "break-word")
    return _Way(
        context, first.language, _fonts.get_font_description(style), {name: getattr(first, name, None) for name in _DECORATION}, features,
        _listed(style, features) if features and not spaced else None, spaced, style["white_space"] in ("normal", "pre-wrap", "pre-line"),
        style["white_space"] == style["overflow_wrap"] == style["word_break"] == "normal" and style["hyphens"] != "auto", style["font_size"], {})


def _listed(style: Any, features: bytes) -> Any:
    """A list of attributes with the fonts' features. The engine never frees one either: the feature in it is shared."""
    listed = pango.pango_attr_list_new()
    pango.pango_attr_list_insert(listed, style.font_config.font_features[features])
    return listed


def _quick_setup(self: Any, style: Any) -> None:
    """In place of `Layout.setup`: an empty layout in the style's way of lettering."""
    way = _way_of(style)
    self.style, self.first_line_direction, self.language = style, 0, way.language
    layout = self.layout = ffi.gc(pango.pango_layout_new(way.context), gobject.g_object_unref)
    pango.pango_layout_set_auto_dir(layout, False)
    pango.pango_layout_set_font_description(layout, way.description)
    self.__dict__.update(way.decoration)
    if way.features:
        pango.pango_layout_set_attributes(layout, way.shared_features or _listed(style, way.features))


def _quick_set_text(self: Any, text: str, justify: bool = False) -> None:
    """In place of `Layout.set_text`: a text of one paragraph is told to be one, as it will be when it is drawn."""
    one = not any(mark in text for mark in _PARAGRAPHS)
    pango.pango_layout_set_single_paragraph_mode(self.layout, one)
    _set_text(self, text, justify)


def _quick_deactivate(self: Any) -> None:
    """In place of `Layout.deactivate`: the line is kept for its drawing."""


def _quick_reactivate(self: Any, style: Any) -> None:
    """In place of `Layout.reactivate`: nothing to do for a line that is as it was and stays so while it is drawn."""
    changed = self.justification_spacing or style["block_ellipsis"] != "none"
    if changed or (self.style is not style and _way_of(self.style) is not _way_of(style)):
        self.setup(style)
        self.set_text(self.text, justify=True)
    else:
        pango.pango_layout_set_width(self.layout, -1)


def _quick_strut(style: Any) -> tuple[float, float]:
    """In place of `strut`: height and baseline of an empty line."""
    strut: tuple[float, float] = kept(style, _strut)
    return strut


def _quick_split(text: str, style: Any, context: Any, max_width: float | None, justification_spacing: float, is_line_start: bool = True,
                minimum: bool = False) -> tuple[Any, ...]:
    """In place of `split_first_line`: (layout, length, where the next line starts or None, width, height, baseline)."""
    if justification_spacing or not text:
        by_itself: tuple[Any, ...] = _split(text, style, context, max_width, justification_spacing, is_line_start, minimum)
        return by_itself
    way = _way_of(style)
    room = inf if max_width is None or not way.wraps else max_width
    if len(text) * way.size <= room * _NARROW and not any(mark in text for mark in _PARAGRAPHS):
        whole = _whole(text, style, way)
        if whole[3] <= room:
            return _again(whole, style, max_width)
    if max_width == 0 and way.by_words and SOFT_HYPHEN not in text and (word := _first_word(text, style, way)):
        return _again(word, style, max_width)
    told = text, max_width, is_line_start, minimum
    known = way.known.get(told)
    if known is None:
        known = way.known[told] = _split(text, style, context, max_width, 0, is_line_start, minimum)
    return _again(known, style, max_width)


def _whole(text: str, style: Any, way: _Way) -> tuple[Any, ...]:
    """A text on one line, however long."""
    whole = way.known.get(text)
    if whole is None:
        whole = way.known[text] = _split(text, style, None, None, 0)
    return whole


def _first_word(text: str, style: Any, way: _Way) -> tuple[Any, ...] | None:
    """A line without any room: all up to the first place where the text may be broken; nothing when that is blank."""
    told = text, 0
    known = way.known.get(told)
    if known is None:
        blank = text.find(" ")
        end = _breaks.get_next_break_point_from_text(text if blank < 0 else text[: blank + 2], style["lang"])
        part = text if end is None else text[: end + 1]
        word = part.rstrip(" ")
        if not word:
            return None
        shaped = _whole(word, style, way)
        resume = None if end is None else len(part.encode())
        known = way.known[told] = (*shaped[:2], resume, *shaped[3:])
    return known


_quick_break = lru_cache(maxsize=10_000)(_next_break)
"""In place of `get_next_break_point_from_text`: where a text may first be broken is asked again and again of the same few letters."""


def _again(known: tuple[Any, ...], style: Any, max_width: float | None) -> tuple[Any, ...]:
    """What is known of a text, with a layout of its own that shares the shape."""
    layout = _Layout.__new__(_Layout)
    layout.__dict__.update(known[0].__dict__)
    layout.style, layout.max_width = style, max_width
    return layout, *known[1:]


SWAPS = (
    Swap(_Layout, "setup", _setup, _quick_setup),
    Swap(_Layout, "set_text", _set_text, _quick_set_text),
    Swap(_Layout, "deactivate", _deactivate, _quick_deactivate),
    Swap(_Layout, "reactivate", _reactivate, _quick_reactivate),
    Swap(_breaks, "get_next_break_point_from_text", _next_break, _quick_break),
    Swap(_breaks, "strut", _strut, _quick_strut),
    Swap(_breaks, "split_first_line", _split, _quick_split),
)
