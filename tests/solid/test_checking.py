"""Parts that run into each other, parts that touch, and what they weigh."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from math import pi

import pytest

from compiler.solid import build, collisions, contacts, gap, weights
from compiler.values.library import Wood
from tests.solid.bench import bench
from tests.solid.pieces import OAK, cut, grow, hole, part, peg, turned
from tests.solid.sideboard import sideboard


@pytest.mark.parametrize(("push", "found"), [("0.0015", False), ("0.0019", False), ("0.0021", True), ("0.0025", True), ("0.01", True)])
def test_a_push_is_reported_from_two_thousandths_on(push: str, found: bool) -> None:
    """Two boards pushed into each other by 0.0015 in are silent, by 0.0025 in reported with that depth."""
    into = F(push)
    solids = build([part("a", (0, 0, 0), (10, 6, 1)), part("b", (10 - into, 1, 0), (12, 5, 1))], quality="fine")
    reported = collisions(solids)
    assert bool(reported) is found
    if found:
        assert reported[0].depth == pytest.approx(float(into), abs=1e-6)
        assert reported[0].volume == pytest.approx(4 * float(into), rel=1e-6)
        assert (reported[0].first, reported[0].second) == ("a", "b")
        assert reported[0].at == pytest.approx((10 - float(into) / 2, 3, 0.5))


def test_a_tilted_push_has_its_depth() -> None:
    """The depth is told across the overlap, whatever way the parts stand."""
    pose = turned("y", 37, (0.0, 0.0, 0.0))
    parts = [part("a", (0, 0, 0), (10, 6, 1), pose=pose), part("b", (3, 1, F(249, 250)), (5, 5, 2), pose=pose)]
    assert collisions(build(parts, quality="fine"))[0].depth == pytest.approx(0.004, abs=1e-6)


def test_joints_cut_true_do_not_collide() -> None:
    """No part of the large pieces runs into another, splayed legs and round tenons included."""
    assert collisions(build(sideboard(), quality="fine")) == ()
    assert collisions(build(bench(), quality="fine")) == ()


def test_a_dowel_turned_in_its_hole_does_not_collide() -> None:
    """Chords of a dowel and of its hole may cross by less than the tolerance."""
    host = part("host", (-1, -1, -1), (1, 1, 1), hole("z", (0, 0), "3/4", -2, 2))
    core = F(1, 16)
    dowel = part("dowel", (-core, -core, -1), (core, core, 1), peg("z", (0, 0), "3/4", -1, 1), pose=turned("z", 11, (0.0, 0.0, 0.0)))
    assert collisions(build([host, dowel], quality="fine")) == ()


def test_stacked_cubes_touch_with_their_faces() -> None:
    """64 unit cubes in a 4 x 4 x 4 stack have 3 x 3 x 16 = 144 contacts of 1 sq in, and none elsewhere."""
    cubes = [part(f"{x}{y}{z}", (x, y, z), (x + 1, y + 1, z + 1)) for x in range(4) for y in range(4) for z in range(4)]
    found = contacts(build(cubes, quality="coarse"))
    assert len(found) == 144
    assert {contact.area for contact in found} == {1.0}


def test_the_cheeks_of_a_tenon_cancel() -> None:
    """What is left of a joint's contacts is its axis: the shoulder's and the bottom's normals."""
    host = part("stile", (0, 0, 0), (2, 1, 6), cut("mortise", (1, "1/4", 2), (2, "3/4", 4)))
    rail = part("rail", (2, 0, "3/2"), (6, 1, "9/2"), grow("tenon", (1, "1/4", 2), (2, "3/4", 4)))
    contact, = contacts(build([host, rail], quality="coarse"))
    assert contact.pull == pytest.approx((3, 0, 0))
    # Shoulder 3 - 1, bottom 1, two cheeks of 2 and two ends of 1/2.
    assert contact.area == pytest.approx(2 + 1 + 4 + 1)
    assert len(contact.patches) == 6


def test_a_dowel_touches_its_hole_all_round() -> None:
    """A dowel of 1/2 in by 1 in in its hole touches with π d l of its side and the round of its end."""
    host = part("host", (0, 0, 0), (2, 2, 2), hole("z", (1, 1), "1/2", 0, 1))
    core = F(1, 16)
    dowel = part("dowel", (1 - core, 1 - core, 0), (1 + core, 1 + core, 1), peg("z", (1, 1), "1/2", 0, 1))
    contact, = contacts(build([host, dowel], quality="fine"))
    side, = (patch for patch in contact.patches if patch.round)
    end, = (patch for patch in contact.patches if not patch.round)
    assert side.area == pytest.approx(pi / 2, rel=5e-3)
    assert end.area == pytest.approx(pi / 16, abs=1e-6)


def test_contacts_of_tilted_parts_are_true() -> None:
    """Faces touch as truly when the whole is turned."""
    pose = turned("x", 12.5, (1.0, 2.0, 3.0))
    parts = [part("a", (0, 0, 0), (3, 1, 1), pose=pose), part("b", (1, 0, 1), (2, 2, 2), pose=pose)]
    contact, = contacts(build(parts, quality="coarse"))
    assert contact.area == pytest.approx(1)


def test_the_gap_between_parts() -> None:
    """The least distance between two boards, 0 where they touch."""
    solids = build([part("a", (0, 0, 0), (1, 1, 1)), part("b", ("33/32", 0, 0), (2, 1, 1)), part("c", (1, 0, 1), (2, 1, 2))], quality="fine")
    assert gap(solids, "a", "b") == pytest.approx(1 / 32)
    assert gap(solids, "a", "c") == 0


def test_a_cubic_foot_of_red_oak_weighs_44_pounds() -> None:
    """Red oak at 12 % moisture: specific gravity 0.63 x 62.4 x 1.12 = 44.0 lb/ft3 (Wood Handbook's specific gravity, density
    by definition); a board foot is a twelfth of it, 3.67 lb."""
    wood = Wood(name="red oak", density=F("0.63") * 1000 * F("1.12"))
    stock = replace(OAK, density=None, species=wood)
    cube = replace(part("cube", (0, 0, 0), (12, 12, 12)), stock=stock)
    board = replace(part("board", (20, 0, 0), (32, 12, 1)), stock=stock)
    weight, foot = weights(build([cube, board], quality="fine"))
    assert weight.volume == pytest.approx(1728)
    assert weight.pounds == pytest.approx(44.0, abs=0.3)
    assert foot.pounds == pytest.approx(3.67, abs=0.02)


def test_a_beam_of_known_volume() -> None:
    """A beam of 2 x 4 x 96 in less a through mortise of 1/2 x 1 1/2 x 4 has 768 - 3 cubic inches."""
    beam = part("beam", (0, 0, 0), (96, 2, 4), cut("mortise", (40, -1, 1), ("83/2", 3, "3/2")))
    assert build([beam], quality="fine").parts[0].volume == pytest.approx(768 - 1.5 * 2 * 0.5)


def test_unknown_density_has_no_weight() -> None:
    """A stock without density has a volume and no weight."""
    bare = replace(part("bare", (0, 0, 0), (1, 1, 1)), stock=replace(OAK, density=None))
    weight, = weights(build([bare], quality="fine"))
    assert (weight.volume, weight.kilograms, weight.pounds) == (pytest.approx(1), None, None)
