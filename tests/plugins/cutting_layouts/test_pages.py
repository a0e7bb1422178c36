"""The printed pages of layouts: cautions where a piece is small, the guided saw where it is large, and lists that agree with their drawings."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.api import Columns, CutList, Dimensions, Figure, Signal, Table
from compiler.testing import Plan, plan
from compiler.values.document import Block
from compiler.values.figure import Drawing, Lettering
from plugins.cutting_layouts.answers import CuttingLayouts

PANEL = """
materials: {ply: birch plywood 3/4}
parts:
  panel: {stock: ply, across: 0 to 30, deep: 0 to 20, up: from 0, grain: across}
  cleat: {stock: ply, across: 0 to 30, deep: 0 to 3, up: from panel.top, grain: across}
  block: {stock: ply, across: 0 to 4, deep: 5 to 5 + BROAD, up: from panel.top, grain: across}
joints:
  - {butt: [cleat, block], to: panel}
"""


def _made(broad: str, settings: str = "") -> Plan:
    return plan(PANEL.replace("BROAD", broad), settings=settings)


def _blocks(blocks: tuple[Block, ...]) -> Iterator[Block]:
    for block in blocks:
        if isinstance(block, Columns):
            yield from _blocks((*block.left, *block.right))
        else:
            yield block


def _section(made: Plan) -> list[Block]:
    return list(_blocks(made.section("Sheet layouts")))


def test_a_small_piece_has_a_warning() -> None:
    """A block of 4 x 1/2 in is less than the 3/4 in that a hand holds safely, one of 4 x 8 in is not (6 x 3/4 in, common practice, no source)."""
    for broad, number in (("1/2", 1), ("8", 0)):
        signals = [block for block in _section(_made(broad)) if isinstance(block, Signal)]
        assert number == len(signals)
        (answer,) = _made(broad).make(CuttingLayouts).answers
        small = [str(cut.number) for cut in answer.layout.sheets[0].cuts if cut.care]
        assert all(all(at in str(signal.content) for at in small) for signal in signals) and bool(small) == bool(number)


def test_what_is_too_big_for_the_table_is_sawn_with_the_guided_saw() -> None:
    """The shop's table takes 40 x 50 in: the first cuts of the list say so, and the last no more."""
    table = next(block for block in _section(_made("8", "table limit: 40 x 50\n")) if isinstance(block, Table) and block.name.startswith("cuts"))
    saws = [row[2] for row in _rows(table)]
    assert "guided saw" == saws[0] and saws[-1] in ("rip", "crosscut")


def test_list_and_drawing_agree() -> None:
    """Every number of the list is on the drawing once; every letter that comes off is on it; each fence setting is that of the layout's cut."""
    made = _made("8")
    blocks = _section(made)
    table = next(block for block in blocks if isinstance(block, Table) and block.name.startswith("cuts"))
    figure = next(block for block in blocks if isinstance(block, Figure))
    assert isinstance(figure.drawing, Drawing)
    written = ["".join(run for run in mark.runs if isinstance(run, str)) for mark in figure.drawing.marks if isinstance(mark, Lettering)]
    rows = _rows(table)
    (answer,) = made.make(CuttingLayouts).answers
    cuts = answer.layout.sheets[0].cuts
    assert [cut.number for cut in cuts] == [row[1] for row in rows]
    assert [answer.question.unit * cut.setting for cut in cuts] == [row[3] for row in rows]
    assert sorted(str(cut.number) for cut in cuts) == sorted(text for text in written if text.isdigit())
    letters = {text.split()[0] for text in written if not text.isdigit()}
    assert {str(row[4]) for row in rows if len(str(row[4])) < 3} <= letters


def _rows(table: Table) -> list[tuple[object, ...]]:
    """The list's rows in order, its halves one after the other."""
    rows = [row for group in table.groups for row in group.rows]
    if len(table.columns) == 5:
        return list(rows)
    return [*(row[:5] for row in rows), *(row[5:] for row in rows if row[6] is not None)]


def test_every_size_is_in_the_drawing_or_under_it() -> None:
    """Of each part and offcut worth keeping, width by length: the block, 4 x 2 in, has no room for lettering at this scale."""
    made = _made("2")
    figure = next(block for block in _section(made) if isinstance(block, Figure))
    assert isinstance(figure.drawing, Drawing)
    written = " ".join("".join(str(run) for run in mark.runs) for mark in figure.drawing.marks if isinstance(mark, Lettering))
    under = "".join(str(word) for word in figure.caption)
    for row in made.make(CutList).rows:
        name, sizes = row.letter, (row.width, row.length)
        assert f"{name}  {' × '.join(made.model.edition.show(size) for size in sizes)}" in written or (f"{name} " in under and str(Dimensions(sizes)) in under)
    assert "keep" in written
