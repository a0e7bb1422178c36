"""Edge tape by length and rolls; the tape and its waste are the library's (25 ft rolls, 10 %: practice)."""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Table, inch
from compiler.testing import plan
from plugins.edge_banding.listing import EdgeBanding

TEXT = """
materials: {{ply: birch plywood 3/4}}
parts:
  shelf: {{stock: ply, across: 0 to {long}, deep: 0 to 12, up: from 0, copies: 3 up every ply.thickness, edge band: {{birch edge tape: [front, left, right]}}}}
"""


def made(long: str = "36") -> EdgeBanding:
    return plan(TEXT.format(long=long)).make(EdgeBanding)


def test_every_taped_edge_counts() -> None:
    """Three shelves: 36 + 12 + 12 and an inch over on each of nine pieces, a tenth more for waste."""
    (tape,) = made().tapes
    assert [("front", 3, inch(36)), ("left", 3, inch(12)), ("right", 3, inch(12))] == [(edge.face, edge.number, edge.long) for edge in tape.edges]
    assert inch((3 * 60 + 9) * Fraction(11, 10)) == tape.run


def test_rolls_are_rounded_up() -> None:
    """207.9 in are one roll of 25 ft; with 60 in shelves 287 in still are, with 64 in 300.3 in are two."""
    assert [1, 1, 2] == [made(long).tapes[0].rolls for long in ("36", "60", "64")]


def test_the_reader_gets_a_table() -> None:
    """One group a tape, the rolls beside its name; without tape no section."""
    (table,) = plan(TEXT.format(long="36")).section("Edge tape")
    assert isinstance(table, Table)
    assert ["18 ft with waste: 1 roll of 25 ft"] == [group.aside for group in table.groups]
    bare = plan(TEXT.format(long="36").replace(", edge band: {birch edge tape: [front, left, right]}", ""))
    assert () == bare.make(EdgeBanding).tapes


def test_narrow_tape_is_told() -> None:
    """13/16 in does not cover the edge of two sheets' thickness."""
    text = """
    materials: {oak: white oak 5/4}
    parts:
      shelf: {stock: oak, across: 0 to 36, deep: 0 to 5, up: from 0, edge band: {oak edge tape: [front]}}
    """
    assert any(entry.code == "narrow-tape" for entry in plan(text).outcome.report)
    assert not any(entry.code == "narrow-tape" for entry in plan(TEXT.format(long="36")).outcome.report)
