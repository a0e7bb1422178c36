"""What is held across its grain, and what the reader is told about movement."""

from __future__ import annotations

import pytest

from compiler.api import Table
from compiler.testing import Plan, plan
from plugins.seasonal_movement.judging import Movement, Movements

TABLE = """
materials: {{oak: red oak 4/4, button: table button}}
parts:
  apron: {{stock: oak, across: 4 to 40, deep: from 3, up: 24 to 27, grain: across}}
  end: {{stock: oak, across: from 3, deep: {end}, up: 24 to 27, grain: deep}}
  top: {{stock: oak, across: 0 to 44, deep: 0 to 36, up: from 27, grain: across}}
joints:
  - {{butt: top, to: end, {how}}}
"""
SCREWED = "screws: No. 8 x 1 1/4, count: 2"


def table(how: str, end: str = "3 to 33", settings: str = "") -> Plan:
    made = plan(TABLE.format(how=how, end=end).replace(", button: table button", ""), settings=settings)
    assert () == made.errors
    return made


def row(made: Plan, name: str = "top") -> Movement:
    return next(each for each in made.make(Movements).rows if each.name == name)


def said(made: Plan, severity: str = "warning") -> list[str]:
    return [entry.says for entry in made.outcome.report if entry.code == "held-across" and entry.severity == severity]


def test_a_wide_top_fixed_along_an_end_is_warned_of() -> None:
    """36 in of red oak glued and screwed over 30 in."""
    made = table(SCREWED)
    assert 30.0 == float(row(made).held)
    assert 1 == len(said(made))


def test_slots_let_it_move() -> None:
    """The same with slotted holes: nothing to say, and the reader learns how long they must be.

    The outer screws stand 7 1/2 in from the middle, which moves 0.13 in there; with the hole of 11/64 in that is 5/16 in.
    """
    made = table(SCREWED + ", slotted: yes")
    assert [] == said(made)
    (shown,) = [block for block in made.section("Loads and movement") if isinstance(block, Table) and block.name == "movement"]
    told = [line[-1] for group in shown.groups for line in group.rows if line[1] == "Top"]
    assert ["slots in the end, at least 5/16 in long"] == told


def test_a_narrow_contact_is_left_alone() -> None:
    """Held over 4 in: 36 in of oak may hang on that (about 1/16 in, under what a joint takes up)."""
    assert [] == said(table(SCREWED, end="3 to 7"))


def test_movement_is_the_handbook_s() -> None:
    """24 in of flat-sawn red oak from 30 to 60 % at 70 F: 0.42 in (EMC-17); 36 in moves half as much again."""
    made = table(SCREWED, settings="shop: A\nhumidity: 30 to 60\n")
    assert 0.42 * 36 / 24 == pytest.approx(float(row(made).moves), abs=0.02)


def test_quarter_sawn_boards_move_less() -> None:
    """By the radial coefficient: 0.00158 over 0.00369 (MOV-11)."""
    flat = row(table(SCREWED)).moves.inches
    quarter = row(table(SCREWED, settings="shop: A\nsettings: {seasonal movement: {sawn: quarter}}\n")).moves.inches
    assert 158 * flat == 369 * quarter


def test_out_of_range_is_told() -> None:
    """10 to 90 % leaves 6 to 14 % of moisture: an estimate outside its range (MOV-42)."""
    made = table(SCREWED, settings="shop: A\nhumidity: 10 to 90\n")
    assert any("outside its range" in says for says in said(made, "advice"))
    assert "rough guide" in repr(made.section("Loads and movement"))


PANEL = """
materials: {{oak: red oak 4/4}}
parts:
  stile: {{stock: oak, across: from 0 for 2, deep: from 0, up: 0 to 24, grain: up, copies: mirror across}}
  panel: {{stock: oak, across: between left stile and right stile, deep: 1/8 for 1/2, up: 0 to 24, grain: up}}
middle: {{across: 10}}
joints:
  - {{groove: panel, into: stile, depth: 3/8, room: {room}{glue}}}
"""


def test_a_panel_needs_room_in_its_grooves() -> None:
    """16 in of oak moves over 1/4 in: two grooves with 1/16 in each are short, with 3/16 in each they are not."""
    assert 1 == len(said(plan(PANEL.format(room="1/16", glue="")), "advice"))
    assert [] == said(plan(PANEL.format(room="3/16", glue="")), "advice")


def test_parts_that_move_alike_do_not_hold_each_other() -> None:
    """Two boards edge to edge, grain the same way."""
    text = """
    materials: {oak: red oak 4/4}
    parts:
      front: {stock: oak, across: 0 to 44, deep: 0 to 18, up: from 0, grain: across}
      rear: {stock: oak, across: 0 to 44, deep: 18 to 36, up: from 0, grain: across}
    joints:
      - {butt: front, to: rear}
    """
    assert [0.0, 0.0] == [float(each.held) for each in plan(text).make(Movements).rows]
