"""Drawings by their words: views, sizes, sections, steps, and what is said when there is nothing to draw."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from compiler.base.digests import digest
from compiler.base.report import Spot
from compiler.base.showing import Style
from compiler.draw import elevations, steps
from compiler.draw.bounds import clashes
from compiler.draw.picture import picture
from compiler.solid.building import Solids, build
from compiler.values.document import View
from compiler.values.figure import Circle, Drawing, Lettering, Region, Stroke
from compiler.values.model import Model
from tests.draw.pieces import OAK, X, Z, bookcase, box, joint, model_of, part

PLACE = Spot("design.yaml", ("views", "x"))


@pytest.fixture(scope="module")
def case() -> Model:
    """The bookcase."""
    return bookcase()


@pytest.fixture(scope="module")
def solids(case: Model) -> Solids:
    """Its solids."""
    return build(case.parts, quality="coarse")


def drawn(view: View, case: Model, solids: Solids) -> Drawing:
    """The drawing, without faults."""
    outcome = picture(view, case, solids, PLACE)
    assert outcome.value is not None and not outcome.report.errors, outcome.report
    return outcome.value


WORDS = (
    "front right top", "isometric", "front", "left side", "exploded", "exploded front left top", "sizes", "part left side", "joint joint 1",
    "detail of bottom", "thumb side", "template bottom rail 1", "section at middle from the front", "section at shelf 1.top from the top",
    "front right top without top and back", "key", "step",
)


@pytest.mark.parametrize("words", WORDS)
def test_each_sort_of_drawing_is_clean_and_says_what_it_is(words: str, case: Model, solids: Solids) -> None:
    """Nothing overlaps, nothing leaves the frame, a description in words."""
    drawing = drawn(View(words), case, solids)
    assert clashes(drawing) == ()
    assert drawing.says and drawing.marks


@pytest.mark.parametrize(
    ("words", "code", "part_of_message"),
    [
        ("front front", "no-view", "is no view"),
        ("part lid", "no-view", "“lid” is no part of this plan"),
        ("section at 90 from the front", "no-view", "misses the piece"),
        ("section somewhere", "no-view", "write “section at PLACE from the front”"),
        ("section at lid.top from the top", "no-view", "is no place of this plan"),
        ("front without lid", "no-such-part", "“lid” is no part"),
        ("joint joint 99", "no-view", "is no joint"),
    ],
)
def test_words_that_mean_nothing_are_reported_at_their_place(
    words: str, code: str, part_of_message: str, case: Model, solids: Solids
) -> None:
    """An error with a sentence, never a blank figure or a traceback."""
    outcome = picture(View(words), case, solids, PLACE)
    assert outcome.value is None
    (fault,) = outcome.report.errors
    assert fault.code == code and part_of_message in fault.says and fault.at == PLACE


def test_a_view_without_any_part_is_reported(case: Model, solids: Solids) -> None:
    """`without` everything leaves nothing."""
    outcome = picture(View("front without " + " and ".join(kind.name for kind in case.kinds)), case, solids, PLACE)
    assert outcome.value is None and outcome.report.errors[0].code == "empty-view"


def test_the_same_view_has_the_same_digest(case: Model, solids: Solids) -> None:
    """Two drawings of one view are equal in every coordinate."""
    again = build(case.parts, quality="coarse")
    for words in ("exploded", "sizes", "part left side", "joint joint 1"):
        assert digest(drawn(View(words), case, solids)) == digest(drawn(View(words), case, again))


def test_overall_sizes_are_the_models(case: Model, solids: Solids) -> None:
    """37 1/2 over the top's ends, 34 high, 13 deep, on the picture and on the elevations."""
    for words in ("front right top", "sizes"):
        texts = {mark.text for mark in drawn(View(words), case, solids).marks if isinstance(mark, Lettering)}
        assert {"37 1/2", "34", "13"} <= texts


def test_every_size_on_an_elevation_is_an_extent_of_the_model(case: Model, solids: Solids) -> None:
    """Each interval starts and ends where a part does, and its number is the distance."""
    for view in elevations.views_of(case, solids):
        for axis, intervals in view.sizes.items():
            for interval in intervals:
                assert float(interval.length) == pytest.approx(interval.end - interval.start, abs=1e-3), (view.title, axis)


def test_views_are_arranged_in_third_angle(case: Model, solids: Solids) -> None:
    """Drafting practice (US): the right side stands on the right of the front, the top above it."""
    texts = {mark.text: mark.at for mark in drawn(View("sizes"), case, solids).marks if isinstance(mark, Lettering)}
    assert texts["RIGHT SIDE"][0] > texts["FRONT"][0] and texts["TOP"][1] > texts["FRONT"][1]
    assert texts["RIGHT SIDE"][1] == pytest.approx(texts["FRONT"][1])


def test_a_scale_is_true_on_paper(case: Model, solids: Solids) -> None:
    """37 1/2 in at 1 in = 1 ft are 79.375 mm between the ends of the front's top edge."""
    drawing = drawn(View("sizes", width=170), case, solids)
    assert drawing.scale == "1″ = 1′"
    longest = max(abs(a[0] - b[0]) for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "outline"
                  for path in mark.paths for a, b in pairwise(path))
    assert longest == pytest.approx(79.375, abs=0.01)


def test_a_step_sets_off_what_it_adds(case: Model, solids: Solids) -> None:
    """The added shelf is grey and lettered, the rest is drawn back."""
    view = View("step", only=("left side", "right side", "bottom", "shelf 1"), tinted=("shelf 1",))
    drawing = drawn(view, case, solids)
    assert drawing.letters == ("C",)
    assert {"added-top"} <= {mark.role for mark in drawing.marks if isinstance(mark, Region)}
    assert {"done-outline"} <= {mark.role for mark in drawing.marks if isinstance(mark, Stroke)}


def _wide(drawing: Drawing) -> float:
    """The largest reach across of an added part's areas, in mm."""
    areas = [[x for ring in mark.rings for x, _ in ring] for mark in drawing.marks if isinstance(mark, Region) and mark.role.startswith("added")]
    return max(max(xs) - min(xs) for xs in areas)


def test_a_small_part_is_looked_at_closer_and_the_window_is_framed_in_the_whole() -> None:
    """A 1 1/2 in block on a board of 60 in: about 2 mm in the whole picture, at least 1.8 times that in its window."""
    board = part("board", "board", "A", OAK, box((0, 60), (0, "3/4"), (0, 30)), grain="across")
    block = part("block", "block", "B", OAK, box((50, "103/2"), ("-3/2", 0), (20, "43/2")), grain="up")
    plan = model_of("Board", (board, block), (joint(1, "butt", "to", "block", "board", (50, 0, 20), X, Z, (0.0, 1.0, 0.0), "3/2", "3/2"),))
    closed = build(plan.parts, quality="coarse")
    closer = drawn(View("step", only=("board", "block"), tinted=("block",), width=76, height=40), plan, closed)
    whole = drawn(View("front right top", only=("board", "block"), tinted=("block",), width=76, height=40), plan, closed)
    assert closer.letters == ("B",) and clashes(closer) == ()
    # The picture without balloons has a sixth more room across: 76 mm against 50 mm in 40 mm of height.
    assert _wide(closer) > 1.8 * _wide(whole) * 50 / 76
    assert {"small-outline"} <= {mark.role for mark in closer.marks if isinstance(mark, Stroke)}


def test_what_one_corner_hides_a_second_look_shows(case: Model, solids: Solids) -> None:
    """From the rear the back hides the shelf that is added with it; both letters are there."""
    names = ("left side", "right side", "bottom", "shelf 1", "back")
    view = View("step back right top", only=names, tinted=("back", "shelf 1"), width=76, height=40)
    drawing = drawn(view, case, solids)
    assert set(drawing.letters) == {case.part("back").letter, case.part("shelf 1").letter}


def test_a_section_of_a_step_letters_what_it_adds(case: Model, solids: Solids) -> None:
    """The cut face of the shelf is grey, its letter stands beside; no sizes, no scale."""
    view = View("section at middle from the right", only=("left side", "bottom", "shelf 1", "top"), tinted=("shelf 1",), dimensions=False, width=76, height=40)
    with pytest.raises(AssertionError):
        drawn(replace(view, words="section at 80 from the right"), case, solids)
    drawing = drawn(view, case, solids)
    assert drawing.letters == ("C",) and drawing.scale == ""
    assert "added" in {mark.role for mark in drawing.marks if isinstance(mark, Region)} and clashes(drawing) == ()


def test_a_part_that_cannot_be_put_in_any_more_is_reported(case: Model, solids: Solids) -> None:
    """A shelf in stopped dadoes can't follow once sides, back and face frame stand; before them it can."""
    late = tuple(part.name for part in case.parts)
    _, stuck = steps.draw(case, solids, shown=late, added=["shelf 1"], width=97, height=80)
    assert stuck == ("shelf 1",)
    _, free = steps.draw(case, solids, shown=("left side", "bottom", "shelf 1"), added=["shelf 1"], width=97, height=80)
    assert free == ()


def test_left_stays_left(case: Model, solids: Solids) -> None:
    """The usual corner is kept where it shows the added part well."""
    assert steps.best_corner(solids, case.parts and solids.names, ["top"], None) == steps.USUAL


def test_elevations_need_no_float_style(case: Model, solids: Solids) -> None:
    """The smallest step shown is 1/32."""
    drawing = elevations.draw(case, solids, width=170, height=205, style=Style())
    assert all("/64" not in mark.text for mark in drawing.marks if isinstance(mark, Lettering))


def test_an_override_to_nowhere_is_reported_at_its_place(case: Model, solids: Solids) -> None:
    """`explode: {top: sideways 3, lid: up 6}`: both lines are wrong."""
    wrong = replace(case, explode=(("top", "sideways 3"), ("lid", "up 6")))
    faults = picture(View("exploded"), wrong, solids).report.errors
    assert [(fault.code, fault.at) for fault in faults] == [
        ("explode-nowhere", Spot("design.yaml", ("explode", "top"))), ("explode-nowhere", Spot("design.yaml", ("explode", "lid"))),
    ]


def test_an_authors_view_is_reported_where_it_is_written(case: Model, solids: Solids) -> None:
    """The place is the entry under views."""
    wrong = replace(case, views=(("odd", "sideways"),))
    (fault,) = picture(View("sideways", width=168), wrong, solids).report.errors
    assert fault.at == Spot("design.yaml", ("views", "odd"))


def test_the_sheet_bears_the_sign_of_its_projection(case: Model, solids: Solids) -> None:
    """ISO 5456-2, third angle: two circles about one centre on the left, the cone's small end towards them."""
    drawing = drawn(View("sizes"), case, solids)
    circles = [mark for mark in drawing.marks if isinstance(mark, Circle) and mark.role == "outline"]
    assert len(circles) == 2 and circles[0].centre == circles[1].centre and circles[0].radius == 2 * circles[1].radius
    cone = next(path for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "outline" for path in mark.paths
                if len(path) == 5 and path[0][0] > circles[0].centre[0] and abs(path[0][1] - path[-1][1]) < 1e-9
                and abs(sum(y for _, y in path[:4]) / 4 - circles[0].centre[1]) < 1e-6)
    (left, top), (right, higher), *_ = cone
    assert left < right and abs(top - circles[0].centre[1]) < abs(higher - circles[0].centre[1])


def test_first_angle_views_stand_where_they_are_projected_to(case: Model, solids: Solids) -> None:
    """ISO 128-3, ISO 5456-2: the view from the left stands right of the front, the view from above below it; the circles of the sign
    stand right of the cone."""
    drawing = drawn(View("sizes", first_angle=True), case, solids)
    texts = {mark.text: mark.at for mark in drawing.marks if isinstance(mark, Lettering)}
    assert texts["LEFT SIDE"][0] > texts["FRONT"][0] and texts["TOP"][1] < texts["FRONT"][1] and "RIGHT SIDE" not in texts
    large, small = [mark for mark in drawing.marks if isinstance(mark, Circle) and mark.role == "outline"]
    cone = [path for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "outline" for path in mark.paths
            if len(path) == 5 and max(x for x, _ in path) < large.centre[0] and abs(sum(y for _, y in path[:4]) / 4 - large.centre[1]) < 1e-6]
    assert large.centre == small.centre and len(cone) == 1 and clashes(drawing) == ()


def test_both_units_stand_on_a_size(case: Model, solids: Solids) -> None:
    """37 1/2 in is 952.5 mm (37.5 x 25.4, by hand); ASME Y14.5 puts the second unit in brackets behind the first."""
    words = [mark.text for mark in drawn(View("sizes", both_units=True), case, solids).marks if isinstance(mark, Lettering) and mark.role == "dimension"]
    assert "37 1/2 [952.5]" in words and all("[" in text for text in words)


def test_the_plane_of_a_section_is_marked_on_the_view_that_shows_it_edge_on(case: Model, solids: Solids) -> None:
    """Cut at 18 of 36 in: the A's stand at the middle of the front, above and below it; seen from the right, the arrows point left
    (ISO 128-3: the arrows show the way of viewing). A level cut is marked at both sides of the front."""
    drawing = drawn(View("sizes with at 18 from the right; at shelf 1.top from the top"), case, solids)
    texts = [mark for mark in drawing.marks if isinstance(mark, Lettering)]
    first, second = ([mark.at for mark in texts if mark.text == letter] for letter in "AB")
    assert len(first) == len(second) == 2 and clashes(drawing) == ()
    assert first[0][0] == pytest.approx(first[1][0]) and second[0][1] == pytest.approx(second[1][1])
    ends = [path for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "cut" for path in mark.paths]
    upright = [path for path in ends if path[0][0] == path[1][0]]
    tops = [path for path in ends if path[0][1] == path[1][1]]
    assert len(upright) == len(tops) == 2
    # The top reaches 3/4 in over both sides: 18 in of the case is the middle of the front.
    side = next(mark.at[0] for mark in texts if mark.text == "RIGHT SIDE")
    outline = [x for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "outline" for path in mark.paths for x, _ in path if x < side - 2]
    assert upright[0][0][0] == pytest.approx((max(outline) + min(outline)) / 2, abs=0.02)
    tips = [ring[0] for mark in drawing.marks if isinstance(mark, Region) and mark.role == "arrow" for ring in mark.rings
            if abs(ring[0][1] - upright[0][1][1]) < 1e-6 or abs(ring[0][1] - upright[1][1][1]) < 1e-6]
    assert sum(x < upright[0][0][0] for x, _ in tips) >= 2
