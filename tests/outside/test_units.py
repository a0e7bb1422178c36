"""Units and fractions against published definitions and plain arithmetic. The sign of the check value stands beside each.

Source: 1 in = 25.4 mm exactly, international yard and pound agreement of 1959; the rest follows by arithmetic.
"""

from fractions import Fraction

import pint
import pytest

from compiler.base.measures import Area, Length, Volume, inch, mm
from compiler.base.report import Spot
from compiler.base.showing import Style, nearest, show
from compiler.language import Names, evaluate

AT = Spot("design.yaml")
_REGISTRY = pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(("inches", "millimetres"), [
    ("1", "25.4"),            # UNI-01
    ("1/64", "0.396875"),     # UNI-02
    ("1/32", "0.79375"),      # UNI-03
    ("1/16", "1.5875"),       # UNI-04
    ("1/8", "3.175"),         # UNI-05
    ("3/4", "19.05"),         # UNI-06
    ("23/32", "18.25625"),    # UNI-07
    ("1 1/2", "38.1"),        # UNI-08
    ("48", "1219.2"),         # UNI-09
    ("96", "2438.4"),         # UNI-09
])
def test_inches_are_exact_millimetres(inches: str, millimetres: str) -> None:
    """Read as a plan's text, and compared with a units library that counts in fractions."""
    found = evaluate(f"{inches} in", Names({}), "mm", AT).value
    assert mm(millimetres) == found == inch(inches)
    assert _REGISTRY.Quantity(inch(inches).inches, "inch").to("mm").magnitude == Fraction(millimetres)


@pytest.mark.parametrize(("millimetres", "sixteenths", "thirty_seconds", "sixty_fourths"), [
    (3, "1/8", "1/8", "1/8"),           # UNI-10
    (6, "1/4", "1/4", "15/64"),         # UNI-11
    (9, "3/8", "11/32", "23/64"),       # UNI-12
    (12, "1/2", "15/32", "15/32"),      # UNI-13
    (15, "9/16", "19/32", "19/32"),     # UNI-14
    (16, "5/8", "5/8", "5/8"),          # UNI-15
    (18, "11/16", "23/32", "45/64"),    # UNI-16, UNI-20: each from the exact value, never one from another
    (19, "3/4", "3/4", "3/4"),          # UNI-17
    (22, "7/8", "7/8", "55/64"),        # UNI-18
    (25, "1", "31/32", "63/64"),        # UNI-19
])
def test_sheets_of_the_metric_trade_in_fractions(millimetres: int, sixteenths: str, thirty_seconds: str, sixty_fourths: str) -> None:
    """Shown to 1/16, 1/32 and 1/64."""
    shown = [show(mm(millimetres), Style("inch", Fraction(1, step))).text for step in (16, 32, 64)]
    assert [sixteenths, thirty_seconds, sixty_fourths] == shown


def test_a_tie_goes_away_from_zero() -> None:
    """UNI-21: 1/32 to the nearest 1/16 is 1/16, and its negative goes the other way."""
    assert ["1/16", "−1/16"] == [show(inch(text), Style("inch", Fraction(1, 16))).text for text in ("1/32", "-1/32")]


@pytest.mark.parametrize(("written", "shown"), [("8/16", "1/2"), ("32/32", "1"), ("0/16", "0"), ("1 16/32", "1 1/2")])
def test_fractions_are_reduced(written: str, shown: str) -> None:
    """UNI-22."""
    found = evaluate(written, Names({}), "inch", AT).value
    assert isinstance(found, Length)
    assert shown == show(found, Style("inch", Fraction(1, 64))).text


def test_feet_and_inches() -> None:
    """UNI-23: 76 1/2 in is 6 ft 4 1/2 in."""
    assert inch("76 1/2") == evaluate("6' 4 1/2\"", Names({}), "inch", AT).value


def test_sixty_fourths_come_back_from_rounded_millimetres() -> None:
    """UNI-24: n/64 in to six decimals of a millimetre and back, for ten feet of them."""
    for count in range(7681):
        there = nearest(inch(Fraction(count, 64)).mm, Fraction(1, 1_000_000))
        assert Fraction(count, 64) == nearest(mm(there).inches, Fraction(1, 64))


def test_areas_and_volumes() -> None:
    """UNI-25: a square foot and a cubic foot in metric."""
    assert (Fraction("0.09290304"), Fraction("0.028316846592")) == (Area(Fraction(144)).square_metres, Volume(Fraction(1728)).cubic_metres)


def test_sums_come_from_exact_values() -> None:
    """UNI-27: three of 10 1/3 are 31, not three times 10 5/16."""
    third = evaluate("31 / 3", Names({}), "inch", AT, want="length").value
    assert isinstance(third, Length)
    assert (inch(31), "10 5/16") == (third * 3, show(third, Style("inch", Fraction(1, 16))).text)


def test_what_is_shown_is_never_farther_off_than_half_a_step() -> None:
    """UNI-28."""
    for count in range(1, 400):
        length = inch(Fraction(count, 97))
        assert abs(nearest(length.inches, Fraction(1, 32)) - length.inches) <= Fraction(1, 64)
