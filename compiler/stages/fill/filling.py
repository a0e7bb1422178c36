"""Drawn sections → the same sections with what is loose arranged so that it fills pages.

In: sections whose drawings have their printed size, the paper. Out: sections in which the figures of every `Cells` one across (figures
that may change places) stand two or three to a row where they are narrow, and these rows, or loose `Columns` that follow each other, in an
order with which the section ends soonest: the author's where no other ends sooner; and pictures of steps asked for once more, larger, where
their page has room. This stage must not know numbers, templates or themes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, groupby
from typing import Literal

from compiler.draw.bounds import bounds
from compiler.draw.cropping import cropped
from compiler.stages.fill.growing import grown
from compiler.stages.fill.heights import LIVE, OVER, WHITE, Figures, drawn_high, foot, high, lead
from compiler.values import document as doc
from compiler.values.figure import Drawing

TOGETHER, AHEAD = 4, 16
"""Rows that share a page at most, and how many that wait are tried with one another."""
ACROSS, THIRD = 158.0, 50.0
"""What two drawings side by side may measure together, and what each of three may."""
APART = 2.0
"""What a partner that stands one place further on costs, in difference of height."""


@dataclass(frozen=True, slots=True, eq=False)
class _Row:
    """A block that stays whole, its height with captions and white, and what of the white over it a page's top swallows. Two equal rows are two."""

    block: doc.Block
    high: float
    over: float = 0.0


Rows = tuple[_Row, ...]
Stretch = tuple[tuple[doc.Block, ...], Rows]
Way = Callable[[Rows, float], Rows]


def fill(sections: tuple[doc.Section, ...], paper: Literal["letter", "a4"]) -> tuple[doc.Section, ...]:
    """The sections, loose figures paired, and what is loose reordered."""
    live, out, taken = LIVE[paper], list[doc.Section](), 0.0
    for section in sections:
        stretches = tuple(_stretches(section.blocks))
        if any(rows for _, rows in stretches):
            orders = [_reordered(stretches, way, taken, live) for way in (_as_written, _first_fitting, _fullest)]
            section = replace(section, blocks=min(orders, key=lambda order: _end(order, taken, live))[0])
        out.append(section)
        taken = foot(section.blocks, live, taken)
    return grown(tuple(out), paper)


def _stretches(blocks: tuple[doc.Block, ...]) -> Iterator[Stretch]:
    """Blocks that stay where they are, and blocks as rows that may change places."""
    for kind, some in groupby(blocks, key=lambda block: doc.Columns if isinstance(block, doc.Columns) and block.loose else
                              block if isinstance(block, doc.Cells) and block.across == 1 else None):
        stretch = tuple(some)
        if isinstance(kind, doc.Cells):
            yield (), _side_by_side(kind.figures)
        elif kind is not None:
            yield (), tuple(_Row(block, high(block), WHITE) for block in stretch)
        else:
            yield stretch, ()


def _side_by_side(figures: Figures) -> Rows:
    """Rows of one figure, or of two or three narrow ones; partners are those most alike in height that stand near each other."""
    waiting, rows = [(figure, _wide(figure), drawn_high(figure)) for figure in figures], list[_Row]()
    while waiting:
        first, wide, tall = waiting.pop(0)
        alike = [other for _, other in sorted(enumerate(waiting), key=lambda place: abs(place[1][2] - tall) + APART * place[0])]
        thirds = [other for other in alike if other[1] <= THIRD][:2]
        partners = [other for other in alike if wide + other[1] <= ACROSS][:1]
        if wide <= THIRD and len(thirds) == 2 and (len(waiting) == 2 or partners[0][1] <= THIRD):
            partners = thirds
        for partner in partners:
            waiting.remove(partner)
        row = tuple(_narrowed(figure) for figure in (first, *(partner for partner, _, _ in partners))) if partners else (replace(first, placing="text"),)
        cells = doc.Cells(figures=row, across=len(row))
        rows.append(_Row(cells, high(cells)))
    return tuple(rows)


def _wide(figure: doc.Figure) -> float:
    """Width of what is drawn, without the white beside it."""
    box = bounds(figure.drawing.marks) if isinstance(figure.drawing, Drawing) else None
    return box[2] - box[0] if box is not None else ACROSS


def _narrowed(figure: doc.Figure) -> doc.Figure:
    return replace(figure, drawing=cropped(figure.drawing, keep_width=False), placing="cell") if isinstance(figure.drawing, Drawing) else figure


Order = tuple[tuple[doc.Block, ...], tuple[tuple[float, Rows], ...]]
"""The blocks of a section in an order, and its stretches of rows, each with the lead that goes with its first row."""


def _end(order: Order, taken: float, live: float) -> tuple[int, float]:
    """The page on which a section ends, counted from the one before it, and how far down."""
    page, used = 0, taken
    for before, rows in order[1]:
        for row in rows:
            fits = used + before + row.high <= live + row.over
            page, used, before = (page, used + before + row.high, 0.0) if fits else (page + 1, max(before - OVER, 0.0) + row.high, 0.0)
    return page, used


def _reordered(stretches: tuple[Stretch, ...], way: Way, taken: float, live: float) -> Order:
    done: tuple[doc.Block, ...] = ()
    orders: list[tuple[float, Rows]] = []
    for blocks, waiting in stretches:
        done += blocks
        if not waiting:
            continue
        # The head and what stands under it take room from the first page, and go over to the next when no row fits there.
        before, place = 0.0 if orders else lead(done), {row: number for number, row in enumerate(waiting)}
        room, whole = live - taken - before, live + waiting[0].over - max(before - OVER, 0.0)
        pages: list[Rows] = []
        while waiting:
            some = way(waiting, room) or way(waiting, whole) or waiting[:1]
            pages.append(some)
            waiting = tuple(row for row in waiting if row not in some)
            room = whole = live + waiting[0].over if waiting else live
        # Whole pages before the last are alike: they stand in the author's order.
        alike = slice(1 if before else 0, -1)
        pages[alike] = sorted(pages[alike], key=lambda page: place[page[0]])
        rows = tuple(row for page in pages for row in page)
        orders.append((before, rows))
        done += tuple(row.block for row in rows)
    return done, tuple(orders)


def _as_written(waiting: Rows, room: float) -> Rows:
    """All that waits, one after another."""
    return waiting


def _first_fitting(waiting: Rows, room: float) -> Rows:
    """Down the line, whatever still fits."""
    some: Rows = ()
    for row in waiting:
        if row.high <= room:
            some, room = (*some, row), room - row.high
    return some


def _fullest(waiting: Rows, room: float) -> Rows:
    """What fills the page best."""
    fitting = (some for count in range(1, TOGETHER + 1) for some in combinations(waiting[:AHEAD], count) if sum(row.high for row in some) <= room)
    return max(fitting, key=lambda some: sum(row.high for row in some), default=())
