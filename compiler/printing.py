"""What publish, compare, stamp and watch print, and the files of changes that they write.

In: parsed words of the command line. Out: exit codes: 0 done, 1 a plan has errors or could not be written, 2 mistyped. Results go to standard
output, one line each; faults and progress to standard error.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from compiler import build
from compiler.base.report import Diagnostic, Findings, Report
from compiler.build.writing import write_files
from compiler.showing import Place, progress, table, tell

if TYPE_CHECKING:
    from compiler.backlist import Order, Result

MOST_SENTENCES = 12
MOST_PICTURES = 480
"""Pages that a report of many plans shows, before and after: some 15 MB."""


def publish(parsed: argparse.Namespace, wishes: build.Wishes) -> int:
    """One plan here, more of them by several processes."""
    from compiler import backlist

    folders = backlist.plans_in(parsed.all) if parsed.all is not None else tuple({path.resolve(): path for path in parsed.plans}.values())
    if not folders:
        return _mistyped(f"there is no plan in {parsed.all}" if parsed.all is not None else "name a plan's folder, or say --all")
    if parsed.all is not None and parsed.plans:
        return _mistyped("name plans, or say --all FOLDER; not both")
    clashes = backlist.clashes(folders, parsed.out)
    tell(clashes, None)
    if not clashes.ok:
        return 1
    report = parsed.report or (Path("changes.html") if parsed.dry else None)
    order = backlist.Order(wishes=wishes, out=parsed.out, dry=parsed.dry, compare=report is not None,
                           pictured=max(4, min(24, MOST_PICTURES // len(folders))))
    if len(folders) == 1 and parsed.all is None:
        with progress(str(folders[0])) as at:
            results: tuple[Result, ...] = (backlist.one(folders[0], order, at),)
    else:
        with table(len(folders)) as show:
            results = backlist.run(folders, order, workers=parsed.jobs or 0, show=show)
    first_with: dict[str, Path] = {}
    for result in results:
        _one(result, order, parsed.verbose, alone=len(results) == 1, same_as=first_with.setdefault(result.told, result.folder))
    if len(results) > 1:
        _summary(results, order)
    written = _write_report(report, results) if report is not None else 0
    return max(written, *(0 if result.ok else 1 for result in results))


def _one(result: Result, order: Order, verbose: bool, *, alone: bool, same_as: Path) -> None:
    """What is found and written of a plan. Of several plans one that stands as it was is only counted, and a fault that they share is told once."""
    changed = alone or verbose or not result.ok or any(each.touched for each in result.editions)
    if result.told and changed and same_as == result.folder:
        print(result.told + "\n", file=sys.stderr, flush=True)
    for edition in (each for each in result.editions if alone or each.touched):
        state = "as it was" if not edition.touched else "" if not order.dry else "would be new" if edition.new else "would change"
        print(f"{edition.path}  {edition.pages} pages, {edition.name}{', ' + state if state else ''}")
        for change in edition.changes:
            print(f"  CHANGED {change.sentence}")
    for line in result.account if verbose else ():
        print(f"  {'' if alone else f'{result.folder.name}: '}{line}")
    if not result.ok:
        because = "" if same_as == result.folder else f" For the same reason as {same_as}."
        print(f"{result.folder}: not published; what was there before is as it was.{because}", file=sys.stderr)


def _summary(results: tuple[Result, ...], order: Order) -> None:
    width = max(len(str(result.folder)) for result in results)
    print()
    for result in results:
        state = _state(result, order)
        pages = sum(edition.pages for edition in result.editions)
        rows = sum(len(edition.changes) for edition in result.editions)
        print(f"{result.folder!s:{width}}  {state:12}  {f'{pages} pages' if pages else '':10}{f'  {rows} rows of lists changed' if rows else ''}".rstrip())
    failed = sum(1 for result in results if not result.ok)
    print(f"{len(results)} plans, {failed} failed." if failed else f"{len(results)} plans.")


def _state(result: Result, order: Order) -> str:
    if not result.ok:
        return "FAILED"
    if not any(each.touched for each in result.editions):
        return "as it was"
    if not order.dry:
        return "published"
    return "would be new" if all(each.new for each in result.editions) else "would change"


def _write_report(path: Path, results: tuple[Result, ...]) -> int:
    from compiler.compare.report import html

    text = html(((str(result.folder), result.how_much, result.section) for result in results if result.ok),
                [str(result.folder) for result in results if not result.ok])
    for result in results:
        _sentences(result.sentences)
    return _written(path, text.encode())


def _sentences(sentences: tuple[str, ...]) -> None:
    for sentence in sentences[:MOST_SENTENCES]:
        print(f"  {sentence}")
    if len(sentences) > MOST_SENTENCES:
        print(f"  and {len(sentences) - MOST_SENTENCES} more; see the report")


def _written(path: Path, content: bytes) -> int:
    report = write_files(path.parent, ((path.name, content),))
    tell(report, None)
    if report.ok:
        print(f"{path}  what changed, page by page")
    return 0 if report.ok else 1


def compare(parsed: argparse.Namespace, wishes: build.Wishes) -> int:
    """Two PDFs, or plans as they would be published against what is published."""
    if len(parsed.what) == 2 and all(path.suffix == ".pdf" for path in parsed.what):
        return _compare_files(parsed.what[0], parsed.what[1], parsed.report or Path("changes.html"))
    wrong = [path for path in parsed.what if path.suffix == ".pdf"]
    if wrong:
        return _mistyped("compare takes two PDFs, or plans' folders")
    publishing = argparse.Namespace(plans=parsed.what, all=None, out=parsed.out, dry=True, report=parsed.report or Path("changes.html"), jobs=0, verbose=False)
    return publish(publishing, wishes)


def _compare_files(old: Path, new: Path, report: Path) -> int:
    from compiler.build.comparing import compared, printed
    from compiler.compare.report import html, section

    found = Findings()
    for path in (old, new):
        if not path.is_file():
            found.error("no-file", f"There is no file {path}.")
    if not found.report().ok:
        tell(found.report(), None)
        return 1
    outcome = compared(f"{old.name} → {new.name}", printed(old), printed(new))
    tell(outcome.report, None)
    if outcome.value is None:
        return 1
    print(f"{outcome.value.plan}: {'nothing changed' if not outcome.value.sentences else f'{len(outcome.value.sentences)} changes'}")
    _sentences(outcome.value.sentences)
    return _written(report, html([(outcome.value.plan, outcome.value.how_much, section(outcome.value))]).encode())


def stamp(parsed: argparse.Namespace) -> int:
    """Numbered copies, each with its buyer's name."""
    from compiler import stamping

    pdf = parsed.what if parsed.what.suffix == ".pdf" else parsed.what / "out" / f"{parsed.what.resolve().name}.pdf"
    names = list(parsed.name or ())
    if parsed.buyers is not None:
        try:
            names += [line.strip() for line in parsed.buyers.read_text(encoding="utf-8").splitlines() if line.strip()]
        except (OSError, UnicodeDecodeError) as fault:
            found = Findings()
            found.error("cannot-open", f"{parsed.buyers} can't be read: {getattr(fault, 'strerror', None) or fault}.", None, "One name a line, as UTF-8 text.")
            tell(found.report(), None)
            return 1
    if not names:
        return _mistyped("say for whom: --name, or --buyers FILE with one name a line")
    made = stamping.copies(pdf, tuple(names), parsed.number)
    report = made.report
    folder = parsed.out or pdf.parent / "copies"
    if made.value is not None:
        report += write_files(folder, made.value)
    tell(report, None)
    if not report.ok:
        return 1
    for (file, _), name in zip(made.value or (), names, strict=True):
        print(f"{folder / file}  {name}")
    return 0


def watch(parsed: argparse.Namespace, wishes: build.Wishes) -> int:
    """Rebuild on save until interrupted."""
    from compiler import watching

    if not (parsed.plan / "design.yaml").is_file():
        checked = build.check(parsed.plan, wishes)
        tell(checked.report, checked.place)
        return 1

    def work() -> None:
        told: set[Diagnostic] = set()

        def hear(report: Report, place: Place) -> None:
            tell(Report(tuple(each for each in report if each not in told)), place)
            told.update(report)

        checked = build.check(parsed.plan, wishes, early=hear)
        hear(checked.report, checked.place)
        if not checked.report.ok:
            print(f"{parsed.plan}: not published; the last good PDF stays.", flush=True)
            return
        print(f"{parsed.plan}: no errors; setting the pages", flush=True)
        published = build.publish(parsed.plan, wishes, out=parsed.out)
        hear(published.report, published.place)
        for edition in published.editions:
            print(f"{edition.path}  {edition.pages} pages, {edition.name}{'' if edition.touched else ', as it was'}", flush=True)

    print(f"{parsed.plan}: watched; Ctrl-C ends it", flush=True)
    watching.watch(parsed.plan, work, told=lambda names: print(f"changed: {names}", flush=True))
    return 0


def _mistyped(says: str) -> int:
    print(f"error: {says[0].upper()}{says[1:]}.", file=sys.stderr)
    return 2
