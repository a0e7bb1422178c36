"""Where parts stand: extents, copies, runs, components, tilts."""

from itertools import pairwise

import pytest

from compiler.base.measures import inch
from tests.stages.drafts import METRIC, checked, codes, design, part, place, sizes

SHEET = "materials: {ply: birch plywood 3/4, oak: white oak 8/4}\n"


def box(parts: str, head: str = "") -> str:
    return SHEET + head + "parts:\n" + parts


def row(name: str, *keys: str, stock: str = "oak") -> str:
    return f"  {name}:\n    stock: {stock}\n" + "".join(f"    {key}\n" for key in keys)


POST = row("post", "across: 0 for 1 1/2", "deep: 0 for 1", "up: 0 to 30")


@pytest.mark.parametrize(("written", "expected"), [
    ("10 to 20", ("10", "20")), ("from 10 to 20", ("10", "20")), ("10 for 3", ("10", "13")), ("to 20 for 3", ("17", "20")), ("from 10", ("10", "11 3/4")),
    ("to 20", ("18 1/4", "20")), ("6 centred on 20", ("17", "23")), ("centred on 20", ("19 1/8", "20 7/8")), ("centred on post", ("-1/8", "1 5/8")),
    ("as post", ("0", "1 1/2")), ("post.right + 1 to 20", ("2 1/2", "20")), ("post.right for post.across", ("1 1/2", "3")), ("-2 to 3", ("-2", "3")),
])
def test_every_form_of_an_extent(written: str, expected: tuple[str, str]) -> None:
    """White oak 8/4 planes to 1 3/4."""
    found = design(box(POST + row("rail", f"across: {written}", "deep: 0 for 1 1/4", "up: 0 to 40")))
    assert expected == (place(found, "rail", "left"), place(found, "rail", "right"))


def test_between_two_parts_with_clearance_at_each_end() -> None:
    """Taken off both ends."""
    found = design(box(POST + row("far", "across: 20 for 1", "deep: 0 for 1", "up: 0 to 30") + row("rail", "across: between post and far with 1/16 clear", "deep: 0 for 1", "up: 0 for 2")))
    assert ("1 9/16", "19 15/16") == (place(found, "rail", "left"), place(found, "rail", "right"))


def test_parts_may_stand_on_each_other_face_by_face() -> None:
    """Bottom needs back's front, back needs bottom's bottom: no circle."""
    found = design(box(row("bottom", "across: 0 to 20", "deep: 0 to back.front", "up: from 3", stock="ply") + row("back", "across: as bottom", "deep: to 12", "up: bottom.bottom to 30", stock="ply")))
    assert (("20", "11 9/32", "23/32"), ("20", "23/32", "27")) == (sizes(found, "bottom"), sizes(found, "back"))


def test_mirror_images_have_hands() -> None:
    """Left is written; right is its image about the middle."""
    found = design(box(row("side", "across: from 1", "deep: 0 to 12", "up: 0 to 30", "copies: mirror across", stock="ply"), "middle: {across: 18}\n"))
    assert [("left side", "left", ()), ("right side", "right", ("across",))] == [(each.name, each.hand, each.mirrored) for each in found.parts]
    assert ("34 9/32", "35") == (place(found, "right side", "left"), place(found, "right side", "right"))


def test_four_legs_are_two_left_and_two_right() -> None:
    """Two mirrors make a turn: the far leg has the first one's hand again."""
    found = design(box(row("leg", "across: 0 for 1 1/2", "deep: 0 for 1 1/2", "up: 0 to 30", "copies: mirror across and deep"), "middle: {across: 10, deep: 8}\n"))
    assert [("front left leg", "left"), ("front right leg", "right"), ("back left leg", "right"), ("back right leg", "left")] == [(each.name, each.hand) for each in found.parts]


def test_hands_are_taken_in_any_order() -> None:
    """`left front leg` is the front left leg."""
    legs = row("leg", "across: 0 for 1 1/2", "deep: 0 for 1 1/2", "up: 0 to 30", "copies: mirror across and deep")
    found = design(box(legs + row("rail", "across: between left front leg and front right leg", "deep: 0 for 1", "up: 5 for 3"), "middle: {across: 10, deep: 8}\n"))
    assert "17" == sizes(found, "rail")[0]


def test_copies_at_a_pitch() -> None:
    """Each one pitch farther."""
    found = design(box(row("slat", "across: 1 for 2", "deep: 0 to 12", "up: 0 for 1", "copies: 3 across every 4")))
    assert ["1", "5", "9"] == [place(found, f"slat {count}", "left") for count in (1, 2, 3)]


def test_copies_spread_evenly_have_equal_gaps() -> None:
    """Two slats of 3/4 in 12 1/2: three gaps of 3 2/3."""
    posts = POST + row("far", "across: 14 for 1", "deep: 0 for 1", "up: 0 to 30")
    found = design(box(posts + row("slat", "deep: 0 for 1", "up: 0 to 30", "copies: 2 across evenly between post and far")))
    left, right = part(found, "slat 1").box.across, part(found, "slat 2").box.across
    gaps = [left.start - inch("1 1/2"), right.start - left.end, inch(14) - right.end]
    assert 1 == len(set(gaps))


def test_a_part_goes_with_another() -> None:
    """One for each copy, set the same way; a follower of a follower too."""
    found = design(box(row("shelf", "across: 0 to 30", "deep: 2 to 12", "up: from 5", "copies: 2 up every 10", stock="ply") + row("lip", "across: as shelf", "deep: to shelf.front for 1", "up: shelf.bottom to shelf.top", "copies: with shelf")
                       + row("bead", "across: as lip", "deep: to lip.front for 1/2", "up: as lip", "copies: with lip")))
    assert [("5", "5", "5"), ("15", "15", "15")] == [tuple(place(found, f"{name} {count}", "bottom") for name in ("shelf", "lip", "bead")) for count in (1, 2)]


def test_a_part_goes_with_mirror_images() -> None:
    """It is mirrored like the one it goes with."""
    found = design(box(row("side", "across: from 0", "deep: 0 to 12", "up: 0 to 30", "copies: mirror across", stock="ply") + row("cleat", "across: side.right for 1", "deep: as side", "up: 5 for 1 1/2", "copies: with side"), "middle: {across: 18}\n"))
    assert [("left cleat", "23/32"), ("right cleat", "34 9/32")] == [("left cleat", place(found, "left cleat", "left")), ("right cleat", place(found, "right cleat", "left"))]


def test_a_run_goes_round_a_group() -> None:
    """Outside it by the stock's thickness, to the long points, square where it ends."""
    found = design(SHEET + "assemblies:\n  case:\n    parts:\n      core:\n        stock: ply\n        across: 0 to 20\n        deep: 0 to 10\n        up: from 0\n"
                   "parts:\n  skirt:\n    stock: oak\n    run: {round: [left, front], of: case}\n    up: 0 for 3\n")
    assert (("1 3/4", "11 3/4", "3"), ("21 3/4", "1 3/4", "3")) == (sizes(found, "left skirt"), sizes(found, "front skirt"))
    assert (("front", "mitre"), ("back", "square")) == part(found, "left skirt").run_ends
    assert (("left", "mitre"), ("right", "square")) == part(found, "front skirt").run_ends


TRAY = "components:\n  tray:\n    stock: ply\n    sizes: {lip: 1/2}\n    middle: {across: width / 2}\n    parts:\n      end:\n        across: from 0\n        deep: 0 to depth\n        up: 0 to height + lip\n        copies: mirror across\n      stop:\n        across: left end.right for 2\n        deep: from 0\n        up: 0 for 3\n"


def use(*keys: str) -> str:
    return "".join(["  tray:\n    component: tray\n", *(f"    {key}\n" for key in keys)])


def test_a_component_has_its_own_corner_and_sizes() -> None:
    """Its parts are placed from the corner of the place it is used in."""
    found = design(SHEET + "parts:\n" + use("across: 5 to 15", "deep: 2 to 12", "up: 3 to 7") + TRAY)
    assert ("5", "2", "3") == tuple(place(found, "tray.left end", face) for face in ("left", "front", "bottom"))
    assert ("23/32", "10", "4 1/2") == sizes(found, "tray.right end")
    assert ("tray", "tray end", "tray", ("tray",)) == (part(found, "tray.left end").use, part(found, "tray.left end").kind, part(found, "tray.left end").component, part(found, "tray.left end").assembly)


def test_a_size_is_given_to_a_component() -> None:
    """It is worked out where the component is used."""
    found = design("sizes: {rim: 1}\n" + SHEET + "parts:\n" + use("across: 5 to 15", "deep: 2 to 12", "up: 3 to 7", "with: {lip: rim * 2}") + TRAY)
    assert "6" == sizes(found, "tray.left end")[2]


def test_a_mirrored_component_is_a_true_image_and_its_names_tell_the_truth() -> None:
    """What was at the left end is at the right one, and is called right."""
    found = design(SHEET + "middle: {across: 20}\nparts:\n" + use("across: 5 to 15", "deep: 2 to 12", "up: 3 to 7", "copies: mirror across") + TRAY)
    assert ("25", "35") == (place(found, "right tray.left end", "left"), place(found, "right tray.right end", "right"))
    assert ("5 23/32", "34 9/32") == (place(found, "left tray.stop", "left"), place(found, "right tray.stop", "right"))
    assert ["left", "right"] == [part(found, name).hand for name in ("left tray.stop", "right tray.stop")]


def test_parts_inside_a_use_are_reached_from_outside() -> None:
    """The last word is the face."""
    found = design(SHEET + "parts:\n" + use("across: 5 to 15", "deep: 2 to 12", "up: 3 to 7") + row("rail", "across: tray.left end.right to tray.right end.left", "deep: 0 for 1", "up: 0 for tray.lip") + TRAY)
    assert ("8 9/16", "1", "1/2") == sizes(found, "rail")


def test_components_stand_inside_components() -> None:
    """Scopes nest, and so do names."""
    nested = "  chest:\n    parts:\n      tray:\n        component: tray\n        across: 1 to width - 1\n        deep: 0 to depth\n        up: 2 to height\n"
    found = design(SHEET + "parts:\n  chest:\n    component: chest\n    across: 10 to 30\n    deep: 0 to 12\n    up: 0 to 20\n" + TRAY + nested)
    assert ("11", "2") == (place(found, "chest.tray.left end", "left"), place(found, "chest.tray.left end", "bottom"))
    assert ["", "chest", "chest.tray"] == [scope.id for scope in found.scopes]
    assert ("chest", "tray") == part(found, "chest.tray.stop").assembly


@pytest.mark.parametrize(("keys", "axis"), [
    (("across: 0 to 30", "deep: 0 for 1 1/2", "up: 0 for 1"), "up"), (("across: 0 for 1 3/4", "deep: 0 for 1", "up: 0 to 30"), "across"),
    (("across: 0 for 1 3/4", "deep: 0 for 3", "up: 0 to 30"), "across"), (("across: 0 for 1", "deep: 0 for 1 1/2", "up: 0 to 30", "plane: deep"), "deep"),
    (("across: from 0", "deep: 0 for 1 1/2", "up: 0 to 30"), "across"),
])
def test_which_extent_is_the_thickness(keys: tuple[str, ...], axis: str) -> None:
    """The one left open, the one that equals the stock's, else the smallest of a board, or as `plane` says."""
    assert axis == part(design(box(row("post", *keys))), "post").thickness_axis


def test_wide_boards_are_glued_up() -> None:
    """White oak 8/4 is at most 7 wide: 15 takes three, unless the plan says four."""
    assert [3, 4] == [part(design(box(row("top", "across: 0 to 40", "deep: 0 to 15", "up: from 0", *more))), "top").strips for more in ((), ("glue-up: 4 strips",))]


def test_workings_are_mirrored_with_their_part() -> None:
    """Faces, and faces that places are counted from; names of parts stay."""
    found = design(box(row("side", "across: from 0", "deep: 0 to 12", "up: 0 to 30", "copies: mirror across", "workings:", "  - {hole: right, at: 2 from front and 4 from bottom, depth: 1/2}",
                           "  - {notch: bottom left, across: 1 from left, up: 2}", stock="ply"), "middle: {across: 18}\n"))
    left, right = found.parts
    assert [("right",), ("bottom left",)] == [wish.where for wish in left.workings]
    assert [("left",), ("bottom right",)] == [wish.where for wish in right.workings]
    assert "1 from right" == dict(right.workings[1].parameters)["across"].value


def test_all_round_names_four_edges() -> None:
    """One by one."""
    found = design(box(row("top", "across: 0 to 40", "deep: 0 to 5", "up: from 0", "workings:", "  - {round-over: all round top, radius: 1/8}")))
    assert ("top left", "top right", "top front", "top back") == found.parts[0].workings[0].where


def test_an_edition_buys_the_other_side_of_the_stock() -> None:
    """Bare numbers are re-sized alone: 12 is 305, 2 x 23/32 becomes 2 x 18."""
    body = box(row("shelf", "across: 0 to 36", "deep: 0 to 12 in", "up: from 6 + 6", stock="ply"))
    assert (("914", "304.8", "18"), "304") == (sizes(design(body, METRIC), "shelf"), place(design(body, METRIC), "shelf", "bottom"))


def test_traces_say_how_each_place_came_about() -> None:
    """Text, value, and what it stands on."""
    found = design("sizes: {height: 30}\n" + box(row("post", "across: 0 for 1 1/2", "deep: from 0", "up: 1 to height - 3")))
    traces = {trace.name: trace for trace in found.traces}
    assert ("height - 3", inch(27), ("height",)) == (traces["post.top"].text, traces["post.top"].value, traces["post.top"].needs)
    assert ("post.front + oak.thickness", ("post.front", "oak.thickness")) == (traces["post.back"].text, traces["post.back"].needs)


def test_a_name_that_copies_share_has_a_trace_of_its_own() -> None:
    """By way of the first of them; what they differ in has none."""
    found = design(box(row("side", "across: from 0", "deep: 1 to 12", "up: 0 to 30", "copies: mirror across", stock="ply"), "middle: {across: 18}\n"))
    traces = {trace.name: trace for trace in found.traces}
    assert (inch(1), ("left side.front",)) == (traces["side.front"].value, traces["side.front"].needs)
    assert "side.left" not in traces


def test_a_long_chain_of_sizes_is_worked_out() -> None:
    """Three hundred sizes, each one more than the last."""
    names = ["a" + "abcdefghij"[n // 100] + "abcdefghij"[n // 10 % 10] + "abcdefghij"[n % 10] for n in range(300)]
    lines = [f"  {names[0]}: 1"] + [f"  {name}: {before} + 1" for before, name in pairwise(names)]
    found = design("sizes:\n" + "\n".join(reversed(lines)) + "\n" + box(row("post", "across: 0 for 1 1/2", "deep: 0 for 1", f"up: 0 to {names[-1]}")))
    assert "300" == sizes(found, "post")[2]


def test_a_chain_without_end_is_one_fault() -> None:
    """No traceback."""
    names = ["a" + "abcdefghij"[n // 100] + "abcdefghij"[n // 10 % 10] + "abcdefghij"[n % 10] for n in range(900)]
    lines = [f"  {name}: {before} + 1" for before, name in pairwise(names)]
    found = checked("sizes:\n  " + names[0] + ": 1\n" + "\n".join(reversed(lines)) + "\n" + box(row("post", "across: 0 for 1 1/2", "deep: 0 for 1", f"up: 0 to {names[-1]}")))
    assert found.value is None
    assert ["too-deep"] == codes(found)


GROUP = "assemblies:\n  case:\n    parts:\n      core: {stock: ply, across: 0 to 20, deep: 0 to 10, up: from 0}\n"


def test_a_run_of_one_piece_spans_its_group() -> None:
    """The extent that is written says which way it lies."""
    found = design(SHEET + GROUP + "parts:\n  strip: {stock: oak, run: {round: [front], of: case}, up: 0 for 3}\n")
    assert (("20", "1 3/4", "3"), (("left", "square"), ("right", "square"))) == (sizes(found, "front strip"), part(found, "front strip").run_ends)


def test_a_run_round_itself_is_a_fault() -> None:
    """There is nothing inside it."""
    assert ["run-itself"] == codes(checked(SHEET + GROUP + "parts:\n  strip: {stock: oak, run: {round: [front], of: strip}, up: 0 for 3}\n"))


def test_a_moulding_is_never_wider_than_its_section() -> None:
    """It may be ripped narrower."""
    bought = "materials: {mould: base moulding stock}\nparts:\n  base: {stock: mould, across: 0 to 30, deep: from 0, up: 0 for %s}\n"
    assert [[], ["too-wide"]] == [codes(checked(bought % width)) for width in ("3", "5")]


def test_a_rod_leaves_two_sizes_to_its_diameter() -> None:
    """Both ends of both."""
    found = design("materials: {rod: dowel rod 1/2}\nparts:\n  peg: {stock: rod, across: centred on 3, deep: centred on 4, up: 0 to 20}\n")
    assert ("1/2", "1/2", "20") == sizes(found, "peg")


def test_an_end_that_meets_a_neighbour_leaning_two_ways_is_told() -> None:
    """It stays square at its long point; the maker fits it."""
    legs = ("  leg: {stock: oak, across: 2 for 1 1/2, deep: 2 for 1 1/2, up: 0 to 20, copies: mirror across and deep, level: [top, bottom],\n"
            "        tilt: [bottom by 5 deg to left about top left edge, bottom by 10 deg to front about top front edge]}\n")
    found = checked(SHEET + "middle: {across: 20, deep: 10}\nparts:\n" + legs + "  rail: {stock: oak, across: between front left leg and front right leg, deep: as front left leg, up: 5 for 3}\n")
    assert found.value is not None
    assert {"compound-end"} == set(codes(found))
