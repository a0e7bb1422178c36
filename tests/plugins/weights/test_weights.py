"""Weights against a definition and a handbook's density."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from compiler.api import Wood, inch, mm
from plugins.weights import weights
from tests.plugins.small_models import PLY, POPLAR_4_4, model, part


def test_a_cubic_metre_weighs_its_density() -> None:
    """1 m x 1 m x 1 m of 470 kg/m3: 470 kg, by the definition of density."""
    block = replace(POPLAR_4_4, thickness=mm(1000), species=Wood(name="yellow-poplar", density=Fraction(470)))
    assert 470 == weights(model(part("block", block, mm(1000), mm(1000)))).total


def test_a_board_of_white_oak() -> None:
    """A board foot (144 cubic inches, 0.0023597 m3: LUM-27) of white oak, 762 kg/m3 at 12 % (MEC-10, Wood Handbook's SG): 1.798 kg."""
    oak = replace(POPLAR_4_4, species=Wood(name="white oak", density=Fraction(762)))
    weight = weights(model(part("board", oak, inch(12), inch(12), thickness=inch(1)))).total
    assert Fraction(1798, 1000) == round(weight, 3)


def test_the_sheets_own_density_comes_before_its_woods() -> None:
    """Plywood is heavier or lighter than the wood it is faced with."""
    ply = replace(PLY, density=Fraction(577), species=Wood(name="yellow birch", density=Fraction(694)))
    one = weights(model(part("side", ply, mm(1000), mm(1000), thickness=mm(10))))
    assert (("side", Fraction("5.77")),) == one.parts


def test_stock_without_a_density_is_named() -> None:
    """Once, and it weighs nothing that is made up."""
    found = weights(model(part("one", PLY, inch(10), inch(10)), part("two", PLY, inch(9), inch(9))))
    assert (("birch plywood 3/4",), 0) == (found.unknown, found.total)
