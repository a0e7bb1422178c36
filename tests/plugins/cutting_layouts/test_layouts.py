"""Every layout can be sawn as it is drawn, whatever is asked for: judged by the verifier, which knows nothing of the solver."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from plugins.cutting_layouts.job import Bench, Job, Piece, Stock
from plugins.cutting_layouts.layout import Box, Layout
from plugins.cutting_layouts.solving import lay_out
from tests.plugins.cutting_layouts.drawn import jobs, rods
from tests.plugins.cutting_layouts.instances import Instance, workshop
from tests.plugins.cutting_layouts.verifier import faults, separable

ROOT = Path(__file__).resolve().parents[3]
PINWHEEL = ((0, 0, 3, 2), (3, 0, 5, 3), (2, 3, 5, 5), (0, 2, 2, 5))
"""Four 3 x 2 parts around a 1 x 1 hole in 5 x 5 (the classical counter-example): no edge-to-edge line misses every part."""


@given(jobs(most=12))
@settings(max_examples=40)
def test_small_jobs_can_be_sawn(job: Job) -> None:
    """A dozen parts: inside the trim, a kerf apart, parted edge to edge, grain and runs kept, complete, and the cuts make them."""
    assert () == faults(job, lay_out(job))


@given(jobs())
@settings(max_examples=5)
def test_large_jobs_can_be_sawn(job: Job) -> None:
    """Up to 150 parts."""
    assert () == faults(job, lay_out(job))


@given(rods())
@settings(max_examples=25)
def test_lengths_can_be_sawn(job: Job) -> None:
    """One dimension, by the same rules."""
    assert () == faults(job, lay_out(job, linear=True))


@pytest.fixture(scope="module")
def solved() -> dict[str, tuple[Instance, Layout]]:
    """The workshop jobs of up to 40 parts, each laid out once for all that ask."""
    return {one.name: (one, lay_out(one.job, linear=one.linear)) for one in workshop() if one.parts <= 40}


def test_workshop_jobs_cost_what_the_best_known_plans_cost(solved: dict[str, tuple[Instance, Layout]]) -> None:
    """Jobs of up to 40 parts at the best cost known, by plans that can be sawn."""
    for one, layout in solved.values():
        assert () == faults(one.job, layout), one.name
        assert layout.cost <= one.best, one.name
    assert solved["ws03_wardrobe_mm"][1].best_possible


def test_the_verifier_knows_what_cannot_be_sawn() -> None:
    """The pinwheel can't be parted; without one of its parts it can."""
    assert not separable(PINWHEEL, 0)
    assert all(separable(PINWHEEL[:at] + PINWHEEL[at + 1 :], 0) for at in range(4))


def _two_shelves() -> tuple[Job, Layout]:
    piece = Piece(id="A", length=600, width=300, count=2)
    job = Job(pieces=(piece,), stocks=(Stock(id="sheet", length=1300, width=700, cost=50),), kerf=4)
    return job, lay_out(job)


@pytest.mark.parametrize(
    ("moved", "told"),
    [
        (Box(0, 0, 600, 301), "another size"),
        (Box(0, 0, 600, 300), "apart"),
        (Box(800, 0, 600, 300), "trim"),
    ],
)
def test_the_verifier_finds_pieces_that_lie_wrong(moved: Box, told: str) -> None:
    """A piece of another size, two on top of each other, one that hangs over the edge."""
    job, layout = _two_shelves()
    sheet = layout.sheets[0]
    first = replace(sheet.placements[0], box=moved)
    second = replace(sheet.placements[1], box=Box(0, 0, 600, 300))
    wrong = replace(layout, sheets=(replace(sheet, placements=(first, second)),))
    assert any(told in fault for fault in faults(job, wrong))


def test_the_verifier_finds_cuts_that_do_not_make_the_pieces() -> None:
    """The last cut left out; the first made twice; one a sixteenth off."""
    job, layout = _two_shelves()
    sheet = layout.sheets[0]
    first, last = sheet.cuts[0], sheet.cuts[-1]
    off = replace(last, start=(last.start[0] + 2, last.start[1]), end=(last.end[0] + 2, last.end[1] + 2))
    for cuts in (sheet.cuts[:-1], (first, *sheet.cuts), (*sheet.cuts[:-1], off)):
        assert faults(job, replace(layout, sheets=(replace(sheet, cuts=cuts),)))


def test_a_sheet_is_broken_down_before_it_goes_to_the_table() -> None:
    """With a table of 1600 x 800 the first cuts of a full sheet are by hand, and none is by hand once the piece fits the table."""
    job = Job(
        pieces=(Piece(id="A", length=700, width=350, count=8),), stocks=(Stock(id="sheet", length=3072, width=1536, cost=50),), kerf=4,
        bench=Bench(table=(1600, 800)),
    )  # fmt: skip
    sheet = lay_out(job).sheets[0]
    assert () == faults(job, lay_out(job))
    assert sheet.cuts[0].by_hand and not sheet.cuts[-1].by_hand
    assert all(cut.by_hand == (cut.hand.sides[0] > 1600 or cut.hand.sides[1] > 800) for cut in sheet.cuts)
    hand_sawn = [cut.by_hand for cut in sheet.cuts]
    assert sorted(hand_sawn, reverse=True) == hand_sawn


_TWICE = """
from tests.plugins.cutting_layouts.instances import workshop
from plugins.cutting_layouts.solving import lay_out
print([lay_out(one.job, linear=one.linear) for one in workshop() if one.parts <= 30])
"""


def test_two_processes_lay_out_the_same(solved: dict[str, tuple[Instance, Layout]]) -> None:
    """Another hash seed, same layouts to the last cut."""
    here = [layout for one, layout in solved.values() if one.parts <= 30]
    there = subprocess.run(
        [sys.executable, "-c", _TWICE], cwd=ROOT, env={"PYTHONHASHSEED": "7", "PATH": ""}, capture_output=True, text=True, check=True
    )
    assert f"{here}\n" == there.stdout and len(here) > 1


def test_the_order_of_the_parts_is_of_no_account(solved: dict[str, tuple[Instance, Layout]]) -> None:
    """The same parts and stock written backwards give the same layout."""
    one, layout = solved["ws07_hall_table_boards"]
    assert layout == lay_out(replace(one.job, pieces=one.job.pieces[::-1], stocks=one.job.stocks[::-1]))
