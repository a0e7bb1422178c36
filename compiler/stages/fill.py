"""Drawn sections → the same sections with loose figures arranged so that they fill pages.

In: sections whose drawings have their printed size, the paper. Out: sections in which the figures of every `Cells` one across (figures
that may change places) stand two or three to a row where they are narrow, the rows in an order with which the section ends soonest: the
author's where no other ends sooner. Heights are estimates in millimetres: a wrong one wastes room, it breaks nothing. This stage must not
know numbers, templates or themes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import batched, combinations
from typing import Literal

from compiler.draw.bounds import bounds
from compiler.draw.cropping import cropped
from compiler.values import document as doc
from compiler.values.figure import Drawing
from compiler.values.words import words

LIVE = {"letter": 238.0, "a4": 252.0}
"""Height between head and foot; the white below a page's last figure may hang over."""
HEAD, OVER, AROUND = 28.0, 9.2, 10.7
"""A section's head, the white over it that a page's top swallows, and what stands about a figure: white and one line of caption."""
PARAGRAPH, LINE, CAPTION_LINE = 2.3, 4.6, 4.4
"""White after a paragraph, a line of it, a further line of a caption."""
LETTER, CAPTION_LETTER, BESIDES = 1.4, 1.55, 28
"""Width of a letter of text and of a caption; letters of a caption besides its words: number, sizes, scale."""
LOW_SHEET, STRIP = 130.0, 21.5
"""A drawing meant for a page of its own that is lower leaves the rest of the page; its title strip with white."""
TOGETHER, AHEAD = 4, 16
"""Rows that share a page at most, and how many that wait are tried with one another."""
TEXT, ACROSS, THIRD = 170.0, 158.0, 50.0
"""The text's width, what two drawings side by side may measure together, and what each of three may."""
APART = 2.0
"""What a partner that stands one place further on costs, in difference of height."""

Figures = tuple[doc.Figure, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Row:
    """Figures side by side, and their height with captions and white. Two equal rows are two."""

    figures: Figures
    high: float


Rows = tuple[_Row, ...]
Way = Callable[[Rows, float], Rows]


def fill(sections: tuple[doc.Section, ...], paper: Literal["letter", "a4"]) -> tuple[doc.Section, ...]:
    """The sections, loose figures paired and reordered."""
    live, out = LIVE[paper], list[doc.Section]()
    for section in sections:
        if any(map(_loose, section.blocks)):
            taken = _foot(out[-1].blocks, live) if out else 0.0
            loose = tuple(_side_by_side(block.figures) if isinstance(block, doc.Cells) and _loose(block) else () for block in section.blocks)
            orders = [_reordered(section.blocks, loose, way, taken, live) for way in (_as_written, _first_fitting, _fullest)]
            section = replace(section, blocks=min(orders, key=lambda blocks: _end(blocks, taken, live)))
        out.append(section)
    return tuple(out)


def _loose(block: doc.Block) -> bool:
    return isinstance(block, doc.Cells) and block.across == 1


def _side_by_side(figures: Figures) -> Rows:
    """Rows of one figure, or of two or three narrow ones; partners are those most alike in height that stand near each other."""
    waiting, rows = [(figure, _wide(figure), _drawn_high(figure)) for figure in figures], list[_Row]()
    while waiting:
        first, wide, high = waiting.pop(0)
        alike = [other for _, other in sorted(enumerate(waiting), key=lambda place: abs(place[1][2] - high) + APART * place[0])]
        thirds = [other for other in alike if other[1] <= THIRD][:2]
        partners = [other for other in alike if wide + other[1] <= ACROSS][:1]
        if wide <= THIRD and len(thirds) == 2 and (len(waiting) == 2 or partners[0][1] <= THIRD):
            partners = thirds
        for partner in partners:
            waiting.remove(partner)
        rows.append(_row((first, *(partner for partner, _, _ in partners))))
    return tuple(rows)


def _row(figures: Figures) -> _Row:
    if len(figures) > 1:
        figures = tuple(_narrowed(figure) for figure in figures)
    else:
        figures = (replace(figures[0], placing="text"),)
    whole = sum(_frame(figure) for figure in figures)
    share = [TEXT / 3 if len(figures) > 2 else TEXT * _frame(figure) / whole for figure in figures]
    return _Row(figures, max(_drawn_high(figure) + AROUND + CAPTION_LINE * (_lines(figure, room) - 1) for figure, room in zip(figures, share, strict=True)))


def _lines(figure: doc.Figure, room: float) -> int:
    """Lines of a figure's caption."""
    return 1 + int((len(words(figure.caption)) + BESIDES) * CAPTION_LETTER / room)


def _wide(figure: doc.Figure) -> float:
    """Width of what is drawn, without the white beside it."""
    box = bounds(figure.drawing.marks) if isinstance(figure.drawing, Drawing) else None
    return box[2] - box[0] if box is not None else ACROSS


def _frame(figure: doc.Figure) -> float:
    return figure.drawing.width if isinstance(figure.drawing, Drawing) else TEXT


def _drawn_high(figure: doc.Figure) -> float:
    return figure.drawing.height if isinstance(figure.drawing, Drawing) else 0.0


def _narrowed(figure: doc.Figure) -> doc.Figure:
    return replace(figure, drawing=cropped(figure.drawing, keep_width=False), placing="cell") if isinstance(figure.drawing, Drawing) else figure


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
            used += _lead((block,)) + (HEAD - OVER if not used else 0)
        else:
            told = False
    return used if told else live


def _lead(blocks: tuple[doc.Block, ...]) -> float:
    """The height of the paragraphs among some blocks."""
    return sum(PARAGRAPH + LINE * (1 + int(len(words(block.content)) * LETTER / TEXT)) for block in blocks if isinstance(block, doc.Paragraph))


def _rows(block: doc.Cells) -> Iterator[float]:
    """Heights of the rows of a block of figures."""
    for figures in batched(block.figures, block.across):
        yield _row(figures).high


def _end(blocks: tuple[doc.Block, ...], taken: float, live: float) -> tuple[int, float]:
    """The page on which a section ends, counted from the one before it, and how far down. A head goes with the first figure."""
    page, used, lead = 0, taken, HEAD
    for block in blocks:
        if not isinstance(block, doc.Cells):
            lead += _lead((block,))
            continue
        for high in _rows(block):
            fits = used + lead + high <= live
            page, used, lead = (page, used + lead + high, 0.0) if fits else (page + 1, max(lead - OVER, 0.0) + high, 0.0)
    return page, used


def _reordered(blocks: tuple[doc.Block, ...], loose: tuple[Rows, ...], way: Way, taken: float, live: float) -> tuple[doc.Block, ...]:
    done: tuple[doc.Block, ...] = ()
    for block, waiting in zip(blocks, loose, strict=True):
        if not waiting:
            done += (block,)
            continue
        # The head and what stands under it take room from the first page, and go over to the next when no figure fits there.
        lead, order = HEAD + _lead(done), {row: number for number, row in enumerate(waiting)}
        pages: list[Rows] = []
        room, whole = live - taken - lead, live - lead + OVER
        while waiting:
            some = way(waiting, room) or way(waiting, whole) or waiting[:1]
            pages.append(some)
            waiting = tuple(row for row in waiting if row not in some)
            room = whole = live
        # Pages between the first and the last are alike: they stand in the author's order.
        pages[1:-1] = sorted(pages[1:-1], key=lambda page: order[page[0]])
        done += tuple(doc.Cells(figures=row.figures, across=len(row.figures)) for page in pages for row in page)
    return done


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
