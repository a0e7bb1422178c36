"""Part drawings: every place of every working is tied, nothing is said twice, numbers are the model's."""

from __future__ import annotations

import io
from fractions import Fraction
from itertools import pairwise
from math import cos, hypot, pi, sin

import ezdxf
import pytest

from compiler.base.measures import inch
from compiler.base.showing import Style
from compiler.draw import part_drawing, part_dxf
from compiler.draw.arcs import with_arcs
from compiler.draw.bounds import clashes
from compiler.draw.dxf import Outline
from compiler.draw.part_sizes import PartView, part_views
from compiler.draw.screw_places import screws_of
from compiler.draw.workings import Blank, Shaping, beyond, blank, opens, shapings
from compiler.values.figure import Circle, Lettering, StackedFraction, Stroke
from compiler.values.model import Model, Part
from tests.draw.pieces import OAK, PLY, bookcase, box, cut, hole, part
from tests.draw.plans import PLANS, drawings, model

STYLE = Style()
CASE: Model = bookcase()
PARTS = [CASE.part(kind.parts[0]) for kind in CASE.kinds if CASE.part(kind.parts[0]).features]


def views(piece: Part) -> tuple[Blank, tuple[Shaping, ...], tuple[PartView, ...]]:
    """A part's blank, workings and views."""
    within = blank(piece)
    found = shapings(piece, within)
    return within, found, part_views(within, found, STYLE)


class Ties:
    """Places tied together, told apart from the drawing's own bookkeeping."""

    def __init__(self) -> None:
        self.sets: list[set[Fraction]] = []

    def tie(self, a: Fraction, b: Fraction) -> None:
        touched = [s for s in self.sets if a in s or b in s]
        self.sets = [s for s in self.sets if s not in touched] + [set().union({a, b}, *touched)]

    def tied(self, a: Fraction, b: Fraction) -> bool:
        return a == b or any(a in s and b in s for s in self.sets)


@pytest.mark.parametrize("piece", PARTS, ids=lambda piece: piece.name)
def test_every_place_is_tied_to_the_datum(piece: Part) -> None:
    """Places are read from the workings, not from the dimensions; sizes in notes tie a working's own ends."""
    within, found, drawn = views(piece)
    for view in drawn:
        for axis, direction in (("x", view.right), ("y", view.up)):
            ties = Ties()
            ties.tie(within.low[direction], within.high[direction])
            for size in view.sizes[axis]:
                ties.tie(size.start, size.end)
            holes = {}
            for s in found:
                if s.op == "cut" and view.side in opens(s, within) and s.sort == "block" and not beyond(s, within):
                    ties.tie(s.low[direction], s.high[direction])
                if s.sort == "hole" and view.side in opens(s, within):
                    holes.setdefault((s.low[1 - direction] if direction < 2 else 0, s.diameter), []).append(
                        (s.low[direction] + s.high[direction]) / 2)
            for row in holes.values():
                places = sorted(row)
                steps = {b - a for a, b in pairwise(places)}
                if len(places) > 2 and len(steps) == 1:
                    for a, b in pairwise(places):
                        ties.tie(a, b)
                for place in places:
                    assert ties.tied(within.low[direction], place), (piece.name, axis, place)
            for s in found:
                if s.op == "cut" and view.side in opens(s, within) and s.sort == "block":
                    assert ties.tied(within.low[direction], s.low[direction]), (piece.name, axis, s.called)


@pytest.mark.parametrize("piece", PARTS, ids=lambda piece: piece.name)
def test_no_size_says_what_others_say(piece: Part) -> None:
    """Each size ties two places that were not tied by the others: no chain repeats its total."""
    _, _, drawn = views(piece)
    for view in drawn:
        for sizes in view.sizes.values():
            ties = Ties()
            for size in sizes:
                assert not ties.tied(size.start, size.end)
                ties.tie(size.start, size.end)


@pytest.mark.parametrize("piece", PARTS, ids=lambda piece: piece.name)
def test_numbers_are_the_models_extents(piece: Part) -> None:
    """The lettering of a size, read back, is its exact length (to the 1/32 shown)."""
    _, _, drawn = views(piece)
    for view in drawn:
        for sizes in view.sizes.values():
            for size in sizes:
                text = Lettering((0, 0), size.runs).text
                shown = text.split("=")[-1].strip()
                value = sum(Fraction(piece_) for piece_ in shown.split())
                assert abs(value - abs(size.end - size.start)) <= Fraction(1, 64)


@pytest.mark.parametrize("piece", PARTS, ids=lambda piece: piece.name)
def test_drawings_are_clean(piece: Part) -> None:
    """Nothing overlaps, nothing leaves the frame."""
    drawing = part_drawing.draw(piece, width=168, height=140, style=STYLE, units="inch", count=2)
    assert clashes(drawing) == ()
    assert drawing.letters == (piece.letter,)


def words(piece: Part) -> set[str]:
    """All notes of a part's drawing."""
    return {Lettering((0, 0), note.runs).text for view in views(piece)[2] for note in view.notes}


def numbers(piece: Part) -> set[str]:
    """All sizes of a part's drawing."""
    return {Lettering((0, 0), size.runs).text for view in views(piece)[2] for sizes in view.sizes.values() for size in sizes}


def test_equal_workings_share_a_note_with_their_number() -> None:
    """Three dadoes of one size are one note."""
    assert "dado 23/32 × 1/4 deep, 3 places" in words(CASE.part("left side"))


def test_a_row_of_holes_is_one_size() -> None:
    """Five holes at 1 1/2: four times the pitch, with the sum."""
    assert "4 × 1 1/2 = 6" in numbers(CASE.part("left side"))
    assert "Ø 1/4 × 3/8 deep, 10 holes" in words(CASE.part("left side"))


def test_a_tenoned_rail_shows_shoulders_and_overall() -> None:
    """32 between shoulders, 1 1/2 of tenon, 35 over all; the edge view places the tenon in the thickness."""
    found = numbers(CASE.part("top rail"))
    assert {"32", "1 1/2", "35"} <= found and "1/4" in found


def test_a_plain_tongue_needs_no_note() -> None:
    """A shelf's tongues are as wide and thick as the shelf: their length is a size, and that is all."""
    assert words(CASE.part("bottom")) == set() and "1/4" in numbers(CASE.part("bottom"))


def test_an_arch_shows_its_radius_its_ends_and_its_rise() -> None:
    """R 60 over a chord of 26: rise 60 - sqrt(60^2 - 13^2) = 1.4251 = 1 7/16 to the nearest 1/32 (by the chord formula)."""
    rail = CASE.part("bottom rail")
    assert "arch R 60" in words(rail)
    assert "1 7/16" in numbers(rail)


def test_holes_through_say_so() -> None:
    """A hole open on both faces has no depth."""
    piece = part("shelf", "shelf", "A", PLY, box((0, 20), (0, 10), (0, "23/32")), (hole("top", (4, 3, "23/32"), "1/2", "23/32"),))
    assert "Ø 1/2 through" in words(piece)


def test_a_working_on_the_far_face_gets_its_own_view() -> None:
    """One dado on each face: two views of the face."""
    piece = part("board", "board", "A", OAK, box((0, 20), (0, 6), (0, "3/4")),
                 (cut("dado", (4, 5), (0, 6), ("1/2", "3/4")), cut("dado", (10, 11), (0, 6), (0, "1/4"))))
    assert sorted(view.side for view in views(piece)[2]) == [(2, -1), (2, 1)]


def test_a_flat_dxf_has_the_parts_size_and_a_layer_for_each_working() -> None:
    """Read back with the library: 33 1/4 x 11 1/4 in, ten circles of 1/4, three dadoes; $INSUNITS 1 (inches)."""
    document = ezdxf.read(io.StringIO(part_dxf.write(CASE.part("left side"), "inch")))
    assert document.header["$INSUNITS"] == 1 and not document.audit().errors
    outline = [e for e in document.modelspace() if e.dxf.layer == "outline"]
    points = [p for e in outline for p in e.get_points("xy")]
    assert max(x for x, _ in points) == pytest.approx(33.25) and max(y for _, y in points) == pytest.approx(11.25)
    assert min(x for x, _ in points) == pytest.approx(0) and min(y for _, y in points) == pytest.approx(0)
    circles = [e for e in document.modelspace() if e.dxftype() == "CIRCLE"]
    assert len(circles) == 10 and {e.dxf.radius for e in circles} == {0.125}
    layers = {e.dxf.layer for e in document.modelspace()}
    assert {"dado 1_4 deep", "hole 3_8 deep"} <= layers or {"dado 1-4 deep", "hole 3-8 deep"} <= layers


def test_a_metric_dxf_is_in_millimetres() -> None:
    """$INSUNITS 4; 33 1/4 in = 844.55 mm."""
    document = ezdxf.read(io.StringIO(part_dxf.write(CASE.part("left side"), "mm")))
    points = [p for e in document.modelspace() if e.dxf.layer == "outline" for p in e.get_points("xy")]
    assert document.header["$INSUNITS"] == 4
    assert max(x for x, _ in points) == pytest.approx(844.55)


def test_an_exact_fraction_stands_on_a_bar() -> None:
    """11 1/4 is a whole number and a stacked fraction."""
    sizes = [size.runs for view in views(CASE.part("left side"))[2] for sizes in view.sizes.values() for size in sizes]
    assert ("11", StackedFraction("1", "4")) in sizes
    assert inch("11 1/4").inches == Fraction(45, 4)


PLACES = (("2", "3", "1/4", "3/8"), ("5", "2", "1/4", "3/8"), ("7", "8", "1/4", "3/8"), ("21/2", "10", "3/8", "3/4"), ("13", "4", "3/8", "3/4"),
          ("17", "9", "3/8", "1/2"), ("20", "5/2", "1/2", "3/4"))


def panel(count: int, row: int = 0) -> Part:
    """24 x 12 with so many single holes in its front, and a row of some at 1 in."""
    single = tuple(hole("front", (x, 0, z), wide, deep) for x, z, wide, deep in PLACES[:count])
    rows = tuple(hole("front", (9 + k, 0, 6), "1/4", "3/8") for k in range(row))
    return part("panel", "panel", "A", OAK, box((0, 24), (0, "3/4"), (0, 12)), (*single, *rows), grain="across")


def test_many_holes_are_listed_from_one_corner() -> None:
    """Each single hole has its own row, five at one pitch share one; every place is that of the model, from the lower left corner."""
    one = panel(7, 5)
    (view,) = [view for view in views(one)[2] if view.holes]
    found = {(row.at, row.diameter, row.depth, row.count, row.pitch) for row in view.holes}
    quarter, deep = Fraction(1, 4), Fraction(3, 8)
    expected = {((Fraction(x), Fraction(z)), Fraction(wide), None if down == "3/4" else Fraction(down), 1, Fraction(0)) for x, z, wide, down in PLACES}
    assert found == expected | {((Fraction(9), Fraction(6)), quarter, deep, 5, Fraction(1))}
    assert len({row.mark for row in view.holes}) == len(view.holes)
    drawing = part_drawing.draw(one, width=168, height=82, style=STYLE, units="inch")
    words = [mark.text for mark in drawing.marks if isinstance(mark, Lettering)]
    assert {"from end", "from edge", "5 along, every 1"} <= set(words) and clashes(drawing) == ()
    assert all(words.count(row.mark) == 2 for row in view.holes)


def test_few_holes_keep_their_sizes() -> None:
    """Two holes and a row are dimensioned where they are."""
    assert not any(view.holes for view in views(panel(2, 5))[2])


def test_a_slanting_cut_tells_its_angle() -> None:
    """The bench's legs lose 3/4 in over 8 in: atan(0.75 / 8) = 5.36 degrees, by hand."""
    plan = model("trestle-bench")
    leg = plan.part(plan.kind("leg").parts[0])
    drawing = part_drawing.draw(leg, width=168, height=82, style=STYLE, units="inch")
    assert "taper 5.4°" in [mark.text for mark in drawing.marks if isinstance(mark, Lettering)]


def test_clearance_holes_are_marked_where_the_joints_drive_their_screws() -> None:
    """The bookcase's stretcher takes screws down into the divider and up into the top: 2 and 5 of No. 8, whose clearance hole is
    11/64 in the library; each mark stands at its place in the model."""
    plan = model("low-bookcase")
    rail = plan.part("front stretcher")
    (holes,) = screws_of(plan, rail)
    driven = {tuple(map(float, at)) for joint in plan.joints for use in joint.fasteners if use.through == rail.name for at in use.entry}
    assert set(holes.at) == driven and len(driven) == 7 and holes.axis == 2
    drawing = part_drawing.draw(rail, width=82, height=46, style=STYLE, units="inch", screws=(holes,))
    assert "Ø 11/64 for No. 8 screws, 7 places" in [mark.text for mark in drawing.marks if isinstance(mark, Lettering)]
    rings = [mark.centre for mark in drawing.marks if isinstance(mark, Circle) and mark.role == "dimension"]
    assert len(rings) == 7 and clashes(drawing) == ()
    across = sorted(x for x, _ in rings)
    wanted = sorted(at[0] for at in driven)
    scale = (across[-1] - across[0]) / (wanted[-1] - wanted[0])
    assert [x - across[0] for x in across] == pytest.approx([scale * (x - wanted[0]) for x in wanted], abs=0.01)


def test_no_part_drawing_is_shrunk_to_a_sign() -> None:
    """In every demo plan the longer side of a part is at least 12 mm on paper: enough to tell its workings apart."""
    for name in PLANS:
        for view, drawing in drawings(name):
            if view.words.startswith("part "):
                lines = [point for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "outline" for path in mark.paths for point in path]
                assert max(max(p[i] for p in lines) - min(p[i] for p in lines) for i in (0, 1)) >= 12, (name, view.words, drawing.scale)


def test_an_arch_is_one_true_arc_in_the_dxf() -> None:
    """The bench's stretcher rises 1 1/2 in over 26 1/2: the bulge of its arc is rise over half the chord, 1.5 / 13.25 (by hand, from the
    definition: DXF reference, LWPOLYLINE). No corner stands on the curve."""
    plan = model("trestle-bench")
    things, _ = part_dxf.flat_things(plan.part("stretcher"), "inch")
    (outline,) = [thing for thing in things["outline"] if isinstance(thing, Outline)]
    curved = [(outline.points[i], outline.points[(i + 1) % len(outline.points)], bulge) for i, bulge in enumerate(outline.bulges) if bulge]
    assert len(curved) == 1
    (start, end, bulge) = curved[0]
    assert abs(bulge) == pytest.approx(1.5 / 13.25, abs=2e-4)
    assert abs(end[0] - start[0]) == pytest.approx(26.5, abs=1e-3) and abs(end[1] - start[1]) < 1e-3


def test_rounded_corners_are_quarter_circles_in_a_metric_dxf() -> None:
    """The drawer's finger hold has two corners of 10 mm: a quarter circle's bulge is tan(22.5 degrees) = 0.41421."""
    plan = model("tool-wall-cabinet")
    things, _ = part_dxf.flat_things(plan.part(plan.kind("drawer front").parts[0]), "mm")
    (hold,) = [thing for thing in things["cut-out through"] if isinstance(thing, Outline)]
    found = [(hold.points[i], hold.points[(i + 1) % len(hold.points)], bulge) for i, bulge in enumerate(hold.bulges) if bulge]
    assert len(found) == 2 and len(hold.points) == 6
    for start, end, bulge in found:
        assert abs(bulge) == pytest.approx(0.41421, abs=2e-3)
        assert hypot(end[0] - start[0], end[1] - start[1]) == pytest.approx(10 * 2**0.5, abs=0.02)


@pytest.mark.parametrize("sides", [3, 6, 13])
def test_corners_that_are_meant_stay_corners(sides: int) -> None:
    """A triangle, a hexagon, a regular 13-gon; a circle of 64 chords becomes two half circles (bulge 1)."""
    ring = [(cos(2 * pi * i / sides), sin(2 * pi * i / sides)) for i in range(sides)]
    assert with_arcs(ring) == (tuple(ring), (0.0,) * sides)
    points, bulges = with_arcs([(cos(2 * pi * i / 64), sin(2 * pi * i / 64)) for i in range(64)])
    assert len(points) == 2 and bulges == pytest.approx((1.0, 1.0), abs=1e-6)
