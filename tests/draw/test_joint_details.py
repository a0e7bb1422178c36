"""Joint details: the sizes of tails and fingers are those that the joint was made with; each detail is found on an elevation."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest
from shapely import Point

from compiler.base.showing import Style
from compiler.draw import joint_details, joint_marks
from compiler.draw.bounds import clashes, letter_shape
from compiler.draw.joint_cuts import cut_of, faced
from compiler.draw.joint_faces import sizes_of_face, tails_of
from compiler.solid.building import Solids, build
from compiler.values.figure import Circle, Drawing, Lettering, StackedFraction, Stroke
from compiler.values.model import JointUse, Model
from tests.made import ROOT, attempt

STYLE = Style()
KEEPSAKE = (ROOT / "shared/starters/box/design.yaml").read_text(encoding="utf-8")
JOINTS = "- {dovetail: end wall, with: long wall, tails: 3, slope: 1 in 8}"
FINGERED = KEEPSAKE.replace(JOINTS, "- {box joint: end wall, with: long wall, finger: 1/2}")
MANY = KEEPSAKE.replace(JOINTS, "- {dovetail: end wall, with: long wall, tails: 9, slope: 1 in 8}").replace("height: 5", "height: 20")


@cache
def made(text: str) -> tuple[Model, Solids]:
    """The model of a design and its coarse solids."""
    model, report = attempt(text)
    assert model is not None, [fault.says for fault in report]
    return model, build((*model.parts, *model.pieces), quality="coarse")


def corner(model: Model) -> JointUse:
    """The first joint at the corner of the walls."""
    return next(joint for joint in model.joints if faced(joint))


def numbers(drawing: Drawing) -> list[Fraction]:
    """The sizes lettered on a drawing."""
    found = []
    for mark in drawing.marks:
        if isinstance(mark, Lettering) and mark.role == "dimension":
            found.append(sum((Fraction(run) if isinstance(run, str) else Fraction(int(run.numerator), int(run.denominator)) for run in mark.runs), Fraction(0)))
    return sorted(found)


def words(drawing: Drawing) -> list[str]:
    """Plain words lettered on a drawing."""
    return [mark.text for mark in drawing.marks if isinstance(mark, Lettering) and not any(isinstance(r, StackedFraction) for r in mark.runs)]


def test_tails_add_up_to_the_corner() -> None:
    """Worked by hand: 4 1/4 in of corner, 3 tails, pins of 17/36 at half depth, 1 in 8 over 1/2 in: tails 4 1/4 / 3 - 17/36 wide at
    half depth, 1/32 more at each side at their ends, where the pins are that much narrower."""
    model, _ = made(KEEPSAKE)
    tails, _ = tails_of(model, corner(model))
    middle = Fraction(17, 12) - Fraction(17, 36)
    assert [tail.end[1] - tail.end[0] for tail in tails] == [middle + Fraction(1, 16)] * 3
    assert [tail.root[1] - tail.root[0] for tail in tails] == [middle - Fraction(1, 16)] * 3


def test_a_dovetail_is_dimensioned_as_it_is_laid_out() -> None:
    """Half pin 7/32, tail 1, pin 13/32 at the tails' ends, 1/2 long, 4 1/4 in all (to 1/32 in); the note has number and slope."""
    model, solids = made(KEEPSAKE)
    drawing = joint_details.draw(model, solids, corner(model), width=82, height=92, style=STYLE)
    assert numbers(drawing) == [Fraction(7, 32), Fraction(13, 32), Fraction(1, 2), 1, Fraction(17, 4)]
    assert "3 tails, 1 in 8" in words(drawing)


def test_fingers_are_told_once() -> None:
    """4 1/4 in of fingers about 1/2 in wide: 9 (the nearest odd number) of 17/36 in, of which this part has 5."""
    model, solids = made(FINGERED)
    drawing = joint_details.draw(model, solids, corner(model), width=82, height=92, style=STYLE)
    assert numbers(drawing) == [Fraction(15, 32), Fraction(1, 2), Fraction(17, 4)]
    assert "5 fingers" in words(drawing)


def test_a_long_corner_shows_two_tails() -> None:
    """Nine tails on 19 1/4 in: broken off, and larger than the whole could be."""
    model, solids = made(MANY)
    joint = corner(model)
    cut = cut_of(model, solids, joint)
    assert cut.window[3] - cut.window[1] < float(joint.length) / 2
    dimensions, notes = sizes_of_face(model, joint, cut, 25.4, STYLE, True)
    assert len(dimensions) == 4 and notes[0].runs == ("9 tails, 1 in 8",)
    drawing = joint_details.draw(model, solids, joint, width=82, height=120, style=STYLE)
    assert drawing.scale == "full size" and not clashes(drawing)


def test_a_face_has_the_joints_two_parts_alone() -> None:
    """The lid over the corner and the bottom in its groove would hide what is laid out."""
    model, solids = made(KEEPSAKE)
    joint = corner(model)
    assert {name for name, _ in cut_of(model, solids, joint).faces} == {joint.acting, joint.receiver}


@pytest.mark.parametrize("width", [50, 82])
@pytest.mark.parametrize("text", [KEEPSAKE, FINGERED, MANY], ids=["dovetail", "box joint", "many"])
def test_details_are_clean_and_large(text: str, width: int) -> None:
    """No clash; at least a quarter of full size; at most five sizes."""
    model, solids = made(text)
    for joint in model.joints:
        if joint.family in ("into", "with"):
            drawing = joint_details.draw(model, solids, joint, width=width, height=92, style=STYLE)
            assert not clashes(drawing) and len(numbers(drawing)) <= 5, joint.id
            assert drawing.scale in ("twice full size", "full size", "half size", "3″ = 1′"), joint.id


def test_every_detail_has_a_circle_and_every_cut_its_arrows() -> None:
    """Numbers 1 to 4 each stand once at a circle; those of cuts twice more, one at each end of the plane."""
    model, solids = made(KEEPSAKE)
    sorts = {joint.kind: joint for joint in reversed(model.joints)}
    joints = list(sorts.values())
    drawing = joint_marks.draw(model, solids, joints, width=168, height=76)
    assert not clashes(drawing)
    circles = [mark for mark in drawing.marks if isinstance(mark, Circle) and mark.role == "cut"]
    assert len(circles) == len(joints)
    said = [number for mark in drawing.marks if isinstance(mark, Lettering) and mark.role == "label" for number in mark.text.split(", ")]
    for number, joint in enumerate(joints, start=1):
        assert said.count(str(number)) == (1 if faced(joint) else 3)
    assert sum(len(mark.paths) for mark in drawing.marks if isinstance(mark, Stroke) and mark.role == "cut") % 2 == 0


@pytest.mark.parametrize("height", [48, 56, 66, 90])
def test_arrows_of_near_cuts_keep_clear_of_each_other(height: int) -> None:
    """The smaller the elevations, the nearer the cuts: arrows then stand farther out."""
    model, solids = made(KEEPSAKE)
    joints = [joint for joint in model.joints if joint.family in ("into", "with")][::2]
    drawing = joint_marks.draw(model, solids, joints[:6], width=168, height=height)
    assert not clashes(drawing)
    rings = [Point(mark.centre).buffer(mark.radius).exterior for mark in drawing.marks if isinstance(mark, Circle) and mark.role == "cut"]
    assert not any(letter_shape(mark).intersects(ring) for mark in drawing.marks if isinstance(mark, Lettering) for ring in rings)
