"""The profile of a moulding: its places from the face and the edge, its radii, its scale."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.base.showing import Style
from compiler.draw.bounds import clashes
from compiler.draw.profile_drawing import draw, profile_of
from compiler.values.model import Part
from plugins.part_drawings import profiles_of
from tests.draw.test_joint_details import numbers, words
from tests.made import attempt

DESIGN = """
materials: {{oak: white oak 4/4}}
parts:
  moulding: {{stock: oak, across: 0 to 30, deep: 0 to 3/4, up: 0 to 4, grain: across, workings: [{{profile: top front, shape: {shape}}}]}}
"""


def moulded(shape: str) -> Part:
    """A board 30 x 4 x 3/4 in with a profile on its upper front edge."""
    model, report = attempt(DESIGN.format(shape=shape))
    assert model is not None, [fault.says for fault in report]
    assert [names for names, _ in profiles_of(model)] == [("moulding",)]
    return model.part("moulding")


def test_an_ogee_has_every_corner_from_face_and_edge() -> None:
    """An ogee of 3/4: half as wide, two arcs of a quarter of it, a fillet of an eighth (the compiler's own ogee, drawn by hand)."""
    profile = profile_of(moulded("ogee 3/4"))
    assert profile is not None
    assert [radius for radius, _ in profile.arcs] == [Fraction(3, 16)] * 2
    drawing = draw(moulded("ogee 3/4"), width=82, height=76, style=Style(), units="inch")
    assert numbers(drawing) == sorted(Fraction(*each) for each in ((3, 16), (3, 8), (3, 32), (9, 32), (15, 32)))
    assert drawing.scale in ("full size", "twice full size")


def test_a_cove_tells_its_radius() -> None:
    """A cove of 1/2 is a quarter of a circle with that radius about the lost corner."""
    profile = profile_of(moulded("cove 1/2"))
    assert profile is not None and [radius for radius, _ in profile.arcs] == [Fraction(1, 2)]
    assert abs(profile.face.area - (3 - 3.14159265 / 16)) < 0.002


@pytest.mark.parametrize("shape", ["ogee 3/4", "cove 1/2", "bead 1/2", "step 1/2", "round-over 3/8"])
@pytest.mark.parametrize("width", [50, 82])
def test_profiles_are_clean(shape: str, width: int) -> None:
    """Nothing overlaps at half or a third of the text's width; every radius has its note."""
    part = moulded(shape)
    profile = profile_of(part)
    assert profile is not None
    drawing = draw(part, width=width, height=76, style=Style(), units="inch")
    assert not clashes(drawing)
    said = [mark for mark in drawing.marks if getattr(mark, "role", "") == "note"]
    assert len(said) == len({radius for radius, _ in profile.arcs}), words(drawing)


def test_a_plain_part_has_no_profile() -> None:
    """The words `profile shelf` are then an error of the view."""
    model, _ = attempt(DESIGN.format(shape="cove 1/2").replace("profile: top front, shape: cove 1/2", "chamfer: top front, width: 1/4"))
    assert model is not None and profile_of(model.part("moulding")) is None
    with pytest.raises(ValueError, match="no moulded edge"):
        draw(model.part("moulding"), width=82, height=76, style=Style(), units="inch")
