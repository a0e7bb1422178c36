"""A spot in a value becomes a line and column in the file, whatever way the value is written."""

import pytest

from compiler.base.report import Spot
from compiler.language import position_of
from tests.stages.drafts import draft


@pytest.mark.parametrize(("text", "start", "expected"), [
    ("note: plain text\n", 6, (1, 13)),
    ("note: 'it''s here'\n", 5, (1, 14)),
    ('note: "a \\"b\\" c"\n', 6, (1, 16)),
    ('note: "\\u00bd and"\n', 2, (1, 15)),
    ("note: one\n  two\n", 4, (2, 3)),
    ("note: |\n  first\n  second\n", 6, (3, 3)),
    ("a: 1\nb: {c: [x, y z]}\n", 2, (2, 14)),
])
def test_characters_are_found_in_the_file(text: str, start: int, expected: tuple[int, int]) -> None:
    """Quotes, escapes, folds and blocks are counted through."""
    tree = draft(design=text)
    path = ("b", "c", 1) if text.startswith("a") else ("note",)
    position = position_of(Spot("design.yaml", path).within(start, start + 1), tree)
    assert position is not None
    assert expected == (position.line, position.column)


def test_a_key_is_found() -> None:
    """The key, not its value."""
    position = position_of(Spot("design.yaml", ("parts", "side"), on_key=True), draft(design="parts:\n  side:\n    up: 1\n"))
    assert position is not None
    assert (2, 3, 4) == (position.line, position.column, position.width)


def test_a_path_that_leads_nowhere_shows_its_parent() -> None:
    """The nearest key above stands in."""
    position = position_of(Spot("design.yaml", ("parts", "side", "gone")), draft(design="parts:\n  side:\n    up: 1\n"))
    assert position is not None
    assert 2 == position.line
