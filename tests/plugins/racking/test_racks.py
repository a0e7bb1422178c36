"""Open cases without anything that keeps them square (common practice, no source)."""

from __future__ import annotations

from compiler.testing import plan

CASE = """
materials: {pine: white pine 4/4, thin: birch plywood 1/4}
parts:
  side: {stock: pine, across: from 0, deep: 0 to 10, up: 0 to 30, grain: up, copies: mirror across, glue-up: 2 strips}
  shelf: {stock: pine, across: between left side and right side, deep: 0 to 9, up: from 4, copies: 2 up every 20, glue-up: 2 strips}
"""
JOINTS = """
middle: {across: 12}
joints:
  - {dado: shelf, into: side, depth: 1/4}
"""
BACK = "  back: {stock: thin, across: between left side and right side, deep: to 10, up: 0 to 30}\n"
RAIL = "  rail: {stock: pine, across: between left side and right side, deep: to 9, up: to 24 for 3}\n"


def said(more: str = "", joint: str = "") -> list[str]:
    made = plan(CASE + more + JOINTS + joint)
    assert () == made.errors
    return [entry.says for entry in made.outcome.report if entry.code == "racks"]


def test_two_sides_and_shelves_alone_rack() -> None:
    """Advice, once."""
    assert 1 == len(said())


def test_a_back_keeps_it_square() -> None:
    """In a rabbet or nailed on."""
    assert [] == said(BACK, "  - {rabbet: back, into: side, depth: 1/4}\n")


def test_a_low_rail_is_not_enough() -> None:
    """3 in of 30; twice that is."""
    joint = "  - {butt: rail, to: [shelf, side]}\n"
    assert 1 == len(said(RAIL, joint))
    assert [] == said(RAIL.replace("for 3", "for 6"), joint)
