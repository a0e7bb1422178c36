"""What a plan asks of the saw, and what becomes of it: runs of figure, offcuts of the shop, strips, mitres, the demo plans."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise

import pytest

from compiler.base.measures import inch
from compiler.base.showing import Units
from compiler.stages.check import shop_of
from compiler.stages.derive.settings import settings_of
from compiler.stages.parse import parse
from compiler.values.contributions import Author, Brought
from compiler.values.draft import Draft
from compiler.values.figure import Lettering
from compiler.values.model import Model
from compiler.values.source import Source, SourceFile
from plugins.cut_list.listing import cut_list
from plugins.cutting_layouts.drawing import draw
from plugins.cutting_layouts.job import Job, Piece, Run, Stock, Way
from plugins.cutting_layouts.layout import Layout
from plugins.cutting_layouts.pages import with_marks
from plugins.cutting_layouts.questions import LayoutSettings, Question, questions
from plugins.cutting_layouts.solving import lay_out
from tests.made import HEAD, ROOT, SHOP, attempt, library, project
from tests.plugins.cutting_layouts.verifier import faults

FRONTS = """
materials: {ply: birch plywood 3/4}
parts:
  left front: {stock: ply, across: 0 to 14, deep: from 0, up: 0 to 6, grain: across}
  middle front: {stock: ply, across: 15 to 29, deep: from 0, up: 0 to 6, grain: across}
  right front: {stock: ply, across: 30 to 44, deep: from 0, up: 0 to 7, grain: across}
  shelf: {stock: ply, across: 0 to 40, deep: 2 to 20, up: from 10, grain: across}
match:
  - [left front, middle front, right front]
"""


def draft(design: str, shop: str) -> Draft:
    """Both files read."""
    read = parse(Source(folder="test", files=(SourceFile("design.yaml", design, ""), SourceFile("shop.yaml", shop, "")))).value
    assert read is not None
    return read


def asked(model: Model, design: str, shop: str) -> tuple[Question, ...]:
    """What the model of a design asks of the saw in this shop."""
    settled = shop_of(draft(design, shop), library(), model.edition).value
    assert settled is not None
    settings = settings_of(Brought(thing=LayoutSettings, name=LayoutSettings.key, author=Author(plugin="cutting_layouts")), settled, model).value
    assert isinstance(settings, LayoutSettings)
    return questions(cut_list(model, settled), model, settled, settings)


def _answer(text: str, kind: str = "sheet", shop: str = SHOP) -> tuple[Question, Layout]:
    """The one question of a small design, with its layout."""
    model, report = attempt(text, shop=shop)
    assert model is not None, report
    (question,) = (one for one in asked(model, HEAD + text, shop) if one.kind == kind)
    layout = lay_out(question.job, linear=kind == "length")
    assert () == faults(question.job, layout)
    return question, layout


def test_matched_fronts_lie_side_by_side_in_order() -> None:
    """Three fronts of one run of figure, two of them alike: A, A, B a kerf apart on one line, whatever else is on the sheet."""
    question, layout = _answer(FRONTS, shop=SHOP + "kerf: 1/8\n")
    (run,) = question.job.runs
    assert 3 == len(run.members) and Way.ALONG is run.way
    places = layout.sheets[0].placements
    fronts = [next(place for place in places if place.piece == name) for name in dict.fromkeys(run.members)]
    assert len({place.box.y for place in fronts}) == 1
    starts = sorted(place.box.x for place in places if place.piece in run.members)
    assert [14 * 64 + 8, 14 * 64 + 8] == [b - a for a, b in pairwise(starts)]


def test_a_pair_of_doors_stands_across_the_grain() -> None:
    """Upright grain: the doors of a pair follow one another across the sheet."""
    pair = Run(name="doors", members=("L", "R"), way=Way.ACROSS)
    pieces = (Piece(id="L", length=900, width=400), Piece(id="R", length=900, width=380), Piece(id="S", length=500, width=300, count=3))
    job = Job(pieces=pieces, stocks=(Stock(id="sheet", length=2000, width=1000, cost=1),), kerf=4, runs=(pair,))
    layout = lay_out(job)
    assert () == faults(job, layout)
    left, right = (next(place for place in layout.sheets[0].placements if place.piece == name) for name in "LR")
    assert (left.box.x, left.box.y + 404) == (right.box.x, right.box.y)


def test_a_run_that_no_sheet_holds_is_parted_and_told() -> None:
    """Four fronts of 600 don't come out of a sheet of 2000 side by side; they are laid out singly, with a warning."""
    run = Run(name="fronts", members=("F",) * 4)
    job = Job(pieces=(Piece(id="F", length=600, width=150, count=4),), stocks=(Stock(id="sheet", length=2000, width=1000, cost=1),), kerf=4, runs=(run,))
    layout = lay_out(job)
    assert ["run-apart"] == [problem.code for problem in layout.problems] and layout.problems[0].warning
    assert 1 == layout.sheet_count and () == faults(job, layout)


def test_offcuts_of_the_shop_are_used_first() -> None:
    """Parts that would all go on the sheet that is bought anyway: those that the offcut holds are laid on it, and more of the sheet is left."""
    shelves = "materials: {ply: birch plywood 3/4}\nparts:\n  wide: {stock: ply, across: 0 to 60, deep: 0 to 30, up: from 0, grain: across}\n  shelf: {stock: ply, across: 0 to 36, deep: 0 to 11, up: from 10, grain: across}\n"
    shop = SHOP + "kerf: 1/8\ntrim: 1/4\nprices: {birch plywood 3/4: 92}\noffcuts:\n  - {stock: birch plywood 3/4, size: 12 x 40, mark: behind the door}\n"
    _, layout = _answer(shelves, shop=shop)
    assert ["offcut 1", "sheet 1"] == sorted(sheet.stock for sheet in layout.sheets)
    assert 9200 == layout.cost and layout.best_possible


def test_an_offcut_that_would_hardly_be_covered_is_left_in_the_rack() -> None:
    """A small shelf does not break into a large offcut when a sheet is bought anyway."""
    job = Job(
        pieces=(Piece(id="A", length=1500, width=1200), Piece(id="B", length=200, width=100)),
        stocks=(Stock(id="sheet", length=3072, width=1536, cost=92), Stock(id="rack", length=1400, width=900, cost=0, count=1, offcut=True)),
        kerf=4,
    )
    assert ["sheet"] == [sheet.stock for sheet in lay_out(job).sheets]


def test_a_wide_panel_is_glued_up_from_strips() -> None:
    """A 20 in top of poplar boards: strips no wider than a trimmed board, each with its joint allowance, side by side as wide as the top."""
    question, _ = _answer("materials: {wood: poplar 4/4}\nparts:\n  top: {stock: wood, across: 0 to 40, deep: 0 to 20, up: from 0, grain: across, glue-up: 4 strips}\n", "board")
    (piece,) = question.job.pieces
    assert piece.width <= question.job.stocks[0].usable_width
    assert piece.count * (Fraction(piece.width, 64) - Fraction(1, 8)) >= 20
    assert question.net == inch(40) * inch(20) * inch("3/4")


DEMOS = [
    (path.parent.name, units)
    for path in sorted((ROOT / "projects").glob("*/design.yaml"))
    for units, word in (("inch", "inch "), ("mm", "metric "))
    if any(line.startswith("editions:") and word in line for line in path.read_text(encoding="utf-8").splitlines())
]


@pytest.mark.parametrize(("name", "units"), DEMOS)
def test_every_layout_of_the_demo_plans_can_be_sawn(name: str, units: Units) -> None:
    """All stocks of every demo plan in every edition's unit: complete, and no fault by the verifier."""
    design = (ROOT / "projects" / name / "design.yaml").read_text(encoding="utf-8")
    shop = (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")
    for question in asked(project(name, units), design, shop):
        layout = lay_out(question.job, linear=question.kind == "length")
        assert layout.sheets, (question.stock.name, layout.problems)
        assert () == faults(question.job, layout), question.stock.name


def test_the_wall_cabinet_uses_what_lies_under_the_bench() -> None:
    """The demo plan with an offcut in the shop's list saws it, and buys no more sheets for it."""
    design = (ROOT / "projects" / "tool-wall-cabinet" / "design.yaml").read_text(encoding="utf-8")
    shop = (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")
    (question,) = (one for one in asked(project("tool-wall-cabinet", "mm"), design, shop) if one.marks)
    layout = lay_out(question.job)
    assert "offcut 1" in [sheet.stock for sheet in layout.sheets]
    assert layout.best_possible and () == faults(question.job, layout)


TRIM = """
materials: {trim: square moulding stock}
parts:
  plain: {stock: trim, across: 0 to 30, deep: from 0, up: 0 to 3/4, grain: across}
  framed:
    stock: trim
    across: 0 to 30
    deep: from 3
    up: 0 to 3/4
    grain: across
    workings:
      - {mitre: left, long at: front}
      - {mitre: right, long at: front}
"""


def test_a_mitred_length_takes_the_slant_of_its_ends_besides() -> None:
    """Two mitres on 3/4 in stock: 1 1/2 in more of the bar than the part is long; a plain end takes none (common practice, no source)."""
    question, layout = _answer(TRIM, "length")
    assert {"plain": 0, "framed": 2 * 48} == {row: piece.allowance for piece in question.job.pieces for name, row, _ in question.parts if name == piece.id}
    assert 1 == layout.sheet_count


def test_the_shops_table_limit_asks_for_a_rough_cut() -> None:
    """A full sheet under a table that takes 30 x 50 in: the guided saw first, and at last the table."""
    text = "materials: {ply: birch plywood 3/4}\nparts:\n  shelf: {stock: ply, across: 0 to 30, deep: 0 to 11, up: from 0, grain: across, copies: shelves up every 5}\nnumbers: {shelves: 4}\n"
    question, layout = _answer(text, shop=SHOP + "table limit: 30 x 50\n")
    assert (30 * 64, 50 * 64) == question.job.bench.table
    cuts = layout.sheets[0].cuts
    assert cuts[0].by_hand and not cuts[-1].by_hand


@pytest.mark.parametrize(
    ("name", "units"), [("tool-wall-cabinet", "mm"), ("low-bookcase", "inch"), ("low-bookcase", "mm"), ("knock-down-shelf", "inch"), ("trestle-bench", "inch")]
)
def test_every_number_and_letter_is_on_the_drawing(name: str, units: Units) -> None:
    """Crowded or not: as many numbers as cuts, as many letters as parts (`k × 8` stands for eight), on every sheet and board of the demo plans."""
    design = (ROOT / "projects" / name / "design.yaml").read_text(encoding="utf-8")
    shop = (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")
    for question in asked(project(name, units), design, shop):
        for sheet in lay_out(question.job).sheets:
            marked, names = with_marks(sheet)
            picture = draw(marked, question.unit, lambda length: str(length.mm), "a layout")
            written = ["".join(run for run in mark.runs if isinstance(run, str)) for mark in picture.marks if isinstance(mark, Lettering)]
            assert [str(cut.number) for cut in sheet.cuts] == sorted((text for text in written if text.isdigit()), key=int)
            for mark, count in Counter(place.piece for place in marked.placements).items():
                said = [text.split(" × ")[-1] if text.startswith(f"{mark} × ") else "1" for text in written if text.split()[0] == mark]
                assert count == sum(map(int, said)), (names[mark], written)
