"""The section of sizes: three views on a page, then the author's own."""

from dataclasses import replace

from compiler.values.document import Figure, View
from plugins.dimensioned_drawing import sizes
from tests.draw.pieces import bookcase


def test_the_sheet_states_unit_and_projection() -> None:
    """ISO 7200 leaves them to the sheet: inches, third angle."""
    (figure,) = [block for block in sizes(bookcase()) if isinstance(block, Figure)]
    assert figure.placing == "page" and dict(figure.strip) == {"Sizes in": "inches", "Projection": "third angle"}


def test_the_authors_views_follow_under_their_names() -> None:
    """`views: {through the middle: section at middle from the front}`."""
    model = replace(bookcase(), views=(("through the middle", "section at middle from the front"),))
    figures = [block for block in sizes(model) if isinstance(block, Figure)]
    assert figures[1].name == "through the middle"
    assert isinstance(figures[1].drawing, View) and figures[1].drawing.words == "section at middle from the front"
