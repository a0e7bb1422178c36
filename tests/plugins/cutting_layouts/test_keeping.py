"""A change leaves the sheets alone that it does not touch, where that costs nothing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from plugins.cutting_layouts.job import Job, Piece, Run, Stock
from plugins.cutting_layouts.keeping import Before, lay_out_again
from plugins.cutting_layouts.layout import Layout, Sheet
from plugins.cutting_layouts.solving import lay_out
from tests.plugins.cutting_layouts.instances import workshop
from tests.plugins.cutting_layouts.verifier import faults

CASE = Job(
    pieces=(
        Piece(id="door", length=1400, width=440, count=2), Piece(id="side", length=1200, width=330, count=4), Piece(id="shelf", length=700, width=320, count=9, turnable=True),
        Piece(id="rail", length=690, width=90, count=8),
    ),
    stocks=(Stock(id="sheet", length=2440, width=1220, cost=60),), kerf=3,
)  # fmt: skip


def _sheets(layout: Layout) -> Counter[Sheet]:
    return Counter({replace(sheet, copies=1): sheet.copies for sheet in layout.sheets})


def test_sheets_without_the_changed_piece_stay() -> None:
    """Drawers of four sheets, the first piece a little shorter: no dearer than anew, still sawable, and untouched sheets are kept."""
    job = next(one.job for one in workshop() if one.name == "ws04_drawers")
    before = lay_out(job)
    changed = replace(job, pieces=(replace(job.pieces[0], length=job.pieces[0].length - 16), *job.pieces[1:]))
    anew, again = lay_out(changed), lay_out_again(changed, Before(job, before))
    assert () == faults(changed, again)
    assert (again.cost, again.sheet_count) <= (anew.cost, anew.sheet_count)
    untouched = [sheet for sheet in _sheets(before) if all(place.piece != job.pieces[0].id for place in sheet.placements)]
    assert untouched and all(sheet in _sheets(again) for sheet in untouched)


def test_nothing_changed_changes_nothing() -> None:
    """The same job again: the same sheets."""
    before = lay_out(CASE)
    assert _sheets(before) == _sheets(lay_out_again(CASE, Before(CASE, before)))


def test_another_blade_makes_every_sheet_anew() -> None:
    """With another kerf no cut of before holds."""
    thinner = replace(CASE, kerf=2)
    assert lay_out(thinner) == lay_out_again(thinner, Before(CASE, lay_out(CASE)))


def test_a_part_left_out_takes_its_sheets_with_it() -> None:
    """Half as many parts: no sheet is kept for what nobody wants."""
    job = Job(pieces=(Piece(id="A", length=600, width=300, count=8),), stocks=(Stock(id="sheet", length=1300, width=700, cost=50),), kerf=4)
    fewer = replace(job, pieces=(replace(job.pieces[0], count=4),))
    again = lay_out_again(fewer, Before(job, lay_out(job)))
    assert (1, ()) == (again.sheet_count, faults(fewer, again))


def test_a_run_of_figure_that_is_new_is_sawn_as_one() -> None:
    """Sheets on which the fronts lay apart are not kept once they have to come from one run."""
    fronts = tuple(Piece(id=name, length=300, width=150) for name in ("left", "middle", "right"))
    apart = Job(pieces=(*fronts, Piece(id="A", length=600, width=300, count=4)), stocks=(Stock(id="sheet", length=1300, width=700, cost=50),), kerf=4)
    together = replace(apart, runs=(Run(name="fronts", members=("left", "middle", "right")),))
    assert () == faults(together, lay_out_again(together, Before(apart, lay_out(apart))))
