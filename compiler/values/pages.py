"""Pages, dressed but not yet laid out, and what laying out gives.

In: Pages are made by dress, a PublishedPdf by publish. Page numbers in the text are still marks (`PAGE_MARK`): only
the layout knows them, and publish writes them in.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from compiler.values.figure import Drawing, PenStyle
from compiler.values.theme import FontFace

PAGE_MARK = re.compile("\ue000([^\ue001]*)\ue001")
"""Where the number of an anchor's page goes: the anchor between two private characters."""


def page_mark(anchor: str) -> str:
    """The mark that stands for the page number of an anchor."""
    return f"\ue000{anchor}\ue001"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """A document in a theme's clothes.

    `markup` is well-formed HTML; `style` one style sheet. Pictures are called `fig:0`, `fig:1`, … (drawings, by place
    in `figures`) and by the names in `files` (fonts, photographs, the theme's pictures).
    `sheets` and `templates` are (file, text) of what style and markup were made from: faults are told there.
    `sections` are (anchor, title) in order. `cover` says whether the first page is a cover, which prints no number.
    """

    markup: str
    style: str
    figures: tuple[Drawing, ...]
    files: tuple[tuple[str, bytes], ...]
    faces: tuple[FontFace, ...]
    pens: PenStyle
    sections: tuple[tuple[str, str], ...]
    title: str
    author: str
    subject: str
    language: str
    date: str
    cover: bool = True
    sheets: tuple[tuple[str, str], ...] = ()
    templates: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Seeds:
    """What an earlier layout found out: the page of each anchor. A guess to start from; publish never trusts it."""

    pages: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedPdf:
    """A finished PDF. `anchors` gives the page (from 1, the cover counts) of every anchor in order of name, `section_starts`
    (anchor, title, page). `layouts` counts how often the document was laid out until all numbers were true.
    """

    content: bytes
    page_count: int
    anchors: tuple[tuple[str, int], ...]
    section_starts: tuple[tuple[str, str, int], ...]
    seeds: Seeds
    layouts: int
