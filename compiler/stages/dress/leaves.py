"""Leaves + Theme → Pages: pages that a plugin draws itself, in the theme's letters.

In: an export's `Leaves`. Out: Pages with one drawing a page, as large as the paper; nothing of a theme's templates stands on them.
"""

from __future__ import annotations

from html import escape

from compiler.values.document import Leaves
from compiler.values.pages import Pages
from compiler.values.theme import Theme


def leaves_in(leaves: Leaves, theme: Theme, *, author: str, language: str, date: str) -> Pages:
    """Each drawing on a page of its own."""
    wide, high = (float(size.mm) for size in leaves.paper)
    says = [escape(drawing.says or leaves.title) for drawing in leaves.pages]
    images = "".join(f'<div><img src="fig:{number}" alt="{words}"/></div>' for number, words in enumerate(says))
    return Pages(
        markup=f'<html lang="{escape(language)}"><head><title>{escape(leaves.title)}</title></head><body>{images}</body></html>',
        style=f"@page {{ size: {wide:g}mm {high:g}mm; margin: 0 }} body {{ margin: 0 }} div {{ height: {high - 0.01:g}mm; break-inside: avoid }}"
              f" div + div {{ break-before: page }} img {{ display: block; width: {wide:g}mm }}",
        figures=leaves.pages, files=tuple((f"theme:{name}", content) for name, content in theme.files), faces=theme.faces, pens=theme.pens,
        sections=(), title=leaves.title, author=author, subject=leaves.title, language=language, date=date, cover=False,
    )
