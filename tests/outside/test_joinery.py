"""Joints against what the trade reckons: lap arithmetic, screw lengths and places, slopes of tails.

FAS rows are those of the project's check values. Where a row says common practice there is no source, and it is said here.
"""

from __future__ import annotations

from itertools import pairwise
from math import atan, degrees

import pytest

from compiler.base.measures import inch, mm
from compiler.library import find_item
from tests.made import attempt, library, made

FRAME = """
sizes: {{width: {width}, height: {height}, face: {face}}}
middle: {{across: width / 2, up: height / 2}}
materials: {{wood: poplar 4/4, thin ply: birch plywood 1/4}}
parts:
  stile: {{stock: wood, across: 0 for face, deep: from 0, up: 0 to height, copies: mirror across}}
  rail: {{stock: wood, across: between left stile and right stile, deep: from 0, up: 0 for face, copies: mirror up}}
  panel: {{stock: thin ply, across: between left stile and right stile, deep: centred on rail, up: between bottom rail and top rail, grain: up}}
joints:
  - {{tenon: rail, into: stile, length: {tenon}, thickness: 1/4}}
  - {{groove: panel, into: [stile, rail], depth: {groove}, room: {room}}}
"""

PAIR = """
sizes: {{deep: 12}}
materials: {{ply: birch plywood 3/4, wood: poplar 4/4}}
parts:
  one: {{stock: wood, across: from 0, deep: 0 to deep, up: 0 to 20}}
  two: {{stock: wood, {two}}}
joints:
  - {{butt: two, to: one, screws: {screw}, count: 4}}
"""
EDGE = "across: 3/4 for 20, deep: 0 to deep, up: from 10"
FACE = "across: from 3/4, deep: 0 to deep, up: 0 to 20"


@pytest.mark.parametrize(("width", "face", "tenon", "rail"), [
    ("24", "2 1/2", "1", "21"),  # 24 - 2 × 2 1/2 + 2 × 1
    ("18", "2 1/4", "1 1/4", "16"),  # 18 - 4 1/2 + 2 1/2
    ("30 1/2", "3", "1 3/8", "27 1/4"),  # 30 1/2 - 6 + 2 3/4
])
def test_rails_of_a_tenoned_frame(width: str, face: str, tenon: str, rail: str) -> None:
    """Rail = width over all - two stiles + two tenons. Common practice, no source."""
    model = made(FRAME.format(width=width, height=30, face=face, tenon=tenon, groove="3/8", room="0"))
    assert inch(rail) == model.part("bottom rail").length


@pytest.mark.parametrize(("groove", "room", "across", "up"), [
    ("3/8", "0", "19 3/4", "25 3/4"),  # 24 - 5 + 3/4 · 30 - 5 + 3/4
    ("3/8", "1/8", "19 1/2", "25 1/2"),  # a panel that may move: 1/8 less at each edge
    ("1/2", "1/16", "19 7/8", "25 7/8"),
])
def test_panels_of_a_frame(groove: str, room: str, across: str, up: str) -> None:
    """Panel = opening + two grooves - two rooms, each way. Common practice, no source."""
    panel = made(FRAME.format(width="24", height="30", face="2 1/2", tenon="1", groove=groove, room=room)).part("panel")
    assert (inch(up), inch(across)) == (panel.length, panel.width)


def test_a_third_of_the_thickness() -> None:
    """A tenon a third as thick as its part: 1/4 of 3/4, to the nearest 1/16. Common practice, no source."""
    text = FRAME.format(width="24", height="30", face="2 1/2", tenon="1", groove="3/8", room="0").replace(", thickness: 1/4", "")
    assert inch("1/4") == made(text).joints[0].value("thickness")


@pytest.mark.parametrize(("gauge", "diameter"), [
    ("No. 4 x 1/2", "0.112"), ("No. 6 x 1", "0.138"), ("No. 8 x 1 1/4", "0.164"), ("No. 10 x 2", "0.190"), ("No. 12 x 2 1/2", "0.216"),
])
def test_screws_are_as_thick_as_their_gauge(gauge: str, diameter: str) -> None:
    """0.060 + 0.013 × gauge (FAS-01 to FAS-08, screw-size charts)."""
    item = find_item(library(), gauge, "inch", "screw").value
    number = int(gauge.split()[1])
    assert item is not None
    assert inch(diameter) == item.measure("diameter") == inch("0.060") + inch("0.013") * number


def said(two: str, screw: str) -> list[str]:
    """Codes of what is said of a board screwed to another."""
    _, report = attempt(PAIR.format(two=two, screw=screw))
    return [fault.code for fault in report if fault.code.startswith("fastener")]


def test_face_to_edge_takes_an_inch_and_five_eighths() -> None:
    """FAS-45, trade practice: 3/4 face into an edge, 1 5/8: 7/8 in the edge."""
    assert [] == said(EDGE, "No. 8 x 1 5/8")


@pytest.mark.parametrize(("screw", "codes"), [
    ("No. 8 x 1 1/4", []),  # FAS-46, trade practice: 1/4 short of the far face
    ("No. 8 x 1 1/2", ["fastener-too-long"]),  # FAS-47: 3/4 + 3/4 - 1/8 = 1 3/8
    ("No. 8 x 3/4", ["fastener-too-short"]),  # it ends where the second board begins
])
def test_face_to_face(screw: str, codes: list[str]) -> None:
    """No screw is longer than both boards less 1/8 (FAS-47), none ends in the first."""
    assert codes == said(FACE, screw)


def test_metric_screws_by_the_metric_rule() -> None:
    """The rule's 1/8 in is 3 mm: 19 + 19 - 3 = 35, so 4 x 35 passes and 4 x 40 does not."""
    for screw, fine in (("No. 8 x 1 1/2", True), ("No. 8 x 1 5/8", False)):
        _, report = attempt(PAIR.format(two=FACE, screw=screw).replace("from 3/4", "from one.right"), "mm")
        assert fine == (not [fault for fault in report if fault.code == "fastener-too-long"])


def test_screws_keep_clear_of_ends() -> None:
    """Four screws on boards from 4 in up: at least twice the shank from an end (FAS-52, trade practice)."""
    shank = inch("0.164")
    for length in (4, 11, 40):
        model = made(PAIR.format(two=EDGE, screw="No. 8 x 1 5/8").replace("deep: 12", f"deep: {length}"))
        places = [place[1] for place in model.joints[0].fasteners[0].entry]
        assert min(places) >= shank * 2 and max(places) <= inch(length) - shank * 2


def test_pocket_screws_of_three_quarter_stock() -> None:
    """FAS-48, two how-to articles: 1 1/4 in for 3/4 stock."""
    text = PAIR.format(two=EDGE, screw="X").replace("butt: two, to: one, screws: X, count: 4", "pocket screws: two, to: one, count: 2")
    assert inch("5/4") == made(text).joints[0].fasteners[0].item.measure("length")


@pytest.mark.parametrize(("slope", "angle"), [("1 in 6", 9.46), ("1 in 7", 8.13), ("1 in 8", 7.13)])
def test_slopes_of_tails(slope: str, angle: float) -> None:
    """1 in 6 for softwood, 1 in 8 for hardwood: 9.46 and 7.13 degrees. Slopes: common practice, no source; angles: arithmetic."""
    model = made(f"""
sizes: {{width: 12, depth: 8}}
middle: {{across: width / 2, deep: depth / 2}}
materials: {{wood: white oak 4/4}}
parts:
  long: {{stock: wood, across: 0 to width, deep: 0 for 3/4, up: 0 to 5, copies: mirror deep}}
  end: {{stock: wood, across: 0 for 3/4, deep: 0 to depth, up: 0 to 5, copies: mirror across}}
joints:
  - {{dovetail: end, with: long, tails: 3, slope: {slope}}}
""")
    tail = next(feature.shape for feature in model.part("front long").features if feature.called == "tail socket")
    lean = (tail.long("along", "far") - tail.long("along")) / 2  # type: ignore[union-attr]
    assert degrees(atan(lean / inch("3/4"))) == pytest.approx(angle, abs=0.01)


def test_shelf_pins_of_the_metric_system() -> None:
    """5 mm holes on a pitch of 32 mm: the metric edition of a plan that says so has both. Common practice, no source."""
    model = made("""
sizes: {height: 30, pitch: {inch: 1, mm: 32}}
materials: {ply: birch plywood 3/4, pin: shelf pin}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 12, up: 0 to height, workings: [{holes: right, first: 2 from front and 6 from bottom, going: up, every: pitch, count: 5, for: pin}]}
  other: {stock: ply, across: from side.right, deep: 0 to 12, up: 0 to height}
joints:
  - {butt: other, to: side}
""", "mm")
    shapes = [feature.shape for feature in model.part("side").features]
    assert {mm(5)} == {shape.diameter for shape in shapes}  # type: ignore[union-attr]
    assert {mm(32)} == {two.at[1] - one.at[1] for one, two in pairwise(shapes)}  # type: ignore[union-attr]
