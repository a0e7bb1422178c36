"""The section of sizes: three views on a page, then the author's own."""

from dataclasses import replace

from compiler.base.measures import inch
from compiler.values.document import Figure, View
from compiler.values.drafting import DrawingSettings
from compiler.values.model import Span
from plugins.dimensioned_drawing import sizes
from plugins.dimensioned_drawing.sections import section_of
from tests.draw.pieces import bookcase
from tests.draw.plans import USUAL


def test_the_sheet_states_unit_and_projection() -> None:
    """ISO 7200 leaves them to the sheet: inches, third angle."""
    (figure, *_) = [block for block in sizes(bookcase(), USUAL) if isinstance(block, Figure)]
    assert figure.placing == "page" and dict(figure.strip) == {"Sizes in": "inches", "Projection": "third angle"}


def test_first_angle_and_both_units_reach_the_sheet() -> None:
    """What the shop sets under `drawings` is asked of the view and stated in the strip."""
    drawn = DrawingSettings(projection="first angle", dual_units="yes")
    (figure, *_) = [block for block in sizes(bookcase(), drawn) if isinstance(block, Figure)]
    assert dict(figure.strip) == {"Sizes in": "inches [millimetres]", "Projection": "first angle"}
    assert isinstance(figure.drawing, View) and figure.drawing.first_angle and figure.drawing.both_units


def test_the_authors_views_follow_under_their_names() -> None:
    """`views: {through the middle: section at middle from the front}`."""
    model = replace(bookcase(), views=(("through the middle", "section at middle from the front"),))
    figures = [block for block in sizes(model, USUAL) if isinstance(block, Figure)]
    assert figures[-1].name == "through the middle"
    assert isinstance(figures[-1].drawing, View) and figures[-1].drawing.words == "section at middle from the front"


def test_a_case_is_cut_through_once() -> None:
    """A bookcase has shelves between its ends: a section from the right; the author's own section of the same words stands for it."""
    words = [block.drawing.words for block in sizes(bookcase(), USUAL) if isinstance(block, Figure) and isinstance(block.drawing, View)]
    assert words == ["sizes with at middle from the right", "section at middle from the right"]
    model = replace(bookcase(), views=(("inside", "section at middle from the right"),))
    assert [block.name for block in sizes(model, USUAL) if isinstance(block, Figure)] == ["sizes", "inside"]


def test_a_divider_in_the_middle_moves_the_cut() -> None:
    """Cut along a divider, a section shows a board and nothing of the bays: the left bay is cut."""
    case = bookcase()
    side = case.part("left side")
    middle = (case.overall.across.start + case.overall.across.end) / 2
    divider = replace(side, name="divider", box=replace(side.box, across=Span(middle - inch("3/8"), middle + inch("3/8"))))
    model = replace(case, parts=(*case.parts, divider))
    assert section_of(model) == f"section at {(case.overall.across.start + case.overall.across.size / 4).inches} from the right"


def test_a_table_is_not_cut() -> None:
    """A top on sides hides nothing."""
    case = bookcase()
    model = replace(case, parts=tuple(part for part in case.parts if part.thickness_axis != "up"))
    assert section_of(model) is None
