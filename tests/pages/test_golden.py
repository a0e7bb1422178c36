"""A handful of pages look as they did when somebody last looked at them."""

from __future__ import annotations

import pytest
from PIL import Image

from tests.pages.golden import DEMO_PAGES, FOLDER, PAGES, differs, now, show


@pytest.mark.parametrize("name", [*PAGES, *DEMO_PAGES])
def test_page_looks_as_it_did(name: str) -> None:
    """At most 2 pixels in 1000 differ; else tests/pages/out/ has a picture of the difference."""
    old, new = Image.open(FOLDER / f"{name}.png").convert("L"), now(name)
    share = differs(old, new)
    assert share <= 0.002, f"{share:.2%} differs, see {show(name, old, new)}; if it is meant: python -m tests.pages.golden"


def test_a_moved_line_is_seen() -> None:
    """A page shifted down by three pixels differs by far more than the limit."""
    page = now("cut-list")
    moved = Image.new("L", page.size, 255)
    moved.paste(page, (0, 3))
    assert differs(page, moved) > 0.01
