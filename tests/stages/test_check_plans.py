"""The plans of the project come out as they were worked out by hand, to the shoulders, in both editions.

s = 23/32, d = 15/32 (drawer ply), b = 7/32 (thin ply).
"""

import pytest

from compiler.base.measures import inch
from compiler.values.model import AXES, Edition
from tests.stages.drafts import INCH, METRIC, part, place, plan, sizes

BOOKCASE = "projects/low-bookcase"
CABINET = "projects/tool-wall-cabinet"
BENCH = "projects/trestle-bench"


@pytest.mark.parametrize(("name", "expected"), [
    ("left side", ("23/32", "11 1/4", "33 1/4")),            # 34 - 3/4; 12 - 3/4
    ("bottom", ("34 9/16", "11 1/32", "23/32")),             # 36 - 2s; 11 1/4 - b
    ("divider", ("23/32", "11 1/32", "5 25/32")),            # 1 1/2 + 5 - s
    ("back", ("34 9/16", "7/32", "28 31/32")),               # 33 1/4 - 4 9/32
    ("shelf 1", ("34 7/16", "10 1/32", "23/32")),            # 34 9/16 - 2 x 1/16; 12 - b - 1/8 - 1 5/8
    ("left outer packer", ("1 1/32", "10", "2")),            # 1 3/4 - s
    ("left inner packer", ("33/64", "10", "2")),             # (1 3/4 - s) / 2
    ("left drawer.front", ("13 7/16", "15/32", "4")),        # 15 3/8 - 2 x 1/2 - 2d; 5 - 1
    ("left drawer.bottom", ("13 7/16", "9 17/32", "7/32")),  # 10 - d
    ("front base moulding", ("37 1/2", "3/4", "4")),         # 36 + 2 x 3/4, long points
    ("left base moulding", ("3/4", "12 3/4", "4")),          # 12 + 3/4
    ("top", ("38 1/2", "13 1/4", "3/4")),                    # 36 + 2 x 1 1/4; 12 + 1 1/4
])
def test_low_bookcase_in_inches(name: str, expected: tuple[str, str, str]) -> None:
    """Across, deep, up, between shoulders."""
    assert expected == sizes(plan(BOOKCASE), name)


@pytest.mark.parametrize(("name", "expected"), [
    ("bottom", ("879", "280", "18")),                        # 915 - 36
    ("back", ("879", "6", "736")),
    ("left drawer.front", ("340", "12", "101")),             # (915 - 3 x 45) / 2 - 2 x 13 - 2 x 12
    ("front base moulding", ("953", "19", "102")),           # 915 + 2 x 19
])
def test_low_bookcase_in_millimetres(name: str, expected: tuple[str, str, str]) -> None:
    """Not a conversion: the metric sheet is 18 thick."""
    assert expected == sizes(plan(BOOKCASE, METRIC), name)


@pytest.mark.parametrize(("name", "expected"), [
    ("top", ("756", "280", "18")),                           # 792 - 36
    ("drawer shelf", ("756", "256", "18")),                  # 280 - 18 - 6
    ("back", ("756", "6", "864")),                           # 900 - 36
    ("left door.bottom rail", ("275", "20", "70")),          # 395 - 120
    ("left door.panel", ("275", "6", "756")),                # 896 - 140
    ("drawer 1.front", ("214", "12", "88")),                 # 240 - 2 - 24; 90 - 2
    ("drawer 3.bottom", ("214", "241", "6")),                # 253 - 12
])
def test_tool_wall_cabinet(name: str, expected: tuple[str, str, str]) -> None:
    """792 wide: 3 openings of 240 and 4 walls of 18."""
    assert expected == sizes(plan(CABINET, METRIC), name)


def test_three_drawers_stand_in_three_openings() -> None:
    """At one pitch: 240 + 18."""
    cabinet = plan(CABINET, METRIC)
    assert ["19", "277", "535"] == [place(cabinet, f"drawer {count}.left side", "left") for count in (1, 2, 3)]


def test_bench_legs_are_as_long_as_trigonometry_says() -> None:
    """13 3/4 high, 2 1/2 wide, 10 deg: 13 3/4 / cos + 2 1/2 x tan = 14.403 (arithmetic)."""
    leg = part(plan(BENCH), "front left leg")
    whole = leg.box.up.size + dict(leg.reach)["top"] + dict(leg.reach)["bottom"]
    assert abs(float(whole) - 14.403) < 0.001


def test_bench_rails_reach_the_leaning_legs() -> None:
    """7.685 at the lower edge, and the end is cut to fit: 10 deg, long at the bottom."""
    rail = part(plan(BENCH), "left rail")
    assert abs(float(rail.box.deep.size) - 7.685) < 0.001
    assert [("mitre", ("front",), "10 deg", "bottom"), ("mitre", ("back",), "10 deg", "bottom")] == [
        (wish.kind, wish.where, dict(wish.parameters)["angle"].value, dict(wish.parameters)["long at"].value) for wish in rail.workings]


def test_bench_legs_lean_outward() -> None:
    """The foot of the front legs goes to the front, of the back legs to the back, by the sine of 10 deg times 13 3/4."""
    bench = plan(BENCH)
    for name, way in (("front left leg", -1), ("back right leg", 1)):
        leg = part(bench, name)
        foot = tuple(float(leg.box.face(face)) for face in ("left", "front" if way < 0 else "back", "bottom"))
        moved = sum(leg.pose.rotation[1][index] * foot[index] for index in range(3)) + leg.pose.shift[1]
        assert abs((moved - foot[1]) - way * 13.75 * 0.17364817766693033) < 1e-9


def test_the_centre_line_of_the_lower_packer_is_exact() -> None:
    """33/64 is a division by two, not a rounding."""
    assert inch("33/64") == part(plan(BOOKCASE), "left inner packer").box.across.size


@pytest.mark.parametrize("folder", ["shared/starters/table", "shared/starters/box", "shared/starters/cabinet", BOOKCASE, CABINET, BENCH])
def test_every_plan_is_clean(folder: str) -> None:
    """In its own unit, with letters of no two pieces alike."""
    design = plan(folder, METRIC if folder == CABINET else INCH)
    assert len({each.name for each in design.parts}) == len(design.parts)


@pytest.mark.parametrize("edition", [INCH, METRIC])
def test_pieces_of_low_bookcase(edition: Edition) -> None:
    """40 pieces of 26 different sizes, in either edition: the moulding's front and its sides are two."""
    design = plan(BOOKCASE, edition)
    rows = {(each.kind, tuple(sorted(each.box.span(axis).size for axis in AXES))) for each in design.parts}
    assert (40, 26) == (len(design.parts), len(rows))
