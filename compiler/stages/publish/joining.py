"""Which short sections share a page with the one before, so that no page stands half empty by accident.

In: a laid-out document. Out: anchors of sections to join. The answer depends on the heights of the sections alone,
never on what was joined in the layout it is read from, so that a second layout confirms it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

MAY_JOIN = re.compile(r'data-may-join="([^"]*)"')
"""The attribute by which a theme allows it."""

TALLEST = 0.45
"""A section of at most this share of a page may join; longer ones are worth a page of their own (looked at, not measured)."""
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


def sections_to_join(document: Any) -> frozenset[str]:
    """Walk down the sections, joining each that may, is short, and fits whole under the one before."""
    joins: set[str] = set()
    foot = 0.0
    room_to: float | None = None
    for section in _sections(document):
        page = section.foot_of_page - section.top_of_page
        if (section.anchor and room_to is not None and section.pages == 1 and section.height <= TALLEST * page
                and foot + GAP + section.height <= room_to):
            joins.add(section.anchor)
            foot += GAP + section.height
            continue
        foot = section.top_of_page + section.height if section.joined and section.pages == 1 else section.bottom
        room_to = section.foot_of_page
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
                known = out[element] = _Section(element.get("data-may-join") or "", element.get("data-joined") == "yes", 0, 0.0, 0.0, top, foot)
            known.pages += 1
            known.height = inner.border_height()
            known.bottom = inner.position_y + inner.margin_height() if upright else foot
            known.top_of_page, known.foot_of_page = top, foot
    return list(out.values())
