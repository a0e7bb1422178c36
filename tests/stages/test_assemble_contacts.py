"""Where parts meet: exact for square parts, within the stated tolerance for tilted ones; and by how much they miss."""

from fractions import Fraction
from math import cos, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.base.measures import ZERO, Length, inch
from compiler.base.report import Spot
from compiler.stages.assemble.contacts import meet, share
from compiler.stages.assemble.members import contact_of
from compiler.stages.assemble.misses import miss
from compiler.stages.assemble.placing import Standing, standing
from compiler.values.design import DesignPart
from compiler.values.model import Box, Span
from tests.made import made, project
from tests.models import PINE


def board(name: str, across: tuple[str, str], deep: tuple[str, str], up: tuple[str, str]) -> Standing:
    """A square part; its smallest extent is its thickness, its longest the grain."""
    box = Box(*(Span(inch(start), inch(end)) for start, end in (across, deep, up)))
    order = sorted(("across", "deep", "up"), key=lambda axis: box.span(axis).size)  # type: ignore[arg-type]
    part = DesignPart(name=name, base=name, kind=name, assembly=(), stock=PINE, box=box, grain=order[2], thickness_axis=order[0],  # type: ignore[arg-type]
                      at=Spot("design.yaml", ("parts", name)))
    return standing(part, "inch")


def test_faces_that_touch_meet_over_what_they_share() -> None:
    """A shelf against a side: 10 × 3/4, along its depth."""
    shelf, side = board("shelf", ("3/4", "20"), ("1", "11"), ("8", "8 3/4")), board("side", ("0", "3/4"), ("0", "12"), ("0", "30"))
    meeting = meet(shelf, side, "inch")
    assert meeting is not None
    assert (inch(10), inch("3/4"), "left", "right") == (meeting.length, meeting.width, meeting.face, meeting.on)


def test_a_contact_says_where_both_parts_run() -> None:
    """The side runs 1 past the shelf at the front, 1 at the back, 8 below and 21 1/4 above; it is 3/4 deep there."""
    shelf, side = board("shelf", ("3/4", "20"), ("1", "11"), ("8", "8 3/4")), board("side", ("0", "3/4"), ("0", "12"), ("0", "30"))
    contact = contact_of(meet(shelf, side, "inch"))  # type: ignore[arg-type]
    assert ((-inch(1), inch(11)), (-inch(8), inch(22))) == (contact.receiver.along, contact.receiver.across)
    assert (inch("3/4"), inch("19 1/4"), "across", "into") == (contact.receiver.depth, contact.acting.depth, contact.receiver.grain, contact.acting.grain)


@pytest.mark.parametrize("other", [
    board("apart", ("21", "22"), ("0", "12"), ("0", "30")),
    board("edge only", ("0", "3/4"), ("11", "12"), ("0", "30")),
    board("inside", ("0", "1"), ("0", "12"), ("0", "30")),
])
def test_no_face_no_contact(other: Standing) -> None:
    """Apart, along an edge, or one in the other: they don't meet."""
    assert meet(board("shelf", ("3/4", "20"), ("1", "11"), ("8", "8 3/4")), other, "inch") is None


@given(*[st.integers(1, 40)] * 4)
def test_meeting_is_mutual(a: int, b: int, c: int, d: int) -> None:
    """Both parts see the same contact, each from its own side."""
    one = board("one", ("0", "3"), ("0", str(a)), ("0", str(b)))
    two = board("two", ("3", "5"), ("0", str(c)), ("0", str(d)))
    first, second = meet(one, two, "inch"), meet(two, one, "inch")
    assert first is not None and second is not None
    assert (first.length, first.width, first.face, first.on) == (second.length, second.width, second.on, second.face)


def test_how_far_apart() -> None:
    """1/32 short, on one axis, between two named faces."""
    gap = miss(board("divider", ("0", "1"), ("0", "3"), ("0", "20")), (board("top", ("0", "9"), ("0", "3"), ("20 1/32", "21")),))
    assert gap is not None
    assert (inch("1/32"), "up", "top", "bottom") == (gap.by, gap.axis, gap.acting_face, gap.receiver_face)


def test_a_frame_shares_its_thickness() -> None:
    """Into is the thickness of both, front to back."""
    rail, stile = board("rail", ("0", "20"), ("0", "3/4"), ("0", "3")), board("stile", ("0", "2"), ("0", "3/4"), ("0", "30"))
    meeting = share(rail, stile)
    assert meeting is not None
    assert (("up", "across", "deep"), inch(3), inch(2), inch("3/4")) == (meeting.axes, meeting.length, meeting.width, meeting.depth)


def test_a_corner_of_boards_is_entered_towards_the_end() -> None:
    """The left end of the front: into points left, from the inner face of the side to its outer face."""
    front, side = board("front", ("0", "20"), ("0", "1/2"), ("0", "4")), board("side", ("0", "1/2"), ("0", "12"), ("0", "4"))
    meeting = share(front, side)
    assert meeting is not None
    assert ((-1.0, 0.0, 0.0), inch("1/2"), inch(4)) == (meeting.frame.into, meeting.frame.origin[0], meeting.length)


def test_panels_that_cross_share_their_height() -> None:
    """Two dividers, each through the other: into is up."""
    one, two = board("one", ("0", "20"), ("5", "5 1/2"), ("0", "4")), board("two", ("9", "9 1/2"), ("0", "12"), ("0", "4"))
    meeting = share(one, two)
    assert meeting is not None
    assert ("up", inch(4)) == (meeting.axes[2], meeting.depth)


def test_a_splayed_leg_meets_its_bearer_in_its_own_line() -> None:
    """10 degrees; the contact is the leg's own 2 1/2 × 1 3/4, and the level shoulder falls 2 1/2 × tan 10° back."""
    joint = next(joint for joint in project("trestle-bench").joints if (joint.acting, joint.receiver) == ("front left leg", "left bearer"))
    assert (inch("2 1/2"), inch("1 3/4")) == (joint.length, joint.width)
    tenon = next(feature for feature in project("trestle-bench").part("front left leg").features if feature.called == "tenon")
    assert float(-tenon.shape.into[0]) == pytest.approx(2.5 * tan(radians(10)), abs=1 / 1024)  # type: ignore[union-attr]


@settings(max_examples=25)
@given(st.integers(1, 30), st.integers(6, 30), st.integers(1, 4))
def test_level_ends_by_the_sums_of_trigonometry(angle: int, height: int, wide: int) -> None:
    """Length = height ÷ cos + width × tan, for every splay, to 1/1024 in at each end."""
    model = made(f"""
sizes: {{height: {height}, splay: {angle} deg, wide: {wide}}}
materials: {{heavy: white oak 8/4}}
parts:
  leg: {{stock: heavy, across: from 0, deep: 20 for wide, up: 0 to height, plane: across, tilt: bottom by splay to front about top front edge, level: [top, bottom], grain: up}}
  bearer: {{stock: heavy, across: from 0, deep: 0 to 40, up: height for 2, grain: deep}}
joints:
  - {{butt: leg, to: bearer}}
""")
    wanted = height / cos(radians(angle)) + wide * tan(radians(angle))
    assert float(model.part("leg").length) == pytest.approx(wanted, abs=1 / 1024)


def test_a_length_from_trigonometry_is_exact_again() -> None:
    """Denominators of a rule: 1024ths of an inch, hundredths of a millimetre."""
    leg = project("trestle-bench").part("back right leg")
    assert 1024 % leg.length.inches.denominator == 0
    assert isinstance(leg.length, Length) and isinstance(leg.length.inches, Fraction)
    assert leg.length > ZERO
