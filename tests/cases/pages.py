"""Reads a page of cases: a heading, words, a diff of plan.yaml, the text that is said of it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from compiler.language import show_report
from compiler.stages.check import check
from compiler.stages.parse import parse
from compiler.stages.read import read_library
from compiler.values.model import Edition
from compiler.values.source import Library, Source, SourceFile

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
EDITIONS = {"inch": Edition(units="inch", paper="letter"), "metric": Edition(units="mm", paper="a4")}
_CASE = re.compile(r"^## (?P<title>.+?)\n(?P<words>.*?)```diff(?P<edition>[^\n]*)\n(?P<diff>.*?)```\n+```text\n(?P<said>.*?)```\n", re.M | re.S)


@dataclass(frozen=True)
class Case:
    """One case: what is changed, for which edition, and what should be said."""

    page: str
    title: str
    edition: str
    diff: str
    said: str
    span: tuple[int, int]


def cases(page: Path) -> tuple[Case, ...]:
    """The cases of a page."""
    text = page.read_text(encoding="utf-8")
    return tuple(Case(page.stem, found["title"], found["edition"].strip() or "inch", found["diff"], found["said"], found.span("said"))
                 for found in _CASE.finditer(text))


def changed(plan: str, diff: str) -> str:
    """The plan with a diff applied. Raises ValueError when the lines taken out don't stand there exactly once."""
    for hunk in re.split(r"(?m)^---\n", diff):
        lines = hunk.splitlines()
        old = "".join(line[1:] + "\n" for line in lines if line[:1] in "- ")
        new = "".join(line[1:] + "\n" for line in lines if line[:1] in "+ ")
        if plan.count(old) != 1:
            raise ValueError(f"stands {plan.count(old)} times: {old}")
        plan = plan.replace(old, new)
    return plan


def library() -> Library:
    """The project's own library."""
    found = read_library(ROOT / "shared").value
    assert found is not None
    return found


def said(case: Case, shelf: Library) -> str:
    """What the compiler says of a case."""
    text = changed((HERE / "plan.yaml").read_text(encoding="utf-8"), case.diff)
    draft = parse(Source(folder="plan", files=(SourceFile("design.yaml", text, ""),)))
    assert draft.value is not None
    report = draft.report + check(draft.value, shelf, EDITIONS[case.edition]).report
    return show_report(report, draft.value, shelf) + "\n"
