"""Parts become closed solids of the right volume, whatever is cut from them and added to them."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import pairwise, product
from math import cos, pi, radians, sin

import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.solid import build
from compiler.solid.geometry import FLAT, SHARP, SMOOTH, TANGENT
from compiler.values.model import Part
from compiler.values.shapes import Bore, Feature, Frame, Prism
from tests.solid.bench import bench
from tests.solid.pieces import (
    ALONG_X,
    ALONG_Y,
    block,
    cut,
    flared,
    grow,
    hole,
    length,
    part,
    peg,
    point,
    shaped,
    turned,
)
from tests.solid.sideboard import sideboard

eighths = st.integers(-8, 40).map(lambda n: F(n, 8))


@st.composite
def blocks(draw: st.DrawFn) -> tuple[str, tuple[F, F, F], tuple[F, F, F]]:
    """A block to grow or cut, on a lattice of eighths so that faces often fall together."""
    low, high = [], []
    for _ in range(3):
        a, b = sorted(draw(st.lists(eighths, min_size=2, max_size=2, unique=True)))
        low.append(a)
        high.append(b)
    return draw(st.sampled_from(("grow", "cut"))), tuple(low), tuple(high)  # type: ignore[return-value]


def counted(size: tuple[F, F, F], steps: list[tuple[str, tuple[F, F, F], tuple[F, F, F]]]) -> F:
    """The exact volume, by asking each cell between all coordinates that occur."""
    every = [("grow", (F(0), F(0), F(0)), size), *steps]
    axes = [sorted({value for _, low, high in every for value in (low[axis], high[axis])}) for axis in range(3)]
    total = F(0)
    for cell in product(*(list(pairwise(axis)) for axis in axes)):
        filled = False
        for op, low, high in every:
            if all(low[axis] <= cell[axis][0] and cell[axis][1] <= high[axis] for axis in range(3)):
                filled = op == "grow"
        if filled:
            total += (cell[0][1] - cell[0][0]) * (cell[1][1] - cell[1][0]) * (cell[2][1] - cell[2][0])
    return total


def watertight(solid: Part) -> bool:
    """Whether another library finds the mesh closed, every triangle turned outward."""
    geometry = build([solid], quality="coarse").parts[0].geometry
    mesh = trimesh.Trimesh(geometry.corners, geometry.triangles, process=False)
    return bool(mesh.is_watertight and mesh.is_winding_consistent and mesh.volume > 0)


@settings(max_examples=60, deadline=None)
@given(st.tuples(*[st.integers(8, 32).map(lambda n: F(n, 8))] * 3), st.lists(blocks(), max_size=6))
def test_random_blocks_leave_the_counted_volume(size: tuple[F, F, F], steps: list[tuple[str, tuple[F, F, F], tuple[F, F, F]]]) -> None:
    """Boxes with random blocks added and cut in their order have the volume that counting cells gives, and stay closed."""
    features = [(grow if op == "grow" else cut)("working", low, high) for op, low, high in steps]
    made = part("part", (0, 0, 0), size, *features)
    solid = build([made], quality="fine").parts[0]
    # An order in which something is grown apart from the box is a mistake of the design: what misses is left out.
    missed = [problem.feature for problem in solid.problems if problem.kind == "misses"]
    expected = counted(size, [step for step, feature in zip(steps, features, strict=True) if feature not in missed])
    assert solid.volume == pytest.approx(float(expected), rel=1e-6, abs=1e-6)
    assert not [problem for problem in solid.problems if problem.kind == "open"]
    if expected > 0:
        assert watertight(made)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12), st.integers(1, 7)), min_size=1, max_size=9),
    st.sampled_from(("x", "y", "z")),
    st.sampled_from(("coarse", "fine")),
)
def test_random_holes_take_their_cylinders(holes: list[tuple[int, int, int]], toward: str, quality: str) -> None:
    """Blind and through holes of any diameter and axis take π d² / 4 times their depth, to 1e-6 of the part."""
    places = [(F(2 * (index % 3) + 1), F(2 * (index // 3) + 1)) for index in range(len(holes))]
    features = [hole(toward, at, F(d, 8), -1, F(depth, 4)) for at, (d, _, depth) in zip(places, holes, strict=True)]
    solid = build([part("part", (0, 0, 0), (6, 6, 6), *features)], quality=quality).parts[0]  # type: ignore[arg-type]
    expected = 216 - sum(pi * (d / 8) ** 2 / 4 * min(depth / 4, 6) for d, _, depth in holes)
    assert solid.volume == pytest.approx(expected, rel=1e-6)
    assert solid.problems == ()


def test_a_countersink_is_a_frustum_and_a_point_a_cone() -> None:
    """Cones take π h (R² + R r + r²) / 3, down to a point."""
    sink = Bore("into", (length(3), length(3)), length(1), (length(2), length(1)), length("1/2"))
    point_of_drill = Bore("into", (length(1), length(1)), length(1), (length(2), length(1)), length(0))
    made = [Feature("cut", "countersink", each, Frame(), "") for each in (sink, point_of_drill)]
    solid = build([part("part", (0, 0, 0), (6, 6, 2), *made)], quality="fine").parts[0]
    taken = pi / 3 * (0.25 + 0.125 + 0.0625) + pi / 3 * 0.25
    assert solid.volume == pytest.approx(72 - taken, rel=1e-6)


@pytest.mark.parametrize("radius", ["1/8", "1/2", 40])
def test_a_round_over_takes_a_square_less_a_quarter_circle(radius: str | int) -> None:
    """A round-over of radius r takes (1 − π/4) r² a unit of length, exactly, at any radius."""
    r = length(radius).inches
    corner = [(0, r), (-1, r), (-1, -1), (r, -1), (r, 0), point(0, r, r, -1)]
    solid = build([part("part", (0, 0, 0), (100, 100, 3), shaped("cut", "round-over", Frame(), corner, -1, 4))], quality="coarse")
    assert solid.problems == ()
    assert solid.parts[0].volume == pytest.approx(30000 - 3 * (1 - pi / 4) * float(r) ** 2, rel=1e-6)


def test_a_flared_block_is_a_dovetail() -> None:
    """A block that widens by 1/4 on both sides over 1 in has the volume of its trapezoid."""
    tail = Feature("cut", "dovetail", flared((2, 0, 0), (3, 1, 1), "into", (("1/4", "1/4"), (0, 0))), Frame(), "")
    solid = build([part("part", (0, 0, 0), (6, 1, 1), tail)], quality="fine").parts[0]
    assert solid.volume == pytest.approx(6 - 1.25, rel=1e-9)


def test_left_handed_frames_make_the_same_solid() -> None:
    """An outline placed by a left-handed frame is as closed as by a right-handed one."""
    points = [(1, 1), (3, 1), point(1, 1, 1, 1)]
    for frame in (ALONG_X, ALONG_Y):
        made = part("part", (0, 0, 0), (4, 4, 4), shaped("cut", "arch", frame, points, -1, 5))
        assert watertight(made)
        assert build([made], quality="fine").parts[0].volume == pytest.approx(64 - 4 * pi / 2, rel=1e-6)


@given(st.floats(-80, 80), st.sampled_from(("x", "y", "z")))
@settings(max_examples=15, deadline=None)
def test_a_tilt_keeps_the_volume_and_turns_the_box(angle: float, axis: str) -> None:
    """A turned part keeps its volume; its box is that of the turned corners."""
    pose = turned(axis, angle, (1.0, 2.0, 3.0))
    plain = part("part", (0, 0, 0), (4, 2, 6), cut("dado", (1, -1, 2), (2, 3, 3)))
    tilted = part("part", (0, 0, 0), (4, 2, 6), cut("dado", (1, -1, 2), (2, 3, 3)), pose=pose)
    one, two = build([plain, tilted], quality="fine").parts
    assert two.volume == pytest.approx(one.volume, rel=1e-9)
    c, s = abs(cos(radians(angle))), abs(sin(radians(angle)))
    size = [b - a for a, b in zip(two.low, two.high, strict=True)]
    expected = {"x": (4, 2 * c + 6 * s, 2 * s + 6 * c), "y": (4 * c + 6 * s, 2, 4 * s + 6 * c), "z": (4 * c + 2 * s, 4 * s + 2 * c, 6)}
    assert size == pytest.approx(expected[axis])


def test_large_pieces_are_sound() -> None:
    """Every part of a 120-part case piece and of a bench with splayed legs is one closed solid."""
    for parts in (sideboard(), bench()):
        assert build(parts, quality="coarse").problems == ()
        assert all(watertight(each) for each in parts)


def test_features_are_worked_in_their_order() -> None:
    """A tongue grown after an end was cut off stands; grown before, it goes with the end."""
    end = cut("end", (3, -1, -1), (9, 9, 9))
    tongue = grow("tongue", ("5/2", 0, 0), (4, 1, 1))
    after = build([part("part", (0, 0, 0), (5, 1, 1), end, tongue)], quality="fine").parts[0]
    before = build([part("part", (0, 0, 0), (5, 1, 1), tongue, end)], quality="fine").parts[0]
    assert (after.volume, before.volume) == pytest.approx((4, 3))


@pytest.mark.parametrize(("feature", "kind"), [
    (cut("groove", (1, -1, -1), (2, 9, 9)), "split"),
    (cut("cut-out", (-1, -1, -1), (9, 9, 9)), "empty"),
    (cut("dado", (7, 0, 0), (8, 1, 1)), "misses"),
    (grow("tongue", (7, 0, 0), (8, 1, 1)), "misses"),
    (shaped("cut", "profile", Frame(), [(0, 0), (1, 1), (1, 0), (0, 1)], 0, 1), "shapeless"),
    (Feature("cut", "arc", Prism((point(0, 0), point(2, 0, "1/2"), point(1, 2)), (length(0), length(1))), Frame(), ""), "shapeless"),
])
def test_what_goes_wrong_is_told_with_its_feature(feature: Feature, kind: str) -> None:
    """A split, empty or missed part and a crossed outline are data that name the part and the feature."""
    harmless = cut("notch", (0, 0, 0), ("1/4", "1/4", "1/4"))
    solids = build([part("rail", (0, 0, 0), (4, 1, 1), harmless, feature)], quality="coarse")
    assert [(each.part, each.kind, each.feature) for each in solids.problems] == [("rail", kind, feature)]
    assert feature.called in solids.problems[0].says or kind == "shapeless"


def test_an_edge_knows_its_class() -> None:
    """A round-over has two tangent edges and silhouettes inside it, a bored hole two rings of sharp edges."""
    corner = [(0, 1), (-1, 1), (-1, -1), (1, -1), (1, 0), point(0, 1, 1, -1)]
    rounded = build([part("part", (0, 0, 0), (4, 4, 3), shaped("cut", "round-over", Frame(), corner, -1, 4))], quality="coarse")
    classes = rounded.parts[0].geometry.classes.tolist()
    assert classes.count(TANGENT) == 2
    assert classes.count(SMOOTH) > 2
    bored = build([part("part", (0, 0, 0), (4, 4, 3), hole("z", (2, 2), 1, -1, 4))], quality="coarse").parts[0].geometry
    rings = [kind for kind in bored.classes.tolist() if kind == SHARP]
    count = bored.classes.tolist().count(SMOOTH)
    assert len(rings) == 12 + 2 * count


def test_no_edge_is_left_inside_a_plane() -> None:
    """A tenon as wide as its rail runs on in the rail's faces without an edge between them."""
    flush = part("rail", (0, 0, 0), (6, 1, 3), grow("tenon", (6, 0, 1), (8, 1, 2)))
    geometry = build([flush], quality="coarse").parts[0].geometry
    inside = [(a, b) for a, b in geometry.edges[geometry.classes != FLAT].tolist()
              if geometry.corners[a][0] == geometry.corners[b][0] == 6
              and geometry.corners[a][1] == geometry.corners[b][1]
              and min(geometry.corners[a][2], geometry.corners[b][2]) >= 1 and max(geometry.corners[a][2], geometry.corners[b][2]) <= 2]
    assert inside == []


def test_equal_parts_are_built_once() -> None:
    """Building the same parts again takes the solids that are there."""
    first, again = build(bench(), quality="coarse"), build(bench(), quality="coarse")
    assert all(one.body is two.body for one, two in zip(first.parts, again.parts, strict=True))
    assert first.only(["seat"]).names == ("seat",)
    assert "seat" in first and first["seat"].part.name == "seat"


def test_a_peg_fills_its_hole() -> None:
    """A round pin grown on a thin core has the volume of its cylinder."""
    made = part("pin", (-F(1, 16), -F(1, 16), 0), (F(1, 16), F(1, 16), 2), peg("z", (0, 0), "1/2", 0, 2))
    assert build([made], quality="coarse").parts[0].volume == pytest.approx(pi / 8, rel=1e-6)


def test_a_block_without_thickness_is_told() -> None:
    """A block of no depth can't be made, and the part is drawn without it."""
    nothing = Feature("cut", "dado", block((0, 0, 0), (1, 1, 0)), Frame(), "")
    solids = build([part("part", (0, 0, 0), (4, 1, 1), nothing)], quality="coarse")
    assert [problem.kind for problem in solids.problems] == ["shapeless"]
    assert solids.parts[0].volume == pytest.approx(4)
