"""Workings: the wood that goes equals the wood that geometry says, to a millionth; stops are round, mirrors are mirrored."""

from math import pi, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.base.measures import ZERO, inch
from compiler.solid import build
from compiler.stages.assemble.workings import KINDS
from compiler.values.model import Part
from compiler.values.shapes import Bore, Prism
from tests.made import attempt, made

BOARD = """
sizes: {{length: 20, width: 6}}
middle: {{across: length / 2}}
materials: {{wood: white oak 8/4, pin: shelf pin}}
parts:
  board:
    stock: wood
    across: 0 to length
    deep: 0 to width
    up: 0 for 1 1/2
    workings:
      - {{{working}}}
  other:
    stock: wood
    across: 0 to length
    deep: from width
    up: 0 for 1 1/2
joints:
  - {{butt: board, to: other}}
"""


def worked(working: str) -> Part:
    """A board 20 × 6 × 1 1/2 with one working."""
    return made(BOARD.format(working=working)).part("board")


def gone(part: Part) -> float:
    """Cubic inches that the workings took."""
    solid = build((part,), quality="fine")
    assert () == solid.problems
    return 20 * 6 * 1.5 - solid.parts[0].volume


@pytest.mark.parametrize(("working", "volume"), [
    ("dado: top, at: 4 from left, width: 3/4, depth: 1/4", 6 * 0.75 * 0.25),
    ("groove: top, at: 1 from front, width: 1/4, depth: 1/2", 20 * 0.25 * 0.5),
    ("groove: top, at: centre deep, width: 1/4, depth: 1/2, going: across", 20 * 0.25 * 0.5),
    ("rabbet: top front, width: 3/4, depth: 1/4", 20 * 0.75 * 0.25),
    ("rabbet: top front, width: 3/4, depth: 1/4, stopped: 2 from left and 3 from right", 15 * 0.75 * 0.25),
    ("notch: bottom left, across: 3, up: 1/2", 3 * 0.5 * 6),
    ("notch: bottom left, across: 3, up: 1/2, deep: 2", 3 * 0.5 * 2),
    ("hole: top, at: centre, diameter: 1", pi / 4 * 1.5),
    ("hole: top, at: 4 from left and 2 from front, diameter: 1, depth: 1/2", pi / 4 * 0.5),
    ("hole: top, at: centre, diameter: 1/2, counterbore: {diameter: 1, depth: 1/2}", pi / 4 * (0.5 + 0.25 * 1)),
    ("holes: top, first: 2 from left and 2 from front, going: across, every: 2, count: 5, diameter: 1/2", 5 * pi / 16 * 1.5),
    ("bevel: front bottom, angle: 45 deg, long at: top", 0.5 * 1.5 * 1.5 * 20),
    ("mitre: right, angle: 45 deg, long at: front", 0.5 * 6 * 6 * 1.5),
    ("taper: front, from: 8 from left, to: 4 at left", 0.5 * 8 * 2 * 1.5),
    ("taper: [front, back], from: 8 from left, to: 4 at left", 0.5 * 8 * 2 * 1.5),
    ("chamfer: top front, width: 1/4", 0.5 * 0.25**2 * 20),
    ("round-over: top front, radius: 1/4", (1 - pi / 4) * 0.25**2 * 20),
    ("cove: top front, radius: 1/4", pi / 4 * 0.25**2 * 20),
    ("cut-out: top, at: centre, size: 6 x 2", 6 * 2 * 1.5),
    ("cut-out: top, at: centre, size: 6 x 2, radius: 1/2", (6 * 2 - (4 - pi) * 0.25) * 1.5),
    ("cut-out: top, at: centre across and 0 from front, size: 6 x 2, radius: 1/2", (6 * 2 - (4 - pi) * 0.25 / 2) * 1.5),
    ("cut-out: top, at: centre, diameter: 2", pi * 1.5),
    ("outline: top, points: [[0, 0], [20, 0], [10, 6]]", 60 * 1.5),
])
def test_what_goes_is_what_geometry_says(working: str, volume: float) -> None:
    """Volumes by hand: rectangles, triangles, circles. Round cuts have a circle's own area though they are drawn as chords."""
    assert gone(worked(working)) == pytest.approx(volume, rel=1e-6)


def test_an_arc_takes_a_segment_of_a_circle() -> None:
    """Chord 12, rise 2: radius (6² + 2²) ÷ 4 = 10, and the segment's area r² acos((r - h) / r) - (r - h) √(2rh - h²)."""
    from math import acos, sqrt

    part = worked("arc: front, rise: 2, from: 4 from left, to: 4 from right")
    area = 100 * acos(0.8) - 8 * sqrt(36)
    assert gone(part) == pytest.approx(area * 1.5, rel=1e-6)
    assert inch(10) == dict(part.workings[0].values)["radius"]


def test_a_bow_keeps_the_middle() -> None:
    """A rise below nothing: the two ends go, as much as the segment leaves of its box."""
    from math import acos, sqrt

    area = 12 * 2 - (100 * acos(0.8) - 8 * sqrt(36))
    assert gone(worked("arc: front, rise: -2, from: 4 from left, to: 4 from right")) == pytest.approx(area * 1.5, rel=1e-6)


def test_a_stopped_groove_ends_round() -> None:
    """The cutter leaves a half circle: 10 long, 1 wide, less the two corners of one end."""
    part = worked("groove: top, at: 1 from front, width: 1, depth: 1/2, stopped: 10 from left")
    assert isinstance(part.features[0].shape, Prism)
    assert gone(part) == pytest.approx((10 - (1 - pi / 4) / 2) * 0.5, rel=1e-6)


def test_a_countersink_is_a_cone() -> None:
    """Frustum from 1/2 to 1/4 over 1/8, and the hole below: π h (R² + Rr + r²) / 3."""
    frustum = pi * 0.125 * (0.0625 + 0.03125 + 0.015625) / 3
    part = worked("hole: top, at: centre, diameter: 1/4, countersink: {diameter: 1/2, depth: 1/8}")
    assert gone(part) == pytest.approx(frustum + pi * 0.015625 * 1.375, rel=1e-5)


def test_a_hole_for_a_pin_takes_its_size_from_the_library() -> None:
    """Shelf pin: 1/4 across, 3/8 deep; in the metric edition 5 and 10."""
    shape = worked("hole: top, at: centre, for: pin").features[0].shape
    assert isinstance(shape, Bore)
    assert (inch("1/4"), (ZERO, inch("3/8"))) == (shape.diameter, shape.span)


def test_a_row_counts_from_the_end_it_is_written_from() -> None:
    """First 2 from the right, every 3: 18, 15, 12."""
    part = worked("holes: top, first: 2 from right and 1 from front, going: across, every: 3, count: 3, diameter: 1/4")
    assert [inch(18), inch(15), inch(12)] == [feature.shape.at[0] for feature in part.features if isinstance(feature.shape, Bore)]


def test_an_angle_s_length_is_exact_to_a_thousandth() -> None:
    """An underside bevelled 20 degrees over 1 in rises tan 20° = 0.36397, made exact at 373/1024."""
    part = worked("bevel: [bottom left, bottom right], angle: 20 deg, width: 1")
    assert abs(373 / 1024 - tan(pi / 9)) < 1 / 2048
    assert gone(part) == pytest.approx(2 * 0.5 * 373 / 1024 * 6, rel=1e-9)


def test_mirrored_copies_have_mirrored_workings() -> None:
    """What is bored 2 from the left of the left leg is bored 2 from the right of the right one."""
    model = made("""
sizes: {width: 20}
middle: {across: width / 2}
materials: {wood: white oak 8/4}
parts:
  leg: {stock: wood, across: 0 for 4, deep: from 0, up: 0 to 10, copies: mirror across, workings: [{hole: front, at: 1 from left and 2 from bottom, diameter: 1/2, depth: 1/4}]}
  beam: {stock: wood, across: between left leg and right leg, deep: from 0, up: 0 for 3}
joints:
  - {butt: beam, to: leg}
""")
    left, right = (model.part(f"{hand} leg").features[0].shape for hand in ("left", "right"))
    assert isinstance(left, Bore) and isinstance(right, Bore)
    assert (inch(1), inch(3)) == (left.at[0], right.at[0])
    assert (("left", 1), ("right", 1)) == model.kinds[0].hands, "a hole right through would let one leg be turned into the other"


def test_a_tenon_is_not_cut_with_the_end_it_grows_from() -> None:
    """Ends that are cut slanting are cut first, tenons grow afterwards: features stand in the order of making."""
    from tests.made import project

    rail = project("trestle-bench").part("left rail")
    order = [feature.called for feature in rail.features if feature.called in ("bevelled end", "tenon")]
    assert ["bevelled end", "bevelled end", "tenon", "tenon"] == order


def test_level_ends_are_lengthened_and_cut() -> None:
    """The leg reaches the floor and the bearer with both corners of both ends: its solid is exactly as high as written."""
    from tests.made import project

    leg = project("trestle-bench").part("front left leg")
    plain = build((leg,), quality="fine").parts[0]
    assert plain.low[2] == pytest.approx(0.0, abs=1e-6)
    assert ["level end"] * 4 == [feature.called for feature in leg.features][:4]


@pytest.mark.parametrize("working", [
    "hole: top, at: centre, diameter: nothing",
    "groove: top, at: 5 7/8 from front, width: 1/4, depth: 1/4",
    "cut-out: top, at: centre, size: 30 x 2",
    "chamfer: top front, width: 2",
    "dado: top, at: 4 from left, width: 1/4, depth: 1/4, stopped: 3 from left",
])
def test_a_working_that_can_t_be_is_an_error_and_nothing_is_cut(working: str) -> None:
    """Never a broken solid: the working is left out, and said."""
    model, report = attempt(BOARD.format(working=working))
    assert report.errors
    assert model is None or () == model.part("board").features


WORDS = ("0", "-1", "1/4", "100", "centre", "yes", "left", "[]", "[a, b]", "{a: b}", "1 from left", "4 from top and 1 from left", "45 deg", "120 deg", "1/1000", "6 x 2")


@settings(max_examples=60)
@given(st.sampled_from(KINDS), st.sampled_from(("top", "left", "top front", "[top, left]", "all round top")),
       st.dictionaries(st.sampled_from(("at", "first", "width", "depth", "diameter", "angle", "from", "to", "rise", "size", "radius", "stopped", "going", "every", "count", "long at", "points")),
                       st.sampled_from(WORDS), max_size=4))
def test_whatever_is_written_is_answered(kind: str, where: str, keys: dict[str, str]) -> None:
    """No text makes a traceback or a broken solid: a working is cut, or it is an error and is not."""
    text = ", ".join([f"{kind}: {where}", *(f"{key}: {word}" for key, word in keys.items())])
    model, report = attempt(BOARD.format(working=text))
    assert model is not None or report.errors
    if model is not None and report.ok:
        assert () == build((model.part("board"),), quality="coarse").problems
