"""What is said when the joints, workings and hardware of a changed plan.yaml are made."""

from __future__ import annotations

from compiler.language import show_report
from compiler.stages.parse import parse
from compiler.values.source import Source, SourceFile
from tests.cases.pages import Case, changed, library
from tests.cases.pages import cases as cases_of
from tests.made import ROOT, attempt

HERE = ROOT / "tests" / "cases" / "making"
UNITS = {"inch": "inch", "metric": "mm"}


def cases() -> tuple[Case, ...]:
    """All cases of this folder."""
    return tuple(case for page in sorted(HERE.glob("*.md")) for case in cases_of(page))


def said(case: Case) -> str:
    """What the compiler says of a case, assembled."""
    text = changed((HERE / "plan.yaml").read_text(encoding="utf-8"), case.diff)
    draft = parse(Source(folder="plan", files=(SourceFile("design.yaml", text, ""),))).value
    assert draft is not None
    _, report = attempt(text, "mm" if case.edition == "metric" else "inch")
    return show_report(report, draft, library()) + "\n"
