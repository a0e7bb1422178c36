"""Cells of a table: each column kind set in its own way.

In: a cell and its column's kind. Out: markup. A size stands with whole numbers right and fractions left of one line;
a count of pieces becomes boxes to tick.
"""

from __future__ import annotations

from markupsafe import Markup

from compiler.base.measures import Length
from compiler.stages.dress.pictures import Pictures
from compiler.stages.dress.words import Words, ring
from compiler.values import document as doc
from compiler.values.figure import Drawing

BOX = '<span class="box"></span>'
BOXES_IN_A_ROW = 4
MOST_BOXES = 12
PICTURE_WIDTH = 112


class Cells:
    """Sets cells for one document."""

    def __init__(self, words: Words, pictures: Pictures) -> None:
        self._words = words
        self._pictures = pictures

    def cell(self, value: doc.Cell, kind: str) -> Markup:
        """The inside of a cell; "" for None."""
        if value is None:
            return Markup("")
        if isinstance(value, Drawing):
            return Markup(self._pictures.drawing(value, PICTURE_WIDTH))
        if kind == "tick" and isinstance(value, int):
            return Markup(boxes(value))
        if kind == "letter":
            if isinstance(value, str):
                return Markup(ring(value))
            if isinstance(value, doc.PartMark) and value.letter:
                return Markup(ring(value.letter))
        if kind == "dim" and isinstance(value, Length):
            whole, rest = self._words.columns(value)
            return Markup(f'<span class="i">{whole}</span>{rest}')
        return Markup(self._words.inline(value))

    def span(self, row: tuple[doc.Cell, ...], columns: tuple[doc.Column, ...]) -> list[tuple[doc.Cell, str, int]]:
        """A total's cells with their column's kind and how many columns each covers: words run on over empty cells."""
        out: list[tuple[doc.Cell, str, int]] = []
        filled = (*row, *[None] * (len(columns) - len(row)))
        for value, column in zip(filled, columns, strict=False):
            covers = out[-1] if out else None
            words = covers is not None and covers[1] in ("text", "name", "note", "tick", "letter", "picture")
            if value is None and covers is not None and words and covers[0] is not None:
                out[-1] = (covers[0], covers[1], covers[2] + 1)
            else:
                out.append((value, column.kind, 1))
        return out


def boxes(count: int) -> str:
    """One box for every piece, four to a row; above twelve, one box and the count."""
    if count > MOST_BOXES:
        return f'<span class="nb">{BOX}× {count}</span>'
    rows = [BOX * min(BOXES_IN_A_ROW, count - start) for start in range(0, count, BOXES_IN_A_ROW)]
    return "<br/>".join(f'<span class="nb">{row}</span>' for row in rows)
