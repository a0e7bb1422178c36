"""What is about to be published held against what is published, or one PDF against another.

In: bytes of two PDFs and of their records. Out: a `PlanComparison` for the report, with pictures of the pages that changed most; or the reason
why the old ones can't be read. Nothing is written here.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from compiler import record
from compiler.base.report import Findings, Outcome
from compiler.compare.lists import compare_lists
from compiler.compare.pages import PageRead, UnreadablePdf, compare_pages, pictures, read_pages
from compiler.compare.report import PlanComparison

MOST_PICTURES = 24
"""Pages shown of one plan: those that changed most."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF with its record, each None when there is none. `name` says where it is from."""

    name: str
    pdf: bytes | None
    record: bytes | None


def printed(pdf: Path) -> Printed:
    """What lies there now: the PDF, and the record beside it."""

    def content(path: Path) -> bytes | None:
        try:
            return path.read_bytes()
        except OSError:
            return None

    return Printed(str(pdf), content(pdf), content(pdf.with_name(f"{pdf.stem}.edition.json")))


def compared(plan: str, before: Printed, after: Printed, pictured: int = MOST_PICTURES) -> Outcome[PlanComparison]:
    """Pages and lists of both, with pictures of so many pages. No value when one of them can't be read; without an old PDF everything is new."""
    found = Findings()
    old_record, new_record = _record(before, found), _record(after, found)
    if not found.report().ok:
        return Outcome(None, found.report())
    rows = compare_lists(old_record, new_record) if old_record and new_record else ()
    if before.pdf is None:
        return Outcome(PlanComparison(plan=plan, before={}, after={}, remark="It was not published before."), found.report())
    if before.pdf == after.pdf:
        return Outcome(PlanComparison(plan=plan, rows=rows, before={}, after={}), found.report())
    old_pages, new_pages = _pages(before, found), _pages(after, found)
    if old_pages is None or new_pages is None or after.pdf is None or not found.report().ok:
        return Outcome(None, found.report())
    changes = compare_pages(old_pages, new_pages)
    shown = sorted((each for each in changes if each.kind != "same"), key=lambda each: -each.how_much)[:pictured]
    return Outcome(
        PlanComparison(
            plan=plan,
            pages=changes,
            rows=rows,
            before=pictures(before.pdf, tuple(each.before for each in shown if each.before)),
            after=pictures(after.pdf, tuple(each.after for each in shown if each.after)),
        ),
        found.report(),
    )


def newer_record(path: Path) -> Findings:
    """An error when the record there was written by a newer version: it must not be replaced by an older one."""
    found = Findings()
    _record(Printed(str(path), None, path.read_bytes() if path.is_file() else None), found)
    return found


def _record(of: Printed, found: Findings) -> record.Record | None:
    if of.record is None:
        return None
    try:
        return record.read(of.record)
    except record.NewerRecord as fault:
        found.error("newer-record", f"The record of {of.name} was written by a newer version of this program ({fault}).", None,
                    "Use that version, or move the record and its PDF away. Both are as they were.")
        return None


def _pages(of: Printed, found: Findings) -> tuple[PageRead, ...] | None:
    try:
        return read_pages(of.pdf or b"")
    except UnreadablePdf as fault:
        found.error("pdf-unreadable", f"{of.name} can't be read as a PDF: {str(fault).rstrip('.')}.", None, "Take it from a backup, or delete it and publish again.")
        return None
