"""The section of joint details: each sort of joint once."""

from compiler.values.document import Cells
from plugins.joint_details import joint_details
from plugins.joint_details.choosing import kinds_of_joint
from tests.draw.pieces import bookcase, model_of


def test_each_sort_of_joint_is_drawn_once() -> None:
    """Six dadoes of one size, two rabbets, four tenons of two lengths of mortise; butted parts have no detail."""
    assert [joint.kind for joint in kinds_of_joint(bookcase())] == ["dado", "rabbet", "mortise and tenon"]


def test_the_caption_names_both_parts_with_their_letters() -> None:
    """Detail 1, dado: bottom (B), side (A); the number is that of its circle."""
    (cells,) = [block for block in joint_details(bookcase()) if isinstance(block, Cells)]
    assert cells.figures[0].caption == "Detail 1, dado: bottom (B), side (A)"


def test_a_piece_without_joints_has_no_section() -> None:
    """Nothing is yielded."""
    assert list(joint_details(model_of("Loose", bookcase().parts, ()))) == []
