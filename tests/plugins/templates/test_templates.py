"""The section of templates: one page for each sheet of each curved part."""

from compiler.values.document import Figure, View
from plugins.templates import templates
from tests.draw.pieces import bookcase, model_of


def test_each_sheet_has_its_page() -> None:
    """The arched rail takes six."""
    figures = [block for block in templates(bookcase()) if isinstance(block, Figure)]
    assert [figure.drawing.words for figure in figures if isinstance(figure.drawing, View)] == [f"template bottom rail {n}" for n in range(1, 7)]
    assert all(figure.placing == "page" for figure in figures)


def test_names_of_figures_differ() -> None:
    """Two figures of one name could not be referred to."""
    names = [block.name for block in templates(bookcase()) if isinstance(block, Figure)]
    assert len(set(names)) == len(names)


def test_square_work_needs_none() -> None:
    """Nothing is yielded without a curve."""
    case = bookcase()
    assert list(templates(model_of("Square", tuple(p for p in case.parts if p.name != "bottom rail"), ()))) == []
