"""The drawer box: cut sizes by hand in a small case, in both editions; what is put into it; what its limits say."""

from __future__ import annotations

import pytest

import plugins.case_parts
from compiler.testing import faults, plan

# An opening 22 9/16 wide (24 less two sides of 23/32), 16 deep, 8 9/32 high (10 less a floor of 23/32 and 1 at the top).
CASE = """
sizes: {{width: {{inch: 24, mm: 610}}, height: {{inch: 10, mm: 254}}, depth: {{inch: 16, mm: 406}}, rail: {{inch: 1, mm: 25}}}}
middle: {{across: width / 2}}
materials: {{ply: birch plywood 3/4}}
parts:
  side: {{stock: ply, across: from 0, deep: 0 to depth, up: 0 to height, grain: up, copies: mirror across}}
  floor: {{stock: ply, across: between left side and right side, deep: 0 to depth, up: from 0}}
  drawer: {{component: drawer box, across: between left side and right side, deep: 0 to depth, up: floor.top to height - rail{given}}}
joints:
  - {{rabbet: floor, into: side, depth: 1/4}}
hardware:
  - {{item: drawer slide 14, under: drawer.side, in: side, count: 1}}
"""


def case(given: str = "") -> str:
    return CASE.format(given=given and f", with: {{{given}}}")


@pytest.mark.parametrize(("units", "rows"), [
    # Sides: 16 - 1/2 long, 8 9/32 - 2 x 1/2 high. Front: 22 9/16 - 2 x 1/2 - 2 x 15/32 + 2 x 1/4. The back stands on the bottom: 7 9/32 - 1/2 - 7/32.
    # Bottom: 20 5/8 + 2 x (1/4 - 1/32); 15 1/2 - 15/32 + 1/4 - 1/32, under the back.
    ("inch", {"side": "2 drawer box side 15 1/2 x 7 9/32 x 15/32 birch plywood 1/2", "front": "1 drawer box front 21 1/8 x 7 9/32 x 15/32 birch plywood 1/2",
              "back": "1 drawer box back 21 1/8 x 6 9/16 x 15/32 birch plywood 1/2", "bottom": "1 drawer box bottom 21 1/16 x 15 1/4 x 7/32 birch plywood 1/4"}),
    # 406 - 13; 254 - 18 - 25 - 2 x 13. 610 - 2 x 18 - 2 x 13 - 2 x 12 + 2 x 6. 185 - 12 - 6. 524 + 2 x (6 - 1); 393 - 12 + 5.
    ("mm", {"side": "2 drawer box side 393 x 185 x 12 birch plywood 12 mm", "front": "1 drawer box front 536 x 185 x 12 birch plywood 12 mm",
            "back": "1 drawer box back 536 x 167 x 12 birch plywood 12 mm", "bottom": "1 drawer box bottom 534 x 386 x 6 birch plywood 6 mm"}),
])
def test_cut_sizes_by_hand(units: str, rows: dict[str, str]) -> None:
    """Every part, with its tongues."""
    made = plan(case(), units=units)  # type: ignore[arg-type]
    assert rows == {name: made.cut(f"drawer box {name}") for name in rows}


def test_bare_numbers_of_a_component_are_inches_in_a_plan_of_millimetres() -> None:
    """The same box in a plan that is written in millimetres: 1/4 in it is no quarter of a millimetre."""
    head = "plan: A test\nnumber: 1\nissue: 1\ndate: 2026-01-02\nunits: mm\n"
    text = case().replace("{inch: 24, mm: 610}", "610").replace("{inch: 10, mm: 254}", "254").replace("{inch: 16, mm: 406}", "406").replace("{inch: 1, mm: 25}", "25")
    made = plan(head + text.replace("depth: 1/4", "depth: 6"), units="mm")
    assert "1 drawer box bottom 534 x 386 x 6 birch plywood 6 mm" == made.cut("drawer box bottom")


def test_sizes_and_materials_are_given_with_a_use() -> None:
    """A box of solid wood with less room: 22 9/16 - 2 x 3/16 - 2 x 3/4 + 2 x 3/8."""
    made = plan(case("wood: white pine 4/4, beside: 3/16, groove: 3/8"))
    assert "1 drawer box front 21 7/16 x 7 9/32 x 3/4 white pine 4/4" == made.cut("drawer box front")


@pytest.mark.parametrize(("given", "says"), [
    ("lift: 5", "`lift` 5 is more than the most, height / 3 = 2 49/64. · It is room under the box, and the same above it."),
    ("groove: 1/64", "`groove` 1/64 is less than the least, 1/8. · It is how deep rabbets and the groove for the bottom are cut."),
    ("beside: 10 deg", "`beside` is a length; `10 deg` is none. · It is room beside the box, left and right, for slides."),
    ("besid: 1", "`drawer box` has no size `besid`. · Did you mean beside?"),
    ("wood: birch plywod 1/2", "There is no `birch plywod 1/2` in the library. · Did you mean birch plywood 1/2?"),
])
def test_what_can_not_be_is_told_at_the_use(given: str, says: str) -> None:
    """One message, at the key in design.yaml."""
    made = plan(case(given))
    (fault,) = made.outcome.report.errors
    assert (says,) == made.messages
    assert fault.at is not None and ("design.yaml", ("parts", "drawer", "with", given.split(":")[0])) == (fault.at.file, fault.at.path)


def test_its_contract() -> None:
    """What any plugin can test of itself."""
    assert () == faults(case(), plugins.case_parts)
