"""What can't be laid out is told in the plan's own names and sizes, at its place, and the rest of the plan is judged all the same."""

from __future__ import annotations

import pytest

from compiler.base.showing import Units
from compiler.testing import Plan, plan
from plugins.cutting_layouts.answers import CuttingLayouts
from plugins.cutting_layouts.job import Job, Piece, Stock, Trims
from plugins.cutting_layouts.solving import lay_out
from tests.made import SHOP, attempt
from tests.plugins.cutting_layouts.test_questions import asked

SHEET = Stock(id="sheet", length=3072, width=1536, cost=9200, trims=Trims(left=8, right=8, bottom=8, top=8))


def _case(part: str, more: str = "") -> str:
    return f"""
    materials: {{ply: birch plywood 3/4, wood: poplar 4/4{more}}}
    parts:
      panel: {part}
    """


def _told(part: str, settings: str = "") -> Plan:
    return plan(_case(part), settings=settings)


def test_a_part_larger_than_every_sheet() -> None:
    """A 100 in panel is 4 1/2 in too long for a 96 in sheet less its trims of 1/4 in; told at the part, and an error."""
    made = _told("{stock: ply, across: 0 to 100, deep: 0 to 20, up: from 0, grain: across}", "trim: 1/4")
    assert any("panel (A) is 4 1/2 too long for a sheet of 48 × 96" in error for error in made.errors)
    entry = next(entry for entry in made.outcome.report if "too long" in entry.says)
    assert entry.at is not None and ("design.yaml", "panel") == (entry.at.file, entry.at.path[-1])


def test_with_its_grain_turned_it_would_fit() -> None:
    """60 in across the grain is too wide for a 48 in sheet; turned it fits, and the hint says so."""
    made = _told("{stock: ply, across: 0 to 60, deep: 0 to 20, up: from 0, grain: deep}")
    assert any("too wide" in says and "With its grain turned it would fit." in says for says in made.messages)


def test_metric_plans_tell_millimetres() -> None:
    """2600 mm against a sheet of 2440 less 6 mm on each edge: 172 mm too long."""
    made = plan(
        "materials: {ply: birch plywood 18 mm}\nparts:\n  panel: {stock: ply, across: 0 to 2600 mm, deep: 0 to 500 mm, up: from 0, grain: across}\n",
        units="mm", settings="trim: 6 mm",
    )  # fmt: skip
    assert any("172 too long for a sheet of 1220 × 2440" in error for error in made.errors), made.messages


def test_the_rest_of_the_plan_is_laid_out() -> None:
    """Beside the panel that fits nowhere a shelf of other stock has its layout, and its own fault is told too."""
    made = plan(
        """
        materials: {ply: birch plywood 3/4, thin: birch plywood 1/4}
        parts:
          panel: {stock: ply, across: 0 to 100, deep: 0 to 20, up: from 0, grain: across}
          back: {stock: thin, across: 0 to 20, deep: from 0, up: 0 to 110, grain: up}
        """
    )
    assert 2 == sum("too long" in error for error in made.errors)


@pytest.mark.parametrize(
    ("offcut", "told"),
    [
        ("{stock: birch plywood 3/4, size: 24 x 40, count: -2}", "There can't be `-2` of an offcut."),
        ("{stock: birch plywood 3/4, size: 1/2 x 40, mark: by the door}", "the offcut by the door is smaller than what is trimmed off a sheet"),
    ],
)
def test_offcuts_that_are_none(offcut: str, told: str) -> None:
    """A negative count, and one smaller than the trim: each at its line of shop.yaml."""
    made = _told("{stock: ply, across: 0 to 30, deep: 0 to 20, up: from 0, grain: across}", f"trim: 1/4\noffcuts:\n  - {offcut}\n")
    entry = next(entry for entry in made.outcome.report if told in entry.says)
    assert entry.at is not None and "shop.yaml" == entry.at.file and "offcuts" in entry.at.path


def test_a_price_that_is_missing() -> None:
    """Where the shop has prices but none for a sheet, or one in another measure for a board, it is told at the part; without any, nothing is."""
    part = "{stock: ply, across: 0 to 30, deep: 0 to 20, up: from 0, grain: across}"
    made = _told(part, "prices: {poplar 4/4: 4.10 per board foot}")
    entry = next(entry for entry in made.outcome.report if "no price for it by the sheet" in entry.says)
    assert entry.at is not None and "panel" == entry.at.path[-1]
    board = part.replace("ply", "wood").replace("20", "5")
    assert any("no price for it by the board foot" in says for says in _told(board, "prices: {poplar 4/4: 4.10}").messages)
    assert not any("price" in says for says in (*_told(part).messages, *_told(board, "prices: {poplar 4/4: 4.10 per board foot}").messages))


def test_a_panel_with_too_few_boards() -> None:
    """A 24 in top as two strips would need boards of 12 in; the library's are narrower, so more are taken, and it is told."""
    made = plan(_case("{stock: wood, across: 0 to 40, deep: 0 to 24, up: from 0, grain: across, glue-up: 2 strips}"))
    assert any("2 strips are too few to glue panel (A) up" in says for says in made.messages), made.messages
    assert made.make(CuttingLayouts).of("board")


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_the_cut_list_and_the_layout_count_the_same_strips(units: Units) -> None:
    """Panels from just wider than a board to 27 in, and their metric sisters: what the cut list says is what is laid out, and nothing is told."""
    rows = "".join(
        f"  p{at}: {{stock: wood, across: 0 to 30, deep: 0 to {width}, up: from {at * 2}, grain: across}}\n"
        for at, width in enumerate((6.5, 7, 7.25, 12.625, 12.875, 13.5, 14, 19, 19.25, 20.5, 27))
    )
    model, report = attempt("materials: {wood: poplar 4/4}\nparts:\n" + rows, units)
    assert model is not None, report
    (question,) = asked(model, "plan: A test\n", SHOP)
    counts = {piece.id: piece.count for piece in question.job.pieces}
    strips = {part.name: part.strips for part in model.parts}
    assert [counts[piece] for piece, _, _ in question.parts] == [strips[part] for _, _, part in question.parts]
    assert {1, 2, 3, 4} <= set(strips.values()) and () == question.problems
    assert () == lay_out(question.job).problems


def test_a_dressed_board_keeps_its_edges() -> None:
    """A part as wide as a 2x4, 3 1/2 in, is sawn from it in one piece: nothing is trimmed off edges that the mill has planed."""
    made = plan("materials: {wood: 2x4}\nparts:\n  rail: {stock: wood, across: 0 to 40, deep: 0 to 3 1/2, up: from 0, grain: across}\n")
    (answer,) = made.make(CuttingLayouts).answers
    assert ((), 1) == (answer.layout.problems, answer.layout.sheet_count)
    assert 3.5 * 64 == answer.layout.sheets[0].placements[0].box.width


@pytest.mark.parametrize(
    ("part", "told"),
    [
        ("across: 0 to 5000 mm, deep: 0 to 100 mm", "too long for a board of 180 ×"),
        ("across: 0 to 1000 mm, deep: 0 to 600 mm, glue-up: 2 strips", "boards that are at most 180 wide"),
    ],
)
def test_metric_plans_tell_no_inches_of_boards(part: str, told: str) -> None:
    """Millimetres, and no fraction that an inch is of them."""
    made = plan(f"materials: {{wood: ash 27 mm}}\nparts:\n  panel: {{stock: wood, {part}, up: from 0, grain: across}}\n", units="mm")
    (says,) = [message for message in made.messages if told in message]
    assert "/" not in says.replace("4/4", "")


def test_a_run_of_figure_that_no_sheet_holds() -> None:
    """Three doors of 40 in side by side are more than 96 in: told at the first door, and laid out apart."""
    made = plan(
        """
        materials: {ply: birch plywood 3/4}
        parts:
          door: {stock: ply, across: 0 to 40, deep: from 0, up: 0 to 20, grain: across, copies: doors up every 25}
        numbers: {doors: 3}
        match: [[door 1, door 2, door 3]]
        """
    )
    entry = next(entry for entry in made.outcome.report if "run of figure" in entry.says)
    assert "`birch plywood 3/4`: door (A) and the parts beside it on one run of figure, 3 in all, are more than any sheet holds side by side." == entry.says
    assert entry.at is not None and "door" == entry.at.path[-1]


def test_a_kerf_as_wide_as_a_part() -> None:
    """A strip of 1/8 in under a kerf of 1/8 in is doubtful, and laid out all the same."""
    piece = Piece(id="A", length=600, width=4, count=3)
    layout = lay_out(Job(pieces=(piece,), stocks=(SHEET,), kerf=4))
    assert ["kerf"] == [problem.code for problem in layout.problems] and 1 == layout.sheet_count


def test_no_stock() -> None:
    """No size at all; all of it used up; less area than the parts have."""
    piece = Piece(id="A", length=600, width=400, count=30)
    none = Stock(id="rack", length=700, width=500, cost=0, count=0)
    for stocks, code in (((), "no-stock"), ((none,), "no-stock"), ((Stock(id="rack", length=700, width=500, cost=0, count=2),), "no-room")):
        layout = lay_out(Job(pieces=(piece,), stocks=stocks, kerf=4))
        assert [code] == [problem.code for problem in layout.problems] and () == layout.sheets


def test_counts_below_none() -> None:
    """Of stock and of parts."""
    for pieces, stock in ((-1, None), (1, -2)):
        job = Job(pieces=(Piece(id="A", length=60, width=40, count=pieces),), stocks=(Stock(id="s", length=700, width=500, cost=1, count=stock), SHEET), kerf=4)
        assert "negative-count" in [problem.code for problem in lay_out(job).problems]


def test_five_thousand_copies() -> None:
    """Laid out in a bounded time, and doubted."""
    piece = Piece(id="A", length=600, width=400, count=5000)
    layout = lay_out(Job(pieces=(piece,), stocks=(SHEET,), kerf=4))
    assert "many" in [problem.code for problem in layout.problems]
    assert 5000 == sum(len(sheet.placements) * sheet.copies for sheet in layout.sheets)


def test_nothing_to_saw() -> None:
    """No parts: no sheets, and nothing told."""
    layout = lay_out(Job(pieces=(), stocks=(SHEET,), kerf=4))
    assert ((), ()) == (layout.sheets, layout.problems)
