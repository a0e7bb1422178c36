"""What must hold for every figure of every demo plan, measured on the finished marks."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest

from compiler.base.measures import Length
from compiler.base.showing import show
from compiler.draw.apart import as_sawn, come_apart
from compiler.draw.bounds import clashes
from compiler.draw.exploded import spread
from compiler.draw.joint_cuts import faced
from compiler.draw.picture import closed_groups, style_of
from compiler.draw.views import camera
from compiler.values.drafting import DrawingSettings
from compiler.values.figure import Lettering, Stroke
from tests.draw.plans import PLANS, drawings, model, solids


@pytest.mark.parametrize("name", PLANS)
def test_no_lettering_overlaps_and_nothing_leaves_its_frame(name: str) -> None:
    """Text on text, on a balloon, on a leader, dimension or extension line; marks outside the frame: none in any figure."""
    assert [(view.words, clash) for view, drawing in drawings(name) for clash in clashes(drawing)] == []


@pytest.mark.parametrize("name", PLANS)
def test_every_letter_of_the_cut_list_is_in_a_drawing_and_no_other(name: str) -> None:
    """The balloons of all drawings together, against the model's kinds."""
    shown = {letter for _, drawing in drawings(name) for letter in drawing.letters}
    assert shown == {kind.letter for kind in model(name).kinds}


@pytest.mark.parametrize("name", PLANS)
def test_every_step_shows_the_letter_of_each_part_that_it_adds(name: str) -> None:
    """Of the parts set off in a picture, hidden ones included: a second look shows them."""
    kind_of = {part.name: part.letter for part in model(name).parts}
    steps = [(view, drawing) for view, drawing in drawings(name) if view.tinted and view.words.split(" ")[0] in ("step", "section")]
    assert steps
    assert [(view.words, {kind_of[part] for part in view.tinted} - set(drawing.letters)) for view, drawing in steps
            if {kind_of[part] for part in view.tinted} - set(drawing.letters)] == []


@pytest.mark.parametrize("name", PLANS)
def test_exploded_views_show_every_letter(name: str) -> None:
    """The whole and its sub-assemblies together, without the drawings of single parts."""
    shown = {letter for view, drawing in drawings(name) if view.words.startswith("exploded") for letter in drawing.letters}
    assert shown == {kind.letter for kind in model(name).kinds}


@pytest.mark.parametrize("name", PLANS)
def test_exploded_parts_share_no_room(name: str) -> None:
    """All pairs of parts of the whole view, as solids in their places; groups that stay closed are not looked into."""
    apart_solids = as_sawn(solids(name))
    apart = come_apart(model(name), apart_solids, closed_groups(model(name), apart_solids.names))
    assert apart.stuck == ()
    moves, _ = spread(apart, apart_solids, camera("front right top"), 168, 200)
    unit = {part: index for index, names in enumerate(apart.units) for part in names}
    moved = {solid.name: solid.manifold.translate(moves[solid.name]) for solid in apart_solids.parts}
    for one, two in combinations(apart_solids.names, 2):
        if unit[one] != unit[two] and moved[one].min_gap(moved[two], 0.001) <= 0:
            assert (moved[one] ^ moved[two]).volume() < 1e-6, (one, two)


@pytest.mark.parametrize("name", PLANS)
def test_every_figure_fits_both_papers(name: str) -> None:
    """Letter's live area is 663 pt high, A4's 483 pt wide: no figure is wider than 170.6 mm or higher than 234 mm; each has words."""
    for _, drawing in drawings(name):
        assert drawing.width <= 483.6 / 72 * 25.4 and drawing.height <= 663 / 72 * 25.4
        assert drawing.says


@pytest.mark.parametrize("name", PLANS)
def test_a_detail_shows_every_size_that_its_joint_names(name: str) -> None:
    """Tongue, tenon, mortise: as a dimension or in a note, at the value with which the joint was made."""
    plan = model(name)
    style = style_of(plan)
    shown = 0
    for view, drawing in drawings(name):
        kind, _, key = view.words.partition(" ")
        joint = next((one for one in plan.joints if kind == "joint" and one.id == key), None)
        if joint is None or faced(joint):
            continue
        words = [mark.text for mark in drawing.marks if isinstance(mark, Lettering)]
        made = {feature.called for part in (joint.acting, joint.receiver) for feature in plan.part(part).features if feature.by == joint.id}
        for measure in joint.measures:
            # Not every name is a block's own: `proud` is a distance between two.
            if measure.called.partition(",")[0] in made:
                assert any(show(measure.value, style).text in text for text in words), (joint.id, measure.called, words)
                shown += 1
    assert shown


def test_elevations_with_the_places_of_details_fill_their_figure() -> None:
    """The elevations that show where details were taken fill their figure: half its height at least."""
    for name in PLANS:
        for view, drawing in drawings(name):
            if view.words.startswith("details "):
                ys = [y for mark in drawing.marks if isinstance(mark, Stroke) and mark.role.startswith("small-") for path in mark.paths for _, y in path]
                assert max(ys) - min(ys) > 0.5 * drawing.height


def test_both_units_and_first_angle_are_as_clean() -> None:
    """The bench's sizes and part drawings with longer numbers and the other arrangement."""
    for view, drawing in drawings("trestle-bench", DrawingSettings(projection="first angle", dual_units="yes")):
        if view.both_units:
            assert clashes(drawing) == (), view.words
            assert drawing.width <= 483.6 / 72 * 25.4 and drawing.height <= 663 / 72 * 25.4


def test_the_spread_of_splayed_feet_is_measured() -> None:
    """The outside of the bench's feet, read off the solids' corners on the floor, stands on the side view."""
    legs = [solid for solid in solids("trestle-bench").parts if solid.part.kind == "leg"]
    feet = [corner for leg in legs for corner in leg.geometry.corners if corner[2] < 1e-3]
    spread = max(foot[1] for foot in feet) - min(foot[1] for foot in feet)
    words = show(Length(Fraction(round(spread * 1024), 1024)), style_of(model("trestle-bench"))).text
    (sizes,) = [drawing for view, drawing in drawings("trestle-bench") if view.words == "sizes"]
    assert words in [mark.text for mark in sizes.marks if isinstance(mark, Lettering) and mark.role == "dimension"]
