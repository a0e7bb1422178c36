"""Every fault that only solids show is answered exactly as its page says."""

import pytest

from tests.cases.pages import Case
from tests.cases.solids.pages import HERE, cases, said


@pytest.mark.parametrize("case", cases(), ids=lambda case: f"{case.page}: {case.title}")
def test_what_is_said(case: Case) -> None:
    """The maker sees this sentence, at this character, with this cure."""
    assert said(case) == case.said


def test_every_heading_is_a_case() -> None:
    """A case that is misspelt would silently not be tested."""
    headings = sum(page.read_text(encoding="utf-8").count("\n## ") for page in HERE.glob("*.md"))
    assert len(cases()) == headings


def test_the_plan_itself_is_clean() -> None:
    """The plan that all cases change has no fault of its own, in either edition."""
    for edition in ("inch", "metric"):
        assert said(Case("", "", edition, "-plan: Shelf on splayed legs\n+plan: Shelf on legs\n", "", (0, 0))) == "\n"
