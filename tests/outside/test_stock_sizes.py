"""Nominal and actual sizes of the library's stock against standards and published tables. The sign of the check value stands beside each.

Sources: American Softwood Lumber Standard PS 20 (as tabulated on a public engineering page, read); hardwood thickness tables on two public
reference pages (read); US PS 1 performance categories on a plywood association's page (read); ANSI A208.2 as reprinted (read).
"""

from fractions import Fraction

import pytest

from compiler.base.measures import Length, inch, mm
from compiler.library import entries, find_stock
from compiler.values.library import Stock
from tests.stages.drafts import library


def stock(name: str, units: str = "inch") -> Stock:
    found = find_stock(library(), name, units).value  # type: ignore[arg-type]  # a test's literal
    assert found is not None, name
    return found


@pytest.mark.parametrize(("name", "thickness", "width"), [
    ("1x2", "3/4", "1 1/2"), ("1x3", "3/4", "2 1/2"), ("1x4", "3/4", "3 1/2"),       # LUM-01, LUM-05
    ("1x5", "3/4", "4 1/2"), ("1x6", "3/4", "5 1/2"),                                # LUM-06
    ("1x8", "3/4", "7 1/4"), ("1x10", "3/4", "9 1/4"), ("1x12", "3/4", "11 1/4"),    # LUM-07, LUM-08, LUM-15
    ("2x4", "1 1/2", "3 1/2"), ("2x6", "1 1/2", "5 1/2"), ("2x8", "1 1/2", "7 1/4"), # LUM-04
    ("2x10", "1 1/2", "9 1/4"), ("2x12", "1 1/2", "11 1/4"),
    ("5/4x6", "1", "5 1/2"),                                                         # LUM-02
    ("4x4", "3 1/2", "3 1/2"),                                                       # LUM-11
])
def test_dressed_softwood(name: str, thickness: str, width: str) -> None:
    """PS 20, dry."""
    found = stock(name)
    assert found.dressed
    assert (inch(thickness), inch(width)) == (found.thickness, found.width)


def test_dressed_sizes_in_millimetres() -> None:
    """LUM-16: 2x4 is 38.1 x 88.9, 2x10 is 38.1 x 234.95; the metric side is the nearest whole millimetre."""
    assert (Fraction("38.1"), Fraction("88.9"), Fraction("234.95")) == (stock("2x4").thickness.mm, (stock("2x4").width or mm(0)).mm, (stock("2x10").width or mm(0)).mm)
    assert (mm(38), mm(89)) == (stock("2x4", "mm").thickness, stock("2x4", "mm").width)


@pytest.mark.parametrize(("quarters", "rough", "surfaced"), [
    ("4/4", "1", "13/16"),         # LUM-18, LUM-25
    ("5/4", "1 1/4", "1 1/16"),    # LUM-19
    ("6/4", "1 1/2", "1 5/16"),    # LUM-20
    ("8/4", "2", "1 3/4"),         # LUM-21
    ("12/4", "3", "2 3/4"),        # LUM-22
])
def test_hardwood_by_the_quarter(quarters: str, rough: str, surfaced: str) -> None:
    """n/4 is the rough thickness; no board planes to more than the trade surfaces it to."""
    found = [stock(entry.key) for entry in entries(library()) if entry.kind == "board" and entry.key.endswith(" " + quarters)]
    assert found
    for each in found:
        assert inch(rough) == each.rough
        assert each.thickness <= inch(surfaced)


def test_a_board_of_4_4_planes_to_three_quarters() -> None:
    """LUM-24: what a maker gets after flattening (common practice, no source)."""
    assert inch("3/4") == stock("poplar 4/4").thickness


@pytest.mark.parametrize(("name", "least", "most"), [
    ("birch plywood 1/4", "0.219", "0.281"),   # PAN-01
    ("birch plywood 3/8", "0.344", "0.406"),   # PAN-02
    ("birch plywood 5/8", "0.563", "0.656"),   # PAN-05, PAN-06
    ("birch plywood 3/4", "0.688", "0.750"),   # PAN-07
])
def test_plywood_is_as_thick_as_its_category_allows(name: str, least: str, most: str) -> None:
    """The limits are printed to a thousandth, so an edge of 7/32 = 0.21875 counts as 0.219."""
    thickness = round(float(stock(name).thickness), 3)
    assert float(least) <= thickness <= float(most)


def test_half_inch_plywood_is_fifteen_thirty_seconds() -> None:
    """PAN-03: category 15/32 runs from 0.438 to 0.500."""
    assert 0.438 <= float(stock("birch plywood 1/2").thickness) <= 0.5
    assert inch("15/32") == stock("birch plywood 1/2").thickness


def test_three_quarter_plywood_is_not_three_quarters() -> None:
    """PAN-17: 23/32 = 18.26 mm; a dado cut to 3/4 is 1/32 loose."""
    found = stock("birch plywood 3/4").thickness
    assert (inch("1/32"), "18.26") == (inch("3/4") - found, f"{float(found.mm):.2f}")


def test_a_category_is_a_32nd_either_way() -> None:
    """PAN-16: 23/32 less and more 1/32 are 0.6875 and 0.75."""
    found = stock("birch plywood 3/4").thickness
    assert (inch("0.6875"), inch("0.75")) == (found - inch("1/32"), found + inch("1/32"))


def test_sheets_of_both_trades() -> None:
    """PAN-18, PAN-19: 48 x 96 in is 1219.2 x 2438.4 mm, and a metric sheet is 0.8 and 1.6 mm larger."""
    english, metric = stock("birch plywood 3/4").sheets[0], stock("birch plywood 3/4", "mm").sheets[0]
    assert ((Fraction("1219.2"), Fraction("2438.4")), (mm(1220), mm(2440))) == ((english[0].mm, english[1].mm), metric)
    assert (Fraction("0.8"), Fraction("1.6")) == (metric[0].mm - english[0].mm, metric[1].mm - english[1].mm)


def test_a_metric_sheet_is_too_short_for_96_and_an_eighth() -> None:
    """PAN-21: 2440 mm are 96.0630 in."""
    length: Length = stock("birch plywood 3/4", "mm").sheets[0][1]
    assert length < inch("96 1/8")
    assert "96.0630" == f"{float(length):.4f}"


def test_the_area_of_a_sheet() -> None:
    """PAN-25: 4608 square inches, 2.9768 square metres in the metric trade."""
    (width, length), (wide, long) = stock("birch plywood 3/4").sheets[0], stock("birch plywood 3/4", "mm").sheets[0]
    assert (4608, "2.9768") == ((width * length).square_inches, f"{float((wide * long).square_metres):.4f}")


def test_panels_come_in_the_trade_s_metric_thicknesses() -> None:
    """PAN-23: 3, 6, 9, 12, 15 or 16, 18 or 19, 22, 25 (common practice, no source)."""
    for entry in entries(library()):
        if entry.kind == "sheet":
            assert float(stock(entry.key, "mm").thickness.mm) in (2, 3, 4, 5, 6, 9, 10, 12, 15, 16, 18, 19, 22, 25, 30), entry.key


def test_softwood_is_sold_in_even_feet() -> None:
    """LUM-45: 6 or 8 to 16 ft."""
    assert (inch(72), inch(192)) == stock("2x4").lengths
