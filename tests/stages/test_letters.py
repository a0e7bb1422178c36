"""Letters stay with their parts from issue to issue."""

from dataclasses import replace

from compiler.stages.letters import HEAD, letters_text
from compiler.values.model import Kind
from tests.models import case


def test_the_first_time_all_letters_are_written() -> None:
    """In their order, under a line that says what the file is."""
    assert HEAD + "A: side\nB: shelf\n" == letters_text(case(), "")


def test_nothing_changes_when_nothing_is_new() -> None:
    """Not even the maker's own remarks."""
    before = "# mine\nA: side\nB: shelf\n"
    assert before == letters_text(case(), before)


def test_a_part_that_went_leaves_its_letter_behind() -> None:
    """It is never given again; the new part's letter comes last."""
    model = replace(case(), kinds=(case().kinds[0], Kind(letter="C", name="rail", parts=("shelf",))))
    assert "A: side\nB: (gone) shelf\nC: rail\n" == letters_text(model, "A: side\nB: shelf\n")
