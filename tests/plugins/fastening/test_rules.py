"""Sums for fasteners against charts and reference pages (rows FAS of the check values)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.api import inch
from plugins.fastening.rules import gauge_diameter, gravity, pocket_length, withdrawal


@pytest.mark.parametrize(("gauge", "diameter"), [(4, "0.112"), (6, "0.138"), (7, "0.151"), (8, "0.164"), (9, "0.177"), (10, "0.190"), (12, "0.216"),
                                                 (14, "0.242")])
def test_gauges(gauge: int, diameter: str) -> None:
    """Screw-size charts (FAS-02 to FAS-09) by the formula of FAS-01."""
    assert inch(diameter) == gauge_diameter(gauge)


@pytest.mark.parametrize(("specific", "diameter", "pounds"), [
    ("0.45", "0.190", 109.7),  # FAS-22: an engineering page's worked example (it prints 109)
    ("0.63", "0.164", 186),    # FAS-23: red oak, gauge 8
])
def test_withdrawal_of_one_inch(specific: str, diameter: str, pounds: float) -> None:
    """2850 G^2 D (FAS-21)."""
    assert pounds == pytest.approx(float(withdrawal(Fraction(specific) * 1120, inch(diameter), inch(1))), abs=0.5)


def test_specific_gravity() -> None:
    """Red oak at 706 kg/m3: 0.63 (MEC-29)."""
    assert 0.63 == pytest.approx(float(gravity(Fraction(706))), abs=0.005)


@pytest.mark.parametrize(("stock", "long"), [("3/4", "1 1/4"), ("1 1/2", "2 1/2"), ("1/2", "1"), ("1", "1 1/2")])
def test_pocket_screws(stock: str, long: str) -> None:
    """How-to articles (FAS-48); 1/2 in and 1 in stock: trade practice (FAS-49)."""
    low, high = pocket_length(inch(stock))
    assert low <= inch(long) <= high
