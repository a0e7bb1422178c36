"""Room round drawers and doors. Limits of slides and hinge counts are the library's; the rest is common practice, no source."""

from __future__ import annotations

import pytest

from compiler.testing import Plan, plan

DRAWER = """
materials: {{pine: white pine 4/4, slide: drawer slide 10}}
parts:
  side: {{stock: pine, across: from 0, deep: 0 to {deep}, up: 0 to 8, grain: up, copies: mirror across, glue-up: 2 strips}}
  back: {{stock: pine, across: between left side and right side, deep: to {deep}, up: 0 to 8, grain: across}}
  floor: {{stock: pine, across: between left side and right side, deep: 0 to back.front, up: to 1, grain: across, glue-up: 2 strips}}
  drawer: {{component: drawer, across: between left side and right side, deep: 0 to {deep}, up: 1 to 7}}
middle: {{across: 10}}
joints:
  - {{butt: [back, floor], to: side}}
components:
  drawer:
    middle: {{across: width / 2}}
    parts:
      side: {{stock: pine, across: from {gap}, deep: 0 to 10, up: 0 to 5, grain: deep, copies: mirror across}}
      front: {{stock: pine, across: between left side and right side, deep: from 0, up: 0 to 5, grain: across}}
    joints:
      - {{butt: front, to: side}}
{hardware}
"""
SLIDE = "    hardware:\n      - {item: slide, count: 1}\n"


def drawer(gap: str, deep: str = "11", hardware: str = SLIDE) -> Plan:
    return clean(DRAWER.format(gap=gap, deep=deep, hardware=hardware))


def clean(text: str) -> Plan:
    made = plan(text)
    assert () == made.errors
    return made


def said(made: Plan) -> list[str]:
    return [entry.says for entry in made.outcome.report if entry.code == "tight-or-loose"]


@pytest.mark.parametrize(("gap", "told"), [("1/2", 0), ("17/32", 0), ("7/16", 2), ("5/8", 2)])
def test_slides_ask_for_their_room(gap: str, told: int) -> None:
    """1/2 to 17/32 in on each side (the library's slide)."""
    assert told == len(said(drawer(gap)))


def test_a_slide_that_reaches_the_back() -> None:
    """10 in of slide in 10 in of depth; 1/8 in is to stay (the library's rule)."""
    assert any("reaches the back" in says for says in said(drawer("1/2", deep="10 3/4")))


@pytest.mark.parametrize(("gap", "binds"), [("1/32", False), ("1/64", True)])
def test_a_drawer_on_wood_needs_a_hair(gap: str, binds: bool) -> None:
    """1/32 in on each side."""
    assert binds == any("bind" in says for says in said(drawer(gap, hardware="")))


DOOR = """
materials: {{pine: white pine 4/4, ply: birch plywood 3/4}}
parts:
  side: {{stock: ply, across: from 0, deep: 0 to 10, up: 0 to {high}, grain: up, copies: mirror across}}
  door: {{component: door, across: left side.right + {gap} to right side.left - {gap}, deep: 0 for ply.thickness, up: 1/8 to {high} - 1/8}}
  top: {{stock: ply, across: left side.left to right side.right, deep: 0 to 10, up: from {high}}}
middle: {{across: 9}}
joints:
  - {{butt: top, to: side}}
components:
  door:
    parts:
      leaf: {{stock: ply, across: 0 to width, deep: 0 to depth, up: 0 to height, grain: up}}
hardware:
  - {{item: butt hinge 2, from: door.leaf, to: left side, at: {places}}}
"""
TWO = "4 from top and 4 from bottom"


def door(gap: str = "1/16", high: str = "30", places: str = TWO) -> Plan:
    return clean(DOOR.format(gap=gap, high=high, places=places))


@pytest.mark.parametrize(("gap", "binds"), [("1/16", False), ("1/64", True)])
def test_an_inset_door_needs_a_gap(gap: str, binds: bool) -> None:
    """1/32 in at least."""
    assert binds == any("bind" in says for says in said(door(gap)))


@pytest.mark.parametrize(("high", "told"), [("40 1/4", 0), ("41", 1)])
def test_tall_doors_hang_on_three_hinges(high: str, told: int) -> None:
    """Two up to 40 in (hinge guides)."""
    assert told == sum("hinges" in says for says in said(door(high=high)))
