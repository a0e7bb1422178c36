"""The sample plugin section, on a plan of two boards."""

from compiler.api import Figure, ItemList, Paragraph
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


def test_what_it_holds() -> None:
    """A sentence, a box for each row of the cut list, a picture."""
    sentence, boxes, picture = plan(CASE, mine).section("Sample plugin")
    assert isinstance(sentence, Paragraph) and isinstance(boxes, ItemList) and isinstance(picture, Figure)
    assert 2 == len(boxes.items)


def test_it_keeps_the_contract() -> None:
    """The same twice, exact, in both editions, nothing of this machine."""
    assert () == faults(CASE, mine)
