"""Sizes are read as makers write them, and worked out exactly."""

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.base.measures import Angle, Length, degrees, inch, mm
from compiler.base.report import Spot
from compiler.base.showing import Style, Units, show
from compiler.language import Names, evaluate

AT = Spot("design.yaml", ("sizes", "test"))
NAMES = Names({"width": inch(36), "stile width": inch("1 3/4"), "left side.right": inch("23/32"), "shelves": Fraction(2), "splay": degrees(10)})


def value(text: str, units: Units = "inch", **more: object) -> object:
    outcome = evaluate(text, NAMES, units, AT, **more)  # type: ignore[arg-type]
    assert outcome.report.ok, outcome.report.diagnostics
    return outcome.value


def refused(text: str, **more: object) -> str:
    outcome = evaluate(text, NAMES, "inch", AT, **more)  # type: ignore[arg-type]
    assert outcome.value is None
    return outcome.report.diagnostics[0].code


@pytest.mark.parametrize(("text", "inches"), [
    ("36", "36"), ("3/4", "3/4"), ("1 3/4", "1 3/4"), ("0.5", "1/2"), (".5", "1/2"), ("5' 3 1/2\"", "63 1/2"), ("5'3", "63"), ("6'", "72"),
    ("-1/2", "-1/2"), ("width - 2 * stile width", "32 1/2"), ("(width - 1) / 2", "17 1/2"), ("width / 3", "12"), ("left side.right", "23/32"),
    ("larger of 3 and stile width and 2", "3"), ("smaller of 3 and stile width", "1 3/4"), ("width / 7 rounded to 1/16", "5 1/8"),
    ("width / 7 rounded down to 1/8", "5 1/8"), ("width / 7 rounded up to 1/8", "5 1/4"), ("25.4 mm", "1"), ("2.54 cm", "1"), ("1 in", "1"), ('3/4"', "3/4"),
    ("stile width × 2", "3 1/2"), ("width ÷ 4", "9"), ("3½", "3 1/2"), ("½", "1/2"), ("5′ 3″", "63"), ("width − 1", "35"), ("width\u00a0- 1", "35"),
    ("shelves * 3", "6"), ("width - shelves * 1/2 in", "35"),
])
def test_what_a_size_is(text: str, inches: str) -> None:
    """Every form that a maker or a word processor writes is read as meant."""
    found = value(text, want="length") if text != "shelves * 3" else value(text)
    assert (Fraction(6) if text == "shelves * 3" else inch(inches)) == found


def test_an_angle_stays_an_angle() -> None:
    """Degrees are written deg or with the sign."""
    assert [Angle(Fraction(10)), Angle(Fraction(20)), Angle(Fraction(5))] == [value("10 deg"), value("2 * splay"), value("5°")]


def test_a_length_by_a_length_is_a_plain_number() -> None:
    """So 36 / 1 3/4 counts how often one goes into the other."""
    assert Fraction(144, 7) == value("width / stile width")


@pytest.mark.parametrize(("text", "code"), [
    ("3-1/2", "mixed-number"), ("1,5", "decimal-comma"), ("1e3", "plain-number"), ("1_000", "plain-number"), ("012", "plain-number"),
    ("width/3/4", "two-readings"), ("3 1 / 2", "two-readings"), ("2 stile width", "times-missing"), ("min(width, 3)", "no-calls"),
    ("width * stile width", "area"), ("36 / width", "number-over-length"), ("width / 0", "divided-by-nothing"), ("wdith", "unknown-name"),
    ("width + shelves", "unlike-sum"), ("width + splay", "unlike-sum"), ("splay + 1", "angle-needs-deg"), ("5 ft", "feet"), ("", "empty-text"),
    ("width -1", "minus-spaces"), ("__import__", "cannot-read"), ("width ** 2", "no-powers"), ("width rounded to 0", "step"), ("3/0", "divided-by-nothing"),
    ("(" * 60 + "1" + ")" * 60, "too-deep"), ("1 + " * 200 + "1", "too-long"),
])
def test_what_is_refused(text: str, code: str) -> None:
    """What can be read in two ways, or is code, has a name of its own."""
    assert code == refused(text)


def test_the_caret_stands_at_the_cause() -> None:
    """Characters are counted in the text as written, folded characters too."""
    outcome = evaluate("½ + wdith", NAMES, "inch", AT)
    spot = outcome.report.diagnostics[0].at
    assert spot is not None
    assert (4, 9) == (spot.start, spot.end)


def test_an_odd_fraction_is_a_warning() -> None:
    """3/46 is legal; 64 was meant."""
    outcome = evaluate("3/46", NAMES, "inch", AT)
    assert outcome.report.ok
    assert "Did you mean 3/64?" == outcome.report.diagnostics[0].hint


def test_an_angle_is_asked_for_with_deg() -> None:
    """10 alone is a length."""
    assert "angle-needs-deg" == refused("10", want="angle")


def test_a_count_is_whole() -> None:
    """2 1/2 shelves can't be made."""
    assert ["whole-number", "not-a-number"] == [refused("2 1/2", want="count"), refused("width", want="count")]


@pytest.mark.parametrize(("text", "millimetres"), [
    ("36", "914"), ("3/4", "19"), ("1/8", "3"), ("1/16", "1.5"), ("1/32", "1"), ("1/64", "0.5"), ("6 + 6", "304"), ("12", "305"), ("3/4 in", "19.05"), ("10 mm", "10"),
])
def test_bare_numbers_are_resized_alone_and_once(text: str, millimetres: str) -> None:
    """To 1 mm, below 3 mm to 1/2; a number with its unit stays true; 6 + 6 is not 12."""
    assert mm(millimetres) == value(text, edition="mm")


@pytest.mark.parametrize(("text", "inches"), [("900", "35 7/16"), ("18", "23/32"), ("6", "1/4"), ("25", "31/32"), ("0.2", "1/32"), ("0", "0")])
def test_bare_millimetres_are_resized_too(text: str, inches: str) -> None:
    """To 1/16 in, below 1 in to 1/32; never to nothing."""
    assert inch(inches) == value(text, units="mm", edition="inch")


# ---- properties ----------------------------------------------------------------------------------------------

sixty_fourths = st.integers(0, 64 * 120).map(lambda n: Fraction(n, 64))


@given(sixty_fourths)
def test_what_is_shown_is_read_back(number: Fraction) -> None:
    """Showing a length to 1/64 in and reading the text gives the same length."""
    text = show(Length(number), Style("inch", Fraction(1, 64))).text
    assert Length(number) == value(text)


@given(st.integers(0, 20000).map(lambda n: Fraction(n, 2)))
def test_millimetres_are_read_back(number: Fraction) -> None:
    """As decimals, to half a millimetre."""
    text = show(mm(number), Style("mm", Fraction(1, 2))).text
    assert mm(number) == value(text, units="mm")


numbers = st.fractions(min_value=Fraction(1, 64), max_value=100, max_denominator=64)
sums = st.recursive(numbers.map(lambda n: (f"({n.numerator}/{n.denominator})", n)), lambda inner: st.one_of(
    st.tuples(inner, inner).map(lambda pair: (f"({pair[0][0]} + {pair[1][0]})", pair[0][1] + pair[1][1])),
    st.tuples(inner, inner).map(lambda pair: (f"({pair[0][0]} - {pair[1][0]})", pair[0][1] - pair[1][1])),
    st.tuples(inner, inner).map(lambda pair: (f"({pair[0][0]} * {pair[1][0]})", pair[0][1] * pair[1][1])),
    st.tuples(inner, inner).filter(lambda pair: pair[1][1] != 0).map(lambda pair: (f"({pair[0][0]} / {pair[1][0]})", pair[0][1] / pair[1][1])),
), max_leaves=8).filter(lambda pair: len(pair[0]) < 350)


@given(sums)
def test_sums_agree_with_fractions(pair: tuple[str, Fraction]) -> None:
    """Python's own Fraction, worked out beside it, is the judge."""
    text, expected = pair
    assert expected == value(text, want="number")


_REGISTRY = pint.UnitRegistry(non_int_type=Fraction)


@given(st.integers(1, 100000), st.sampled_from(["mm", "cm", "in"]))
def test_units_agree_with_a_units_library(number: int, unit: str) -> None:
    """Pint, counting in fractions, converts the same way."""
    expected = (_REGISTRY.Quantity(Fraction(number), unit).to("mm")).magnitude
    found = value(f"{number} {unit}")
    assert isinstance(found, Length)
    assert expected == found.mm


@given(st.text(max_size=60))
def test_no_text_is_too_strange(text: str) -> None:
    """Whatever stands there is read or refused, with a sentence and a place inside the text."""
    outcome = evaluate(text, NAMES, "inch", AT)
    for each in outcome.report.diagnostics:
        assert each.at is not None and each.at.start is not None
        assert each.says and 0 <= each.at.start <= len(text)


@given(st.lists(st.sampled_from(["width", "stile width", "-", " - ", "+", "3/4", "1 1/2", "(", ")", " to ", "*", "/", "left side", ".right", '"', "'", " of ", "larger", "mm", "½"]), max_size=12).map("".join))
def test_no_heap_of_words_is_too_strange(text: str) -> None:
    """Nor one made of the grammar's own words."""
    outcome = evaluate(text, NAMES, "inch", AT)
    assert (outcome.value is None) == (not outcome.report.ok)
