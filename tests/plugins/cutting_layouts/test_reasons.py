"""Why so many sheets: told in sentences, each of which has been laid out."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler import build
from compiler.build import Wishes
from compiler.stages.check import shop_of
from plugins.cutting_layouts.answers import Answer, CuttingLayouts
from plugins.cutting_layouts.explaining import explain
from plugins.cutting_layouts.job import Job, Piece, Stock, Way
from plugins.cutting_layouts.reasons import why_sheets
from plugins.cutting_layouts.solving import lay_out
from tests.made import SHOP, attempt, library
from tests.plugins.cutting_layouts.test_questions import asked, draft
from tests.shop import Small

# 12 x 24 in from 48 x 96 in with a kerf of 1/8 in: ten come out of a sheet (exact dynamic programme), where the area would hold sixteen.
PANELS = Job(
    pieces=(Piece(id="A", length=24 * 64, width=12 * 64, count=11, turnable=True),),
    stocks=(Stock(id="sheet", length=96 * 64, width=48 * 64, cost=92),), kerf=8,
)  # fmt: skip


def test_one_panel_too_many() -> None:
    """Eleven panels take two sheets and one less takes one; a kerf less in width does too, since then sixteen come out."""
    layout = lay_out(PANELS)
    reasons = explain(PANELS, layout)
    assert (2, "A") == (layout.sheet_count, reasons.forcing)
    fewer = next(saving for saving in reasons.savings if saving.fewer)
    assert (1, 1) == (fewer.fewer, fewer.sheets)
    for saving in reasons.savings:
        if saving.by:
            length = 24 * 64 - (saving.by if saving.way is Way.ALONG else 0)
            width = 12 * 64 - (saving.by if saving.way is Way.ACROSS else 0)
            smaller = Job(pieces=(Piece(id="A", length=length, width=width, count=11, turnable=True),), stocks=PANELS.stocks, kerf=8)
            assert 1 == lay_out(smaller).sheet_count
    assert any(saving.by for saving in reasons.savings)


def test_areas_add_up_to_the_stock() -> None:
    """Parts, kerfs, trims, offcuts and waste are all that there is."""
    layout = lay_out(PANELS)
    assert explain(PANELS, layout).spent.stock == sum(sheet.copies * sheet.length * sheet.width for sheet in layout.sheets)


DESIGN = "plan: A test\nnumber: 1\nissue: 1\ndate: 2026-11-02\nunits: inch\neditions: [inch letter]\nmaterials: {ply: birch plywood 3/4}\nparts:\n  panel: {stock: ply, across: 0 to 40, deep: 0 to 24, up: from 0, grain: across, copies: shelves up every 2}\nnumbers: {shelves: 5}\n"


def test_it_is_told_in_the_plans_own_words() -> None:
    """Two panels of 24 x 40 in come out of a trimmed sheet, so five take three; the part is called by its name and letter."""
    shop = SHOP + "kerf: 1/8\ntrim: 1/4\nprices: {birch plywood 3/4: 92}\n"
    model, report = attempt(DESIGN, shop=shop)
    assert model is not None, report
    (question,) = asked(model, DESIGN, shop)
    layouts = CuttingLayouts(answers=(Answer(question=question, layout=lay_out(question.job)),))
    settled = shop_of(draft(DESIGN, shop), library(), model.edition).value
    assert settled is not None
    lines = list(why_sheets(layouts, settled, model.edition))
    assert lines[0].startswith("birch plywood 3/4: 3 sheets to buy, $276.00")
    assert any("panel (A)" in line and "would do" in line for line in lines), lines


@pytest.fixture
def small(tmp_path: Path) -> Small:
    return Small(tmp_path)


def test_the_command_explains(small: Small) -> None:
    """`kerfolio explain PLAN boards` says how many boards to buy; `sheets` that there are none."""
    told = build.explain(small.plan, "boards", Wishes(), small.workshop)
    assert told.lines[0].startswith("poplar 4/4: 1 board to buy"), told
    assert ("The plan takes no sheets.",) == build.explain(small.plan, "sheets", Wishes(), small.workshop).lines


def test_an_unknown_topic_has_a_near_one(small: Small) -> None:
    """`board` for `boards`: an error with the likely word, and no traceback."""
    told = build.explain(small.plan, "board", Wishes(), small.workshop)
    assert () == told.lines
    assert ["Nothing explains `board`."] == [entry.says for entry in told.report.errors]
    assert "Did you mean `boards`?" == told.report.errors[0].hint


def test_without_a_topic_the_topics_are_listed(small: Small) -> None:
    """Each that some plugin brings, in the order of letters."""
    told = build.explain(small.plan, "", Wishes(), small.workshop)
    assert ("boards", "lengths", "sheets") == told.lines and not told.report.errors


def test_a_plan_with_errors_is_not_explained(small: Small) -> None:
    """Its errors are told, and nothing else."""
    design = small.plan / "design.yaml"
    design.write_text(design.read_text(encoding="utf-8").replace("poplar 4/4", "popplar 4/4"), encoding="utf-8")
    told = build.explain(small.plan, "boards", Wishes(), small.workshop)
    assert () == told.lines
    assert any("popplar 4/4" in entry.says for entry in told.report.errors)
