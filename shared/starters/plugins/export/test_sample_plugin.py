"""The sample plugin export, on a plan of two boards."""

from compiler.testing import faults, own_plugin, plan

mine = own_plugin(__file__)

CASE = """
materials: {pine: white pine 4/4}
parts:
  post: {stock: pine, across: from 0, deep: 0 to 3, up: 0 to 20, grain: up}
  rail: {stock: pine, across: post.right to 24, deep: 0 to 3, up: from 6, grain: across}
joints:
  - {butt: rail, to: post}
"""


def test_its_lines() -> None:
    """A head, and one line for each row of the cut list."""
    lines = plan(CASE, mine).export(".sample-plugin.csv").decode().splitlines()
    assert ["part,pieces,length inch,width inch,stock", "post,1,20,3,white pine 4/4", "rail,1,23 1/4,3,white pine 4/4"] == sorted(
        lines, key=lambda line: (line != lines[0], line)
    )


def test_it_keeps_the_contract() -> None:
    """The same twice, exact, in both editions, nothing of this machine."""
    assert () == faults(CASE, mine)
