"""Cut sizes worked out by hand from the designs' own numbers, and equal to the model's, exactly.

s = 23/32, d = 15/32, b = 7/32 are the actual thicknesses of the sheets. Every sum stands beside its part.
Lap arithmetic of frames and cases (between the shoulders, plus what goes in): common practice, no source.
"""

from fractions import Fraction

import pytest

from compiler.base.measures import inch, mm
from compiler.base.showing import Units
from tests.made import project

BOOKCASE = {
    "side": ("33 1/4", "11 1/4"),  # 34 - 3/4 · 12 - 3/4
    "bottom": ("35 1/16", "11 1/32"),  # 36 - 2s + 2 × 1/4 · 11 1/4 - b
    "divider": ("6 1/32", "11 1/32"),  # 1 1/2 + 5 - s + 1/4; grain up
    "back": ("28 31/32", "35 5/16"),  # grain up: 33 1/4 - 4 9/32 · 34 9/16 + 2 × 3/8
    "shelf": ("34 7/16", "10 1/32"),  # 34 9/16 - 2 × 1/16 · 12 - b - 1/8 - 1 5/8
    "drawer front": ("13 15/16", "4"),  # 15 3/8 - 2 × 1/2 - 2d + 2 × 1/4 · 5 - 1
    "drawer bottom": ("13 7/8", "9 3/4"),  # 13 7/16 + 2 × 7/32 · 10 - d + 7/32
    "front base moulding": ("37 1/2", "4"),  # 36 + 2 × 3/4, long points
    "base moulding": ("12 3/4", "4"),  # 12 + 3/4, long points
}


@pytest.mark.parametrize("name", BOOKCASE)
def test_the_bookcase_in_inches(name: str) -> None:
    """Finished sizes hold every joint: what goes into a dado, a rabbet, a groove with room."""
    model = project("low-bookcase")
    part = model.part(model.kind(name).parts[0])
    assert (inch(BOOKCASE[name][0]), inch(BOOKCASE[name][1])) == (part.length, part.width)


@pytest.mark.parametrize(("name", "thickness"), [("outer packer", "1 1/32"), ("inner packer", "33/64")])
def test_packers_are_planed_to_what_is_left(name: str, thickness: str) -> None:
    """1 3/4 - s between side and stile; (1 3/4 - s) ÷ 2 between divider and drawer stile."""
    model = project("low-bookcase")
    assert inch(thickness) == model.part(model.kind(name).parts[0]).thickness


@pytest.mark.parametrize(("name", "length", "width"), [
    ("bottom", 891, 280),  # 915 - 2 × 18 + 2 × 6 · 305 - 19 - 6
    ("back", 736, 899),  # 879 + 2 × 10 across
])
def test_the_bookcase_in_millimetres(name: str, length: int, width: int) -> None:
    """The metric edition is solved anew with metric stock: no inch is converted."""
    part = project("low-bookcase", "mm").part(name)
    assert (mm(length), mm(width)) == (part.length, part.width)


CABINET = {
    "top": (774, 280),  # 756 + 2 × 9
    "drawer shelf": (768, 256),  # 756 + 2 × 6 · 280 - 18 - 6
    "back": (876, 768),  # 900 - 36 + 12 · 756 + 12
    "door bottom rail": (345, 70),  # 395 - 120 + 2 × 35
    "door panel": (774, 293),  # 896 - 140 + 18 · 275 + 18
    "drawer front": (226, 88),  # 240 - 2 - 24 + 12 · 90 - 2
    "drawer bottom": (246, 224),  # 253 - 12 + 5 · 214 + 10
}


@pytest.mark.parametrize("name", CABINET)
def test_the_tool_cabinet(name: str) -> None:
    """792 wide over three drawers: tenons of 35, panels 10 deep in their grooves with 1 of room."""
    model = project("tool-wall-cabinet", "mm")
    part = model.part(model.kind(name).parts[0])
    assert (mm(CABINET[name][0]), mm(CABINET[name][1])) == (part.length, part.width)


@pytest.mark.parametrize(("plan", "units", "rows", "pieces"), [
    ("low-bookcase", "inch", 26, 40), ("low-bookcase", "mm", 26, 40), ("tool-wall-cabinet", "mm", 20, 39), ("trestle-bench", "inch", 5, 10),
])
def test_rows_and_pieces(plan: str, units: Units, rows: int, pieces: int) -> None:
    """Equal pieces are one row, wherever they stand and in whichever drawer."""
    model = project(plan, units)
    assert (rows, pieces) == (len(model.kinds), len(model.parts))


def test_a_splayed_leg() -> None:
    """13 3/4 ÷ cos 10° + 2 1/2 × tan 10° = 14.403, and a tenon of 1 3/4; exact at 1/1024 in."""
    leg = project("trestle-bench").part("front left leg")
    assert float(leg.length) == pytest.approx(14.4029 + 1.75, abs=1 / 1024)
    assert leg.length.inches.denominator <= 1024
    assert (inch("2 1/2"), inch("1 3/4")) == (leg.width, leg.thickness)


def test_a_rail_between_splayed_legs() -> None:
    """7.685 at its lower edge, the long point, and two tenons of 1 1/4."""
    rail = project("trestle-bench").part("left rail")
    assert float(rail.length) == pytest.approx(7.685 + 2.5, abs=1 / 1024)


def test_a_through_tenon_that_stands_proud() -> None:
    """48 - 2 × (6 + 1 3/4) between the rails, through both rails of 1 3/4, and 1/8 more at each end."""
    assert inch(48 - 2 * (6 + Fraction(7, 4)) + 2 * (Fraction(7, 4) + Fraction(1, 8))) == project("trestle-bench").part("stretcher").length
