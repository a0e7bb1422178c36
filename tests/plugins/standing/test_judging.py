"""Remarks, hazards and notes about a piece that stands."""

from __future__ import annotations

from compiler.api import Cautions
from compiler.testing import Plan, plan
from plugins.standing.judging import Standing


def box(high: int, deep: int, more: str = "", settings: str = "") -> Plan:
    text = f"""
materials: {{pine: white pine 4/4}}
parts:
  side: {{stock: pine, across: from 0, deep: 0 to {deep}, up: 0 to {high}, grain: up, copies: mirror across, glue-up: 2 strips}}
  bottom: {{stock: pine, across: between left side and right side, deep: 0 to {deep}, up: from 0, glue-up: 2 strips}}
  top: {{stock: pine, across: between left side and right side, deep: 0 to {deep}, up: to {high}, glue-up: 2 strips}}
  rail: {{stock: pine, across: between left side and right side, deep: from 0, up: to top.bottom for 6}}
middle: {{across: 12}}
joints:
  - {{rabbet: [bottom, top], into: side, depth: 1/4}}
  - {{butt: rail, to: [top, side]}}
{more}
"""
    made = plan(text, settings=settings)
    assert () == made.errors
    return made


def said(made: Plan) -> list[str]:
    return [entry.says for entry in made.outcome.report if entry.code == "tips-over"]


ANCHOR = "hardware:\n  - {item: wall anchor, count: 2, on: top}\n"


def test_a_tall_shallow_case_tips_easily() -> None:
    """72 in high and 12 in deep stands near 9.5 degrees (STR-34): a warning and a caution."""
    made = box(72, 12)
    assert ["Standing free, it tips at less than 10 degrees."] == said(made)
    assert ("tips easily",) == made.hazards


def test_an_anchor_answers_the_author_and_the_reader_is_still_cautioned() -> None:
    """The caution stays, the remark goes."""
    made = box(72, 12, ANCHOR)
    assert [] == said(made)
    assert ("tips easily",) == made.hazards


def test_a_case_of_middling_height_wants_an_anchor() -> None:
    """From 27 in up (SAF-09, SAF-16); lower ones are left alone."""
    assert 1 == len(said(box(30, 12)))
    assert [] == said(box(30, 12, ANCHOR))
    assert [] == said(box(26, 12))


TABLE = """
materials: {pine: white pine 8/4, wide: white pine 4/4}
parts:
  leg: {stock: pine, across: 0 for 1 3/4, deep: 0 for 1 3/4, up: 0 to top.bottom, copies: mirror across and deep}
  apron: {stock: wide, across: between front left leg and front right leg, deep: from front left leg.front + 1/8, up: to top.bottom for 4, copies: mirror deep}
  side apron: {stock: wide, across: from front left leg.left + 1/8, deep: between front left leg and back left leg, up: to top.bottom for 4, copies: mirror across}
  top: {stock: wide, across: -1 to 37, deep: -1 to 19, up: to 30, glue-up: 4 strips}
middle: {across: 18, deep: 9}
joints:
  - {tenon: [apron, side apron], into: leg, length: 3/4}
  - {buttons: top, to: apron, every: 10}
"""


def test_a_table_is_not_held_to_the_wall() -> None:
    """30 in high, as high as the case above that wants an anchor: nothing is kept in it, nobody loads it with books."""
    made = plan(TABLE)
    assert () == made.errors and [] == said(made)
    text = repr(made.section("Loads and movement"))
    assert "To tip it" in text and "drawers" not in text and "anchors" not in text
    assert not any("wall" in words for words in cautions(made)) and any("strap to the wall" in words for words in cautions(box(30, 12)))


def cautions(made: Plan) -> list[str]:
    """The cautions of the finished piece, in words."""
    return [str(line) for signal in made.make(Cautions).placing for line in signal.content]


def test_the_note_tells_weight_and_hands() -> None:
    """A light low box: one person."""
    made = box(20, 12)
    assert 1 == made.make(Standing).people
    assert "one person can" in repr(made.section("Loads and movement"))


def test_heavy_pieces_take_more_hands() -> None:
    """A piece over the limit of one lift (SAF-23): two or more."""
    assert made_people(box(72, 20)) >= 2


def made_people(made: Plan) -> int:
    return made.make(Standing).people
