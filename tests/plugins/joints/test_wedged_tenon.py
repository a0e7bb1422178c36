"""The trestle bench's own joint, through the public surface alone: wood is bent, none is lost."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.api import ZERO, Block, Contact, Joint, Length, Work, inch
from compiler.testing import contact, joint, made_joint
from tests.made import ROOT, own_plugins

WEDGED: type[Joint] = own_plugins(ROOT / "projects" / "trestle-bench")[0].WedgedTenon
POST: Contact = contact(length=inch(3), width=inch("7/4"), thickness=inch("7/4"), receiver=inch("7/4"))


def volume(block: Block) -> Fraction:
    """Cubic inches of a block that widens evenly on one axis: the mean of its two ends."""
    sides = [(block.long(axis).inches + block.long(axis, "far").inches) / 2 for axis in ("along", "across", "into")]
    return sides[0] * sides[1] * sides[2]


def wood(work: Work, sawn: bool) -> Fraction:
    """Cubic inches of the tenon less its kerfs: as sawn on the bench, or as it is in the piece."""
    total = Fraction(0)
    for change in work.on_acting:
        shape = change.sawn if sawn and change.sawn is not None else change.shape
        assert isinstance(shape, Block)
        total += volume(shape) if change.called == "tenon" else -volume(shape)
    return total


@pytest.mark.parametrize("wedges", ["1", "2"])
@pytest.mark.parametrize("grain", ["along", "across"])
def test_driving_wedges_neither_makes_nor_loses_wood(wedges: str, grain: str) -> None:
    """What the tenon spreads is what its kerfs open, exactly."""
    at = contact(length=inch(3), width=inch("7/4"), thickness=inch("7/4"), receiver=inch("7/4"), receiver_grain=grain)  # type: ignore[arg-type]
    work = joint(WEDGED, at, wedges=wedges, thickness="5/8", width="3/2")
    assert wood(work, sawn=True) == wood(work, sawn=False)


@pytest.mark.parametrize(("grain", "axis"), [("along", "along"), ("across", "across")])
def test_it_spreads_with_the_grain(grain: str, axis: str) -> None:
    """Across the grain the wedges would split the receiver."""
    at = contact(length=inch(3), width=inch("7/4"), receiver=inch("7/4"), receiver_grain=grain)  # type: ignore[arg-type]
    mouth = joint(WEDGED, at, thickness="5/8", width="3/2", flare="1/8").on_receiver[1].shape
    assert isinstance(mouth, Block)
    assert inch("1/4") == mouth.long(axis, "far") - mouth.long(axis)  # type: ignore[arg-type]


def test_it_stands_proud() -> None:
    """1 3/4 through and 1/8 more, to be planed off."""
    work = joint(WEDGED, POST, proud="1/8")
    ends = [change.shape.into[1] for change in work.on_acting if isinstance(change.shape, Block)]
    assert inch("15/8") == max(ends)


def test_each_kerf_has_its_wedge() -> None:
    """As thick at the root as the saw is, and that is where it begins."""
    work = joint(WEDGED, POST, wedges="2", kerf="1/16")
    assert 2 == len(work.pieces)
    assert {inch("1/16")} == {piece.shape.long("along") for piece in work.pieces}
    assert all(piece.shape.into[0] > ZERO for piece in work.pieces)


def test_end_grain_is_refused() -> None:
    """A receiver whose grain runs with the tenon would split."""
    at = contact(receiver=inch("7/4"), receiver_grain="into")
    says = [finding.says for finding in made_joint(WEDGED, at).check(at)]  # type: ignore[union-attr]
    assert 1 == len(says) and "split" in says[0]


def test_its_lengths_are_lengths() -> None:
    """Not a float among them."""
    for piece in joint(WEDGED, POST).pieces:
        assert all(isinstance(place, Length) for place in (*piece.shape.along, *piece.shape.across, *piece.shape.into))
