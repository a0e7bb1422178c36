"""Measured on the marks of every figure: legible, inside its frame, nothing on anything else, true sizes, letters of the cut list."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations
from re import fullmatch

import pytest

from compiler.base.showing import Units
from compiler.draw.bounds import clashes
from compiler.solid import build
from compiler.values.figure import Circle, Drawing, Lettering, StackedFraction, Stroke
from tests.drawings.figures import CASES, drawings, printed

both = pytest.mark.parametrize(("name", "units"), CASES)
# Barlow's and most fonts' capitals are about 0.7 of the type size. 7.5 pt of type: 7.5 / 72 x 25.4 x 0.7.
CAP = 0.7
LEAST = 7.5 / 72 * 25.4 * CAP
NUMERAL = 0.8


@both
def test_nothing_overlaps_and_nothing_leaves_the_frame(name: str, units: Units) -> None:
    """Text on text, on a balloon, a leader, a dimension or extension line; marks outside the frame."""
    assert [(called, clash) for called, drawing in drawings(name, units) for clash in clashes(drawing)] == []


@both
def test_no_figure_is_empty(name: str, units: Units) -> None:
    """Each has lines, words for those who can't see it, and more than a speck of ink."""
    for called, drawing in drawings(name, units):
        lines = [mark for mark in drawing.marks if isinstance(mark, Stroke) and any(len(path) > 1 for path in mark.paths)]
        assert lines and drawing.says, called
        xs = [x for mark in lines for path in mark.paths for x, _ in path]
        # The outlines of a list share one scale: the shortest part is small among them.
        assert max(xs) - min(xs) > (1.5 if called.startswith("Outline") else 10), called


@both
def test_type_is_at_least_seven_and_a_half_points(name: str, units: Units) -> None:
    """All lettering but the small numerals of stacked fractions, which ISO 3098 lets be 1.8 mm."""
    for called, drawing in drawings(name, units):
        for mark in drawing.marks:
            if isinstance(mark, Lettering):
                assert mark.size >= LEAST - 1e-6, (called, mark.text, mark.size)
                if any(isinstance(run, StackedFraction) for run in mark.runs):
                    assert mark.size * NUMERAL >= 1.8, (called, mark.text)


@both
def test_letters_are_those_of_the_cut_list(name: str, units: Units) -> None:
    """Every letter of the cut list is in a drawing, every balloon in the cut list, and `letters` are what the balloons say."""
    shown: set[str] = set()
    for called, drawing in drawings(name, units):
        read = set(_ballooned(drawing))
        # The key shows a balloon as a sign; a template has its letter in words.
        if called == "lines and signs" or "template" in called:
            continue
        assert read == set(drawing.letters), called
        shown |= read
    model = printed(name, units).model
    assert shown == {kind.letter for kind in model.kinds}


def _ballooned(drawing: Drawing) -> Iterator[str]:
    """The lettering that stands in balloons, read from the marks alone."""
    for circle in drawing.marks:
        if isinstance(circle, Circle) and circle.fill == "balloon":
            for mark in drawing.marks:
                if isinstance(mark, Lettering) and abs(mark.at[0] - circle.centre[0]) < circle.radius / 2 and abs(mark.at[1] - circle.centre[1]) < circle.radius:
                    yield mark.text


@both
def test_dimensions_are_as_long_as_they_say(name: str, units: Units) -> None:
    """In every drawing with a scale: for each number, two parallel extension lines stand so far apart, at the drawing's scale."""
    wrong = []
    for called, drawing in drawings(name, units):
        scale = _millimetres(drawing.scale, units)
        if scale is None:
            continue
        apart = _spans(drawing)
        for mark in drawing.marks:
            size = _size(mark, units)
            if size is not None and not any(abs(span - size * scale) <= _slack(units, scale) for span in apart):
                wrong.append((called, drawing.scale, mark.text, round(size * scale, 2)))  # type: ignore[union-attr]
    assert wrong == []


@both
def test_the_outside_sizes_are_those_of_the_solids(name: str, units: Units) -> None:
    """Width, depth and height of the piece stand in the drawing of its sizes and on the picture of the whole; measured on the solids."""
    model = printed(name, units).model
    solids = build((*model.parts, *model.pieces), quality="fine")
    reach = [max(one.high[axis] for one in solids.parts) - min(one.low[axis] for one in solids.parts) for axis in range(3)]
    found = [[size for mark in drawing.marks if (size := _size(mark, units)) is not None] for called, drawing in drawings(name, units) if called == "sizes"]
    assert found
    for sizes in found:
        for extent in reach:
            shown = extent if units == "inch" else extent * 25.4
            assert any(abs(size - shown) <= (1 / 64 if units == "inch" else 0.26) for size in sizes), (shown, sorted(sizes))


def _size(mark: object, units: Units) -> float | None:
    """The size that a lettering states, in inches or millimetres, None when it is no plain number."""
    if not isinstance(mark, Lettering) or mark.role != "dimension":
        return None
    words = fullmatch(r"(\d+(?:\.\d+)?)?(?:(?:^| )(\d+/\d+))?", mark.text)
    if words is None or not mark.text:
        return None
    return float(Fraction(words[1] or 0) + Fraction(words[2] or 0))


def _slack(units: Units, scale: float) -> float:
    """Half of the step that numbers are rounded to, and a hair."""
    return (1 / 64 if units == "inch" else 0.25) * scale + 0.02


def _millimetres(words: str, units: Units) -> float | None:
    """Millimetres on paper for an inch or a millimetre of the piece."""
    if not words:
        return None
    fixed = {"twice full size": 2.0, "full size": 1.0, "half size": 0.5}
    one = 25.4 if units == "inch" else 1.0
    if words in fixed:
        return fixed[words] * one
    foot = fullmatch(r"(.+)″ = 1′", words)
    if foot:
        return float(sum(Fraction(word) for word in foot[1].split())) / 12 * one
    ratio = fullmatch(r"(\d+)\s:\s(\d+(?:\.\d)?)(?:, .*)?", words)
    assert ratio is not None, words
    return int(ratio[1]) / float(ratio[2]) * one


def _spans(drawing: Drawing) -> set[float]:
    """How far apart any two parallel extension or dimension lines stand, upright or level."""
    places: tuple[set[float], set[float]] = (set(), set())
    for mark in drawing.marks:
        if isinstance(mark, Stroke) and mark.role in ("extension", "dimension"):
            for path in mark.paths:
                (x0, y0), (x1, y1) = path[0], path[-1]
                if abs(x0 - x1) < 1e-6:
                    places[0].add(round(x0, 3))
                if abs(y0 - y1) < 1e-6:
                    places[1].add(round(y0, 3))
    return {abs(a - b) for axis in places for a, b in combinations(axis, 2)}
