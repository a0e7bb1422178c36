"""The loose key between two boards."""

from fractions import Fraction

from compiler.api import Block, inch
from compiler.testing import contact, faults, joint, made_joint, own_plugin, plan

mine = own_plugin(__file__)

CASE = """
materials: {ash: ash 4/4}
parts:
  side: {stock: ash, across: from 0, deep: 0 to 8, up: 0 to 20, grain: up}
  shelf: {stock: ash, across: side.right to 24, deep: 0 to 8, up: from 6, grain: across}
joints:
  - {loose key: shelf, into: side, tenons: 2, width: 2, key: 1/2, waist: 1/2, taper: 8, stands: 5/8, reach: 1 1/4, draw: 1/16}
"""


def test_the_shelf_is_longer_by_side_and_reach() -> None:
    """3/4 through the side and 1 1/4 beyond it: 23 1/4 + 2."""
    assert "1 shelf 25 1/4 x 8 x 3/4 ash 4/4" == plan(CASE, mine).cut("shelf")


def test_wood_in_shelf_and_side() -> None:
    """By hand, cubic inches. Two mortises of 2 x 3/4 x 3/4 leave the side. Each slot is 1/2 wide and 3/4 high; it runs from 1/16
    inside the side to the key's slant, 1/2 + (5/8 ÷ 8) outside below and 3/4 ÷ 8 more above: 0.6406 and 0.7344 long.
    """
    made = plan(CASE, mine)
    below = 1 / 16 + 1 / 2 + 5 / 64
    slot = 1 / 2 * 3 / 4 * (below + below + 3 / 32) / 2
    tenon = 2 * 3 / 4 * (3 / 4 + 5 / 4)
    assert abs(made.volume("side") - (8 * 20 * 3 / 4 - 2 * 2 * 3 / 4 * 3 / 4)) < 1e-4
    assert abs(made.volume("shelf") - (23.25 * 8 * 3 / 4 + 2 * tenon - 2 * slot)) < 1e-4


def test_the_key_lies_in_its_slot() -> None:
    """Its slanting face is the slot's: at the lower and the upper face of the shelf both are equally wide outside the side."""
    at = contact(length=inch(8), grain="into")
    work = joint(mine.LooseKey, at, tenons="2", width="2")
    slot, key = next(change.shape for change in work.on_acting if change.called == "key slot"), work.pieces[0].shape
    assert isinstance(slot, Block)
    start, end = (side.inches for side in key.across)
    rise = (key.long("into", "far") - key.long("into")).inches / (end - start)
    for up, wide in ((0, slot.into[1]), (Fraction(3, 4), slot.into[1] + slot.flare[1].high)):
        assert key.into[1].inches + (up - start) * rise == wide.inches
    assert key.along == slot.along and key.into[0] == at.receiver.depth and slot.into[0] < key.into[0]


def test_short_grain_is_refused() -> None:
    """A tenon whose grain runs across it breaks off."""
    at = contact(length=inch(8), grain="along")
    says = [finding.says for finding in made_joint(mine.LooseKey, at).check(at)]
    assert 1 == len(says) and "break off" in says[0]


def test_a_tenon_that_ends_at_its_key_is_warned_of() -> None:
    """7/8 less 1/2 of key and 11/64 of slant leaves 13/64 of wood, less than half the key."""
    assert any("would split" in says for says in plan(CASE.replace("reach: 1 1/4", "reach: 7/8"), mine).messages)
    assert not any("would split" in says for says in plan(CASE, mine).messages)


def test_it_keeps_the_contract() -> None:
    """The same twice, exact, in both editions, nothing of this machine."""
    assert () == faults(CASE, mine)
