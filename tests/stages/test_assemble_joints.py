"""Joints in a plan: which parts pair, what grows and is cut in the plan's own coordinates, and that wood never meets wood."""

from itertools import combinations

import pytest

from compiler.base.measures import ZERO, inch, mm
from compiler.solid import Solids, build
from compiler.values.model import Model
from compiler.values.shapes import Block, Prism
from tests.made import attempt, made, project

CASE = """
sizes: {width: 24, height: 20, depth: 10}
middle: {across: width / 2}
materials: {ply: birch plywood 3/4, thin ply: birch plywood 1/4}
assemblies:
  case:
    stock: ply
    parts:
      side: {across: from 0, deep: 0 to depth, up: 0 to height, copies: mirror across}
      shelf: {across: between left side and right side, deep: 0 to depth, up: from 8}
"""

FRAME = """
sizes: {width: 20, height: 30}
middle: {across: width / 2, up: height / 2}
materials: {wood: poplar 4/4}
parts:
  stile: {stock: wood, across: 0 for 3, deep: from 0, up: 0 to height, copies: mirror across}
  rail: {stock: wood, across: 0 to width, deep: from 0, up: 0 for 3, copies: mirror up}
"""

BOX = """
sizes: {width: 12, depth: 8, height: 4}
middle: {across: width / 2, deep: depth / 2}
materials: {wood: white oak 4/4, thin ply: birch plywood 1/4}
parts:
  long: {stock: wood, across: 0 to width, deep: 0 for 1/2, up: 0 to height, copies: mirror deep}
  end: {stock: wood, across: 0 for 1/2, deep: 0 to depth, up: 0 to height, copies: mirror across}
  bottom: {stock: thin ply, across: between left end and right end, deep: between front long and back long, up: from 1/2}
"""


def solids(model: Model) -> Solids:
    """All parts and loose pieces as solids."""
    return build((*model.parts, *model.pieces), quality="fine")


def shared_wood(model: Model) -> list[tuple[str, str, float]]:
    """Pairs of parts that take the same room, with the volume in cubic inches."""
    found = []
    for one, two in combinations(solids(model).parts, 2):
        if all(one.low[i] < two.high[i] and two.low[i] < one.high[i] for i in range(3)):
            volume = (one.body.manifold ^ two.body.manifold).volume()
            if volume > 1e-6:
                found.append((one.name, two.name, volume))
    return found


JOINTS = {
    "dado": CASE + "joints:\n  - {dado: shelf, into: side, depth: 1/4}\n",
    "stopped dado": CASE + "joints:\n  - {dado: shelf, into: side, depth: 1/4, stopped: 1/2 from front}\n",
    "tongue": CASE + "joints:\n  - {tongue: shelf, into: side, depth: 1/4}\n",
    "tenon": CASE + "joints:\n  - {tenon: shelf, into: side, length: 1/2, thickness: 1/4, shoulders: 1}\n",
    "lap dovetail": CASE.replace("up: from 8", "up: to height") + "joints:\n  - {lap dovetail: shelf, into: side, length: 1/2}\n",
    "loose tongue": CASE + "joints:\n  - {loose tongue: shelf, into: side, depth: 1/4}\n",
    "dowels": CASE + "joints:\n  - {dowels: shelf, to: side, dowel: 1/4 x 1 1/4}\n",
    "half-lap": FRAME + "joints:\n  - {half-lap: rail, with: stile}\n",
    "bridle": FRAME + "joints:\n  - {bridle: rail, with: stile}\n",
    "mitre": FRAME + "joints:\n  - {mitre: rail, with: stile}\n",
    "mitre with spline": FRAME + "joints:\n  - {mitre: rail, with: stile, spline: 1/8}\n",
    "carcase mitre": BOX + "joints:\n  - {mitre: end, with: long}\n  - {groove: bottom, into: [end, long], depth: 1/8}\n",
    "dovetail": BOX + "joints:\n  - {dovetail: end, with: long, tails: 3}\n  - {groove: bottom, into: [end, long], depth: 1/8, stopped: yes}\n",
    "box joint": BOX + "joints:\n  - {box joint: end, with: long}\n  - {groove: bottom, into: [end, long], depth: 1/8, stopped: yes}\n",
}


@pytest.mark.parametrize("name", JOINTS)
def test_joined_parts_never_take_the_same_room(name: str) -> None:
    """What goes in finds its room cut, to a millionth of a cubic inch, and every solid is sound."""
    model = made(JOINTS[name])
    assert () == solids(model).problems
    assert [] == shared_wood(model)


@pytest.mark.parametrize(("plan", "units"), [("low-bookcase", "inch"), ("low-bookcase", "mm"), ("tool-wall-cabinet", "mm"), ("trestle-bench", "inch")])
def test_the_plans_of_the_shop_are_sound(plan: str, units: str) -> None:
    """Every part is one sound solid and shares no wood with another, splayed legs and wedged tenons included."""
    model = project(plan, "mm" if units == "mm" else "inch")
    assert () == solids(model).problems
    assert [] == shared_wood(model)


@pytest.mark.parametrize("name", ["half-lap", "bridle", "mitre"])
def test_a_divided_overlap_is_all_there(name: str) -> None:
    """A frame's four parts hold as much wood as its outline: 20 × 30 less 14 × 24, 3/4 thick; nothing is cut twice."""
    volume = sum(solid.volume for solid in solids(made(JOINTS[name])).parts)
    assert volume == pytest.approx((20 * 30 - 14 * 24) * 0.75, rel=1e-9)


@pytest.mark.parametrize("name", ["dovetail", "box joint", "carcase mitre"])
def test_a_corner_of_boards_is_all_there(name: str) -> None:
    """Four walls of 1/2 hold (12 × 8 - 11 × 7) × 4, less the groove that the bottom fills."""
    plain = "\n".join(line for line in JOINTS[name].splitlines() if "groove:" not in line).replace(
        "  bottom: {stock: thin ply, across: between left end and right end, deep: between front long and back long, up: from 1/2}\n", "")
    plain = "\n".join(line for line in plain.splitlines() if "bottom:" not in line)
    volume = sum(solid.volume for solid in solids(made(plain)).parts)
    assert volume == pytest.approx((12 * 8 - 11 * 7) * 4, rel=1e-9)


def test_a_dado_runs_right_through_its_receiver() -> None:
    """The groove is as long as the side is deep, though the shelf stops short of the back."""
    model = made(CASE.replace("shelf: {across: between left side and right side, deep: 0 to depth", "shelf: {across: between left side and right side, deep: 0 to depth - 2") + "joints:\n  - {dado: shelf, into: side, depth: 1/4}\n")
    cut = model.part("left side").features[0]
    assert isinstance(cut.shape, Block)
    assert ("dado", inch(10), inch("23/32"), inch("1/4")) == (cut.called, cut.shape.long("along"), cut.shape.long("across"), cut.shape.long("into"))


def test_a_stopped_dado_notches_the_shelf() -> None:
    """1/2 from the front: the tongue begins there, the shelf's own front edge does not change."""
    model = made(JOINTS["stopped dado"])
    tongue = model.part("shelf").features[0]
    assert isinstance(tongue.shape, Block)
    assert (inch("1/2"), inch(10)) == tongue.shape.along
    assert inch("23 1/16") == model.part("shelf").length


def test_a_groove_runs_out_through_a_tongue() -> None:
    """The front of a drawer: its groove for the bottom is cut through the tongues that go into the sides."""
    model = project("low-bookcase")
    grooves = [feature for feature in model.part("left drawer.front").features if feature.called == "groove"]
    assert [model.part("left drawer.front").length] == [feature.shape.long("along") for feature in grooves if isinstance(feature.shape, Block)]


def test_a_panel_in_four_grooves_is_a_whole_rectangle() -> None:
    """Its corners are wood too: 11 1/4 × 7 1/4 × 7/32 and nothing less."""
    model = made(JOINTS["dovetail"])
    assert solids(model)["bottom"].volume == pytest.approx(11.25 * 7.25 * 7 / 32, rel=1e-9)


def test_room_is_left_at_the_bottom_of_a_groove() -> None:
    """Groove 1/4, room 1/32: 7/32 goes in."""
    text = CASE.replace("stock: ply\n    parts", "stock: ply\n    parts") + "joints:\n  - {groove: shelf, into: side, depth: 1/4, room: 1/32}\n"
    assert inch(24) - inch("23/32") * 2 + inch("7/32") * 2 == made(text).part("shelf").length


def test_fit_widens_the_trench_not_the_tongue() -> None:
    """1/64 of fit: the dado is 47/64 wide for a shelf of 23/32."""
    model = made(CASE + "joints:\n  - {dado: shelf, into: side, depth: 1/4, fit: 1/64}\n")
    assert inch("47/64") == model.part("left side").features[0].shape.long("across")  # type: ignore[union-attr]
    assert inch("23/32") == model.part("shelf").features[0].shape.long("across")  # type: ignore[union-attr]


def test_shop_fit_is_the_default() -> None:
    """The shop adds 0.5 mm to every groove."""
    text = CASE + "joints:\n  - {groove: shelf, into: side, depth: 1/4}\n"
    model, report = attempt(text, "mm", shop="shop: Pinwheel Lane Woodshop\nfit: {groove: {inch: 1/64, mm: 0.5}}\n")
    assert report.ok and model is not None
    assert mm("18.5") == model.part("left side").features[0].shape.long("across")  # type: ignore[union-attr]


def test_defaults_follow_the_stock_of_the_edition() -> None:
    """A third of the side: 1/4 of 23/32, 6 of 18."""
    text = CASE + "joints:\n  - {dado: shelf, into: side}\n"
    assert inch("1/4") == made(text).joints[0].value("depth")
    assert mm(6) == made(text, "mm").joints[0].value("depth")


def test_a_name_means_all_its_copies() -> None:
    """One wish, two sides, two joints; each with its glue area of 10 × 23/32."""
    joints = made(JOINTS["dado"]).joints
    assert [("shelf", "left side"), ("shelf", "right side")] == [(joint.acting, joint.receiver) for joint in joints]
    assert inch(10) * inch("23/32") == joints[0].area


def test_the_frame_of_a_contact() -> None:
    """Along the longer side, across the shorter, into the receiver, nothing where they touch."""
    frame = made(JOINTS["dado"]).joints[0].frame
    assert (inch("23/32"), ZERO, inch(8)) == frame.origin
    assert ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0)) == (frame.along, frame.across, frame.into)


def test_no_glue_when_the_maker_says_so() -> None:
    """`glue: no` takes the joint out of the glued area."""
    joint = made(CASE + "joints:\n  - {butt: shelf, to: side, glue: no}\n").joints[0]
    assert not joint.glue and not joint.area


def test_screws_go_through_the_face_into_the_edge() -> None:
    """A shelf butted between sides: the head lies on the outside of the side, in the middle of the shelf's thickness."""
    joint = made(CASE + "joints:\n  - {butt: shelf, to: side, screws: No. 8 x 1 1/4, count: 2}\n").joints[0]
    fasteners = joint.fasteners[0]
    assert ("left side", "shelf", 2, (1.0, 0.0, 0.0)) == (fasteners.through, fasteners.into, fasteners.count, fasteners.toward)
    assert ((ZERO, inch("5/2"), inch(8) + inch("23/64")), (ZERO, inch("15/2"), inch(8) + inch("23/64"))) == fasteners.entry


def test_pocket_screws_are_bored_in_the_part_that_acts() -> None:
    """The pocket is in the end of the rail, not in the stile's face."""
    fasteners = made(CASE + "joints:\n  - {pocket screws: shelf, to: side, count: 2}\n").joints[0].fasteners[0]
    assert ("shelf", "left side") == (fasteners.through, fasteners.into)


def test_every_says_how_far_apart() -> None:
    """10 in with one at least every 3: four, 2 1/2 apart, 1 1/4 clear at both ends."""
    fasteners = made(CASE + "joints:\n  - {butt: shelf, to: side, brads: 1 1/4, every: 3}\n").joints[0].fasteners[0]
    assert [inch("5/4"), inch("15/4"), inch("25/4"), inch("35/4")] == [place[1] for place in fasteners.entry]


def test_a_run_is_mitred_at_its_long_points() -> None:
    """The front moulding loses half a square of its thickness at each end: the two mitres are one whole square prism."""
    part = project("low-bookcase").part("front base moulding")
    mitres = [feature for feature in part.features if feature.called == "mitre"]
    assert 2 == len(mitres)
    assert all(isinstance(feature.shape, Prism) for feature in mitres)


def test_loose_pieces_are_parts_without_a_letter() -> None:
    """Four wedges of 1 7/16, as wide as the tenon; the flare is divided, so the thick end is made exact to 1/1024."""
    pieces = project("trestle-bench").pieces
    assert ["stretcher wedge 1", "stretcher wedge 2", "stretcher wedge 3", "stretcher wedge 4"] == [piece.name for piece in pieces]
    assert {(inch("23/16"), inch("3/2"))} == {(piece.length, piece.width) for piece in pieces}
    assert all(piece.thickness.inches.denominator <= 1024 for piece in pieces)
