"""The bundled joints, one contact each, without a plan: what they make of sizes, and what they refuse.

The contact is 6 long and 3/4 wide unless said; the receiver is 3/4 deep and runs 3 past it on all sides.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.api import ZERO, Block, Bore, Contact, Cut, Grow, Joint, Length, Work, inch
from compiler.testing import contact, joint, made_joint, plan
from plugins.joints import plugin
from plugins.joints.butt import Butt, Buttons, Dowels, PocketScrews
from plugins.joints.dovetail import Dovetail, HalfBlindDovetail, LapDovetail
from plugins.joints.fingers import BoxJoint, nearest_odd
from plugins.joints.housing import Dado, Groove, Rabbet, Tongue
from plugins.joints.lap import Bridle, HalfLap
from plugins.joints.mitre import Mitre
from plugins.joints.resting import Hang, Rest
from plugins.joints.tenon import LooseTongue, Tenon


def grown(work: Work) -> tuple[Block, ...]:
    """The blocks that grow."""
    return tuple(change.shape for change in work.on_acting if isinstance(change, Grow) and isinstance(change.shape, Block))


def cut(work: Work) -> tuple[Block, ...]:
    """The blocks cut from the receiver."""
    return tuple(change.shape for change in work.on_receiver if isinstance(change.shape, Block))


def corner(*, length: str = "4", thick: str = "1/2", blind: str = "0") -> Contact:
    """A carcase corner: the overlap is `length` × `thick` × `thick`; with `blind` the receiver goes on past it."""
    at = contact(length=inch(length), width=inch(thick), depth=inch(thick), receiver=inch(thick) + inch(blind), beyond=ZERO)
    return at


def test_every_kind_is_brought_once() -> None:
    """Nineteen words, each its own class and its own family."""
    kinds = plugin().joint_kinds  # type: ignore[attr-defined]
    assert 19 == len(kinds) == len({kind.kind for kind in kinds})
    assert {"into", "to", "with", "on"} == {kind.how for kind in kinds}


def test_a_dado_grows_what_it_cuts() -> None:
    """1/4 deep: the tongue is the contact, the trench runs right through the receiver."""
    work = joint(Dado, depth="1/4")
    assert ((ZERO, inch(6)), (ZERO, inch("3/4")), (ZERO, inch("1/4"))) == (grown(work)[0].along, grown(work)[0].across, grown(work)[0].into)
    assert ((-inch(3), inch(9)), inch("1/4")) == (cut(work)[0].along, cut(work)[0].long("into"))


def test_a_dado_is_a_third_deep_unless_said() -> None:
    """3/4 ÷ 3 = 1/4; 18 mm ÷ 3 = 6 mm in the metric edition."""
    assert inch("1/4") == cut(joint(Dado))[0].long("into")


def test_room_stays_below_the_tongue() -> None:
    """Depth 3/8, room 1/16: 5/16 goes in; a panel with room is not glued."""
    work = joint(Groove, depth="3/8", room="1/16")
    assert (inch("5/16"), inch("3/8"), False) == (grown(work)[0].long("into"), cut(work)[0].long("into"), work.glue)


def test_a_rabbet_is_as_long_as_its_contact() -> None:
    """It takes the end of the part, no more."""
    assert (ZERO, inch(6)) == cut(joint(Rabbet, contact(edge=True), depth="1/4"))[0].along


def test_a_tongue_is_a_third_as_thick() -> None:
    """3/4 → 1/4, in the middle; the groove has the same thickness and 1/32 of room."""
    work = joint(Tongue, depth="1/4")
    assert ((inch("1/4"), inch("1/2")), inch("7/32")) == (grown(work)[0].across, grown(work)[0].long("into"))
    assert (inch("1/4"), inch("1/2")) == cut(work)[0].across


@pytest.mark.parametrize(("kind", "edge", "word"), [(Dado, True, "rabbet"), (Groove, True, "rabbet"), (Rabbet, False, "dado")])
def test_the_trade_s_words_are_kept_apart(kind: type[Joint], edge: bool, word: str) -> None:
    """At an edge it is a rabbet, elsewhere a dado or a groove."""
    at = contact(edge=edge)
    finding = next(iter(made_joint(kind, at, depth="1/4").check(at)))
    assert word in finding.says  # type: ignore[union-attr]


EDGES = """
materials: {pine: white pine 4/4, thin: birch plywood 1/4}
middle: {across: 12}
parts:
  side: {stock: pine, across: from 0, deep: 0 to 11, up: 0 to 30, grain: up, copies: mirror across, glue-up: 2 strips}
  BOARD
joints:
  - {JOINT, depth: 1/4}
"""
BOTTOM = "bottom: {stock: pine, across: between left side and right side, deep: 0 to 11, up: from PLACE, glue-up: 2 strips}"
BACK = "back: {stock: thin, across: between left side and right side, deep: PLACE, up: 0 to 30}"


@pytest.mark.parametrize(("board", "place", "word", "says"), [
    # Mistake 50: the very edge that it lies at, on a side and on its mirror image alike.
    (BACK, "to 11", "dado: back", "`back` meets `left side` at its back edge: that is a rabbet."),
    (BACK, "from 0", "groove: back", "`back` meets `left side` at its front edge: that is a rabbet."),
    (BOTTOM, "0", "dado: bottom", "`bottom` meets `left side` at its bottom edge: that is a rabbet."),
    # Mistake 51: how far, from the nearer edge: 4 9/32 up; 30 - 27 1/8 - 3/4; 11 - 10 1/2 - 7/32.
    (BOTTOM, "4 9/32", "rabbet: bottom", "`bottom` meets `left side` 4 9/32 above its foot: that is a dado or a groove."),
    (BOTTOM, "27 1/8", "rabbet: bottom", "`bottom` meets `left side` 2 1/8 below its top: that is a dado or a groove."),
    (BACK, "from 10 1/2", "rabbet: back", "`back` meets `left side` 9/32 before its back edge: that is a dado or a groove."),
    (BACK, "from 1/2", "rabbet: back", "`back` meets `left side` 1/2 behind its front edge: that is a dado or a groove."),
])
def test_the_edge_and_the_distance_are_named(board: str, place: str, word: str, says: str) -> None:
    """As a maker sees them on the part."""
    made = plan(EDGES.replace("BOARD", board.replace("PLACE", place)).replace("JOINT", f"{word}, into: side"))
    assert says == made.errors[0]


def test_a_tenon_goes_right_through_unless_it_has_a_length() -> None:
    """Receiver 1 1/2 deep: 1 1/2; with `length: 1` one, and the mortise `room` deeper."""
    assert inch("1 1/2") == grown(joint(Tenon, contact(receiver=inch("1 1/2"))))[0].long("into")
    work = joint(Tenon, contact(receiver=inch("1 1/2")), length="1", room="1/16")
    assert (inch(1), inch("17/16")) == (grown(work)[0].long("into"), cut(work)[0].long("into"))


def test_a_tenon_has_shoulders() -> None:
    """6 wide, shoulders of 1/2: 5 left, in the middle."""
    assert (inch("1/2"), inch("11/2")) == grown(joint(Tenon, length="1/2", shoulders="1/2"))[0].along


def test_a_haunch_fills_the_groove_at_the_end_of_a_stile() -> None:
    """The contact ends with the stile: the tenon is a third narrower there, and a step as long as the groove is deep stays."""
    flush = contact(receiver=inch(2), beyond=ZERO)
    work = joint(Tenon, flush, length="1 1/4", haunch="3/8")
    tenon, *haunches = grown(work)
    assert (inch(2), inch(4)) == tenon.along
    assert [inch("3/8"), inch("3/8")] == [haunch.long("into") for haunch in haunches]


def test_a_mitred_tenon_is_long_on_the_outside() -> None:
    """The tip is cut at 45 degrees: it gets narrower by its own thickness over its last 1/4."""
    work = joint(Tenon, contact(receiver=inch("1 1/2")), length="1", thickness="1/4", mitred="yes")
    foot, tip = grown(work)
    assert (inch("3/4"), inch("1/4")) == (foot.long("into"), tip.long("into"))
    assert (inch("1/4"), ZERO) == (tip.long("across"), tip.long("across", "far"))


def test_a_loose_tongue_lies_half_in_each() -> None:
    """Two equal slots, one loose piece, no part gets longer."""
    work = joint(LooseTongue, contact(receiver=inch("1 1/2")), depth="1/2", shoulders="1")
    assert () == grown(work)
    assert (-inch("1/2"), inch("1/2")) == work.pieces[0].shape.into


def test_halves_of_a_lap_make_the_whole() -> None:
    """What one gives the other keeps."""
    at = contact(length=inch(3), width=inch(2), depth=inch("3/4"))
    work = joint(HalfLap, at)
    given_up, kept = work.on_acting[0].shape, work.on_receiver[0].shape
    assert isinstance(given_up, Block) and isinstance(kept, Block)
    assert ((inch("3/8"), inch("3/4")), (ZERO, inch("3/8"))) == (given_up.into, kept.into)


def test_a_bridle_is_thirds() -> None:
    """3/4: two cheeks of 1/4 go, the slot is 1/4."""
    work = joint(Bridle, contact(length=inch(3), width=inch(2), depth=inch("3/4")))
    assert [inch("1/4")] * 3 == [change.shape.long("into") for change in (*work.on_acting, *work.on_receiver) if isinstance(change.shape, Block)]


def test_a_mitre_divides_along_the_diagonal() -> None:
    """Each part loses a wedge that begins in an edge and ends over the whole side."""
    at = contact(length=inch(3), width=inch(2), depth=inch("3/4"), beyond=ZERO)
    work = joint(Mitre, at)
    for change in (*work.on_acting, *work.on_receiver):
        assert isinstance(change.shape, Block) and change.shape.toward is not None
        sizes = {change.shape.long("across"), change.shape.long("across", "far"), change.shape.long("along"), change.shape.long("along", "far")}
        assert ZERO in sizes


@given(st.integers(1, 12), st.sampled_from(("1 in 6", "1 in 7", "1 in 8")))
def test_tails_and_pins_fill_the_corner(tails: int, slope: str) -> None:
    """At both ends of the depth sockets and tails add up to the whole length, however many there are."""
    at = corner(length="12")
    work = joint(Dovetail, at, tails=str(tails), slope=slope)
    sockets = [change.shape for change in work.on_acting if isinstance(change.shape, Block)]
    tail_sockets = [change.shape for change in work.on_receiver if isinstance(change.shape, Block)]
    assert (tails + 1, tails) == (len(sockets), len(tail_sockets))
    for end in ("near", "far"):
        assert inch(12) == sum((block.long("along", end) for block in (*sockets, *tail_sockets)), ZERO)  # type: ignore[arg-type]


def test_tails_widen_by_their_slope() -> None:
    """1 in 8 over 1/2: each side of a tail leans 1/16."""
    tail = cut(joint(Dovetail, corner(), tails="2", slope="1 in 8"))[0]
    assert inch("1/8") == tail.long("along", "far") - tail.long("along")


def test_through_and_half_blind_are_told_apart() -> None:
    """A receiver that goes on past the tails is half-blind; one that does not is not."""
    blind, open_ = corner(blind="1/4"), corner()
    assert [1, 0] == [len(tuple(made_joint(Dovetail, at).check(at))) for at in (blind, open_)]
    assert [0, 1] == [len(tuple(made_joint(HalfBlindDovetail, at).check(at))) for at in (blind, open_)]


def test_a_lap_dovetail_is_wider_at_its_end() -> None:
    """1/2 long at 1 in 8: 1/16 wider at each side."""
    tail = grown(joint(LapDovetail, contact(edge=True), length="1/2"))[0]
    assert inch("1/8") == tail.long("along", "far") - tail.long("along")


@given(st.integers(1, 40), st.sampled_from(("1/4", "3/8", "1/2", "3/4")))
def test_fingers_are_odd_in_number_and_equal(length: int, finger: str) -> None:
    """Both ends belong to the acting part; the widths add up to the corner."""
    at = corner(length=str(length))
    if inch(finger) > at.length / 3:
        return
    work = joint(BoxJoint, at, finger=finger)
    fingers = [change.shape for change in (*work.on_acting, *work.on_receiver) if isinstance(change.shape, Block)]
    assert len(fingers) % 2 == 1
    assert at.length == sum((block.long("along") for block in fingers), ZERO)
    assert 1 == len({block.long("along") for block in fingers})


@pytest.mark.parametrize(("ratio", "odd"), [("2", 3), ("8", 9), ("9", 9), ("10", 11), ("8/3", 3), ("79/10", 7)])
def test_the_nearest_odd_number(ratio: str, odd: int) -> None:
    """At least 3, the larger of two equally near."""
    assert odd == nearest_odd(Fraction(ratio))


def test_dowels_stand_in_a_row_half_in_each() -> None:
    """6 in, one every 3: two, 1 1/2 from the ends; 1 1/2 long, so 3/4 deep and 1/32 more."""
    work = joint(Dowels, contact(receiver=inch(2)))
    bores = [change.shape for change in work.on_receiver if isinstance(change.shape, Bore)]
    assert [(inch("3/2"), inch("3/8")), (inch("9/2"), inch("3/8"))] == [bore.at for bore in bores]
    assert {(ZERO, inch("25/32"))} == {bore.span for bore in bores}


def test_dowels_that_come_through_are_an_error() -> None:
    """25/32 of hole in 3/4 of wood."""
    at = contact()
    says = [finding.says for finding in made_joint(Dowels, at).check(at)]  # type: ignore[union-attr]
    assert any("come through" in sentence for sentence in says)


def test_screws_have_their_own_spacing() -> None:
    """No count, no every: no farther apart than 6 in, so two on 6 in and three on 18."""
    short = joint(Butt, screws="No. 8 x 1 1/4").fasteners[0]
    assert 2 == len(short.spread(inch(6), inch("3/4")))
    assert 3 == len(short.spread(inch(18), inch("3/4")))


def test_pocket_screws_need_no_item() -> None:
    """1 1/4 coarse is for 3/4 stock."""
    assert "pocket screw 1 1/4 coarse" == joint(PocketScrews).fasteners[0].item.key


def test_buttons_hold_without_glue() -> None:
    """The top must move."""
    assert not joint(Buttons, contact(receiver=inch(4))).glue


@pytest.mark.parametrize("kind", [Hang, Rest])
def test_what_rests_is_left_as_it_is(kind: type[Joint]) -> None:
    """No cut, no growth, no glue."""
    assert Work(glue=False) == joint(kind)


@given(st.fractions(min_value=Fraction(1, 8), max_value=Fraction(1, 2), max_denominator=64))
def test_what_goes_in_is_never_more_than_the_room(depth: Fraction) -> None:
    """Of every housing: the tongue lies within the trench."""
    text = str(depth)
    for kind in (Dado, Groove, Tongue):
        work = joint(kind, depth=text)
        tongue, room = grown(work)[0], cut(work)[0]
        for axis in ("along", "across", "into"):
            assert room.span(axis)[0] <= tongue.span(axis)[0] and tongue.span(axis)[1] <= room.span(axis)[1]  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", [Dado, Groove, Tongue, Tenon, LapDovetail, LooseTongue, Dowels, Butt])
def test_equal_contacts_equal_work(kind: type[Joint]) -> None:
    """No order of joints, no memory."""
    at = contact(receiver=inch(2))
    assert joint(kind, at) == joint(kind, at)


def test_lengths_are_exact() -> None:
    """A length is never a float."""
    for change in joint(Tenon, contact(receiver=inch(2)), thickness="5/16").on_acting:
        assert isinstance(change, (Grow, Cut)) and isinstance(change.shape, Block)
        assert all(isinstance(place, Length) for axis in ("along", "across", "into") for place in change.shape.span(axis))  # type: ignore[arg-type]
