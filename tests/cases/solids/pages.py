"""What is said when the solids of a changed plan.yaml are looked at, after everything that was said before."""

from __future__ import annotations

from compiler.language import show_report
from compiler.solid import build
from compiler.stages.inspect import besides, inspect
from compiler.stages.parse import parse
from compiler.values.source import Source, SourceFile
from tests.cases.pages import Case, changed, library
from tests.cases.pages import cases as cases_of
from tests.made import ROOT, attempt

HERE = ROOT / "tests" / "cases" / "solids"


def cases() -> tuple[Case, ...]:
    """All cases of this folder."""
    return tuple(case for page in sorted(HERE.glob("*.md")) for case in cases_of(page))


def said(case: Case) -> str:
    """What the compiler says of a case: assembled, then inspected."""
    text = changed((HERE / "plan.yaml").read_text(encoding="utf-8"), case.diff)
    draft = parse(Source(folder="plan", files=(SourceFile("design.yaml", text, ""),))).value
    assert draft is not None
    model, report = attempt(text, "mm" if case.edition == "metric" else "inch")
    if model is not None:
        solids = build((*model.parts, *model.pieces), quality="fine")
        report += besides(inspect(model, solids), report)
    return show_report(report, draft, library()) + "\n"
