"""What solids show: nothing in the shop's own plans, each fault where it is made."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from pathlib import Path

import pytest

from compiler.base.measures import ZERO, Length
from compiler.base.report import Diagnostic, Report, Severity, Spot
from compiler.base.showing import Units
from compiler.solid import build
from compiler.stages.inspect import besides, inspect
from compiler.values.library import Item
from compiler.values.model import Edition, Fasteners, JointUse, Model, Part, PlanFacts
from compiler.values.shapes import Frame
from tests.made import ROOT, attempt, own_plugins
from tests.solid.pieces import cut, hole, part, turned

FOLDERS = tuple(sorted(path.parent for root in ("projects", "shared/starters") for path in (ROOT / root).glob("*/design.yaml")))
PLACES = {name: Spot("design.yaml", ("parts", name)) for name in ("a", "b", "c", "d")}
JOINT = Spot("design.yaml", ("joints", 0))


def model(*parts: Part, joints: tuple[JointUse, ...] = (), units: Units = "inch") -> Model:
    """A model of some parts, each at its place in the design."""
    facts = PlanFacts(title="", number="1", issue=1, date="2026-11-02", units="inch")
    placed = tuple(replace(one, at=PLACES.get(one.name)) for one in parts)
    return Model(plan=facts, edition=Edition(units=units, paper="letter"), parts=placed, kinds=(), joints=joints)


def found(some: Model) -> list[tuple[str, Spot | None]]:
    """The codes of all faults with their places."""
    return [(fault.code, fault.at) for fault in inspect(some, build(some.parts, quality="fine"))]


def codes(some: Model) -> list[str]:
    """The codes alone."""
    return [code for code, _ in found(some)]


def screw(length: str, diameter: str = "41/250", kind: str = "wood screw") -> Item:
    """A screw, No. 8 unless told otherwise: 0.164 in, FAS-05; its head twice that, FAS-14."""
    thick = Length(F(diameter))
    return Item(key=length, name=f"screw {length}", kind=kind, measures=(("length", Length(F(length))), ("diameter", thick), ("head", thick * 2)))


def joined(item: Item, *places: tuple[float | F, float | F, float | F], toward: tuple[float, float, float] = (0.0, 0.0, 1.0), through: str = "a", into: str = "b") -> JointUse:
    """A butt joint with fasteners through one part into another."""
    entry = tuple((Length(F(x)), Length(F(y)), Length(F(z))) for x, y, z in places)
    some = Fasteners(item=item, count=len(places), through=through, into=into, entry=entry, toward=toward)
    return JointUse(id="joint 1", kind="butt", family="to", acting=through, receiver=into, frame=Frame(), length=ZERO, width=ZERO, fasteners=(some,), at=JOINT)


BOARD = part("a", (0, 0, 0), (6, 4, F(3, 4)))
SECOND = part("b", (0, 0, F(3, 4)), (6, 4, F(3, 2)))


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_no_plan_of_the_shop_gives_a_false_alarm(folder: Path, units: Units) -> None:
    """Every demo plan and every starter, in both editions: nothing is said."""
    text = (folder / "design.yaml").read_text(encoding="utf-8")
    shop = (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")
    made, report = attempt(text, units, *own_plugins(folder), shop=shop)
    if made is None:
        pytest.skip("the plan has no such edition: " + "; ".join(fault.says for fault in report.errors))
    solids = build((*made.parts, *made.pieces), quality="fine")
    assert [fault.says for fault in besides(inspect(made, solids), report)] == []


@pytest.mark.parametrize(("length", "said"), [
    ("5/4", []),                       # FAS-46: 1 1/4 in joins two 3/4 in boards face to face
    ("11/8", []),                      # FAS-47: 3/4 + 3/4 less 1/8 is the longest
    ("23/16", ["fastener-too-long"]),  # 1/16 short of the face
    ("13/8", ["fastener-too-long"]),   # it comes out
    ("7/8", ["fastener-bites-little"]),
    ("5/8", ["fastener-misses"]),      # it ends in the first board
])
def test_screws_stay_inside_and_bite(length: str, said: list[str]) -> None:
    """Two boards of 3/4 in on each other, screwed from below."""
    assert codes(model(BOARD, SECOND, joints=(joined(screw(length), (2, 2, 0)),))) == said


def test_a_screw_along_a_tilted_axis() -> None:
    """Both boards turned by 30 degrees: the same screw fits, one 3/8 longer comes out by 1/8."""
    pose = turned("x", 30, (0.0, 0.0, 0.0))
    boards = tuple(replace(one, pose=pose) for one in (BOARD, SECOND))
    toward = (0.0, -0.5, 3**0.5 / 2)
    entry = (2.0, 2 * 3**0.5 / 2, 1.0)
    assert codes(model(*boards, joints=(joined(screw("5/4"), entry, toward=toward),))) == []
    assert codes(model(*boards, joints=(joined(screw("13/8"), entry, toward=toward),))) == ["fastener-too-long"]


def test_a_clearance_hole_does_not_swallow_the_head() -> None:
    """A hole as wide as the shank runs along the axis; the head still rests on the face."""
    bored = part("a", (0, 0, 0), (6, 4, F(3, 4)), hole("z", (2, 2), "3/16", -1, 2))
    assert codes(model(bored, SECOND, joints=(joined(screw("5/4"), (2, 2, 0)),))) == []
    assert codes(model(bored, SECOND, joints=(joined(screw("13/8"), (2, 2, 0)),))) == ["fastener-too-long"]


def test_a_counterbore_sets_the_head_deeper() -> None:
    """A screw that fits from the face comes out from a counterbore of 1/2 in."""
    bored = part("a", (0, 0, 0), (6, 4, F(3, 4)), hole("z", (2, 2), "1/2", -1, F(1, 2)))
    assert codes(model(bored, SECOND, joints=(joined(screw("3/4"), (2, 2, 0)),))) == []
    assert codes(model(bored, SECOND, joints=(joined(screw("5/4"), (2, 2, 0)),))) == ["fastener-too-long"]


def test_a_screw_into_a_hole_of_the_far_part() -> None:
    """The far board has a wide blind hole from its other side where the tip comes."""
    holed = part("b", (0, 0, F(3, 4)), (6, 4, F(3, 2)), hole("z", (2, 2), "3/4", 1, 3))
    assert codes(model(BOARD, holed, joints=(joined(screw("5/4"), (2, 2, 0)),))) == ["fastener-too-long"]
    assert codes(model(BOARD, holed, joints=(joined(screw("5/4"), (4, 2, 0)),))) == []


def test_a_head_inside_a_third_part() -> None:
    """A tenon fills the place where the screw would be driven."""
    mortised = part("a", (0, 0, 0), (6, 4, F(3, 4)), cut("notch", (1, 1, 0), (3, 3, F(1, 2))))
    tenon = part("c", (1, 1, -3), (3, 3, F(1, 2)))
    assert codes(model(mortised, SECOND, tenon, joints=(joined(screw("5/4"), (2, 2, 0)),))) == ["fastener-buried"]


def test_screws_that_meet_are_told_and_brads_are_not() -> None:
    """Two rows from both sides at the same place; brads are shot by eye and miss each other."""
    third = part("c", (0, 0, F(3, 2)), (6, 4, F(9, 4)))
    for item, said in ((screw("5/4"), ["fasteners-meet"]), (screw("5/4", "19/400", "brad"), [])):
        joints = (joined(item, (2, 2, 0)), joined(item, (2, 2, F(9, 4)), toward=(0.0, 0.0, -1.0), through="c"))
        assert codes(model(BOARD, SECOND, third, joints=joints)) == said
    apart = (joined(screw("5/4"), (2, 2, 0)), joined(screw("5/4"), (2 + 0.17, 2, F(9, 4)), toward=(0.0, 0.0, -1.0), through="c"))
    assert codes(model(BOARD, SECOND, third, joints=apart)) == []


def test_parts_that_run_into_each_other_are_told_at_the_first_with_the_second() -> None:
    """1 x 4 x 3/4 in of both: 3 cubic inches, 1 in deep."""
    other = part("b", (5, 0, 0), (9, 4, F(3, 4)))
    fault = inspect(model(BOARD, other), build(model(BOARD, other).parts, quality="fine")).errors[0]
    assert (fault.code, fault.at, fault.also) == ("collision", Spot("design.yaml", ("parts", "a"), True), (Spot("design.yaml", ("parts", "b"), True),))
    assert fault.says == ("`a` and `b` run into each other by 3/4: both fill the same 3 cubic inches, "
                          "round 5 1/2 across, 2 deep, 3/8 up.")


def test_tilted_parts_that_touch_nothing_float() -> None:
    """A board turned about its far edge leaves the other one; turned with it, it stays."""
    lifted = replace(SECOND, pose=turned("x", 10, (0.0, 0.0, 0.5)))
    assert codes(model(BOARD, lifted)) == ["floating"]
    pose = turned("x", 10, (0.0, 0.0, 0.5))
    assert codes(model(replace(BOARD, pose=pose), replace(SECOND, pose=pose))) == []


def test_a_joint_whose_parts_are_cut_apart() -> None:
    """The far board is planed away where the joint is; a panel with play in its groove is held."""
    joint = (replace(joined(screw("5/4")), fasteners=()),)
    hollow = part("b", (0, 0, F(3, 4)), (6, 4, 3), cut("notch", (0, 0, 0), (6, 4, F(9, 8))))
    assert found(model(BOARD, hollow, joints=joint))[0] == ("joint-apart", JOINT)
    loose = part("b", (0, 0, F(3, 4) + F(1, 64)), (6, 4, 3))
    assert found(model(BOARD, loose, joints=joint)) == []


@pytest.mark.parametrize(("feature", "code"), [
    (cut("notch", (2, 0, 0), (3, 4, 1)), "solid-split"),
    (cut("notch", (0, 0, 0), (6, 4, 1)), "solid-empty"),
    (cut("notch", (7, 0, 0), (8, 4, 1)), "solid-misses"),
])
def test_a_broken_solid_is_told_once_and_not_judged_further(feature: object, code: str) -> None:
    """Split, empty, or cut where it is not; nothing is said of its joints or of floating."""
    broken = part("a", (0, 0, 0), (6, 4, F(3, 4)), feature)  # type: ignore[arg-type]
    assert codes(model(broken, SECOND, joints=(joined(screw("13/8"), (2, 2, 0)),))) == [code]


def test_what_is_told_already_is_not_told_again() -> None:
    """A fault at a place that has an error is left out, unless floating hides a collision."""
    told = Report((Diagnostic("overlap", "", PLACES["a"]),))
    again = Report((Diagnostic("collision", "", PLACES["a"].key("across")), Diagnostic("collision", "", PLACES["b"])))
    assert [fault.at for fault in besides(again, told)] == [PLACES["b"]]
    floats = Report((Diagnostic("floating", "", PLACES["a"]),))
    assert len(besides(again, floats).diagnostics) == 2
    warned = Report((Diagnostic("overlap", "", PLACES["a"], severity=Severity.WARNING),))
    assert len(besides(again, warned).diagnostics) == 2
