"""What is finished, put in place of what is published: held against it first, and written only when nothing forbids it.

In: a plan, its finished sheets, the folder that they go to. Out: `Published`, with the rows of lists that differ from what was there.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from compiler import record
from compiler.base.report import Report
from compiler.build.comparing import newer_record
from compiler.build.reading import Plan
from compiler.build.wishes import Finished, Published, PublishedEdition, Sheet
from compiler.build.writing import remove_files, write_files, write_issue, write_letters
from compiler.compare.lists import RowChange, compare_lists


def stands(target: Path, each: Sheet) -> bool:
    """Whether an edition lies there already, byte for byte."""
    try:
        if hashlib.sha256((target / f"{each.stem}.pdf").read_bytes()).hexdigest() != each.pdf:
            return False
        files = ((".edition.json", each.record), *each.exports)
        return all((target / f"{each.stem}{suffix}").read_bytes() == content for suffix, content in files)
    except OSError:
        return False


def replace_published(plan: Plan, finished: Finished, out: Path | None, dry: bool, *, keep_issue: bool) -> Published:
    """Write what is finished in place of what was published, unless something forbids it."""
    report = plan.report + finished.report
    contents = contents_of(plan, finished) or ()
    editions: tuple[PublishedEdition, ...] = ()
    if report.ok:
        target = out if out is not None else plan.folder / "out"
        for each in finished.sheets:
            report += newer_record(target / f"{each.stem}.edition.json").report()
    if report.ok:
        editions = tuple(_published(target, each, content) for each, content in zip(finished.sheets, contents, strict=True))
        if not dry:
            report += _write(plan.folder, target, finished, contents, keep_issue=keep_issue and out is None)
    return Published(report=report, place=plan.place(report), editions=editions if report.ok else ())


def contents_of(plan: Plan, finished: Finished) -> tuple[bytes, ...] | None:
    """The PDFs, out of the store if need be; None when one of them is gone from it."""
    if finished.contents or not finished.sheets:
        return finished.contents
    found = []
    for each in finished.sheets:
        kept = plan.around.store.get(each.kept)
        content = kept.value.content if kept is not None and kept.value is not None else b""
        if hashlib.sha256(content).hexdigest() != each.pdf:
            return None
        found.append(content)
    return tuple(found)


def _published(target: Path, each: Sheet, content: bytes) -> PublishedEdition:
    """The edition, held against what is there now."""
    path = target / f"{each.stem}.pdf"
    touched, new, changes = True, False, tuple[RowChange, ...]()
    try:
        touched = path.read_bytes() != content
        changes = _changes(target / f"{each.stem}.edition.json", each.record) if touched else ()
    except OSError:
        new = True
    return PublishedEdition(path=path, name=each.name, pages=each.pages, touched=touched, new=new, changes=changes)


def _changes(path: Path, now: bytes) -> tuple[RowChange, ...]:
    try:
        before, after = record.read(path.read_bytes()), record.read(now)
    except (OSError, record.NewerRecord):
        return ()
    return compare_lists(before, after) if before and after else ()


def _write(folder: Path, target: Path, finished: Finished, contents: tuple[bytes, ...], *, keep_issue: bool) -> Report:
    files: list[tuple[str, bytes]] = []
    gone = tuple(name for each in finished.sheets for name in _no_longer_made(target, each))
    for each, content in zip(finished.sheets, contents, strict=True):
        files += [(f"{each.stem}.pdf", content), (f"{each.stem}.edition.json", each.record)]
        files += [(f"{each.stem}{suffix}", export) for suffix, export in each.exports]
    report = write_files(target, tuple(files))
    if report.ok:
        remove_files(target, gone)
    if report.ok and finished.letters is not None:
        report += write_letters(folder, finished.letters)
    if report.ok and keep_issue:
        issues = []
        for each in finished.sheets:
            read = record.read(each.record)
            assert read is not None
            issues.append((record.file_of_issue(read["issue"], each.name), each.record))
        report += write_issue(folder, tuple(issues))
    return report


def _no_longer_made(target: Path, each: Sheet) -> tuple[tuple[str, str], ...]:
    """Files of the edition that stands there, by the digest they were written with, that this one doesn't have."""
    try:
        before = record.read((target / f"{each.stem}.edition.json").read_bytes())
    except (OSError, record.NewerRecord):
        return ()
    made = {suffix for suffix, _ in each.exports}
    files = before.get("files", {}) if before else {}
    return tuple((f"{each.stem}{suffix}", str(was)) for suffix, was in sorted(files.items())
                 if suffix not in made and re.fullmatch(r"\.[\w.-]+", suffix)) if isinstance(files, dict) else ()
