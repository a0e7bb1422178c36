"""The cost sheet: prices with their source, and what has none."""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Edition, MaterialRow, Materials, Money, Paragraph, Table
from plugins.cost_sheet.costing import CostSettings, cost_sheet

INCH = Edition(units="inch", paper="letter")
ROWS = Materials(rows=(
    MaterialRow(name="birch plywood 3/4", kind="sheet", count=2, per="piece", price=Fraction(92), cost=Fraction(184), source="shop.yaml"),
    MaterialRow(name="poplar 4/4", kind="board", per="board foot", price=Fraction("4.10"), cost=Fraction("37.2512"), source="shop.yaml"),
    MaterialRow(name="white oak 4/4", kind="board"),
))


def sheet(wanted: str) -> list[object]:
    return list(cost_sheet(ROWS, INCH, CostSettings(print_=wanted)))


def test_it_is_printed_only_when_asked() -> None:
    """It is the shop's own paper."""
    assert [] == sheet("no")


def test_rows_add_up_to_the_total() -> None:
    """Each rounded up to a cent: 184.00 + 37.26; the source of every price stands beside it."""
    table = sheet("yes")[0]
    assert isinstance(table, Table)
    assert [Money(Fraction(184)), Money(Fraction("37.26"))] == [row[3] for row in table.groups[0].rows]
    assert Money(Fraction("221.26")) == table.total[3]
    assert {"shop.yaml"} == {row[4] for row in table.groups[0].rows}


def test_what_has_no_price_is_named() -> None:
    """Never guessed."""
    note = sheet("yes")[1]
    assert isinstance(note, Paragraph)
    assert ("Without a price: white oak 4/4.",) == note.content
