"""Which parts are shelves, and what is said of them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.api import Table
from compiler.testing import Plan, plan
from plugins.loads_and_movement.amounts import POUND
from plugins.shelf_sag.judging import ShelfLoads

CASE = """
materials: {{pine: white pine 4/4, pin: shelf pin}}
parts:
  side: {{stock: pine, across: from 0, deep: 0 to 11 1/4, up: 0 to 40, grain: up, copies: mirror across, glue-up: 2 strips}}
  shelf: {{stock: pine, across: between left side and right side, deep: 0 to 11 1/4, up: from 20, glue-up: 2 strips}}
{more}
middle: {{across: {half}}}
joints:
  - {{dado: shelf, into: side, depth: 1/4}}
{joints}
"""


def case(span: str, more: str = "", joints: str = "", settings: str = "") -> Plan:
    half = f"({span} + 1 1/2) / 2"
    return plan(CASE.format(half=half, more=more, joints=joints), settings=settings)


def said(made: Plan) -> list[str]:
    return [entry.says for entry in made.outcome.report if entry.code == "sagging-shelf"]


def test_the_handbook_shelf() -> None:
    """STR-10 in a plan: 36 in of pine, 0.0714 in under books at 1.29 million psi, here 1.24 (MEC-13); over 0.02 in a foot, under 1/32 (STR-11)."""
    made = case("36")
    (row,) = made.make(ShelfLoads).rows
    assert row.sag is not None
    assert (36.0, 11.25) == (float(row.shelf.span), float(row.shelf.depth))
    assert 0.0714 * 1.29 / 1.24 == pytest.approx(float(row.sag), rel=0.01)
    assert 1 == len(said(made))
    assert ["advice"] == [entry.severity for entry in made.outcome.report if entry.code == "sagging-shelf"]


def test_a_short_shelf_is_left_alone() -> None:
    """30 in is stiff enough."""
    assert [] == said(case("30"))


def test_a_long_shelf_is_a_warning() -> None:
    """48 in bends more than the eye overlooks (1/32 in a foot, STR-19)."""
    assert ["warning"] == [entry.severity for entry in case("48").outcome.report if entry.code == "sagging-shelf"]


def test_a_nosing_is_part_of_the_beam() -> None:
    """With a glued-on strip under its front edge the same shelf passes."""
    more = "  lip: {stock: pine, across: as shelf, deep: 0 for 3/4, up: to shelf.bottom for 1 1/2}"
    made = case("36", more, "  - {butt: lip, to: shelf}")
    assert 2 == len(made.make(ShelfLoads).rows[0].shelf.strips or ())
    assert [] == said(made)


def test_a_back_holds_one_edge() -> None:
    """Screwed to a back along its length, the shelf is only judged by what the eye sees."""
    more = "  back: {stock: birch plywood 1/4, across: left side.left to right side.right, deep: from side.back, up: 0 to 40}"
    made = case("36", more, "  - {butt: back, to: [side, shelf], brads: 3/4, every: 6}")
    assert made.make(ShelfLoads).rows[0].shelf.held
    assert [] == said(made)


def test_the_shop_sets_the_load() -> None:
    """Half the books, no remark; the settings stand under the plugin's key."""
    assert [] == said(case("36", settings="shop: A\nsettings: {shelf sag: {load: 10}}\n"))


def test_the_reader_is_told_what_it_carries() -> None:
    """STR-10 bends 0.0743 in (at 1.24 million psi) under 60 lb; 0.06 in, span / 600, is 48 lb: 45 in fives."""
    (table, *_) = [block for block in case("36").section("Loads and movement") if isinstance(block, Table) and block.name == "shelf loads"]
    assert ["45 lb"] == [row[3] for row in table.groups[0].rows]


def test_nothing_is_promised_of_stiff_shelves() -> None:
    """12 in would bend under 200 lb by less than seen: its pins or joints give way first (STR-31 ends there, too)."""
    made = case("12")
    assert Fraction(200) * POUND == made.make(ShelfLoads).rows[0].takes
    assert not any(isinstance(block, Table) and block.name == "shelf loads" for block in made.section("Loads and movement"))


def test_a_seat_on_bearers_is_no_shelf() -> None:
    """Held away from its ends: nothing is promised for it."""
    text = """
    materials: {oak: white oak 8/4}
    parts:
      seat: {stock: oak, across: 0 to 48, deep: 0 to 12, up: to 18, glue-up: 2 strips}
      leg: {stock: oak, across: from 8, deep: 0 to 12, up: 0 to seat.bottom, grain: up, copies: mirror across, glue-up: 2 strips}
    middle: {across: 24}
    joints:
      - {butt: seat, to: leg, screws: No. 10 x 3, count: 2}
    """
    assert () == plan(text).make(ShelfLoads).rows
