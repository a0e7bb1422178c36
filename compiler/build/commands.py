"""What the commands do: check, publish, why, plugins.

In: a plan's folder and wishes. Out: what was found and written. A plan on which a verdict is kept, and of which nothing has changed
since, is neither parsed nor built.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from compiler import record
from compiler.base.digests import digest
from compiler.base.report import Report
from compiler.build.finishing import sheet
from compiler.build.reading import Plan, editions_of, one_a_unit, read_plan
from compiler.build.surroundings import Surroundings, surroundings
from compiler.build.wishes import (
    Checked,
    Finished,
    Lines,
    Progress,
    Published,
    PublishedEdition,
    Sheet,
    Wishes,
    Workshop,
)
from compiler.build.working import document_of, model_of
from compiler.build.writing import write_files, write_issue, write_letters
from compiler.compare.lists import RowChange, compare_lists
from compiler.showing import Place, fresh, labelled
from compiler.store.account import Account
from compiler.values.contributions import Brought, Contributions
from compiler.values.model import Edition

BUNDLED = Workshop()
"""Library, themes, plugins and store of the checkout."""


def check(folder: Path, wishes: Wishes, workshop: Workshop = BUNDLED, around: Surroundings | None = None) -> Checked:
    """Everything that is wrong with a plan, in all its editions; draws and writes nothing."""
    plan = read_plan(folder, around or surroundings(workshop))
    if plan.source is None or plan.library is None:
        return Checked(report=plan.report, place=Place(folder))
    account = _account(plan, "check")
    made_from = plan.all_ingredients(wishes)
    report = plan.report + account.keep("judgement", made_from, lambda: _judged(plan, wishes, account), lambda found: plan.unchanged())
    account.close()
    return Checked(report=report, place=plan.place(report))


def _judged(plan: Plan, wishes: Wishes, account: Account) -> Report:
    editions, report = editions_of(plan, wishes, every=True)
    for number, edition in enumerate(one_a_unit(editions)):
        built = document_of(plan, edition, wishes, account, draw=False)
        told = fresh(built.report, report)
        report += labelled(told, edition.name) if number else told
    return report


def publish(
    folder: Path,
    wishes: Wishes,
    *,
    out: Path | None = None,
    progress: Progress = lambda text: None,
    workshop: Workshop = BUNDLED,
    around: Surroundings | None = None,
    dry: bool = False,
) -> Published:
    """The PDFs of the editions wished for, with their records; nothing is written while there is an error in any of them, or when `dry`."""
    plan = read_plan(folder, around or surroundings(workshop))
    if plan.source is None or plan.library is None:
        return Published(report=plan.report, place=Place(folder))
    account = _account(plan, "publish")
    finished = finish(plan, wishes, account, progress)
    report = plan.report + finished.report
    editions: tuple[PublishedEdition, ...] = ()
    if report.ok:
        target = out if out is not None else folder / "out"
        contents = _contents(plan, finished)
        if contents is None:
            finished = _made(plan, wishes, account, progress)
            contents = finished.contents
        editions = tuple(_published(target, each, content) for each, content in zip(finished.sheets, contents, strict=True))
        if not dry:
            report += _write(folder, target, finished, contents, keep_issue=out is None)
    account.close()
    plan.around.store.prune()
    written = editions if report.ok else ()
    return Published(report=report, place=plan.place(report), editions=written, account=tuple(str(entry) for entry in account.entries))


def finish(plan: Plan, wishes: Wishes, account: Account, progress: Progress = lambda text: None) -> Finished:
    """The plan as it is published: from the store when nothing has changed, the theme's files included."""
    key = digest(("finished", plan.all_ingredients(wishes)))
    kept: Finished | None = plan.around.store.get(key)
    if kept is not None and all(plan.around.file(place) == was for place, was in kept.theme_reads):
        return kept
    return _made(plan, wishes, account, progress)


def _made(plan: Plan, wishes: Wishes, account: Account, progress: Progress) -> Finished:
    editions, report = editions_of(plan, wishes)
    made: list[tuple[Sheet, bytes]] = []
    reads: dict[str, str | None] = {}
    letters: str | None = None
    for edition in editions:
        progress(f"{edition.name}: working it out")
        built = document_of(plan, edition, wishes, account, draw=True)
        told = fresh(built.report, report)
        report += labelled(told, edition.name) if len(editions) > 1 else told
        if built.document is None or built.model is None or not built.report.ok:
            continue
        if letters is None:
            from compiler.stages.letters import letters_text

            letters = letters_text(built.model, (plan.source.text("letters.yaml") if plan.source else None) or "")
        progress(f"{edition.name}: setting the pages")
        outcome, theme = sheet(built, plan, edition, _stem(plan, edition, editions), wishes.theme, account, letters)
        report += fresh(outcome.report, report)
        reads |= {read.place: read.digest for read in theme.reads} if theme else {}
        if outcome.value is not None:
            made.append(outcome.value)
    finished = Finished(
        report=report,
        sheets=tuple(each for each, _ in made) if report.ok else (),
        letters=letters,
        theme_reads=tuple(reads.items()),
        contents=tuple(content for _, content in made) if report.ok else (),
    )
    if report.ok and plan.unchanged():
        from dataclasses import replace

        plan.around.store.put(digest(("finished", plan.all_ingredients(wishes))), replace(finished, contents=()))
    return finished


def _contents(plan: Plan, finished: Finished) -> tuple[bytes, ...] | None:
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
    touched, changes = True, tuple[RowChange, ...]()
    try:
        touched = path.read_bytes() != content
        changes = _changes(target / f"{each.stem}.edition.json", each.record) if touched else ()
    except OSError:
        pass
    return PublishedEdition(path=path, name=each.name, pages=each.pages, touched=touched, changes=changes)


def _changes(path: Path, now: bytes) -> tuple[RowChange, ...]:
    try:
        before, after = record.read(path.read_bytes()), record.read(now)
    except (OSError, record.NewerRecord):
        return ()
    return compare_lists(before, after) if before and after else ()


def _write(folder: Path, target: Path, finished: Finished, contents: tuple[bytes, ...], *, keep_issue: bool) -> Report:
    files: list[tuple[str, bytes]] = []
    for each, content in zip(finished.sheets, contents, strict=True):
        files += [(f"{each.stem}.pdf", content), (f"{each.stem}.edition.json", each.record)]
        files += [(f"{each.stem}{suffix}", export) for suffix, export in each.exports]
    report = write_files(target, tuple(files))
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


def _stem(plan: Plan, edition: Edition, editions: tuple[Edition, ...]) -> str:
    """The plan's folder name; a second edition has its units and paper behind it."""
    name = plan.folder.resolve().name
    return name if edition == editions[0] else f"{name}.{edition.name.replace(' ', '-')}"


def _account(plan: Plan, what: str) -> Account:
    return Account(plan.around.store, f"{what} {plan.folder.resolve()}")


def why(folder: Path, quantity: str, wishes: Wishes, workshop: Workshop = BUNDLED) -> Lines:
    """The chain of expressions and joints behind one size."""
    from compiler.stages.why import lines
    from compiler.stages.why import why as reason_for

    plan = read_plan(folder, surroundings(workshop))
    report = plan.report
    if plan.source is None:
        return Lines(report=report, place=Place(folder))
    editions, found = editions_of(plan, wishes)
    report += found
    shown: tuple[str, ...] = ()
    for edition in editions[:1]:
        outcome, _ = model_of(plan, edition, wishes)
        report += outcome.report
        if outcome.value is not None:
            told = reason_for(outcome.value[0], quantity)
            report += told.report
            shown = lines(told.value, edition.units) if told.value is not None else ()
    return Lines(report=report, place=plan.place(report), lines=shown)


def plugins(folder: Path | None, workshop: Workshop = BUNDLED) -> Lines:
    """Every plugin with what it brings."""
    from compiler.plug.loading import load

    outcome = load(
        bundled=workshop.plugins,
        installed=workshop.installed,
        shop=folder.parent if folder else None,
        plan=folder,
        trusted=_trusted(folder, workshop) if folder else (),
    )
    contributions = outcome.value or Contributions()
    lines = []
    for author in contributions.plugins:
        lines.append(f"{author.plugin:22} {author.found:10} {_brings(contributions, author.plugin)}")
    return Lines(report=outcome.report, place=Place(folder) if folder else None, lines=tuple(lines))


def _brings(contributions: Contributions, plugin: str) -> str:
    kinds: tuple[tuple[str, tuple[Brought[object], ...]], ...] = (
        ("joints", contributions.joint_kinds),
        ("tasks", contributions.tasks),
        ("checks", contributions.checks),
        ("sections", contributions.sections),
        ("rules", contributions.safety_rules),
        ("exports", contributions.exports),
    )
    told = [(word, [entry.name for entry in entries if entry.author.plugin == plugin]) for word, entries in kinds]
    return "; ".join(f"{word}: {', '.join(names)}" for word, names in told if names)


def _trusted(folder: Path, workshop: Workshop) -> tuple[str, ...]:
    plan = read_plan(folder, surroundings(workshop))
    draft = plan.draft().value
    if draft is None or plan.library is None:
        return ()
    from compiler.stages.check import shop_of

    editions, _ = editions_of(plan, Wishes())
    shop = shop_of(draft, plan.library, editions[0]).value if editions else None
    return shop.trusted if shop else ()
