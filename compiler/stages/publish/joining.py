"""Which short sections share a page with the one before, so that no page stands half empty by accident.

In: a laid-out document. Out: anchors of sections to join. Whether a section joins depends only on where the one before it
ends, and that only on the sections before: so there is one answer, and any layout that already has it confirms it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

MAY_JOIN = re.compile(r'data-may-join="([^"]*)"')
"""The attribute by which a theme allows it; one with `data-alone` takes nobody onto its last page."""

TALLEST = 0.45
"""A section of at most this share of a page may join; longer ones are worth a page of their own (looked at, not measured)."""
NEARLY_EMPTY = 0.4
"""Onto a page filled up to this share of its height any section goes on that may."""
GAP = 32.5 * 96 / 72
"""White space above a joined section; themes give `[data-joined]` no larger margin."""


@dataclass(slots=True)
class _Section:
    anchor: str
    joined: bool
    pages: int
    height: float
    bottom: float
    top_of_page: float
    foot_of_page: float
    closed: bool


def sections_to_join(document: Any) -> frozenset[str]:
    """Walk down the sections, joining each that may and is short and fits whole under the one before, or finds a page nearly empty.

    Where a section ends is measured; for one that is about to move it is reckoned, and measured in the next layout.
    """
    joins: set[str] = set()
    before: _Section | None = None
    foot = 0.0
    for section in _sections(document):
        page = section.foot_of_page - section.top_of_page
        if section.anchor and before is not None and not before.closed:
            short = section.pages == 1 and section.height <= TALLEST * page
            if short and foot + GAP + section.height <= before.foot_of_page:
                joins.add(section.anchor)
                foot += GAP + section.height
                before = section
                continue
            if not short and foot - before.top_of_page <= NEARLY_EMPTY * page:
                joins.add(section.anchor)
        alone = section.joined and section.anchor not in joins and section.pages == 1
        foot = section.top_of_page + section.height if alone else section.bottom
        before = section
    return frozenset(joins)


def _sections(document: Any) -> list[_Section]:
    """Sections in order, with the fragment on their last page."""
    out: dict[Any, _Section] = {}
    for page in document.pages:
        box = page._page_box
        upright = box.margin_height() > box.margin_width()
        top, foot = box.content_box_y(), box.content_box_y() + box.height
        for inner in box.descendants():
            element = inner.element
            if element is None or inner.element_tag != "div" or element.get("class") != "section":
                continue
            known = out.get(element)
            if known is None:
                known = out[element] = _Section(element.get("data-may-join") or "", element.get("data-joined") == "yes", 0, 0.0, 0.0, top, foot,
                                                False)
            known.pages += 1
            known.height = inner.border_height()
            known.closed = not upright or element.get("data-alone") == "yes"
            known.bottom = inner.position_y + inner.margin_height()
            known.top_of_page, known.foot_of_page = top, foot
    return list(out.values())
