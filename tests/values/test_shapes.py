"""Blocks as joints use them: sizes, flares, and what they refuse when they are built."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.base.measures import ZERO, Length, inch, mm
from compiler.values.joinery import Contact, Member
from compiler.values.library import Stock
from compiler.values.shapes import AXIS_NAMES, Block, Stopped, WrongShape

STOCK = Stock(key="pine", name="pine", called="pine", kind="board", thickness=inch("3/4"))
BLOCK = Block((ZERO, inch(6)), (ZERO, inch(2)), (ZERO, inch(1)))
sizes = st.fractions(min_value=0, max_value=50, max_denominator=64).map(Length)


def contact(receiver_along: tuple[Length, Length] = (-inch(3), inch(9)), receiver_across: tuple[Length, Length] = (-inch(1), inch(3))) -> Contact:
    post = Member(name="post", stock=STOCK, grain="along", thickness=inch(3), depth=inch(3), along=receiver_along, across=receiver_across)
    rail = Member(name="rail", stock=STOCK, grain="into", thickness=inch(2), depth=inch(30), along=(ZERO, inch(6)), across=(ZERO, inch(2)))
    return Contact(acting=rail, receiver=post, length=inch(6), width=inch(2))


def test_a_contact_gives_its_own_block_and_the_trench_through_the_receiver() -> None:
    """The tongue is as long as the contact, the groove as long as the receiver."""
    assert Block((ZERO, inch(6)), (ZERO, inch(2)), (-inch("1/2"), inch(1))) == contact().block(into=inch(1), back=inch("1/2"))
    assert (-inch(3), inch(9)) == contact().through(into=inch(1)).along


@pytest.mark.parametrize(("across", "at_edge"), [((-1, 3), False), ((0, 3), True), ((-1, 2), True)])
def test_a_contact_at_an_edge_of_the_receiver_is_known(across: tuple[int, int], at_edge: bool) -> None:
    """There a dado is a rabbet."""
    assert at_edge == contact(receiver_across=(inch(across[0]), inch(across[1]))).at_edge


def test_wider_grows_by_half_at_each_end() -> None:
    """And shrinks with a negative size: a shoulder of 1/2 at each end takes an inch."""
    assert (inch("1/2"), inch("5 1/2")) == BLOCK.wider("along", inch(-1)).along
    assert (-inch("1/8"), inch("2 1/8")) == BLOCK.wider("across", inch("1/4")).across


def test_a_stopped_block_ends_short() -> None:
    """Half an inch from the low end."""
    assert (inch("1/2"), inch(6)) == BLOCK.clear_of(Stopped(low=inch("1/2"))).along


def test_a_flared_block_is_longer_at_its_far_end_only() -> None:
    """An eighth at each end of the far face."""
    flared = BLOCK.flared("into", along=(inch("1/8"), inch("1/8")))
    assert (inch(6), inch("6 1/4"), inch(2)) == (flared.long("along"), flared.long("along", "far"), flared.long("across", "far"))
    assert inch("6 1/4") == flared.measure("along", "mortise", end="far").value


@pytest.mark.parametrize(("start", "end", "message"), [
    (0, -1, "a block of negative size into, from 0 in to -1 in"),
    (2, 1, "a block of negative size into, from 2 in to 1 in"),
])
def test_a_negative_size_is_refused_when_it_is_built(start: int, end: int, message: str) -> None:
    """With both ends, so that the sum behind it can be found."""
    with pytest.raises(WrongShape) as caught:
        BLOCK.at("into", inch(start), inch(end))
    assert message == str(caught.value).replace("−", "-")


def test_an_edge_is_no_negative_size() -> None:
    """A wedge begins with nothing."""
    wedge = BLOCK.at("across", ZERO, ZERO).flared("into", across=(ZERO, inch(1)))
    assert (ZERO, inch(1)) == (wedge.long("across"), wedge.long("across", "far"))


def test_a_number_is_no_length() -> None:
    """Whole or not."""
    with pytest.raises(TypeError, match="1 is no Length"):
        BLOCK.at("into", ZERO, 1)  # type: ignore[arg-type]


def test_a_block_cannot_flare_along_its_own_flare() -> None:
    """It would have to be longer than itself."""
    with pytest.raises(ValueError, match="flares toward into"):
        BLOCK.flared("into", into=(ZERO, inch(1)))


@given(start=sizes, size=sizes, by=sizes, axis=st.sampled_from(AXIS_NAMES))
def test_moving_and_widening_keep_what_they_should(start: Length, size: Length, by: Length, axis: str) -> None:
    """Moved, its size stays; widened, its middle stays."""
    block = BLOCK.at(axis, start, start + size)  # type: ignore[arg-type]
    moved, wider = block.moved(axis, by), block.wider(axis, by)  # type: ignore[arg-type]
    assert size == moved.long(axis)  # type: ignore[arg-type]
    assert size + by == wider.long(axis)  # type: ignore[arg-type]
    assert block.span(axis)[0] + block.span(axis)[1] == wider.span(axis)[0] + wider.span(axis)[1]  # type: ignore[arg-type]


def test_true_millimetres_are_exact() -> None:
    """An inch is 25.4 mm (agreement of 1959): 5 x 25.4 = 127."""
    assert inch(5) == Block((ZERO, mm(127)), (ZERO, mm(1)), (ZERO, mm(1))).long("along")
