"""Beams against handbook coefficients and worked figures (rows STR and MEC of the project's check values)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.api import Length, inch
from plugins.shelf_sag.beam import (
    PSI_PER_GPA,
    Strip,
    bending_stiffness,
    load_for,
    sag,
    sag_of_middle_load,
    second_moment,
)

BOOKS = Fraction(20, 12)
"""20 lb a running foot of average books (STR-22)."""


def plain(width: str, height: str, mpsi: str) -> Fraction:
    return bending_stiffness((Strip(inch(width), inch(height), inch(0), Fraction(mpsi) * 1_000_000),))


def test_second_moment_of_a_shelf() -> None:
    """11 1/4 x 3/4: 0.39551 in^4 (STR-09, b h^3 / 12)."""
    assert Fraction("0.39551") == round(second_moment(inch("11 1/4"), inch("3/4")), 5)


@pytest.mark.parametrize(("height", "mpsi", "span", "expected"), [
    ("3/4", "1.29", 36, 0.0714),   # STR-10: ponderosa pine
    ("3/4", "0.40", 36, 0.230),    # STR-12: MDF
    ("3/4", "0.40", 24, 0.0455),   # STR-13: MDF, shorter
    ("1", "1.83", 48, 0.0671),     # STR-14: hard maple
])
def test_sag_of_books(height: str, mpsi: str, span: int, expected: float) -> None:
    """5 w L^4 / (384 E I), Wood Handbook FPL-GTR-190 Table 9-1 (STR-01), within 1 %."""
    assert expected == pytest.approx(float(sag(BOOKS, inch(span), plain("11 1/4", height, mpsi))), rel=0.01)


def test_sag_under_the_load_of_the_kitchen_standard() -> None:
    """15 lb per square foot on the shelf of STR-10: 0.0502 in (STR-29)."""
    line = Fraction(15, 144) * Fraction("11.25")
    assert 0.0502 == pytest.approx(float(sag(line, inch(36), plain("11 1/4", "3/4", "1.29"))), rel=0.01)


def test_a_front_lip_makes_it_stiffer() -> None:
    """A 3/4 x 3/4 strip glued under the front edge: I 0.7185 in^4, 1.82 times the plain shelf (STR-17, parallel axes)."""
    shelf = Strip(inch("11 1/4"), inch("3/4"), inch("3/4"), Fraction(1))
    lip = Strip(inch("3/4"), inch("3/4"), inch(0), Fraction(1))
    together = bending_stiffness((shelf, lip))
    assert 0.7185 == pytest.approx(float(together), rel=0.001)
    assert 1.82 == pytest.approx(float(together / bending_stiffness((shelf,))), rel=0.01)


def test_the_middle_counts_for_more() -> None:
    """The same load in the middle bends 1.6 times as far (STR-07: 1/48 over 5/384)."""
    stiff = plain("11 1/4", "3/4", "1.29")
    assert Fraction(16, 10) == sag_of_middle_load(Fraction(60), inch(36), stiff).inches / sag(Fraction(60, 36), inch(36), stiff).inches


def test_thickness_counts_by_its_cube() -> None:
    """3/4 to 1 in: 0.4219 times the sag (STR-15)."""
    thin, thick = (sag(BOOKS, inch(36), plain("11 1/4", height, "1.29")).inches for height in ("3/4", "1"))
    assert Fraction("0.4219") == round(thick / thin, 4)


@given(st.integers(12, 60), st.fractions(min_value=1, max_value=100))
def test_span_doubled(span: int, load: Fraction) -> None:
    """16 times the sag at the same load a foot, 8 times at the same load in all (STR-16)."""
    stiff = plain("11 1/4", "3/4", "1.29")
    assert 16 == sag(load, inch(span * 2), stiff).inches / sag(load, inch(span), stiff).inches
    assert 8 == sag(load / (span * 2), inch(span * 2), stiff).inches / sag(load / span, inch(span), stiff).inches


@given(st.integers(12, 60), st.fractions(min_value=Fraction(1, 100), max_value=1))
def test_a_load_gives_its_sag_back(span: int, allowed: Fraction) -> None:
    """`load_for` is the other way round."""
    stiff = plain("10", "3/4", "1.2")
    assert Length(allowed) == sag(load_for(Length(allowed), inch(span), stiff) / span, inch(span), stiff)


def test_gigapascals() -> None:
    """1.29 million psi are 8.89 GPa (MEC-14: Wood Handbook Table 5-3b)."""
    assert 8.89 == pytest.approx(float(Fraction(1_290_000) / PSI_PER_GPA), abs=0.01)
