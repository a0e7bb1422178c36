"""Every mistake in notes, settings, letters and plugins is answered exactly as its page says."""

from pathlib import Path

import pytest

from tests.cases.folders.pages import HERE, cases, said
from tests.cases.pages import Case


@pytest.mark.parametrize("case", cases(), ids=lambda case: f"{case.page}: {case.title}")
def test_what_is_said(case: Case, tmp_path: Path) -> None:
    """The maker sees this sentence, at this place, with this cure."""
    assert said(case, tmp_path) == case.said


def test_every_heading_is_a_case() -> None:
    """A case that is misspelt would silently not be tested."""
    headings = sum(page.read_text(encoding="utf-8").count("\n## ") for page in HERE.glob("*.md"))
    assert len(cases()) == headings


def test_the_plan_itself_is_clean(tmp_path: Path) -> None:
    """The folder that all cases change has no fault of its own."""
    assert said(Case("", "", "inch", "", "", (0, 0)), tmp_path) == "\n"
