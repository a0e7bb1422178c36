"""The sample plugin task, on a plan of three boards."""

from compiler.api import inch
from compiler.testing import faults, own_plugin, plan

mine = own_plugin(__file__)

CASE = """
middle: {across: 12}
materials: {pine: white pine 4/4}
parts:
  post: {stock: pine, across: from 0, deep: 0 to 3, up: 0 to 20, grain: up, copies: mirror across}
  rail: {stock: pine, across: between left post and right post, deep: 0 to 3, up: from 6, grain: across}
joints:
  - {tenon: rail, into: post, length: 1/2}
"""


def test_lengths_add_up() -> None:
    """Two posts of 20, a rail of 24 - 2 x 3/4 + 2 x 1/2: 63 1/2 inches; a tenth to spare."""
    rows = plan(CASE, mine).make(mine.SamplePlugin).rows
    assert [(3, inch("127/2"), inch("1397/20"))] == [(row.pieces, row.run, row.needed) for row in rows]


def test_the_shop_may_ask_for_more() -> None:
    """Half as much again."""
    settings = "shop: Pinwheel Lane Woodshop\nsettings: {sample plugin: {spare: 1.5}}\n"
    assert inch("381/4") == plan(CASE, mine, settings=settings).make(mine.SamplePlugin).rows[0].needed


def test_it_is_printed() -> None:
    """One table."""
    assert 1 == len(plan(CASE, mine).section("Sample plugin"))


def test_it_keeps_the_contract() -> None:
    """The same twice, exact, in both editions, nothing of this machine."""
    assert () == faults(CASE, mine)
