"""How high blocks will stand on the page, before a theme has set them: estimates in millimetres.

In: blocks whose drawings have their printed size. Out: millimetres with captions and the white after them. The standard theme's type is
reckoned with; a wrong estimate wastes room, it breaks nothing.
"""

from __future__ import annotations

from compiler.values import document as doc
from compiler.values.figure import Drawing
from compiler.values.words import words

LIVE = {"letter": 238.0, "a4": 252.0}
"""Height between head and foot; the white below a page's last figure may hang over."""
HEAD, OVER, AROUND = 28.0, 9.2, 10.7
"""A section's head, the white over it that a page's top swallows, and what stands about a figure: white and one line of caption."""
HEADING, WHITE, SIGNAL = 12.6, 4.6, 14.0
"""A heading inside a section with the white over it, that white, a caution of two lines."""
PARAGRAPH, LINE, CAPTION_LINE = 2.3, 4.6, 4.4
"""White after a paragraph, a line of it, a further line of a caption."""
TITLE, ROW = 19.0, 5.85
"""A table's title, heads and the white after it; one of its rows, set close."""
LETTER, CAPTION_LETTER, BESIDES = 1.4, 1.55, 28
"""Width of a letter of text and of a caption; letters of a caption besides its words: number, sizes, scale."""
LOW_SHEET, STRIP = 130.0, 21.5
"""A drawing meant for a page of its own that is lower leaves the rest of the page; its title strip with white."""
TEXT = 170.0
"""The text's width."""

Figures = tuple[doc.Figure, ...]


def high(block: doc.Block) -> float:
    """The height of a block; 0 for what is not reckoned with."""
    if isinstance(block, doc.Cells):
        return row_high(block.figures)
    if isinstance(block, doc.Figure):
        return row_high((block,))
    if isinstance(block, doc.Columns):
        left, right = (sum(map(high, blocks)) for blocks in (block.left, block.right))
        return left + right if block.split == "stacked" else max(left, right)
    if isinstance(block, doc.Table):
        return TITLE + ROW * sum(len(group.rows) + bool(group.title) for group in block.groups)
    if isinstance(block, doc.Paragraph):
        return PARAGRAPH + LINE * (1 + int(len(words(block.content)) * LETTER / TEXT))
    return HEADING if isinstance(block, doc.Heading) else SIGNAL if isinstance(block, doc.Signal) else 0.0


def row_high(figures: Figures) -> float:
    """Figures side by side, with their captions."""
    whole = sum(map(frame, figures))
    rooms = [TEXT / 3 if len(figures) > 2 else TEXT * frame(figure) / whole for figure in figures]
    return max(drawn_high(figure) + AROUND + CAPTION_LINE * _more_lines(figure, room) for figure, room in zip(figures, rooms, strict=True))


def _more_lines(figure: doc.Figure, room: float) -> int:
    """Lines of a figure's caption after the first."""
    return int((len(words(figure.caption)) + BESIDES) * CAPTION_LETTER / room)


def frame(figure: doc.Figure) -> float:
    """The width that a figure's drawing takes."""
    return figure.drawing.width if isinstance(figure.drawing, Drawing) else TEXT


def drawn_high(figure: doc.Figure) -> float:
    """The height of a figure's drawing alone."""
    return figure.drawing.height if isinstance(figure.drawing, Drawing) else 0.0


def foot(blocks: tuple[doc.Block, ...], live: float, used: float | None = None) -> float:
    """How much of its last page a section of drawings takes that begins under `used`; the whole page where it can't be told."""
    used, before = live if used is None else used, HEAD
    for block in blocks:
        if isinstance(block, doc.Paragraph):
            before += high(block)
        elif isinstance(block, doc.Figure) and block.placing != "text" and isinstance(block.drawing, Drawing):
            used = live if block.drawing.height >= LOW_SHEET else before - OVER + block.drawing.height + STRIP
            before = 0.0
        elif isinstance(block, (doc.Figure, doc.Cells)):
            for row in _rows(block):
                fits = used + before + row_high(row) <= live
                used, before = used + before + row_high(row) if fits else max(before - OVER, 0.0) + row_high(row), 0.0
    return used + before if told(blocks) else live


def told(blocks: tuple[doc.Block, ...]) -> bool:
    """Whether a section holds nothing but drawings and words, whose heights are known."""
    return all(isinstance(block, (doc.Paragraph, doc.Figure, doc.Cells)) for block in blocks)


def _rows(block: doc.Figure | doc.Cells) -> tuple[Figures, ...]:
    """Figures as the page sets them: two or three across, the last of an odd number over the whole width."""
    if isinstance(block, doc.Figure):
        return ((block,),)
    across = 3 if block.across >= 3 else max(block.across, 1)
    return tuple(block.figures[start:start + across] for start in range(0, len(block.figures), across))


def lead(blocks: tuple[doc.Block, ...]) -> float:
    """What goes with the first row of a section: its head and paragraphs. A table stands for itself, on the page before if need be."""
    return 0.0 if any(isinstance(block, doc.Table) for block in blocks) else HEAD + sum(high(block) for block in blocks if isinstance(block, doc.Paragraph))
