"""Every annotated case says exactly what its page says."""

import pytest

from compiler.values.source import Library
from tests.cases.pages import HERE, Case, cases, library, said

ALL = [case for page in sorted(HERE.glob("*.md")) for case in cases(page)]


@pytest.fixture(scope="module")
def shelf() -> Library:
    return library()


@pytest.mark.parametrize("case", ALL, ids=lambda case: f"{case.page}: {case.title}")
def test_what_is_said(case: Case, shelf: Library) -> None:
    """The maker sees this sentence, at this character, with this cure."""
    assert said(case, shelf) == case.said


def test_every_heading_is_a_case() -> None:
    """A case that is misspelt would silently not be tested."""
    headings = sum(page.read_text(encoding="utf-8").count("\n## ") for page in HERE.glob("*.md"))
    assert len(ALL) == headings


def test_the_plan_itself_is_clean(shelf: Library) -> None:
    """The plan that all cases change has no fault of its own, in either edition."""
    for edition in ("inch", "metric"):
        assert said(Case("", "", edition, "-plan: Open case with a drawer\n+plan: Open case with one drawer\n", "", (0, 0)), shelf) == "\n"
