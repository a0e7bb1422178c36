"""What would save a sheet: told only after it has been laid out, and checked on paper where paper is enough."""

from __future__ import annotations

from dataclasses import replace

from plugins.cutting_layouts.explaining import Saving, explain
from plugins.cutting_layouts.job import Bench, Job, Piece, Stock, Trims, Way
from plugins.cutting_layouts.solving import lay_out

SHEET = Stock(id="sheet", length=96 * 64, width=48 * 64, cost=100)
KERF = 8
ELEVEN = Job(pieces=(Piece(id="A", length=24 * 64, width=12 * 64, count=11),), stocks=(SHEET,), kerf=KERF)


def test_a_kerf_narrower_and_eleven_fit() -> None:
    """12 in strips are three to 48 in, with a kerf of 1/8 in; four need (48 1/8) / 4 - 1/8 = 11 29/32 in: 6/64 less (arithmetic)."""
    savings = explain(ELEVEN, lay_out(ELEVEN)).savings
    assert Saving(pieces=("A",), by=6, way=Way.ACROSS, cost=100, sheets=1) in savings


def test_sizes_shrink_by_whole_steps() -> None:
    """In sixteenths 6/64 is too little with one and enough with two."""
    savings = explain(ELEVEN, lay_out(ELEVEN), step=4).savings
    assert 8 == next(saving.by for saving in savings if saving.way is Way.ACROSS and saving.by)


def test_nine_are_three_by_three() -> None:
    """Nine fit with grain along, so of eleven two are left out (arithmetic)."""
    reasons = explain(ELEVEN, lay_out(ELEVEN))
    assert "A" == reasons.forcing
    assert Saving(pieces=("A",), fewer=2, cost=100, sheets=1) == reasons.savings[0]


def test_the_smallest_piece_that_forces_a_sheet_is_named() -> None:
    """Nine of A fit alone. With B, 60 in x 20 in, no more than seven do: two rows of three, and one beside it (arithmetic)."""
    job = replace(ELEVEN, pieces=(replace(ELEVEN.pieces[0], count=9), Piece(id="B", length=60 * 64, width=20 * 64)))
    assert "B" == explain(job, lay_out(job)).forcing


def test_one_sheet_can_not_be_saved() -> None:
    """Parts that fill one sheet need one."""
    job = replace(ELEVEN, pieces=(replace(ELEVEN.pieces[0], count=5),))
    reasons = explain(job, lay_out(job))
    assert ("", ()) == (reasons.forcing, reasons.savings)


def test_the_stock_is_accounted_for_to_the_last_unit() -> None:
    """Parts, trims, kerfs, kept offcuts and waste are the stock used (PAK-31: used + waste + kerf area = sheet area)."""
    stock = replace(SHEET, trims=Trims(left=16, right=16, bottom=16, top=16))
    job = replace(ELEVEN, stocks=(stock,), bench=Bench(keep=(12 * 64, 6 * 64)))
    layout = lay_out(job)
    spent = explain(job, layout).spent
    assert layout.sheet_count * stock.area == spent.stock
    assert 11 * 24 * 12 * 64**2 == spent.parts
    assert spent.kept > 0 and spent.kerfs > 0


def test_every_saving_told_is_laid_out_as_told() -> None:
    """The change made, the job costs what was said or less."""
    pieces = (Piece(id="side", length=2000, width=700, count=4), Piece(id="shelf", length=1900, width=640, count=5, turnable=True))
    job = Job(pieces=pieces, stocks=(Stock(id="sheet", length=4880, width=2440, cost=70),), kerf=6)
    layout = lay_out(job)
    savings = explain(job, layout).savings
    assert savings
    for saving in savings:
        changed = tuple(_after(piece, saving) if piece.id in saving.pieces else piece for piece in job.pieces)
        assert lay_out(replace(job, pieces=changed)).cost <= saving.cost < layout.cost


def _after(piece: Piece, saving: Saving) -> Piece:
    if saving.way is Way.ALONG:
        return replace(piece, count=piece.count - saving.fewer, length=piece.length - saving.by)
    return replace(piece, count=piece.count - saving.fewer, width=piece.width - saving.by)
