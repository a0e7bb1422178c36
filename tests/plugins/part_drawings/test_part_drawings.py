"""The section of part drawings: each kind with workings once, in the order of letters."""

from compiler.values.document import Block, Cells, Figure, Paragraph
from compiler.values.words import words
from plugins.part_drawings import part_drawings
from tests.draw.pieces import bookcase, model_of
from tests.draw.plans import USUAL


def figures(blocks: list[Block]) -> list[Figure]:
    """All figures, those in cells too."""
    return [f for block in blocks for f in (block.figures if isinstance(block, Cells) else (block,)) if isinstance(f, Figure)]


def test_each_kind_with_workings_is_drawn_once() -> None:
    """Back and top are plain boxes and have no drawing."""
    names = [figure.name for figure in figures(list(part_drawings(bookcase(), USUAL)))]
    assert sorted(names) == ["bottom", "bottom rail", "shelf", "side", "stile", "top rail"]


def test_the_caption_tells_letter_number_and_thickness() -> None:
    """What the cut list says of it."""
    first = figures(list(part_drawings(bookcase(), USUAL)))[0]
    assert first.caption[0] == "A side, 2 pieces, "
    assert bookcase().part("left side").thickness in first.caption


def test_parts_without_notes_are_small_and_all_may_change_places() -> None:
    """Bottom and shelf have tongues only."""
    (cells,) = (block for block in part_drawings(bookcase(), USUAL) if isinstance(block, Cells))
    assert cells.across == 1
    assert {"bottom", "shelf"} <= {figure.name for figure in cells.figures if figure.placing == "cell"}
    letters = [words(figure.caption)[0] for figure in cells.figures]
    assert letters == sorted(letters)


def test_a_piece_of_plain_boxes_has_no_section() -> None:
    """Nothing is yielded."""
    case = bookcase()
    plain_parts = tuple(part for part in case.parts if not part.features)
    assert list(part_drawings(model_of("Plain", plain_parts, ()), USUAL)) == []
    assert isinstance(next(iter(part_drawings(case, USUAL))), Paragraph)
