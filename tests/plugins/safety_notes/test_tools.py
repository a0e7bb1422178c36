"""Tools by need: what a plan asks for, each once."""

from __future__ import annotations

from compiler.api import ToolList
from compiler.testing import plan

BOX = """
materials: {ply: birch plywood 3/4, pine: white pine 4/4}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 12, up: 0 to 30, copies: mirror across}
  shelf: {stock: ply, across: between left side and right side, deep: 0 to 12, up: from 10}
  nosing: {stock: pine, across: between left side and right side, deep: to shelf.front for 3/4, up: from shelf.bottom for 1 1/2}
middle: {across: 15}
joints:
  - {dado: shelf, into: side}
  - {butt: nosing, to: shelf}
"""


def test_what_must_be_there_is_nobodys_other_choice() -> None:
    """Sheets are broken down by a track saw, a circular saw or the table saw; the boards are ripped on the table saw, so that one it is."""
    made = plan(BOX)
    assert () == made.errors
    tools = made.make(ToolList)
    must = {need.name for need in tools.must}
    assert "table saw" in must and not must & {"track saw", "circular saw"}
    assert not [other for need in tools.must for other in need.others if other in must]


def test_no_tool_stands_twice() -> None:
    """Neither among what must be there and what is good to have, nor as the other choice of one and by itself."""
    tools = plan(BOX).make(ToolList)
    named = [need.name for need in (*tools.must, *tools.good)]
    told = {other for need in tools.must for other in need.others}
    assert len(named) == len(set(named)) and not told & {need.name for need in tools.good}
    assert {"track saw", "circular saw"} <= {need.name for need in tools.good}
