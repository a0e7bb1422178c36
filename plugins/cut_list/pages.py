"""CutList → the tables a maker cuts from.

One table of all parts by group, one of the sheet parts by stock unless layouts show them, one of rough sizes for what is sawn
from boards.
"""

from __future__ import annotations

from itertools import groupby

from compiler.api import (
    Area,
    Blocks,
    Column,
    CutList,
    CutRow,
    Group,
    Paragraph,
    PartMark,
    Stock,
    StockToBuy,
    Table,
    View,
    section,
)


@section("Cut list", after="cut list", name="cut list")
def cut_list_pages(cut_list: CutList, layouts: StockToBuy | None = None) -> Blocks:
    """All parts, then sheet parts by stock, then rough sizes. Sheet layouts, where there are any, show their parts by stock themselves."""
    if not cut_list.rows:
        return
    yield Paragraph(
        "Finished sizes, tongues and tenons included. Tick a box for every piece cut; letter it at once.",
        style="lede",
    )
    yield Table(
        "Parts",
        columns=(
            Column(head="Cut", kind="tick", width=10),
            Column(head="Part", kind="letter", width=6),
            Column(head="Outline", kind="picture", width=17),
            Column(head="Name", kind="name", width=18),
            Column(head="Qty", kind="number", width=5),
            Column(head="Thick", kind="dim", width=8),
            Column(head="Wide", kind="dim", width=9),
            Column(head="Long", kind="dim", width=9),
            Column(head="Note", kind="note", width=18),
        ),
        groups=tuple(_group(title, rows) for title, rows in _groups(cut_list)),
        name="cut list",
        dense=True,
        aside=f"{len(cut_list.rows)} kinds, {cut_list.pieces} pieces",
    )
    sheets = [stock for stock in cut_list.stocks if stock.kind == "sheet"]
    if sheets and (layouts is None or not any(layouts.of(stock.key) for stock in sheets)):
        yield Table(
            "Sheet parts",
            columns=(
                Column(head="Cut", kind="tick"),
                Column(head="Part", kind="letter"),
                Column(head="Name", kind="name"),
                Column(head="Wide", kind="dim"),
                Column(head="Long, with the face grain", kind="dim"),
            ),
            groups=tuple(_sheet(stock, cut_list.from_stock(stock)) for stock in sheets),
            name="sheet parts",
            dense=True,
        )
    boards = [stock for stock in cut_list.stocks if stock.kind == "board"]
    if boards:
        noted = any(row.strips > 1 for stock in boards for row in cut_list.from_stock(stock))
        yield Table(
            "Rough sizes",
            columns=(
                Column(head="Sawn", kind="tick"),
                Column(head="Part", kind="letter"),
                Column(head="Name", kind="name"),
                Column(head="Thick", kind="dim"),
                Column(head="Wide", kind="dim"),
                Column(head="Long", kind="dim"),
                *((Column(head="Note", kind="note"),) if noted else ()),
            ),
            groups=tuple(_rough(stock, cut_list.from_stock(stock), noted) for stock in boards),
            name="rough sizes",
            dense=True,
            aside="with the shop's allowance; plane and cut to finished size later",
        )


def _groups(cut_list: CutList) -> list[tuple[str, tuple[CutRow, ...]]]:
    """Rows by group and, inside it, by stock: each heading can then name the stock once."""
    found = []
    for assembly in cut_list.assemblies:
        rows = sorted(cut_list.in_assembly(assembly), key=lambda row: cut_list.stocks.index(row.stock))
        for _, same in groupby(rows, key=lambda row: row.stock.key):
            found.append((assembly or "parts on their own", tuple(same)))
    return found


def _group(title: str, rows: tuple[CutRow, ...]) -> Group:
    return Group(
        title=title[:1].upper() + title[1:],
        aside=rows[0].stock.name,
        rows=tuple(
            (
                row.number,
                _mark(row),
                View(f"thumb {row.name}") if row.letter else None,
                row.name,
                row.number,
                row.thickness,
                row.width,
                row.length,
                _note(row),
            )
            for row in rows
        ),
    )


def _sheet(stock: Stock, rows: tuple[CutRow, ...]) -> Group:
    return Group(
        title=stock.name[:1].upper() + stock.name[1:],
        aside=("actual ", stock.thickness, ", ", sum((row.area for row in rows), Area()), " in parts"),
        rows=tuple((row.number, _mark(row), row.name, row.width, row.length) for row in rows),
    )


def _rough(stock: Stock, rows: tuple[CutRow, ...], noted: bool) -> Group:
    return Group(
        title=stock.name[:1].upper() + stock.name[1:],
        rows=tuple(
            (
                row.number,
                _mark(row),
                row.name,
                row.rough_thickness,
                row.rough_width,
                row.rough_length,
                *((f"in {row.strips} strips" if row.strips > 1 else "",) if noted else ()),
            )
            for row in rows
        ),
    )


def _mark(row: CutRow) -> PartMark | None:
    """Its ringed letter; loose pieces have none."""
    return PartMark(row.letter, row.letter, row.name, named=False) if row.letter else None


def _note(row: CutRow) -> str:
    """Hands, strips, what is cut into it, bands and the author's own note, in one line."""
    words = []
    if row.hands:
        words.append(" and ".join(f"{number} {hand}" for hand, number in row.hands))
    if row.strips > 1:
        words.append(f"glued up from {row.strips}")
    if row.work:
        words.append(", ".join(row.work))
    if row.band:
        words.append(f"tape on {', '.join(row.band)}")
    if row.grain == "any":
        words.append("grain either way")
    told = "; ".join(words)
    return ". ".join(filter(None, (told[:1].upper() + told[1:] if row.note else told, row.note)))
