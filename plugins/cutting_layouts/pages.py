"""Layouts on the pages: a figure and a list of cuts for every sheet and board, and what they come to.

In: the layouts. Out: blocks. Text and drawing say the same, since both read the cuts of one tree.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

from compiler.api import (
    Blocks,
    Column,
    Columns,
    Dimensions,
    Edition,
    Figure,
    Group,
    Heading,
    Inlines,
    Length,
    Money,
    PageBlock,
    Paragraph,
    Shop,
    Signal,
    Table,
    Volume,
    section,
)

from .answers import Answer, CuttingLayouts, wood_in
from .drawing import BESIDE, WIDE, Show, crowded, draw, unsized
from .job import Stock, Way
from .layout import Care, Cut, Is, Sheet

BESIDE_MOST = 24
"""Cuts whose list stands beside the sheet, where all numbers have room at that width; else it stands below, in two halves."""

LETTERS = 3
"""A name as long as this is a letter of the cut list, or as short as one."""

WIDTHS = (118.0, 143.0)
"""Widths of a sheet above its list of cuts: the first at which nothing is crowded, else the page's."""


@section("Sheet layouts", after="cut list", name="sheet layouts")
def sheet_pages(layouts: CuttingLayouts, edition: Edition, shop: Shop) -> Blocks:
    """What to buy and how well it is used, then a page for every sheet."""
    answers = layouts.of("sheet")
    if not answers:
        return
    yield Paragraph(
        ("Long cuts first, so that the parts are small enough to carry. Each number is a cut from edge to edge of the piece in hand;"
         " cuts at one setting of the fence stand together. Hatched wide: worth keeping; hatched close: waste. Kerf ", shop.kerf, ", trim ", shop.trim, "."),
    )  # fmt: skip
    yield _summary(answers, shop, "sheet layouts")
    for answer in answers:
        yield from _patterns(answer, edition, shop)


@section("Board layouts", after="sheet layouts", name="board layouts")
def board_pages(layouts: CuttingLayouts, edition: Edition, shop: Shop) -> Blocks:
    """The boards to buy, with the rough parts laid along the grain."""
    answers = layouts.of("board")
    if not answers:
        return
    yield Paragraph(
        "Parts are laid out at their rough sizes, with the ends and edges of each board cut off. Lay them out afresh on the boards you bought:"
        " wood has knots and splits that no plan knows. Long parts first."
    )
    summary, wood = _summary(answers, shop, "boards to buy"), tuple(map(_wood, answers))
    if len(wood) == 1:
        yield replace(summary, aside=wood[0])
    else:
        yield summary
        told = [(*("; " if number else "", name if number else name[:1].upper() + name[1:], ": "), *words)
                for number, (name, words) in enumerate(zip((answer.question.stock.name for answer in answers), wood, strict=True))]
        yield Paragraph((*(word for words in told for word in words), "."))
    for answer in answers:
        for number, sheet in enumerate(answer.layout.sheets, 1):
            yield _figure(answer, sheet, number, edition)


@section("Lengths", after="board layouts", name="lengths")
def length_pages(layouts: CuttingLayouts, edition: Edition, shop: Shop) -> Blocks:
    """Mouldings, rods and bars."""
    answers = layouts.of("length")
    if not answers:
        return
    yield _summary(answers, shop, "lengths to buy")
    for answer in answers:
        for number, sheet in enumerate(answer.layout.sheets, 1):
            yield _figure(answer, sheet, number, edition)


def _summary(answers: tuple[Answer, ...], shop: Shop, name: str) -> Table:
    boards = name == "boards to buy"
    rows: list[tuple[Any, ...]] = []
    for answer in answers:
        sizes = {size.id: size for size in answer.question.job.stocks}
        for stock, number in _counts(answer).items():
            size = sizes[stock]
            used = _used([sheet for sheet in answer.layout.sheets if sheet.stock == stock])
            cost = Money(Fraction((size.cost or 0) * number, 100), shop.currency) if answer.question.priced and not size.offcut else None
            bought = (wood_in(answer.question, size) * number,) if boards else ()
            share = f"{float(used):.0%}".replace("%", " %")
            rows.append((number, answer.question.stock.name, _source(answer, size), *bought, share, _honest(answer), cost))
    return Table(
        {"sheet layouts": "Sheets", "boards to buy": "Boards", "lengths to buy": "Lengths"}[name],
        columns=(
            Column(head="Have", kind="tick"), Column(head="Stock", kind="name"), Column(head="Size"),
            *((Column(head="Wood", kind="number"),) if boards else ()),
            Column(head="Used", kind="number"), Column(head="Layout"), Column(head="Cost", kind="money"),
        ),
        groups=(Group(title="", rows=tuple(rows)),),
        dense=True,
        name=name,
    )  # fmt: skip


def _wood(answer: Answer) -> Inlines:
    """What is bought of a stock beside what is left of it in the finished parts."""
    sizes = {size.id: size for size in answer.question.job.stocks}
    bought = sum((wood_in(answer.question, sizes[stock]) * number for stock, number in _counts(answer).items()), Volume())
    return (bought, " bought, ", answer.question.net, " in the finished parts")


def _counts(answer: Answer) -> dict[str, int]:
    counts: dict[str, int] = {}
    for sheet in answer.layout.sheets:
        counts[sheet.stock] = counts.get(sheet.stock, 0) + sheet.copies
    return counts


def _used(sheets: list[Sheet]) -> Fraction:
    whole = sum(sheet.copies for sheet in sheets)
    return sum((sheet.used * sheet.copies for sheet in sheets), Fraction(0)) / max(whole, 1)


def _source(answer: Answer, size: Stock) -> Inlines:
    """The size, and for an offcut where it lies in the shop."""
    unit = answer.question.unit
    if answer.question.kind == "length":
        return (unit * size.length,)
    words: Inlines = (Dimensions((unit * size.width, unit * size.length)),)
    mark = dict(answer.question.marks).get(size.id, "")
    return (*words, f", offcut{': ' + mark if mark else ''}") if size.offcut else words


def _honest(answer: Answer) -> str:
    """"Best possible" only when the cost meets the bound; else how far it is from it."""
    layout = answer.layout
    if layout.best_possible:
        return "best possible"
    if layout.sheet_count > layout.bound.sheets > 0:
        return f"no fewer than {layout.bound.sheets} can do"
    over = Fraction(layout.cost - layout.bound.cost, max(layout.bound.cost, 1))
    return f"at most {max(float(over), 0.001):.1%} dearer than the best".replace("%", " %")


def _patterns(answer: Answer, edition: Edition, shop: Shop) -> Iterator[PageBlock]:
    stock = answer.question.stock
    for number, sheet in enumerate(answer.layout.sheets, 1):
        over: list[PageBlock] = [Heading(content=(_title(stock.name, number, len(answer.layout.sheets), sheet),))]
        small = [str(cut.number) for cut in sheet.cuts if cut.care is not Care.NONE]
        if small:
            where = f"cut {small[0]}" if len(small) == 1 else f"cuts {', '.join(small[:-1])} and {small[-1]}"
            says = f"At {where} a piece is too small to hold by hand. Use a push block and a stop, or saw it from a longer piece."
            over.append(Signal(word="WARNING", content=((says,),), source="29 CFR 1910.213"))
        marked = with_marks(sheet)[0]
        beside = len(sheet.cuts) <= BESIDE_MOST and not crowded(marked, answer.question.unit, edition.show, BESIDE)
        cuts = _cuts(sheet, answer.question.unit, stock.name, number, halves=not beside)
        if beside:
            layout: tuple[PageBlock, ...] = (Columns(left=(_figure(answer, sheet, number, edition, BESIDE),), right=(cuts,), split="wide-left"),)
        else:
            wide = next((width for width in WIDTHS if not crowded(marked, answer.question.unit, edition.show, width)), WIDE)
            layout = (_figure(answer, sheet, number, edition, wide), cuts)
        yield Columns(left=tuple(over), right=layout, split="stacked", loose=True)


def _title(name: str, number: int, of: int, sheet: Sheet) -> str:
    which = f", layout {number} of {of}" if of > 1 else ""
    alike = f": saw {sheet.copies} alike" if sheet.copies > 1 else ""
    return f"{name[:1].upper()}{name[1:]}{which}{alike}"


def _figure(answer: Answer, sheet: Sheet, number: int, edition: Edition, wide: float = WIDE) -> Figure:
    show: Show = edition.show
    unit, stock = answer.question.unit, answer.question.stock
    parts = ", ".join(dict.fromkeys(placement.piece for placement in sheet.placements))
    says = f"Layout on {stock.name}: parts {parts}, {len(sheet.cuts)} cuts."
    marked, names = with_marks(sheet)
    picture = draw(marked, unit, show, says, linear=answer.question.kind == "length", wide=wide)
    size: Inlines = (unit * sheet.length,)
    if answer.question.kind != "length":
        size = _source(answer, next(one for one in answer.question.job.stocks if one.id == sheet.stock))
    used = f"; {float(sheet.used):.0%} used, {len(sheet.cuts)} cuts.".replace("%", " %")
    if answer.question.kind != "length":
        size, used = (*size, used, *_sizes(marked, names, unit, show, wide)), ""
    alike = f"Saw {sheet.copies} alike. " if sheet.copies > 1 and answer.question.kind != "sheet" else ""
    return Figure((f"{alike}{stock.name[:1].upper()}{stock.name[1:]}, ", *size, used), picture, name=f"{stock.name} layout {number}")


def with_marks(sheet: Sheet) -> tuple[Sheet, dict[str, str]]:
    """The sheet with short marks where pieces have names instead of letters, and the names by mark: the initials, and a number if need be."""
    marks: dict[str, str] = {}
    for name in sorted({placement.piece for placement in sheet.placements}):
        initials = "".join(word[0] for word in name.split())
        mark = name if len(name) <= LETTERS else initials
        number = 1
        while mark in marks.values():
            number += 1
            mark = f"{initials}{number}"
        marks[name] = mark
    placements = tuple(replace(placement, piece=marks[placement.piece]) for placement in sheet.placements)
    return replace(sheet, placements=placements), {mark: name for name, mark in marks.items()}


def _sizes(sheet: Sheet, names: dict[str, str], unit: Length, show: Show, wide: float) -> Inlines:
    """The parts whose size is not in the drawing, and those that have a mark instead of their name."""
    words: Inlines = ()
    first = {placement.piece: placement for placement in reversed(sheet.placements)}
    told = {placement.piece for placement in unsized(sheet, unit, show, wide)} | {mark for mark, name in names.items() if mark != name}
    for mark, placement in sorted(first.items()):
        if mark not in told:
            continue
        long, broad = placement.box.length, placement.box.width
        if placement.turned:
            long, broad = broad, long
        words = (*words, ", " if words else " ", f"{mark} " if names[mark] == mark else f"{mark} {names[mark]} ", Dimensions((unit * broad, unit * long)))
    return (*words, ".") if words else ()


def _cuts(sheet: Sheet, unit: Length, name: str, number: int, *, halves: bool) -> Table:
    """One row a cut. What stays in hand is told by the figure."""
    columns: tuple[Column, ...] = (
        Column(head="", kind="tick"), Column(head="Cut", kind="number"), Column(head="Saw"), Column(head="Fence", kind="dim"),
        Column(head="Comes off", kind="name"),
    )  # fmt: skip
    rows: list[tuple[Any, ...]] = [(1, cut.number, _saw(cut), unit * cut.setting, _comes_off(cut)) for cut in sheet.cuts]
    if halves:
        half = -(-len(rows) // 2)
        nothing: tuple[Any, ...] = (None,) * len(columns)
        rows = [(*row, *(rows[half + at] if half + at < len(rows) else nothing)) for at, row in enumerate(rows[:half])]
        columns *= 2
    return Table(
        "Cuts", columns=columns, groups=(Group(title="", rows=tuple(rows)),), name=f"cuts {name} {number}", dense=True,
    )  # fmt: skip


def _saw(cut: Cut) -> str:
    """Which saw: a hand-guided one for what is too big for the table."""
    return "guided saw" if cut.by_hand else "rip" if cut.runs is Way.ALONG else "crosscut"


def _comes_off(cut: Cut) -> str:
    """What comes off at the fence, in words."""
    return {Is.PART: cut.piece, Is.OFFCUT: "offcut, keep it", Is.WASTE: "waste", Is.TRIM: "factory edge", Is.STRIP: "strip"}[cut.frees]
