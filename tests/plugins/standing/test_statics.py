"""Tipping, scope and lifting against worked figures (rows STR and SAF of the check values)."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from compiler.api import inch
from plugins.loads_and_movement.amounts import POUND
from plugins.standing.lifting import weight_limit
from plugins.standing.tipping import drawer_volume, in_scope, pull_that_tips, tip_slope


def test_the_tip_angle_of_a_tall_box() -> None:
    """A uniform box 12 in deep and 72 in high: 9.46 degrees (STR-34)."""
    assert 9.46 == pytest.approx(math.degrees(math.atan(tip_slope(inch(6), inch(36)))), abs=0.005)


def test_the_pull_that_tips_a_chest() -> None:
    """100 lb, centre 9 in behind the front, pulled at 30 in: 30 lb (STR-35)."""
    assert 30 * POUND == pull_that_tips(100 * POUND, inch(9), inch(30))


def test_a_chest_of_four_drawers_is_in_scope() -> None:
    """36 in high, 60 lb, four drawers 6 1/8 x 30 x 16 inside: 6.67 cubic feet, all three over the limits (SAF-09, SAF-11, SAF-14)."""
    enclosed = drawer_volume(inch("6 1/8"), inch(30), inch(16)) * 4
    assert 6.67 == pytest.approx(float(enclosed.cubic_inches) / 1728, abs=0.005)
    assert in_scope(inch(36), 60 * POUND, enclosed)


def test_a_nightstand_is_out_by_height_alone() -> None:
    """26 7/8 in, 40 lb, 4 cubic feet (SAF-15)."""
    four = inch(12) * inch(12) * inch(48)
    assert not in_scope(inch("26 7/8"), 40 * POUND, four)
    assert in_scope(inch(27), 40 * POUND, four)


@pytest.mark.parametrize(("out", "up", "travel", "coupling", "pounds"), [
    (10, 30, 10, "1", 51.0),      # SAF-20: the best case
    (20, 6, 16, "0.95", 18.5),    # SAF-21: a published worked answer
    (16, 28, 10, "0.95", 29.8),   # SAF-22: a finished cabinet
])
def test_the_lifting_equation(out: int, up: int, travel: int, coupling: str, pounds: float) -> None:
    """Revised NIOSH lifting equation (SAF-17, SAF-18)."""
    assert pounds == pytest.approx(float(weight_limit(inch(out), inch(up), inch(travel), coupling=Fraction(coupling))), abs=0.05)


@pytest.mark.parametrize(("twist", "factor"), [(0, 1.00), (30, 0.90), (45, 0.86), (90, 0.71), (135, 0.57)])
def test_turning_with_the_load(twist: int, factor: float) -> None:
    """The table of asymmetry (SAF-19)."""
    assert 51 * factor == pytest.approx(float(weight_limit(inch(10), inch(30), inch(10), twist=Fraction(twist))), abs=0.3)
