"""Scales, templates and the check square, against standards and arithmetic."""

from fractions import Fraction

import pytest

from compiler.base.measures import inch
from compiler.draw import templates
from compiler.draw.scales import INCH, METRIC, largest
from compiler.values.figure import Circle, Lettering, Stroke
from compiler.values.tiles import curved, sheets_along, template_sheets, tiles
from tests.draw.pieces import bookcase

RAIL = bookcase().part("bottom rail")


def test_metric_scales_are_those_of_iso_5455() -> None:
    """ISO 5455:1979, table: enlargement 2:1, full size, reduction 1:2 1:5 1:10 1:20 1:50 1:100 1:200."""
    assert [scale.ratio for scale in METRIC] == [2, 1, *(Fraction(1, n) for n in (2, 5, 10, 20, 50, 100, 200))]


def test_inch_scales_are_those_of_the_trade() -> None:
    """Common practice, no published source: 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 3/16, 1/8 in to the foot = 1 : 12/x."""
    ratios = [scale.ratio for scale in INCH if "1′" in scale.words]
    assert ratios == [Fraction(1, n) for n in (4, 8, 12, 16, 24, 32, 48, 64, 96)]


def test_the_largest_scale_that_fits_is_taken() -> None:
    """36 in fits 120 mm at 1 in = 1 ft (76.2 mm), not at 1 1/2 in = 1 ft (114.3 mm fits too, so that is taken)."""
    scale = largest("inch", lambda s: 36 * s.mm_per_inch <= 120)
    assert scale.words == "1 1/2″ = 1′" and 36 * scale.mm_per_inch == pytest.approx(114.3)


def test_a_part_of_900_mm_is_90_mm_long_at_1_to_10() -> None:
    """Arithmetic."""
    scale = next(s for s in METRIC if s.words == "1 : 10")
    assert 900 / 25.4 * scale.mm_per_inch == pytest.approx(90)


def test_sheets_for_a_30_by_14_in_shape() -> None:
    """By hand: letter with 1/2 in margins and overlap: 5 x 2 upright, 4 x 2 turned (7 1/2 x 10 in printable)."""
    assert (sheets_along(30, 7.5, 0.5), sheets_along(14, 10, 0.5)) == (5, 2)
    assert (sheets_along(30, 10, 0.5), sheets_along(14, 7.5, 0.5)) == (4, 2)


def test_only_parts_with_a_curve_get_a_template() -> None:
    """An arched rail does, a plain side with round holes does not."""
    assert curved(RAIL) and template_sheets(RAIL) == 6
    assert tiles(inch(35), inch(4)) == (6, 1)
    assert template_sheets(bookcase().part("left side")) == 0


@pytest.mark.parametrize(("units", "side"), [("inch", 50.8), ("mm", 50.0)])
def test_each_sheet_has_a_true_check_square(units: str, side: float) -> None:
    """2 in = 50.8 mm, or 50 mm, on every sheet."""
    for number in range(1, 7):
        drawing = templates.draw(RAIL, number, units)
        squares = [path for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "frame" for path in mark.paths if len(path) == 5]
        sizes = [(max(x for x, _ in p) - min(x for x, _ in p), max(y for _, y in p) - min(y for _, y in p)) for p in squares]
        assert any(w == pytest.approx(side) and h == pytest.approx(side) for w, h in sizes)
        assert drawing.scale == "1 : 1"


def test_register_crosses_of_neighbours_are_the_same_places_of_the_part() -> None:
    """A sheet adds 170 - 12.7 mm: the right crosses of one are the left crosses of the next."""
    one, two = templates.draw(RAIL, 2, "inch"), templates.draw(RAIL, 3, "inch")

    def crosses(drawing: object) -> set[tuple[float, float]]:
        return {(round(m.centre[0], 6), round(m.centre[1], 6)) for m in drawing.marks if isinstance(m, Circle)}  # type: ignore[attr-defined]

    right = {(round(x - (170 - 12.7), 6), y) for x, y in crosses(one) if x > 85}
    assert right and right <= crosses(two)


def test_the_sheets_together_are_as_long_as_the_part() -> None:
    """The outline's reach over all six sheets is 35 in = 889 mm."""
    places = []
    for number in range(1, 7):
        for mark in templates.draw(RAIL, number, "inch").marks:
            if isinstance(mark, Stroke) and mark.role == "outline":
                places += [x + (number - 1) * (170 - 12.7) for path in mark.paths for x, _ in path]
    assert max(places) - min(places) == pytest.approx(889, abs=0.01)


def test_a_sheet_says_its_place() -> None:
    """Sheet 2 of 6, row 1, place 2."""
    text = " ".join(mark.text for mark in templates.draw(RAIL, 2, "inch").marks if isinstance(mark, Lettering))
    assert "sheet 2 of 6" in text and "Row 1, place 2" in text
