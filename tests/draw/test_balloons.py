"""Balloons: leaders that never cross, rings that never overlap."""

import random
from itertools import combinations, permutations
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, box, union_all

from compiler.draw.assigning import assignment, cross
from compiler.draw.balloon_slots import RADIUS, spots_of
from compiler.draw.balloons import Target, draw, place
from compiler.draw.bounds import clashes
from compiler.draw.pen import Pen

rectangles = st.tuples(st.floats(25, 110), st.floats(25, 150), st.floats(2, 45), st.floats(2, 45))


@st.composite
def pictures(draw_: st.DrawFn) -> list[Target]:
    """Up to 14 rectangles, each hiding the earlier ones where they overlap."""
    sizes = draw_(st.lists(rectangles, min_size=1, max_size=14))
    shapes = [box(x, y, min(x + w, 145), min(y + h, 175)) for x, y, w, h in sizes]
    targets = []
    for index, shape in enumerate(shapes):
        seen = shape.difference(union_all(shapes[index + 1:])) if shapes[index + 1:] else shape
        spots = spots_of([seen])
        if spots is not None:
            targets.append(Target("ABCDEFGHJKLMNP"[index], spots, seen, 1 + index % 4))
    return targets


@settings(max_examples=40, deadline=None)
@given(pictures())
def test_leaders_never_cross_and_never_touch_a_balloon(targets: list[Target]) -> None:
    """On random pictures, 170 x 200 mm: no crossing, no overlap, nothing outside."""
    silhouette = union_all([target.own for target in targets]) if targets else Point(0, 0)
    balloons = place(targets, silhouette, 170, 200)
    assert len(balloons) == len(targets)
    for one, other in combinations(balloons, 2):
        assert not cross(one.leader, other.leader)
        assert hypot(one.centre[0] - other.centre[0], one.centre[1] - other.centre[1]) > 2 * RADIUS
        assert LineString(one.leader).distance(Point(other.centre)) > RADIUS
        assert LineString(other.leader).distance(Point(one.centre)) > RADIUS
    pen = Pen()
    draw(pen, balloons)
    assert clashes(pen.drawing(170, 200, "x")) == ()


@settings(max_examples=40, deadline=None)
@given(pictures())
def test_every_leader_ends_on_its_own_part(targets: list[Target]) -> None:
    """The dot lies inside what is seen of the part."""
    silhouette = union_all([target.own for target in targets]) if targets else Point(0, 0)
    for target, balloon in zip(targets, place(targets, silhouette, 170, 200), strict=True):
        assert target.own.buffer(1e-6).contains(Point(balloon.anchor))


@pytest.mark.parametrize("seed", range(5))
def test_the_assignment_is_the_best_of_all(seed: int) -> None:
    """Compared with every permutation of 4 rows over 6 columns."""
    numbers = random.Random(seed)
    costs = [[numbers.random() for _ in range(6)] for _ in range(4)]
    best = min(sum(costs[i][c] for i, c in enumerate(choice)) for choice in permutations(range(6), 4))
    chosen = assignment(costs)
    assert len(set(chosen)) == 4
    assert sum(costs[i][c] for i, c in enumerate(chosen)) == pytest.approx(best)


def test_a_sliver_gets_no_balloon() -> None:
    """Less than 0.4 mm wide on paper can't be pointed at."""
    assert spots_of([box(0, 0, 30, 0.3)]) is None


def test_a_quantity_stands_off_the_picture_and_off_other_letters() -> None:
    """A balloon under the picture's foot has its number below; above would be on the picture, beside it near the other letter."""
    low = [Target("A", box(40, 40, 48, 80), box(40, 40, 48, 80), 2), Target("B", box(52, 40, 60, 80), box(52, 40, 60, 80))]
    picture = box(30, 40, 70, 120)
    for balloon in place(low, picture, 100, 160):
        if balloon.count > 1 and balloon.centre[1] < 40:
            assert balloon.count_side == "below"
            break
    else:
        pytest.fail("no balloon with a quantity under the picture")
