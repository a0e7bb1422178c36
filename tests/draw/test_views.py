"""Views: cameras against the rules of axonometry, lines and areas against what can be counted by hand."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction as F
from math import atan2, degrees, hypot, pi, sqrt

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.draw.views import (
    Line,
    Section,
    Seen,
    across_axis,
    camera,
    look,
    look_from,
    part_at,
    shares,
    silhouettes,
)
from compiler.solid import build
from compiler.solid.building import body
from compiler.solid.shadows import shadow_area
from compiler.values.model import Part
from tests.draw.pieces import bookcase
from tests.solid.bench import bench
from tests.solid.pieces import ALONG_X, Number, cut, grow, hole, part, peg, point, shaped, turned


def seen(words: str, parts: Iterable[Part], **more: object) -> Seen:
    """A view of parts from some view words."""
    return look(build(tuple(parts), quality="coarse"), camera(words), **more)  # type: ignore[arg-type]


def drawn(lines: Iterable[Line], *kinds: str) -> float:
    """How much line is drawn, of some kinds."""
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for line in lines if not kinds or line.kind in kinds
               for a, b in zip(line.points, line.points[1:], strict=False))


CUBE = part("cube", (0, 0, 0), (1, 1, 1))


@pytest.mark.parametrize("corner", ["", "front left top", "back right top", "front right bottom"])
def test_isometric_shortens_all_axes_alike(corner: str) -> None:
    """Isometric projection: each axis is shortened to sqrt(2/3) = 0.8165, two axes lie 30 degrees from the horizontal
    (ISO 5456-3, isometric axonometry; the factor follows by geometry)."""
    view = camera(f"isometric {corner}")
    shown = [view.project(axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))]
    assert [hypot(x, y) for x, y in shown] == pytest.approx([sqrt(2 / 3)] * 3)
    slopes = [degrees(atan2(abs(y), abs(x))) for x, y in shown]
    assert slopes == pytest.approx([30, 30, 90])
    assert shown[2][1] > 0


def test_a_cube_is_a_hexagon_in_isometric_projection() -> None:
    """The outline of a unit cube is a regular hexagon of side 0.8165 and area 1.732051."""
    view = seen("isometric", [CUBE])
    assert view.regions[0].area == pytest.approx(1.732051, abs=2e-4)
    assert drawn(view.lines, "outline") == pytest.approx(6 * sqrt(2 / 3), abs=1e-3)
    assert drawn(view.lines, "edge") == pytest.approx(3 * sqrt(2 / 3), abs=1e-3)
    assert sorted(fill.shade for fill in view.fills) == ["front", "side", "top"]


def test_a_circle_is_an_ellipse_in_isometric_projection() -> None:
    """A circle of diameter 1 on an isometric face is an ellipse of axes 1 and 0.577350 (geometry)."""
    view = seen("isometric", [part("disc", (F(-1, 16), F(-1, 16), 0), (F(1, 16), F(1, 16), F(1, 1000)),
                                   peg("z", (0, 0), 1, 0, F(1, 1000)))])
    points = [each for line in view.lines for each in line.points]
    assert max(x for x, _ in points) - min(x for x, _ in points) == pytest.approx(1, abs=0.02)
    assert max(y for _, y in points) - min(y for _, y in points) == pytest.approx(1 / sqrt(3), abs=0.02)
    assert view.regions[0].area == pytest.approx(pi / 4 / sqrt(3), rel=0.01)


@pytest.mark.parametrize(("words", "right", "up"), [
    ("front", (1, 0, 0), (0, 0, 1)), ("back", (-1, 0, 0), (0, 0, 1)), ("right side", (0, 1, 0), (0, 0, 1)),
    ("from the left", (0, -1, 0), (0, 0, 1)), ("top", (1, 0, 0), (0, 1, 0)), ("bottom", (1, 0, 0), (0, -1, 0)),
    ("side", (0, 1, 0), (0, 0, 1)),
])
def test_square_views_lie_as_in_third_angle_projection(words: str, right: tuple[int, ...], up: tuple[int, ...]) -> None:
    """Each square view turns about the edge it shares with the front view (third-angle projection, drafting practice)."""
    view = camera(words)
    assert (view.right, view.up, view.square_on) == (right, up, True)


def test_corners_show_their_three_faces() -> None:
    """A named corner is nearest to the reader; top is meant when no height is named; order is free."""
    view = camera("left back top")
    nearest = max(((x, y, z) for x in (0.0, 1.0) for y in (0.0, 1.0) for z in (0.0, 1.0)), key=view.depth)
    assert nearest == (0.0, 1.0, 1.0)
    assert camera("back left").toward == view.toward == camera("top left back").toward
    assert camera("front right top").toward == pytest.approx(look_from((0.62, -0.85, 0.5)).toward)


@pytest.mark.parametrize("words", ["", "inside", "front back", "left left top", "front corner of table"])
def test_other_words_are_no_view(words: str) -> None:
    """Words that name no view are refused with the words that do."""
    with pytest.raises(ValueError, match="write front, back"):
        camera(words)


def test_a_seam_is_drawn_once() -> None:
    """Two unit cubes side by side, seen from the front: an outline of 6 and one seam of 1; flush faces keep their seam."""
    view = seen("front", [CUBE, part("next", (1, 0, 0), (2, 1, 1))])
    assert drawn(view.lines) == pytest.approx(7)
    assert {line.kind for line in view.lines} == {"outline"}
    seam, = (line for line in view.lines if line.beyond)
    assert {seam.part, seam.beyond} == {"cube", "next"}


def test_no_seam_inside_a_part() -> None:
    """A tenon flush with its rail draws no line where it was added; a step draws one."""
    flush = part("rail", (0, 0, 0), (6, 1, 3), grow("tenon", (6, 0, 1), (8, 1, 2)))
    assert drawn(seen("front", [flush]).lines) == pytest.approx(6 + 3 + 6 + 3 + 2 + 2)
    set_back = part("rail", (0, 0, 0), (6, 1, 3), grow("tenon", (6, "1/4", 1), (8, "3/4", 2)))
    view = seen("front", [set_back])
    assert drawn(view.lines) == pytest.approx(22 + 1)
    assert drawn(view.lines, "edge") == pytest.approx(1)


def test_a_groove_is_an_edge_and_not_an_outline() -> None:
    """Inside what is seen of one part lines are thin, whatever their depth."""
    view = seen("front", [part("board", (0, 0, 0), (6, 1, 3), cut("groove", (-1, -1, 1), (7, "1/2", 2)))])
    assert drawn(view.lines, "outline") == pytest.approx(18)
    assert drawn(view.lines, "edge") == pytest.approx(12)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 5)] * 3), min_size=1, max_size=8, unique=True), st.sampled_from(("front", "top", "left side")))
def test_square_views_of_cubes_fill_what_is_nearest(cells: list[tuple[int, int, int]], words: str) -> None:
    """Unit cubes on a lattice seen square: each cell of the picture belongs to the nearest cube in its row."""
    parts = [part(f"{x} {y} {z}", (x, y, z), (x + 1, y + 1, z + 1)) for x, y, z in cells]
    view = camera(words)
    nearest: dict[tuple[int, int], tuple[float, str]] = {}
    for (x, y, z), each in zip(cells, parts, strict=True):
        middle = (x + 0.5, y + 0.5, z + 0.5)
        u, v = view.project(middle)
        place = (round(u - 0.5), round(v - 0.5))
        nearest[place] = max(nearest.get(place, (-99.0, "")), (view.depth(middle), each.name))
    expected = {name: 0 for _, name in nearest.values()}
    for _, name in nearest.values():
        expected[name] += 1
    shown = seen(words, parts)
    assert {region.part: region.area for region in shown.regions} == pytest.approx(expected)
    # Each cell's four sides are lines, shared sides once.
    sides = {frozenset(side) for u, v in nearest for side in
             (((u, v), (u + 1, v)), ((u, v + 1), (u + 1, v + 1)), ((u, v), (u, v + 1)), ((u + 1, v), (u + 1, v + 1)))}
    assert drawn(shown.lines) == pytest.approx(len(sides), abs=1e-3)


def test_hidden_lines_are_dashed_only_where_nothing_is_seen() -> None:
    """A blind hole 1 in wide and 2 in deep, from the side: two lines of 2 and its bottom of 1, and nothing on a visible line."""
    board = part("board", (0, 0, 0), (6, 4, 3), hole("x", (2, "3/2"), 1, -1, 2))
    view = seen("front", [board], hidden=True)
    assert drawn(view.lines) == pytest.approx(18)
    assert drawn(view.hidden) == pytest.approx(2 + 2 + 1, abs=0.02)
    assert seen("front", [board]).hidden == ()


def test_a_section_fills_what_it_cuts() -> None:
    """A section through a bored board shows two cut faces, with the hole's width between them, and what lies behind."""
    board = part("board", (0, 0, 0), (6, 4, 1), hole("z", (3, 2), 2, -1, 2))
    behind = part("behind", (0, 3, 1), (6, 4, 2))
    view = seen("front", [board, behind], section=across_axis(1, 2.0, False))
    cap, = view.caps
    assert (cap.part, cap.area) == ("board", pytest.approx(4, abs=0.02))
    assert len(cap.rings) == 2
    assert {fill.part for fill in view.fills if fill.shade != "cut"} == {"board", "behind"}
    # The border of a cut face is an outline even against the same part.
    assert drawn([line for line in view.lines if line.part == "board"], "outline") >= 2 * (2 + 2 + 1 + 1) - 0.1


def test_a_section_misses_or_takes_all() -> None:
    """A plane beside a part leaves it whole or takes it away; an empty view is empty."""
    assert drawn(seen("front", [CUBE], section=across_axis(1, -1.0, False)).lines) == pytest.approx(4)
    gone = seen("front", [CUBE], section=across_axis(1, 2.0, False))
    assert (gone.lines, gone.fills, gone.bounds, gone.names) == ((), (), None, ())
    assert seen("isometric", [], hidden=True).lines == ()


def test_a_slanting_section_is_true() -> None:
    """A cube cut across a diagonal shows a face of sqrt(2)."""
    view = look(build([CUBE], quality="coarse"), look_from((1.0, -1.0, 0.0)), section=Section((sqrt(0.5), -sqrt(0.5), 0.0), 0.0))
    assert view.caps[0].area == pytest.approx(sqrt(2), abs=1e-3)


def test_offsets_move_parts_apart_before_they_are_seen() -> None:
    """A cube moved by its offset uncovers what was behind it."""
    parts = [CUBE, part("behind", (0, 1, 0), (1, 2, 1))]
    assert seen("front", parts).region("behind") is None
    view = seen("front", parts, offsets={"cube": (3.0, 0.0, 0.0)})
    assert view.region("behind") is not None and view.bounds == (0.0, 0.0, 4.0, 1.0)


def test_shares_and_silhouettes() -> None:
    """Half covered is half seen; a silhouette is told as if nothing stood before it, holes and all."""
    plate = part("plate", (0, 2, 0), (4, 3, 4), hole("y", (2, 2), 2, -1, 4))
    cover = part("cover", (0, 0, 0), (2, 1, 4))
    solids = build([plate, cover], quality="coarse")
    assert shares(solids, camera("front")) == {"plate": pytest.approx(0.5, abs=0.01), "cover": 1.0}
    assert silhouettes(solids, camera("front"))["plate"].area == pytest.approx(16 - pi, abs=0.05)
    assert shares(solids, camera("front"), names=["plate"]) == {"plate": 1.0}
    assert part_at(solids, camera("front"), [(1, 1), (3, 0.5), (2.5, 2), (9, 9)]) == ("cover", "plate", "", "")


def test_threads_are_seen_in_the_gaps_only() -> None:
    """A line through two cubes is seen before, between and behind them, not inside."""
    parts = [CUBE, part("next", (3, 0, 0), (4, 1, 1))]
    view = seen("front", parts, threads=[((-1.0, 0.5, 0.5), (5.0, 0.5, 0.5)), ((0.2, -1.0, 0.2), (0.8, -1.0, 0.2))])
    assert [(index, a[0], b[0]) for index, a, b in view.threads] == [(0, -1, 0), (0, 1, 3), (0, 4, 5), (1, 0.2, 0.8)]


def test_round_parts_have_silhouettes_and_no_facets() -> None:
    """A peg from the side is its outline alone; from a corner one ellipse and two silhouettes."""
    made = part("peg", (F(-1, 8), F(-1, 8), 0), (F(1, 8), F(1, 8), 6), peg("z", (0, 0), 1, 0, 6))
    assert drawn(seen("front", [made]).lines) == pytest.approx(14, abs=0.02)
    view = seen("front right top", [made])
    assert drawn(view.lines, "edge") < pi / 2
    assert {line.kind for line in view.lines} == {"outline", "edge"}
    assert len({fill.shade for fill in view.fills}) == 2


@pytest.mark.parametrize("radius", ["1/8", 2])
def test_a_round_over_runs_on_in_tangent_lines(radius: Number) -> None:
    """Where a round-over runs into its flats lines are of a kind of their own, which a theme may leave out."""
    r = F(radius)
    corner = [(0, 4 - r), (-1, 4 - r), (-1, 5), (r, 5), (r, 4), point(0, 4 - r, r, 1)]
    frame = shaped("cut", "round-over", ALONG_X, corner, -1, 9)
    view = seen("front", [part("board", (0, 0, 0), (8, 4, 4), frame)])
    assert drawn(view.lines, "tangent") == pytest.approx(8)
    assert drawn(view.lines, "outline") == pytest.approx(24)



def test_outlines_without_fills_agree_where_parts_stand_apart() -> None:
    """Lines alone and lines with fills are the same amount of line."""
    solids = build(bench(), quality="coarse")
    for words in ("front", "isometric", "front left bottom"):
        plain, filled = look(solids, camera(words), fills=False), look(solids, camera(words))
        assert drawn(plain.lines) == pytest.approx(drawn(filled.lines), rel=1e-3)
        assert plain.fills == ()


def test_areas_and_silhouettes_agree() -> None:
    """The regions of all parts together fill the silhouette of the whole."""
    solids = build(bench(), quality="coarse")
    view = camera("isometric")
    whole = shapely.union_all([shapely.Polygon(ring) for patch in silhouettes(solids, view).values() for ring in patch.rings])
    assert sum(region.area for region in look(solids, view).regions) == pytest.approx(whole.area, rel=1e-4)


def test_a_view_is_the_same_each_time() -> None:
    """Built and drawn anew, a view has the same coordinates, all on the grid of 1e-4 in, in the same order."""
    first = seen("isometric", bench(), hidden=True)
    body.cache_clear()
    again = seen("isometric", bench(), hidden=True)
    assert first == again
    values = [value for line in first.lines + first.hidden for place in line.points for value in place]
    assert all(value == round(value, 4) and str(value) != "-0.0" for value in values)


def test_a_tilted_cube_is_drawn_where_it_stands() -> None:
    """A cube turned by 45 degrees about its lower front edge is sqrt(2) high and wide from its side."""
    tilted = part("cube", (0, 0, 0), (1, 1, 1), pose=turned("x", 45, (0.0, 0.0, 0.0)))
    left, bottom, right, top = seen("right side", [tilted]).bounds or (0, 0, 0, 0)
    assert (right - left, top - bottom) == pytest.approx((sqrt(2), sqrt(2)), abs=2e-4)


@pytest.mark.parametrize("words", ["front", "isometric", "front left top", "back right bottom"])
def test_a_shadow_is_as_large_as_the_silhouette(words: str) -> None:
    """The kernel's projection of each part of the bookcase against the union of its triangles on the picture."""
    solids = build(bookcase().parts, quality="coarse")
    view = camera(words)
    for name, patch in silhouettes(solids, view).items():
        assert shadow_area(solids[name].body, view.right, view.up, view.toward) == pytest.approx(patch.area, rel=1e-4), name
