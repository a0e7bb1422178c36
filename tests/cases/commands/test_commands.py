"""Every command that meets something wrong says exactly what its page says."""

from pathlib import Path

import pytest

from tests.cases.commands.pages import HERE, Case, cases, said

ALL = [case for page in sorted(HERE.glob("*.md")) for case in cases(page)]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One store for all: most cases differ in what comes after the plan is worked out. Equal plans beside other themes must not be taken for one."""
    return tmp_path_factory.mktemp("store")


@pytest.mark.parametrize("case", ALL, ids=lambda case: f"{case.page}: {case.title}")
def test_what_is_said(case: Case, tmp_path: Path, store: Path) -> None:
    """The maker sees this sentence, at this place, with this cure."""
    assert said(case, tmp_path, store) == case.said


def test_every_heading_is_a_case() -> None:
    """A case that is misspelt would silently not be tested."""
    headings = sum(page.read_text(encoding="utf-8").count("\n## ") for page in HERE.glob("*.md"))
    assert len(ALL) == headings
