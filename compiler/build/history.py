"""The history of a plan's issues: kept records in, what each issue changed out.

In: a plan with its kept records, its model, a way to get its lists. Out: Outcome[History]. Lists are worked out only when there is an
earlier issue to hold them against.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from compiler.base.report import Findings, Outcome
from compiler.build.reading import Plan
from compiler.compare.lists import compare_lists
from compiler.record import NewerRecord, file_of_issue, read, record_lists
from compiler.values.derived import Derived
from compiler.values.history import History, Issue
from compiler.values.model import Model
from compiler.values.products import CutList, HardwareList


def history_of(plan: Plan, model: Model, lists: Callable[[], dict[str, Any]]) -> Outcome[History]:
    """Every earlier issue of this edition, and this one with what it changed since the last."""
    found = Findings()
    earlier: list[dict[str, Any]] = []
    for name, content in plan.history:
        try:
            record = read(content)
        except NewerRecord as fault:
            found.error("newer-record", f"{name} was written by a newer version of this program ({fault}).", None,
                        "Publish with that version, or move the file away: this one can't tell what changed since.")
            continue
        if record is None:
            found.warning("record-unreadable", f"{name} can't be read; what that issue said is not known.", None, "Take it from a backup, or delete it.")
        elif name == f"issues/{file_of_issue(record.get('issue', 0), model.edition.name)}" and record["issue"] < model.plan.issue:
            earlier.append(record)
    earlier.sort(key=lambda record: int(record["issue"]))
    issues = [Issue(number=record["issue"], date=str(record.get("date", "")), changes=tuple(record.get("changes", ()))) for record in earlier]
    changes: tuple[str, ...] = ()
    if earlier:
        changes = tuple(change.told for change in compare_lists(earlier[-1], {"lists": lists()}))
    issues.append(Issue(number=model.plan.issue, date=model.plan.date, changes=changes))
    return Outcome(History(issues=tuple(issues)), found.report())


def lists_of(derived: Derived | None, model: Model, step: Fraction) -> dict[str, Any]:
    """The lists as a record holds them."""
    if derived is None:
        return {}
    return record_lists(derived.get(CutList), derived.get(HardwareList), model, step)
