"""Which short sections share a page with the one before, so that no page stands half empty by accident.

In: a laid-out document. Out: anchors of sections to join. The answer depends on heights that are the same in every layout,
so there is one, and a layout that already has it confirms it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

MAY_JOIN = re.compile(r'data-may-join="([^"]*)"')
"""The attribute by which a theme allows it. A section with `data-alone` takes nobody onto its last page; one with `data-flows`
goes on where the one before ends, by its style alone."""

TALLEST = 0.6
"""A section of at most this share of a page may join; longer ones are worth a page of their own (looked at, not measured)."""
GAP = 32.5 * 96 / 72
"""White space above a joined section; themes give `[data-joined]` no larger margin."""



@dataclass(frozen=True, slots=True)
class Joining:
    """The sections to join, and how far that is reckoned to move what stands on a page: (from this page on, by so many)."""

    anchors: frozenset[str]
    moves: tuple[tuple[int, int], ...]


@dataclass(slots=True)
class _Section:
    anchor: str
    joined: bool
    first_page: int
    top_of_page: float
    foot_of_page: float
    pages: int = 0
    height: float = 0.0
    bottom: float = 0.0
    closed: bool = False


def sections_to_join(document: Any) -> Joining:
    """Walk down the sections, joining each that may, is short, and fits whole under the one before.

    A short section is as high wherever it stands, and one that starts a page always ends at the same place. Where a
    flowing one ends depends on what is joined above it, so nothing is joined to it.
    """
    joins: set[str] = set()
    moves: list[tuple[int, int]] = []
    room_to: float | None = None
    foot = 0.0
    for section in _sections(document):
        top, page = section.top_of_page, section.foot_of_page - section.top_of_page
        short = bool(section.anchor) and section.pages == 1 and section.height <= TALLEST * page
        joins_now = short and room_to is not None and foot + GAP + section.height <= room_to
        if joins_now:
            joins.add(section.anchor)
            foot += GAP + section.height
        else:
            foot = top + section.height if section.joined and section.pages == 1 else section.bottom
        if joins_now != section.joined:
            moves.append((section.first_page, -1 if joins_now else 1))
        room_to = None if section.closed else section.foot_of_page
    return Joining(frozenset(joins), tuple(moves))


def _sections(document: Any) -> list[_Section]:
    """Sections in order, with the fragment on their last page."""
    out: dict[Any, _Section] = {}
    for number, page in enumerate(document.pages, start=1):
        box = page._page_box
        upright = box.margin_height() > box.margin_width()
        top, foot = box.content_box_y(), box.content_box_y() + box.height
        for inner in box.descendants():
            element = inner.element
            if element is None or inner.element_tag != "div" or element.get("class") != "section":
                continue
            known = out.get(element)
            if known is None:
                known = out[element] = _Section(element.get("data-may-join") or "", element.get("data-joined") == "yes", number, top, foot)
            known.pages += 1
            known.height = inner.border_height()
            known.closed = not upright or "yes" in (element.get("data-alone"), element.get("data-flows"))
            known.bottom = inner.position_y + inner.margin_height()
            known.top_of_page, known.foot_of_page = top, foot
    return list(out.values())
