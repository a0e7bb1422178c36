"""Every section of figures.md: after that edit exactly these figures are drawn again, and the document is that of a store that knows nothing."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from compiler.build.reading import editions_of, read_plan
from compiler.build.surroundings import surroundings
from compiler.build.wishes import Built, Wishes, Workshop
from compiler.build.working import document_of
from compiler.store.account import Account
from tests.cases.pages import changed
from tests.made import ROOT

PAGE = Path(__file__).with_name("figures.md")
_CASE = re.compile(r"^## (?P<title>.+?)\n.*?```diff\n(?P<diff>.*?)```\n+```text\n(?P<figures>.*?)```\n", re.M | re.S)


@dataclass(frozen=True)
class Case:
    """An edit of the design, and the figures that it draws again."""

    title: str
    diff: str
    figures: tuple[str, ...]
    span: tuple[int, int]


def cases() -> tuple[Case, ...]:
    """The cases of the page."""
    return tuple(Case(found["title"], found["diff"], tuple(found["figures"].splitlines()), found.span("figures"))
                 for found in _CASE.finditer(PAGE.read_text(encoding="utf-8")))


@dataclass(frozen=True)
class Bookcase:
    """The plan with a store of its own, worked out and drawn."""

    plan: Path
    workshop: Workshop

    def made(self, *, store: bool = True) -> tuple[Built, tuple[str, ...]]:
        """The document, and the names of the figures that were drawn."""
        around = surroundings(self.workshop if store else replace(self.workshop, store=None))
        plan = read_plan(self.plan, around)
        account = Account(around.store, "figures")
        built = document_of(plan, editions_of(plan, Wishes())[0][0], Wishes(), account, draw=True)
        account.close()
        assert built.report.ok, built.report
        drawn = Counter(re.sub(r"^drawing | \[\w+\]$", "", entry.name) for entry in account.entries if entry.made and entry.name.startswith("drawing "))
        return built, tuple(sorted(name if number == 1 else f"{name} × {number}" for name, number in drawn.items()))


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Bookcase:
    """As it was drawn first."""
    home = tmp_path_factory.mktemp("figures")
    for name in ("design.yaml", "notes.md", "letters.yaml"):
        (home / "shop" / "low-bookcase").mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / "projects" / "low-bookcase" / name, home / "shop" / "low-bookcase" / name)
    shutil.copy(ROOT / "projects" / "shop.yaml", home / "shop")
    bookcase = Bookcase(home / "shop" / "low-bookcase", Workshop(store=home / "store", installed=False))
    bookcase.made()
    return bookcase


@pytest.fixture
def bookcase(drawn: Bookcase, tmp_path: Path) -> Iterator[Bookcase]:
    """With a copy of its design and its store to change."""
    shutil.copytree(drawn.plan.parent, tmp_path / "shop")
    shutil.copytree(drawn.workshop.store or tmp_path, tmp_path / "store")
    yield Bookcase(tmp_path / "shop" / drawn.plan.name, replace(drawn.workshop, store=tmp_path / "store"))


def edited(case: Case, bookcase: Bookcase) -> tuple[str, ...]:
    """The figures drawn after the edit."""
    design = bookcase.plan / "design.yaml"
    design.write_text(changed(design.read_text(encoding="utf-8"), case.diff), encoding="utf-8")
    built, figures = bookcase.made()
    assert built.document_digest == bookcase.made(store=False)[0].document_digest
    return figures


@pytest.mark.parametrize("case", cases(), ids=lambda case: case.title)
def test_figures_drawn_again(case: Case, bookcase: Bookcase) -> None:
    """No more, no fewer."""
    assert edited(case, bookcase) == case.figures


def test_there_are_cases() -> None:
    """A heading that is misspelt would silently not be tested."""
    assert len(cases()) == PAGE.read_text(encoding="utf-8").count("\n## ") > 0
