"""Proof-reading of a layout: what a printer would send back.

In: pages before and after layout. Out: diagnostics: letters that no font of the theme has, boxes wider than the page,
drawings that run into their title strip.
"""

from __future__ import annotations

import re
from io import BytesIO
from typing import Any

from fontTools.ttLib import TTFont

from compiler.base.report import Findings
from compiler.values.figure import Lettering
from compiler.values.pages import PAGE_MARK, Pages

_TAG = re.compile(r"<[^>]*>")
_SKIP = frozenset("\n\t\r \u00ad\u200b\ufeff")


def unknown_letters(pages: Pages, found: Findings) -> None:
    """Every letter must be in every family of the theme: a borrowed font would differ from machine to machine."""
    files = dict(pages.files)
    have: dict[str, frozenset[int]] = {}
    for face in pages.faces:
        if (face.weight == 400 and not face.italic) or face.family not in have:
            with TTFont(BytesIO(files[f"theme:{face.file}"]), lazy=True) as font:
                have[face.family] = frozenset(font.getBestCmap())
    if not have:
        return
    text = PAGE_MARK.sub("0", _TAG.sub("\n", pages.markup))
    drawn = "\n".join(mark.text for drawing in pages.figures for mark in drawing.marks if isinstance(mark, Lettering))
    widest = frozenset().union(*have.values())
    lettering = have.get(pages.pens.family, widest)
    for where, words, known in (("text", text, widest), ("lettering of a drawing", drawn, lettering)):
        missing = sorted((letter for letter in set(words) - _SKIP if ord(letter) not in known), key=words.index)
        if missing:
            letter, more = missing[0], len(missing) - 1
            line = next(line for line in words.split("\n") if letter in line).strip()
            at = line.find(letter)
            others = f" and {more} other letters, such as {' '.join(missing[1:6])}; it" if more > 1 else f" and no “{missing[1]}”; the first" if more else ", which"
            found.error("letter-without-font", f"The theme's fonts have no “{letter}” (U+{ord(letter):04X}){others} stands in the "
                        f"{where}: “{line[max(0, at - 20):at + 20]}”.",
                        hint="Write it in other words, or give the theme a font that has it.")


def proof(document: Any, found: Findings) -> None:
    """Warn of what does not fit. Sizes are in the engine's unit, 1/96 in."""
    for number, page in enumerate(document.pages, start=1):
        box = page._page_box
        right = box.margin_width() - box.margin_right
        strip: Any = None
        plate: Any = None
        wide: dict[Any, float] = {}
        for inner in box.descendants():
            tag = inner.element_tag
            if tag == "table" and inner.position_x + inner.margin_width() > right + 1:
                wide[inner.element] = max(wide.get(inner.element, 0.0), inner.position_x + inner.margin_width() - right)
            name = inner.element.get("class", "") if inner.element is not None else ""
            if tag == "table" and name == "strip":
                strip = inner
            elif tag == "figure" and name == "plate":
                plate = inner
        for element, over in wide.items():
            called = (element.get("id") or "").removeprefix("table-").replace("-", " ")
            which = f"The table {called}" if called else "A table"
            found.warning("table-too-wide", f"{which} on page {number} is {over / 96 * 25.4:.0f} mm wider than the page.",
                          hint="Give it fewer columns, or shorter words in them.")
        if strip is not None and plate is not None and plate.position_y + plate.margin_height() > strip.position_y + 1:
            over = (plate.position_y + plate.margin_height() - strip.position_y) / 96 * 25.4
            found.warning("drawing-too-tall", f"The drawing on page {number} is {over:.0f} mm taller than its sheet has room for.",
                          hint="Draw it smaller, or take words off its sheet.")
