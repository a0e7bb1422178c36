"""Materials → the cost sheet: quantity, price, cost and source of every row, and what no price is known of.

The prices are the shop's (`prices:` in shop.yaml) as the shopping list takes them; cost is rounded up to a hundredth, once a row.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.api import (
    Blocks,
    Column,
    Edition,
    Group,
    MaterialRow,
    Materials,
    Money,
    Paragraph,
    Settings,
    Table,
    ask,
    section,
)


class CostSettings(Settings):
    """Whether the sheet is printed."""

    key = "cost sheet"
    print_: str = ask.word("no", "yes: the cost sheet stands behind the hardware", of=("no", "yes"))


@section("Cost sheet", after="hardware", name="cost sheet")
def cost_sheet(materials: Materials, edition: Edition, settings: CostSettings) -> Blocks:
    """Only when it is asked for; what has no price is named, never guessed."""
    priced = [row for row in materials.rows if row.cost is not None and row.price is not None]
    if settings.print_ == "no" or not materials.rows:
        return
    if priced:
        yield Table(
            "Cost",
            columns=(Column(head="What", kind="name", width=34), Column(head="Quantity", width=18), Column(head="Price", width=20),
                     Column(head="Cost", kind="money", width=13), Column(head="Price from", kind="note", width=15)),
            groups=(Group(title="", rows=tuple((row.name[:1].upper() + row.name[1:], amount(row, edition),
                                                (Money(row.price or Fraction(0), materials.currency), f" a {row.per}"),
                                                Money(cents(row.cost or Fraction(0)), materials.currency), row.source) for row in priced)),),
            total=("Together", None, None, Money(sum((cents(row.cost or Fraction(0)) for row in priced), Fraction(0)), materials.currency), None),
            name="cost sheet",
        )
    if materials.unpriced:
        yield Paragraph(f"Without a price: {', '.join(materials.unpriced)}.", style="note")


def amount(row: MaterialRow, edition: Edition) -> str:
    """What is bought, in the words it is sold by."""
    if row.volume:
        return f"{edition.show(row.volume)} {'board ft' if edition.units == 'inch' else 'm³'}"
    if row.run:
        return f"{float(-(-row.run.inches // 12)):g} ft" if edition.units == "inch" else f"{float(-(-row.run.mm // 100) / 10):g} m"
    if row.count:
        return f"{row.count}"
    return f"{edition.show(row.area)} {'sq ft' if edition.units == 'inch' else 'm²'}" if row.area else ""


def cents(number: Fraction) -> Fraction:
    """Rounded up to a hundredth."""
    return Fraction(-(-number * 100 // 1), 100)
