"""The shop's own offcuts come before new stock, and the second pass leaves what lies on them where it is."""

from __future__ import annotations

import pytest

from plugins.cutting_layouts.job import Job, Piece, Stock
from plugins.cutting_layouts.layout import Layout
from plugins.cutting_layouts.solving import lay_out
from tests.plugins.cutting_layouts.verifier import faults

SHEET = Stock(id="sheet", length=3072, width=1536, cost=92)
RACK = Stock(id="rack", length=1300, width=640, cost=0, count=1, offcut=True)


def _on(stock: str, layout: Layout) -> int:
    """The area of parts on one kind of stock."""
    return sum(sheet.copies * place.box.area for sheet in layout.sheets if sheet.stock == stock for place in sheet.placements)


@pytest.mark.parametrize("shelves", [4, 12, 20])
def test_an_offcut_is_filled_though_the_sheets_hold_all(shelves: int) -> None:
    """Two shelves of 640 x 600 fill the offcut (640 + 8 + 640 of 1300); the sheets hold all shelves without it. Bought is no more than without."""
    pieces = (Piece(id="A", length=640, width=600, count=shelves), Piece(id="B", length=400, width=90, count=7))
    without = lay_out(Job(pieces=pieces, stocks=(SHEET,), kerf=8))
    job = Job(pieces=pieces, stocks=(SHEET, RACK), kerf=8)
    layout = lay_out(job)
    assert () == faults(job, layout)
    assert layout.cost <= without.cost
    assert _on("rack", layout) >= 2 * 640 * 600


def test_two_offcuts_of_different_size() -> None:
    """Doors of 700 x 500 on one, rails of 900 x 90 on the other; one sheet would hold them all."""
    job = Job(
        pieces=(Piece(id="door", length=700, width=500, count=4), Piece(id="rail", length=900, width=90, count=6)),
        stocks=(
            SHEET,
            Stock(id="wide", length=720, width=1020, cost=0, count=1, offcut=True),
            Stock(id="narrow", length=950, width=200, cost=0, count=1, offcut=True),
        ),
        kerf=8,
    )
    layout = lay_out(job)
    assert () == faults(job, layout)
    assert (2 * 700 * 500, 2 * 900 * 90, 92) == (_on("wide", layout), _on("narrow", layout), layout.cost)
