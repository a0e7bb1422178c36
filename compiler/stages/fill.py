"""Drawn sections → the same sections with loose figures arranged so that they fill pages.

In: sections whose drawings have their printed size, the paper. Out: sections in which the figures of every `Cells` one across (figures
that may change places) stand two to a row where both are narrow, the rows in an order with which the section ends soonest: the author's
where no other ends sooner. Heights are estimates in millimetres: a wrong one wastes room, it breaks nothing. This stage must not know
numbers, templates or themes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import batched, combinations
from typing import Literal

from compiler.draw.bounds import bounds
from compiler.draw.cropping import cropped
from compiler.values import document as doc
from compiler.values.figure import Drawing

LIVE = {"letter": 238.0, "a4": 252.0}
"""Height between head and foot; the white below a page's last figure may hang over."""
HEAD, PARAGRAPH, AROUND = 29.0, 12.0, 10.7
"""A section's head, a paragraph, and what stands about a figure: caption and white."""
LOW_SHEET, STRIP = 130.0, 24.0
"""A drawing meant for a page of its own that is lower leaves the rest of the page; its title strip with white."""
TOGETHER, AHEAD = 4, 16
"""Rows that share a page at most, and how many that wait are tried with one another."""
ACROSS = 158.0
"""What two drawings side by side may measure together."""

Row = tuple[doc.Figure, ...]
Rows = tuple[Row, ...]
Way = Callable[[Rows, float], Rows]


def fill(sections: tuple[doc.Section, ...], paper: Literal["letter", "a4"]) -> tuple[doc.Section, ...]:
    """The sections, loose figures paired and reordered."""
    live, out = LIVE[paper], list[doc.Section]()
    for section in sections:
        if any(map(_loose, section.blocks)):
            taken = _foot(out[-1].blocks, live) if out else 0.0
            pairs = tuple(_paired(block.figures) if isinstance(block, doc.Cells) and _loose(block) else () for block in section.blocks)
            orders = [_reordered(section.blocks, pairs, way, taken, live) for way in (_as_written, _first_fitting, _fullest)]
            section = replace(section, blocks=min(orders, key=lambda blocks: _end(blocks, taken, live)))
        out.append(section)
    return tuple(out)


def _paired(figures: Row) -> Rows:
    """Rows of one figure or of two narrow ones; the partner is the one most alike in height."""
    waiting, rows = [(figure, _wide(figure)) for figure in figures], list[Row]()
    while waiting:
        first, wide = waiting.pop(0)
        fitting = [at for at, (_, other) in enumerate(waiting) if wide + other <= ACROSS]
        if fitting:
            partner, _ = waiting.pop(min(fitting, key=lambda at: abs(_high((waiting[at][0],)) - _high((first,)))))
            rows.append((_narrowed(first), _narrowed(partner)))
        else:
            rows.append((first,))
    return tuple(rows)


def _wide(figure: doc.Figure) -> float:
    """Width of what is drawn, without the white beside it."""
    box = bounds(figure.drawing.marks) if isinstance(figure.drawing, Drawing) else None
    return box[2] - box[0] if box is not None else ACROSS


def _narrowed(figure: doc.Figure) -> doc.Figure:
    return replace(figure, drawing=cropped(figure.drawing, keep_width=False), placing="cell") if isinstance(figure.drawing, Drawing) else figure


def _loose(block: doc.Block) -> bool:
    return isinstance(block, doc.Cells) and block.across == 1


def _foot(blocks: tuple[doc.Block, ...], live: float) -> float:
    """How much of its last page a section of drawings takes; the whole page where it can't be told."""
    used, told = 0.0, True
    for block in blocks:
        if isinstance(block, doc.Figure) and isinstance(block.drawing, Drawing):
            high = block.drawing.height + (AROUND if block.placing == "text" else STRIP)
            if block.placing != "text":
                used, told = (live if block.drawing.height >= LOW_SHEET else used + high), True
            else:
                used = used + high if used + high <= live else high
        elif isinstance(block, doc.Paragraph):
            used += PARAGRAPH + (HEAD if not used else 0)
        else:
            told = False
    return used if told else live


def _rows(block: doc.Block) -> Iterator[float]:
    """Heights of what a block is made of that stays whole."""
    if isinstance(block, doc.Cells):
        for row in batched(block.figures, max(block.across, 1)):
            yield _high(row)
    else:
        yield PARAGRAPH


def _high(row: Row) -> float:
    return max(figure.drawing.height if isinstance(figure.drawing, Drawing) else 0.0 for figure in row) + AROUND


def _end(blocks: tuple[doc.Block, ...], taken: float, live: float) -> tuple[int, float]:
    """The page on which a section ends, counted from the one before it, and how far down. A head goes with the first figure."""
    page, used, lead = 0, taken, HEAD
    for block in blocks:
        for high in _rows(block):
            if not isinstance(block, doc.Cells):
                lead += high
                continue
            high, lead = high + lead, 0.0
            page, used = (page, used + high) if used + high <= live else (page + 1, high)
    return page, used


def _reordered(blocks: tuple[doc.Block, ...], pairs: tuple[Rows, ...], way: Way, taken: float, live: float) -> tuple[doc.Block, ...]:
    done: tuple[doc.Block, ...] = ()
    for block, waiting in zip(blocks, pairs, strict=True):
        if not waiting:
            done += (block,)
            continue
        # The head and what stands under it take room from the first page, and go over to the next when no figure fits there.
        lead = HEAD + PARAGRAPH * sum(isinstance(before, doc.Paragraph) for before in done)
        ordered: list[Row] = []
        room, whole = live - taken - lead, live - lead
        while waiting:
            some = way(waiting, room) or way(waiting, whole) or waiting[:1]
            ordered += some
            waiting = tuple(row for row in waiting if not any(row is placed for placed in some))
            room = whole = live
        done += tuple(doc.Cells(figures=row, across=len(row)) for row in ordered)
    return done


def _as_written(waiting: Rows, room: float) -> Rows:
    """All that waits, one after another."""
    return waiting


def _first_fitting(waiting: Rows, room: float) -> Rows:
    """Down the line, whatever still fits."""
    some: Rows = ()
    for row in waiting:
        if _high(row) <= room:
            some, room = (*some, row), room - _high(row)
    return some


def _fullest(waiting: Rows, room: float) -> Rows:
    """What fills the page best."""
    fitting = (some for count in range(1, TOGETHER + 1) for some in combinations(waiting[:AHEAD], count) if sum(map(_high, some)) <= room)
    return max(fitting, key=lambda some: sum(map(_high, some)), default=())
