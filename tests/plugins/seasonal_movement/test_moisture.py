"""Moisture and movement against published equations, tables and worked examples (rows EMC and MOV of the check values)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.api import Length, inch, mm
from compiler.library.entries import find_stock
from plugins.seasonal_movement.moisture import change, equilibrium, within_range
from tests.made import library

ROOM = (Fraction(70) - 32) * 5 / 9
"""70 degrees F."""


@pytest.mark.parametrize(("humidity", "content"), [(20, 4.49), (30, 6.17), (40, 7.70), (50, 9.24), (60, 10.96), (70, 13.09), (80, 15.99), (90, 20.48)])
def test_equilibrium_at_room_temperature(humidity: int, content: float) -> None:
    """Hailwood-Horrobin with the constants of FPL-RN-0268 at 70 F (EMC-04 to EMC-11), to 0.1 of a point."""
    assert content == pytest.approx(float(equilibrium(Fraction(humidity), ROOM)), abs=0.1)


@pytest.mark.parametrize(("humidity", "content"), [(30, 6), (50, 9), (65, 12), (80, 16)])
def test_rules_of_thumb(humidity: int, content: int) -> None:
    """A wood-drying specialist's anchors (EMC-15)."""
    assert content == pytest.approx(float(equilibrium(Fraction(humidity), ROOM)), abs=0.3)


def test_twenty_degrees() -> None:
    """20 C and 50 %: 9.27 % (EMC-12)."""
    assert 9.27 == pytest.approx(float(equilibrium(Fraction(50), Fraction(20))), abs=0.1)


@given(st.integers(5, 94), st.integers(4, 40))
def test_damper_air_and_cooler_air_wet_the_wood(humidity: int, celsius: int) -> None:
    """EMC rises with humidity and falls with temperature (EMC-16)."""
    here = equilibrium(Fraction(humidity), Fraction(celsius))
    assert equilibrium(Fraction(humidity + 1), Fraction(celsius)) > here
    assert equilibrium(Fraction(humidity), Fraction(celsius + 1)) <= here


@pytest.mark.parametrize(("width", "coefficient", "first", "then", "moves"), [
    ("9.15", "0.00245", 8, 11, 0.067),    # MOV-35: white fir, the handbook's own example
    ("36", "0.00369", 6, 12, 0.797),      # MOV-36: red oak, flat-sawn
    ("36", "0.00158", 6, 12, 0.341),      # MOV-37: red oak, quarter-sawn
    ("14", "0.00248", 7, 11, 0.139),      # MOV-38: black cherry
    ("24", "0.00353", 8, 6, -0.169),      # MOV-39: sugar maple, drying
    ("8", "0.0026", 6, 12, 0.1248),       # MOV-45: a magazine's chart, red alder
])
def test_worked_examples(width: str, coefficient: str, first: int, then: int, moves: float) -> None:
    """Equation 13-2 of the Wood Handbook FPL-GTR-190 (MOV-01)."""
    assert moves == pytest.approx(float(change(inch(width), Fraction(coefficient), Fraction(first), Fraction(then))), abs=0.001)


def test_a_metric_top() -> None:
    """Black walnut, 900 mm, 6 to 12 %: 14.796 mm (MOV-40)."""
    assert Fraction("14.796") == change(mm(900), Fraction("0.00274"), Fraction(6), Fraction(12)).mm


@given(st.fractions(min_value=1, max_value=40), st.integers(6, 14), st.integers(6, 14))
def test_turned_round_and_doubled(width: Fraction, first: int, then: int) -> None:
    """The way back is the negative; twice the width moves twice; no change, no movement (MOV-41)."""
    def of(size: Fraction, one: int, two: int) -> Length:
        return change(Length(size), Fraction("0.0037"), Fraction(one), Fraction(two))

    assert of(width, first, then) == -of(width, then, first)
    assert of(width * 2, first, then) == of(width, first, then) * 2
    assert not of(width, first, first)


def test_the_range() -> None:
    """6 to 14 % (MOV-42)."""
    assert within_range(Fraction(6), Fraction(14))
    assert not within_range(Fraction("5.9"), Fraction(10))
    assert not within_range(Fraction(8), Fraction("14.1"))


@pytest.mark.parametrize(("stock", "radial", "tangential"), [
    ("red oak 4/4", "0.00158", "0.00369"),       # MOV-11
    ("white oak 4/4", "0.00180", "0.00365"),     # MOV-12
    ("cherry 4/4", "0.00126", "0.00248"),        # MOV-10
    ("hard maple 4/4", "0.00165", "0.00353"),    # MOV-13
    ("soft maple 4/4", "0.00137", "0.00289"),    # MOV-14
    ("walnut 4/4", "0.00190", "0.00274"),        # MOV-15
])
def test_the_library_carries_the_table(stock: str, radial: str, tangential: str) -> None:
    """Wood Handbook FPL-GTR-190, Table 13-5, digit for digit."""
    wood = find_stock(library(), stock, "inch").value
    assert wood is not None and wood.species is not None
    assert (Fraction(radial), Fraction(tangential)) == (wood.species.radial, wood.species.tangential)
