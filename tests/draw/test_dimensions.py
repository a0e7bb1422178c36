"""Dimensions: numbers that nothing touches, on lines that don't cross, at the distances of drafting practice."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.draw import dimensions, notes, rectangles
from compiler.draw.bounds import bounds, clashes
from compiler.draw.dimension_places import lay_out
from compiler.draw.dimensions import Dimension, Manner, Room
from compiler.draw.lettering import StackedFraction, letter
from compiler.draw.pen import Pen
from compiler.values.figure import Lettering, Region, Stroke

VIEW = (0.0, 0.0, 120.0, 80.0)


def along(axis: str, start: float, end: float, words: str | None = None, outermost: bool = False) -> Dimension:
    """A dimension of features that reach over the whole view."""
    span = (VIEW[1], VIEW[3]) if axis == "x" else (VIEW[0], VIEW[2])
    whole, fraction = f"{(end - start) / 4:.0f}", StackedFraction("3", "16")
    return Dimension(axis=axis, start=start, end=end, runs=(words,) if words else (whole, fraction), reach=(span, span),
                     outermost=outermost)


@st.composite
def sets(draw: st.DrawFn) -> list[Dimension]:
    """Up to eight different dimensions on each axis with an overall one."""
    result = []
    for axis, most in (("x", VIEW[2]), ("y", VIEW[3])):
        result.append(along(axis, 0, most, outermost=True))
        pairs = draw(st.lists(st.tuples(st.integers(0, 24), st.integers(1, 12)), max_size=7, unique=True))
        for a, b in sorted({(a, min(a + b, 24)) for a, b in pairs}):
            if a < b and b - a < 24:
                result.append(along(axis, a * most / 24, b * most / 24))
    return result


@settings(max_examples=60, deadline=None)
@given(sets(), st.booleans(), st.booleans())
def test_no_line_and_no_number_touches_a_number(wanted: list[Dimension], ticks: bool, aligned: bool) -> None:
    """Up to sixteen random dimensions round a view, arrows or ticks, numbers upright or along."""
    manner = Manner(ticks=ticks, aligned=aligned)
    layout = lay_out(VIEW, wanted, manner)
    assert layout.left_out == ()
    pen = Pen()
    dimensions.draw(pen, layout, manner)
    left, low, right, high = bounds(pen.marks)
    moved = Pen()
    moved.add(pen.marks, (-left, -low))
    assert clashes(moved.drawing(right - left, high - low, "x")) == ()


@settings(max_examples=60, deadline=None)
@given(sets())
def test_dimension_lines_do_not_cross_and_short_ones_stand_inside(wanted: list[Dimension]) -> None:
    """Drafting practice (ASME Y14.5 as textbooks print it)."""
    layout = lay_out(VIEW, wanted, Manner())
    for one, other in combinations(layout.placed, 2):
        for a in dimensions.line_segments(one, Manner()):
            for b in dimensions.line_segments(other, Manner()):
                assert not rectangles.meets(rectangles.shrunk(a, 0.1), rectangles.shrunk(b, 0.1))
        if one.side == other.side and one.dimension.axis == other.dimension.axis:
            for inner, outer in ((one, other), (other, one)):
                i, o = inner.dimension, outer.dimension
                if o.start <= i.start and i.end <= o.end and i.length < o.length:
                    assert inner.level < outer.level


@settings(max_examples=30, deadline=None)
@given(sets())
def test_the_lines_keep_their_distances(wanted: list[Dimension]) -> None:
    """First line >= 10 mm (3/8 in) off the outline, next ones >= 6 mm (1/4 in) apart."""
    for placed in lay_out(VIEW, wanted, Manner()).placed:
        low, high = (VIEW[1], VIEW[3]) if placed.dimension.axis == "x" else (VIEW[0], VIEW[2])
        off = low - placed.line if placed.side == "low" else placed.line - high
        assert off == pytest.approx(10 + 7.5 * placed.level) and off >= 10
    assert Manner().pitch >= 6


def test_an_arrowhead_is_three_times_as_long_as_wide() -> None:
    """Drafting practice."""
    pen = Pen()
    pen.arrow((0, 0), (10, 0))
    (region,) = pen.marks
    assert isinstance(region, Region)
    xs, ys = zip(*region.rings[0], strict=True)
    assert max(xs) - min(xs) == pytest.approx(3 * (max(ys) - min(ys)))


def test_an_extension_line_leaves_a_gap_and_passes_the_line() -> None:
    """1.5 mm (1/16 in) off the feature, 2 mm past the line."""
    (placed,) = lay_out(VIEW, [along("x", 10, 60, "50")], Manner()).placed
    assert dimensions.extension_segments(placed)[0] == (10, -1.5, 10, -12.0)


def test_a_short_dimension_has_its_arrows_outside() -> None:
    """3 mm leave no room for two arrows of 3 mm."""
    (placed,) = lay_out(VIEW, [along("x", 10, 13, "1")], Manner()).placed
    assert not placed.arrows_inside


def test_notes_keep_off_numbers_and_off_each_other() -> None:
    """Four notes over a dimensioned view."""
    room = Room()
    layout = lay_out(VIEW, [along("x", 0, 120, outermost=True), along("y", 0, 80, outermost=True), along("x", 0, 30)], Manner(), room)
    wanted = [notes.Note((f"groove no. {i} along the edge",), ((20.0 + 25 * i, 40.0), (30.0 + 25 * i, 20.0))) for i in range(4)]
    placed = notes.lay_out(VIEW, wanted, room)
    pen = Pen()
    dimensions.draw(pen, layout, Manner())
    notes.draw(pen, placed)
    left, low, right, high = bounds(pen.marks)
    moved = Pen()
    moved.add(pen.marks, (-left, -low))
    assert clashes(moved.drawing(right - left, high - low, "x")) == ()
    assert sum(isinstance(mark, Lettering) for mark in pen.marks) == 7
    assert any(isinstance(mark, Stroke) and mark.role == "leader" for mark in pen.marks)


def test_the_least_lettering_is_2_5_mm() -> None:
    """ISO 3098: heights 1.8 2.5 3.5 5 …; capitals and figures of drawings here are 2.5 and 3.5, fraction numerals 2.0."""
    assert letter((0, 0), "A").size == 2.5
