"""The section of exploded drawings: the whole first, each different sub-assembly once."""

from dataclasses import replace

from compiler.values.document import Figure, View
from compiler.values.model import Assembly, Model, Part
from plugins.exploded_drawing.groups import sub_assemblies
from plugins.exploded_drawing.pages import exploded_pages
from tests.draw.pieces import X as ACROSS
from tests.draw.pieces import Y as DEEP
from tests.draw.pieces import Z as UP
from tests.draw.pieces import bookcase, joint, model_of


def with_boxes() -> Model:
    """The bookcase with two equal boxes of two parts, uses of one component."""
    case = bookcase()
    extra: list[Part] = []
    joints = list(case.joints)
    for number, use in enumerate(("left box", "right box")):
        for name in ("side", "end"):
            source = case.part("shelf 1" if name == "side" else "back")
            extra.append(replace(source, name=f"{use}.{name}", kind=f"box {name}", letter="KL"[name == "end"], assembly=(use,), component="box"))
        joints.append(joint(50 + number, "dado", "into", f"{use}.side", f"{use}.end", (0, 0, 0), DEEP, UP, ACROSS, "10", "1"))
    groups = tuple(Assembly(name=use, path=(use,), parts=(f"{use}.side", f"{use}.end"), component="box") for use in ("left box", "right box"))
    return model_of("Case with boxes", (*case.parts, *extra), tuple(joints), groups)


def test_the_whole_comes_first_on_a_page_of_its_own() -> None:
    """A figure of the page, pictorial, without scale."""
    figures = [block for block in exploded_pages(bookcase()) if isinstance(block, Figure)]
    assert figures[0].placing == "page" and isinstance(figures[0].drawing, View) and figures[0].drawing.words.startswith("exploded")
    assert ("Scale", "none") in figures[0].strip
    assert len(figures) == 1


def test_equal_sub_assemblies_are_drawn_once() -> None:
    """Two boxes: one picture that says so."""
    (group,) = sub_assemblies(with_boxes())
    assert (group.name, group.number, group.parts) == ("box", 2, ("left box.side", "left box.end"))
    captions = [block.caption for block in exploded_pages(with_boxes()) if isinstance(block, Figure)]
    assert captions[1] == "Box, exploded, one of 2"


def test_a_group_without_a_joint_has_nothing_to_come_apart() -> None:
    """Loose runners of a case get no picture."""
    case = bookcase()
    loose = model_of("Loose", case.parts, (), (Assembly(name="rails", path=("rails",), parts=("top rail", "bottom rail"), component="rails"),))
    assert sub_assemblies(loose) == ()


def test_a_single_board_needs_no_section() -> None:
    """Nothing is yielded for a piece of one part."""
    case = bookcase()
    assert list(exploded_pages(model_of("Board", case.parts[:1], ()))) == []
