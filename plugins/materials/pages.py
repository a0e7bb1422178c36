"""Materials → the shopping list. The cost column is there only when the shop has a price for something."""

from __future__ import annotations

from fractions import Fraction

from compiler.api import (
    Blocks,
    Column,
    Group,
    Inlines,
    MaterialRow,
    Materials,
    Money,
    Paragraph,
    Table,
    section,
)

STOCK = ("sheet", "board", "rod", "moulding", "tape")


@section("Shopping list", after="materials", name="materials")
def shopping_list(materials: Materials) -> Blocks:
    """Wood and sheets; hardware has a table of its own."""
    rows = [row for row in materials.rows if row.kind in STOCK]
    if not rows:
        return
    priced = any(row.cost is not None for row in rows)
    columns = [Column(head="Have", kind="tick"), Column(head="Stock", kind="name"), Column(head="Buy")]
    if priced:
        columns += [Column(head="Price"), Column(head="Cost", kind="money")]
    cost = sum((row.cost for row in rows if row.cost is not None), Fraction(0))
    yield Table(
        "Wood and sheets",
        columns=tuple(columns),
        groups=(Group(title="", rows=tuple(_row(row, materials.currency, priced) for row in rows)),),
        name="materials",
        dense=True,
        total=(None, "Together", None, None, Money(_cents(cost), materials.currency)) if priced else (),
    )
    without = [row.name for row in rows if row.cost is None]
    if priced and without:
        yield Paragraph(f"The shop has no price for {', '.join(without)}.", style="note")
    if any(row.kind == "sheet" and row.reckoned for row in rows):
        yield Paragraph("Sheets are reckoned from the area of their parts, with waste: no cutting layout was made.", style="note")


def _row(row: MaterialRow, currency: str, priced: bool) -> tuple[int | str | Inlines | Money | None, ...]:
    cells: tuple[int | str | Inlines | Money | None, ...] = (1, row.name, _amount(row))
    if not priced:
        return cells
    if row.price is None or row.cost is None:
        return (*cells, None, None)
    # A price of thousands, as a cubic metre has one, is told in whole coins.
    return (*cells, (Money(row.price, currency, cents=row.price < 1000), f" a {row.per}"), Money(_cents(row.cost), currency))


def _amount(row: MaterialRow) -> Inlines:
    if row.kind == "sheet":
        return (*_many(row.count, "sheet"), row.area, " of parts")
    if row.kind == "board":
        return (*_many(row.count, "board"), row.volume)
    return (*_many(row.count, "length"), row.run, " in all")


def _many(count: int, word: str) -> Inlines:
    return (f"{count} {word}{'' if count == 1 else 's'}, ",) if count else ()


def _cents(amount: Fraction) -> Fraction:
    """Rounded up to a hundredth."""
    return Fraction(-(-amount * 100 // 1), 100)
