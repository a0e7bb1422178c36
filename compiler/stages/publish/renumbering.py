"""Page numbers put right in pages that are already laid out, where that can't move anything else.

In: a laid-out document, the elements that hold nothing but a page number, with the number each should have. Out: those that can't be put
right this way; the document must be laid out again with their numbers written in. Sizes are in the engine's unit, 1/96 in.

A number is put right when its line of text becomes exactly as wide as it was (figures of one width, as many of them), or when it
stands alone in a line that is set flush right in a block of a fixed width. What a new layout would give is then the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any

from compiler.draw.pdf import TextSetting
from compiler.draw.typesetter import split_first_line

ALIKE = 1e-6
"""Widths that differ by less are the same."""


def renumber(document: Any, wanted: Mapping[Any, str]) -> frozenset[Any]:
    """Set the numbers; the elements whose number still is another than wanted."""
    left = {element for element, number in wanted.items() if element.text != number}
    setting = TextSetting(document.font_config)
    for page in document.pages if left else ():
        for parents, box in _texts(page._page_box, ()):
            if box.element in left and _set(box, wanted[box.element], parents, setting):
                left.discard(box.element)
    return frozenset(left)


def _texts(box: Any, parents: tuple[Any, ...]) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Every line of text with the boxes that it stands in, the innermost last."""
    for child in getattr(box, "children", ()):
        if hasattr(child, "pango_layout"):
            yield (*parents, box), child
        else:
            yield from _texts(child, (*parents, box))


def _set(box: Any, text: str, parents: tuple[Any, ...], setting: TextSetting) -> bool:
    layout, _, rest, width, *_ = split_first_line(text, box.style, setting, inf, 0)
    moved = box.width - width
    line, block = parents[-1], parents[-2]
    if rest is not None or not (abs(moved) < ALIKE or _flush_right(line, block)):
        return False
    if abs(moved) >= ALIKE:
        box.position_x += moved
        line.position_x += moved
        box.width = line.width = width
    box.text, box.pango_layout = text, layout
    return True


def _flush_right(line: Any, block: Any) -> bool:
    alone = type(line).__name__ == "LineBox" and len(line.children) == 1
    return alone and block.style["width"] != "auto" and block.style["text_align_all"] == "right" and len(block.children) == 1
