"""Blocks looked at from outside: their kinds, which stand on a sheet of their own, how much room they need.

In: blocks of a document. Out: names, runs, halves, estimates that templates choose between arrangements by. Nothing here
makes markup, and nothing is exact: the layout decides.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from compiler.values import document as doc
from compiler.values.figure import Drawing

_CAMEL = re.compile(r"(?<=[a-z])(?=[A-Z])")

BLOCKS = (
    doc.Paragraph, doc.Heading, doc.ItemList, doc.Table, doc.Facts, doc.Figure, doc.Cells, doc.Photo, doc.Signal, doc.Check,
    doc.Note, doc.Write, doc.Step, doc.Cover, doc.Contents, doc.Columns, doc.Words, doc.KeyTable, doc.CodeMark, doc.NewPage,
)


@dataclass(frozen=True, slots=True)
class Run:
    """Blocks of a section that stand together: in the flow, or on a sheet of their own that ends in a drawing."""

    kind: str
    blocks: tuple[doc.Block, ...]
    first: bool


def kind_of(block: object) -> str:
    """The name of a block's template: ItemList → item_list."""
    return _CAMEL.sub("_", type(block).__name__).lower()


def describe(block: doc.Block) -> str:
    """A block in words, for a message."""
    name = kind_of(block).replace("_", " ")
    number = getattr(block, "number", 0)
    return f"{name} {number}" if number else name


def runs(blocks: tuple[doc.Block, ...]) -> tuple[Run, ...]:
    """A section's blocks cut into flow and sheets. Words that stand right before a drawing's sheet go onto it."""
    out: list[Run] = []
    flow: list[doc.Block] = []
    for block in blocks:
        placing = block.placing if isinstance(block, doc.Figure) else ""
        if placing not in ("page", "wide"):
            flow.append(block)
            continue
        lead: list[doc.Block] = []
        while flow and isinstance(flow[-1], (doc.Paragraph, doc.Heading)):
            lead.insert(0, flow.pop())
        if flow:
            out.append(Run("flow", tuple(flow), not out))
            flow.clear()
        out.append(Run("sheet" if placing == "page" else "wide", (*lead, block), not out))
    if flow:
        out.append(Run("flow", tuple(flow), not out))
    return tuple(out)


def full_size(blocks: tuple[doc.Block, ...]) -> bool:
    """Whether one of the drawings is a pattern at full size: its page is printed alone, to be cut up."""
    drawn = [figure for block in blocks for figure in (block.figures if isinstance(block, doc.Cells) else (block,))
             if isinstance(figure, doc.Figure)]
    return any(isinstance(figure.drawing, Drawing) and figure.drawing.scale.replace(" ", "") == "1:1" for figure in drawn)


def _rejoined(pieces: list[doc.Block]) -> tuple[doc.Block, ...]:
    """Neighbouring one-item lists of a style made one list again."""
    out: list[doc.Block] = []
    for piece in pieces:
        last = out[-1] if out else None
        if isinstance(piece, doc.ItemList) and isinstance(last, doc.ItemList) and last.style == piece.style:
            out[-1] = doc.ItemList(items=(*last.items, *piece.items), style=last.style)
        else:
            out.append(piece)
    return tuple(out)


def room(blocks: object) -> int:
    """Roughly how many letters blocks or inlines hold, for a template that chooses between arrangements."""
    if isinstance(blocks, tuple):
        return sum(room(item) for item in blocks)
    if isinstance(blocks, str):
        return len(blocks)
    if isinstance(blocks, (doc.Paragraph, doc.Check, doc.Strong, doc.Emphasis)):
        return room(blocks.content) + 30
    if isinstance(blocks, doc.PartMark):
        return 4 + len(blocks.name) * blocks.named
    if isinstance(blocks, doc.ItemList):
        return sum(room(item) + 30 for item in blocks.items)
    if isinstance(blocks, (doc.Note, doc.Signal)):
        return room(blocks.content) + 60
    if isinstance(blocks, doc.Write):
        return 60 * blocks.lines
    if isinstance(blocks, BLOCKS):
        return 600
    return 6


def lines(blocks: object, letters: int) -> float:
    """Roughly how many lines blocks or inlines take in a column so many letters wide; the white after each counts as half a line."""
    if isinstance(blocks, doc.ItemList):
        return sum(lines(item, letters) for item in blocks.items)
    if isinstance(blocks, (doc.Note, doc.Signal)):
        return lines(blocks.content, letters) + 1
    if isinstance(blocks, tuple) and not _inline(blocks):
        return sum(lines(block, letters) for block in blocks)
    held = room(blocks) - (30 if isinstance(blocks, (doc.Paragraph, doc.Check)) else 0)
    return -(-held // letters) + 0.5


def _inline(content: tuple[object, ...]) -> bool:
    """Whether a tuple is a line's content: no blocks in it, nor other such tuples."""
    return not any(isinstance(piece, (tuple, *BLOCKS)) for piece in content)


def halves(blocks: tuple[doc.Block, ...]) -> tuple[tuple[doc.Block, ...], tuple[doc.Block, ...]]:
    """Blocks in two columns of about equal height; a list of actions may go on in the second."""
    pieces: list[doc.Block] = []
    for block in blocks:
        if isinstance(block, doc.ItemList) and block.style != "numbers":
            pieces.extend(doc.ItemList(items=(item,), style=block.style) for item in block.items)
        else:
            pieces.append(block)
    sizes = [room((piece,)) for piece in pieces]
    cut = min(range(len(pieces) + 1), key=lambda place: (max(sum(sizes[:place]), sum(sizes[place:])), -place))
    return _rejoined(pieces[:cut]), _rejoined(pieces[cut:])


def anchors(value: object) -> Iterable[str]:
    """All anchors below a value: of sections, blocks and what they hold."""
    if isinstance(value, tuple):
        for item in value:
            yield from anchors(item)
    elif isinstance(value, doc.Section):
        yield value.anchor
        yield from anchors(value.blocks)
    elif isinstance(value, BLOCKS):
        anchor = getattr(value, "anchor", "")
        if anchor:
            yield anchor
        for field in ("content", "cautions", "picture", "more", "figures", "left", "right", "items"):
            inner = getattr(value, field, None)
            yield from anchors(inner if isinstance(inner, tuple) else (inner,))
