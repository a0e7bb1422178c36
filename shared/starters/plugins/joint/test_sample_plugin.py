"""The sample plugin joint, on two boards."""

from compiler.testing import faults, own_plugin, plan

mine = own_plugin(__file__)

CASE = """
materials: {pine: white pine 4/4}
parts:
  post: {stock: pine, across: from 0, deep: 0 to 3, up: 0 to 20, grain: up}
  rail: {stock: pine, across: post.right to 24, deep: 0 to 3, up: from 6, grain: across}
joints:
  - {sample plugin: rail, into: post, depth: 1/2, thickness: 1/4, shoulder: 1/4}
"""


def test_the_part_that_goes_in_is_longer_by_its_tenon() -> None:
    """From 3/4 to 24 is 23 1/4; half an inch goes into the post."""
    assert "1 rail 23 3/4 x 3 x 3/4 white pine 4/4" == plan(CASE, mine).cut("rail")


def test_what_goes_in_is_what_was_cut() -> None:
    """1/2 x 1/4 x (3 - 2 x 1/4) inches of wood leave the post and stand at the rail."""
    made = plan(CASE, mine)
    tenon = 0.5 * 0.25 * 2.5
    assert abs(made.volume("post") - (20 * 3 * 0.75 - tenon)) < 1e-6
    assert abs(made.volume("rail") - (23.25 * 3 * 0.75 + tenon)) < 1e-6


def test_too_deep_is_refused() -> None:
    """The post is 3/4 thick, and 1/8 of it stays."""
    errors = plan(CASE.replace("depth: 1/2", "depth: 3/4"), mine).errors
    assert 1 == len(errors) and "depth" in errors[0]


def test_it_keeps_the_contract() -> None:
    """The same twice, exact, in both editions, nothing of this machine."""
    assert () == faults(CASE, mine)
