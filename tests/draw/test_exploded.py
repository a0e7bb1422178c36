"""Exploded views: parts leave along their joints, nothing stays shut, nothing overlaps."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from compiler.draw.apart import come_apart
from compiler.draw.bounds import clashes
from compiler.draw.clearances import clearances
from compiler.draw.exploded import draw, spread
from compiler.draw.views import camera
from compiler.solid.building import build
from compiler.values.library import Item
from compiler.values.model import HardwareUse, Model
from tests.draw.pieces import PLY, X, Y, Z, bookcase, box, joint, model_of, part

CORNER = camera("front right top")


@pytest.fixture(scope="module")
def case() -> Model:
    """The bookcase."""
    return bookcase()


def test_travel_past_a_square_part_is_exact() -> None:
    """A block from 2 to 3 above one from 0 to 1 has to go 4 to be past one that reaches to 6, never meets one aside."""
    parts = (part("a", "a", "A", PLY, box((0, 4), (0, 4), (2, 3))), part("b", "b", "B", PLY, box((1, 2), (1, 2), (5, 6))),
             part("c", "c", "C", PLY, box((10, 12), (0, 4), (0, 9))))
    table = clearances(build(parts, quality="coarse"))[2]
    assert table[0, 1] == pytest.approx(4) and table[1, 0] == pytest.approx(-2)
    assert table[0, 2] == -np.inf


def test_parts_leave_along_their_joints(case: Model) -> None:
    """Sides go sideways off the shelves' tongues, the back backward out of its rabbets, the top up."""
    apart = come_apart(case, build(case.parts, quality="coarse"))
    ways = {apart.units[record.units[0]][0]: record.way for record in apart.plan.records}
    assert ways["left side"] == (0, -1) and ways["right side"] == (0, 1)
    assert ways["left stile"] == (0, -1) and ways["right stile"] == (0, 1)
    assert ways["back"] == (1, 1) and ways["top"] == (2, 1)
    assert apart.stuck == ()


def test_no_two_parts_overlap_or_touch_once_they_are_apart(case: Model) -> None:
    """Solids moved to their places: every joint is open, no volume is shared."""
    solids = build(case.parts, quality="coarse")
    apart = come_apart(case, solids)
    moves, placing = spread(apart, solids, CORNER, 170, 200)
    moved = {solid.name: solid.manifold.translate(moves[solid.name]) for solid in solids.parts}
    for one, two in combinations(solids.names, 2):
        assert (moved[one] ^ moved[two]).volume() < 1e-9
    for contact in apart.touching:
        assert moved[contact.first].min_gap(moved[contact.second], 50.0) * placing.scale > 2.0


def test_the_drawing_is_clean_and_names_every_letter(case: Model) -> None:
    """Every letter of the cut list stands in a balloon; nothing overlaps."""
    drawing, missing = draw(case, build(case.parts, quality="coarse"), CORNER, width=170, height=200)
    assert missing == ()
    assert sorted(drawing.letters) == [kind.letter for kind in case.kinds]
    assert clashes(drawing) == ()


def test_a_loose_shelf_leaves_by_the_front_behind_its_edging() -> None:
    """A shelf on pins that wears a glued edging: both come out in front of the sides, the edging farther."""
    shelf = part("shelf", "shelf", "B", PLY, box((1, 29), (1, 10), (10, "43/4")), grain="across")
    edging = part("edging", "edging", "C", PLY, box((1, 29), ("1/4", 1), ("39/4", "43/4")), grain="across")
    sides = tuple(part(name, "side", "A", PLY, box(at, (0, 10), (0, 30)), grain="up") for name, at in (("left side", (0, "3/4")), ("right side", ("117/4", 30))))
    pin = HardwareUse(item=Item(key="shelf pin", name="shelf pin", kind="pin"), count=4, on=("shelf", "left side"))
    case = replace(model_of("Case", (*sides, shelf, edging), (joint(1, "butt", "to", "edging", "shelf", (1, 1, 10), X, Z, Y, "28", "3/4"),)), hardware=(pin,))
    solids = build(case.parts, quality="coarse")
    moves, _ = spread(come_apart(case, solids), solids, CORNER, 170, 200)
    assert moves["edging"][1] < moves["shelf"][1] < -1 and moves["shelf"][0] == moves["edging"][0] == 0


def test_an_author_moves_a_part_his_own_way() -> None:
    """`explode: {top: up 6}`: six inches up."""
    plain = bookcase()
    case = model_of("Bookcase", plain.parts, plain.joints, explode=(("top", "up 6"),))
    solids = build(case.parts, quality="coarse")
    moves, _ = spread(come_apart(case, solids), solids, CORNER, 170, 200)
    assert moves["top"][2] - moves["left side"][2] == pytest.approx(6)
