"""Hardware, finishes, work to be done, and why a size is what it is."""

import pytest

from compiler.base.digests import digest
from compiler.base.measures import inch, mm
from compiler.base.report import Spot
from compiler.stages.why import explain, why
from tests.made import attempt, made, project

DOORS = """
sizes: {{height: {height}}}
middle: {{across: 10}}
materials: {{ply: birch plywood 3/4}}
parts:
  side: {{stock: ply, across: from 0, deep: 0 to 12, up: 0 to height, copies: mirror across}}
  top: {{stock: ply, across: between left side and right side, deep: 0 to 12, up: to height}}
  door: {{stock: ply, across: 0 to 20, deep: to 0, up: 0 to height}}
joints:
  - {{butt: top, to: side}}
hardware:
  - {{item: butt hinge 2, from: door, to: left side}}
"""


@pytest.mark.parametrize(("height", "count"), [("30", 2), ("40", 2), ("41", 3), ("60", 3), ("61", 4)])
def test_hinges_by_the_height_of_the_door(height: str, count: int) -> None:
    """2 up to 40 in, 3 up to 60, then 4: the library's rule, from two how-to pages."""
    assert count == made(DOORS.format(height=height)).hardware[0].count


def test_a_count_is_for_each() -> None:
    """Four pins under each of two shelves; one slide in each drawer."""
    uses = project("low-bookcase").hardware
    assert [4, 4] == [use.count for use in uses if use.item.key == "shelf pin"]
    assert ["left drawer", "right drawer"] == [use.per for use in uses if use.item.kind == "slide"]


def test_pins_stand_in_the_holes_that_hold_the_shelf() -> None:
    """Two in each side, at the fifth hole: 7 + 4 in."""
    use = next(use for use in project("low-bookcase").hardware if use.on[:1] == ("shelf 1",))
    assert 4 == len(use.places)
    assert {inch(11)} == {place[2] for place in use.places}


def test_mirrored_doors_hang_on_their_own_sides() -> None:
    """The right door hangs at its right, on the right side."""
    uses = [use for use in project("tool-wall-cabinet", "mm").hardware if use.item.kind == "hinge"]
    assert [("left door.left stile", "left side"), ("right door.right stile", "right side")] == [use.on for use in uses]
    assert [2, 2] == [use.count for use in uses]


def test_screws_at_a_distance() -> None:
    """Every 200 on 706: four."""
    use = next(use for use in project("tool-wall-cabinet", "mm").hardware if use.item.key.startswith("wall screw"))
    assert 4 == use.count


def test_a_finish_covers_what_can_be_reached() -> None:
    """A board of 10 × 10 standing on one of 20 × 10, both 23/32 thick: by hand, face by face."""
    model = made("""
materials: {ply: birch plywood 3/4}
parts:
  base: {stock: ply, across: 0 to 20, deep: 0 to 10, up: from 0}
  post: {stock: ply, across: from 5, deep: 0 to 10, up: base.top to base.top + 10}
joints:
  - {butt: post, to: base}
finish:
  - {oil: post, coats: 2}
  - {paint: base, coats: 1}
""")
    post, base = model.finishes
    t = inch("23/32")
    # Post: two faces of 10 × 10, two edges of t × 10, the top edge t × 10; its foot is covered.
    assert inch(10) * inch(10) * 2 + t * inch(10) * 3 == post.area
    # Base: two faces of 20 × 10 less the post's foot, two edges of 20 × t, two of 10 × t.
    assert inch(20) * inch(10) * 2 - t * inch(10) + inch(20) * t * 2 + inch(10) * t * 2 == base.area


def test_work_is_named_in_the_library_s_words() -> None:
    """Every operation of every plan is one that the library has cautions for, so none is lost."""
    from compiler.library import handbook
    from tests.made import library

    book = handbook(library(), "inch")
    known = {operation.name for operation in (book.value or book).operations}  # type: ignore[union-attr]
    for plan, units in (("low-bookcase", "inch"), ("tool-wall-cabinet", "mm"), ("trestle-bench", "inch")):
        assert set() == {use.does for use in project(plan, units).operations} - known  # type: ignore[arg-type]


def test_why_ends_in_what_was_written() -> None:
    """bottom = 34 9/16 between the sides, and two dadoes of 1/4, which `housing` says."""
    told = explain(project("low-bookcase"), "bottom.length").value
    assert told is not None
    assert "bottom.length = 35 1/16 = 34 9/16 + 1/4 + 1/4  (across as written, and what it is let into others by)" == told[0]
    assert any(line.strip() == "width = 36" for line in told)
    assert any(line.strip().startswith("joint 1.depth = 1/4 = housing") for line in told)


def test_why_in_millimetres() -> None:
    """The metric edition has its own chain: 879 + 6 + 6."""
    told = explain(project("low-bookcase", "mm"), "bottom.length").value
    assert told is not None and told[0].startswith("bottom.length = 891 mm = 879 + 6 + 6")


def test_why_of_a_letter_gives_all_three_sizes() -> None:
    """B is the bottom."""
    reason = why(project("low-bookcase"), "B").value
    assert reason is not None
    assert ["B.length", "B.width", "B.thickness"] == [need.name for need in reason.needs]
    assert "bottom.length" == reason.needs[0].needs[0].name


def test_every_part_has_a_reason() -> None:
    """No finished size without a chain, and its value is the part's own."""
    model = project("tool-wall-cabinet", "mm")
    traces = {trace.name: trace.value for trace in model.traces}
    for part in model.parts:
        assert (part.length, part.width, part.thickness) == tuple(traces[f"{part.name}.{size}"] for size in ("length", "width", "thickness"))


def test_an_unknown_quantity_is_an_error_with_a_guess() -> None:
    """`shelf.lenght` is not in the plan."""
    outcome = why(project("low-bookcase"), "shelf.lenght")
    assert outcome.value is None
    assert "shelf.length" in outcome.report.diagnostics[0].hint


def test_the_same_design_gives_the_same_model() -> None:
    """No clock, no chance, no memory of the run before."""
    first = digest(project.__wrapped__("low-bookcase", "inch"))
    assert first == digest(project.__wrapped__("low-bookcase", "inch"))


def test_joints_know_where_they_are_written() -> None:
    """Faults of later stages can point at them."""
    assert Spot("design.yaml", ("joints", 0)) == project("low-bookcase").joints[0].at


def test_models_of_an_edition_have_its_own_lengths() -> None:
    """The metric bookcase is 915 wide."""
    assert ("width", mm(915)) in project("low-bookcase", "mm").measures


def test_slides_carry_a_drawer_that_touches_nothing() -> None:
    """A drawer with clearance all round is no floating group when slides are written in it; without them it is."""
    text = """
middle: {across: 10}
materials: {ply: birch plywood 3/4, slide: drawer slide 10}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 12, up: 0 to 10, copies: mirror across}
  top: {stock: ply, across: between left side and right side, deep: 0 to 12, up: to 10}
  tray: {component: tray, across: between left side and right side, deep: 0 to 10, up: 1 to 5}
components:
  tray:
    parts:
      floor: {stock: ply, across: slide.clearance to width - slide.clearance, deep: 0 to depth, up: from 0}
      lip: {stock: ply, across: as floor, deep: from 0, up: from floor.top for 2}
    joints:
      - {butt: lip, to: floor}
    hardware:
      - {item: slide, count: 1}
joints:
  - {butt: top, to: side}
"""
    assert 1 == made(text).hardware[0].count
    _, report = attempt(text.replace("      - {item: slide, count: 1}\n", "      - {item: knob 1 1/4, on: lip}\n"))
    assert ["floating"] == [fault.code for fault in report.errors]
