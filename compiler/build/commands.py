"""Checking and publishing a plan.

In: a plan's folder and wishes. Out: what was found and written. A plan on which a verdict is kept, and of which nothing has changed
since, is neither parsed nor built.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from compiler.base.digests import digest
from compiler.base.report import Report
from compiler.base.sweeping import unswept
from compiler.build import theming
from compiler.build.finishing import sheet
from compiler.build.presenting import presented
from compiler.build.reading import Plan, editions_of, one_a_unit, read_plan
from compiler.build.replacing import contents_of, replace_published, stands
from compiler.build.surroundings import Surroundings, surroundings
from compiler.build.wishes import (
    Checked,
    Finished,
    Progress,
    Published,
    PublishedEdition,
    Sheet,
    Wishes,
    Workshop,
)
from compiler.build.working import document_of, same_with
from compiler.showing import Place, fresh, labelled
from compiler.store.account import Account
from compiler.values.model import Edition

BUNDLED = Workshop()
"""Library, themes, plugins and store of the checkout."""


def check(
    folder: Path, wishes: Wishes, workshop: Workshop = BUNDLED, around: Surroundings | None = None,
    early: Callable[[Report, Place], None] = lambda report, place: None,
) -> Checked:
    """Everything that is wrong with a plan, in all its editions, and with its theme; draws and writes nothing.

    `early` hears what the design and the notes have wrong before the solids are looked at.
    """
    plan = read_plan(folder, around or surroundings(workshop))
    if plan.source is None or plan.library is None:
        return Checked(report=plan.report, place=Place(folder))
    account = _account(plan, "check")
    made_from = plan.all_ingredients(wishes)
    with unswept():
        report = plan.report + account.keep("judgement", made_from, lambda: _judged(plan, wishes, account, early), lambda found: plan.unchanged())
        report += theming.judged(plan, wishes.theme)
    account.close()
    return Checked(report=report, place=plan.place(report))


def _judged(plan: Plan, wishes: Wishes, account: Account, early: Callable[[Report, Place], None]) -> Report:
    editions, report = editions_of(plan, wishes, every=True)
    for number, edition in enumerate(one_a_unit(editions)):

        def new(found: Report, report: Report = report, name: str = edition.name if number else "") -> Report:
            told = fresh(found, report)
            return labelled(told, name) if name else told

        def tell(found: Report) -> None:
            early(new(found), plan.place(found))

        report += new(document_of(plan, edition, wishes, account, draw=False, tell=tell).report)
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
    prune: bool = True,
) -> Published:
    """The PDFs of the editions wished for, with their records; nothing is written while there is an error in any of them, or when `dry`.

    `prune` is for a plan on its own: who makes many looks through the store once, after all of them.
    """
    plan = read_plan(folder, around or surroundings(workshop))
    if plan.source is None or plan.library is None:
        return Published(report=plan.report, place=Place(folder))
    account = _account(plan, "publish")
    finished = _kept(plan, wishes) or _made(plan, wishes, account, progress)
    if finished.report.ok and contents_of(plan, finished) is None:
        finished = _made(plan, wishes, account, progress)
    published = replace_published(plan, finished, out, dry, keep_issue=not wishes.special)
    account.close()
    if account.entries and prune:
        plan.around.store.prune()
    return replace(published, account=tuple(str(entry) for entry in account.entries))


def unchanged(folder: Path, wishes: Wishes, *, out: Path | None, around: Surroundings, dry: bool = False) -> Published | None:
    """The same, when everything that it needs is in the store; None when something has to be made."""
    plan = read_plan(folder, around)
    if plan.source is None or plan.library is None:
        return None
    finished = _kept(plan, wishes)
    if finished is None or not finished.report.ok:
        return None
    target = out if out is not None else folder / "out"
    if all(stands(target, each) for each in finished.sheets) and plan.report.ok:
        editions = tuple(PublishedEdition(path=target / f"{each.stem}.pdf", name=each.name, pages=each.pages, touched=False) for each in finished.sheets)
        report = plan.report + finished.report
        return Published(report=report, place=plan.place(report), editions=editions)
    return None if contents_of(plan, finished) is None else replace_published(plan, finished, out, dry, keep_issue=not wishes.special)


def make(folder: Path, wishes: Wishes, workshop: Workshop = BUNDLED, progress: Progress = lambda text: None) -> tuple[Plan, Finished]:
    """A plan as it would be published, its PDFs in `contents`; nothing is written."""
    plan = read_plan(folder, surroundings(workshop))
    if plan.source is None or plan.library is None:
        return plan, Finished(report=plan.report)
    account = _account(plan, "publish")
    finished = _kept(plan, wishes) or _made(plan, wishes, account, progress)
    contents = contents_of(plan, finished)
    if contents is None:
        finished = _made(plan, wishes, account, progress)
        contents = finished.contents
    account.close()
    return plan, replace(finished, report=plan.report + finished.report, contents=contents)


def _kept(plan: Plan, wishes: Wishes) -> Finished | None:
    """The verdict of an earlier run, when nothing has changed since, the theme's files included."""
    kept: Finished | None = plan.around.store.get(_verdict(plan, wishes))
    if kept is not None and all(plan.around.file(place) == was for place, was in kept.theme_reads):
        return kept
    return None


def _verdict(plan: Plan, wishes: Wishes, letters: str | None = None) -> str:
    """The key of a verdict. The shop's folder is in it: the theme files that were read lie there, and an equal plan may lie beside other themes."""
    return digest(("finished", str(plan.folder.parent.resolve()), plan.all_ingredients(wishes, letters)))


def _made(plan: Plan, wishes: Wishes, account: Account, progress: Progress) -> Finished:
    editions, report = editions_of(plan, wishes)
    named, _ = editions_of(plan, Wishes(), every=True)
    made: list[tuple[Sheet, bytes]] = []
    reads: dict[str, str | None] = {}
    letters: str | None = None
    same = True
    for edition in editions:
        progress(f"{edition.name}: working it out")
        with unswept():
            built = document_of(plan, edition, wishes, account, draw=True)
        told = fresh(built.report, report)
        report += labelled(told, edition.name) if len(editions) > 1 else told
        if built.document is None or built.model is None or not built.report.ok:
            continue
        if letters is None:
            from compiler.stages.letters import letters_text

            letters = letters_text(built.model, (plan.source.text("letters.yaml") if plan.source else None) or "")
        same &= same_with(letters, built, plan, edition, wishes, account)
        if wishes.special:
            shown = presented(built, plan, wishes)
            report += fresh(shown.report, report)
            if shown.value is None:
                continue
            built = shown.value
        progress(f"{edition.name}: setting the pages")
        outcome, theme = sheet(built, plan, edition, _stem(plan, edition, named, wishes), wishes.theme, account, letters)
        report += fresh(outcome.report, report)
        reads |= {read.place: read.digest for read in theme.reads} if theme else {}
        if outcome.value is not None:
            made.append(outcome.value)
    if not report.ok:  # where the pages weren't reached, nobody has looked at the theme
        report += fresh(theming.judged(plan, wishes.theme), report)
    finished = Finished(
        report=report,
        sheets=tuple(each for each, _ in made) if report.ok else (),
        letters=letters,
        theme_reads=tuple(reads.items()),
        contents=tuple(content for _, content in made) if report.ok else (),
    )
    if report.ok and plan.unchanged():
        for written in dict.fromkeys((None, letters if same else None)):  # also for the next run, which finds the letters written
            plan.around.store.put(_verdict(plan, wishes, written), replace(finished, contents=()))
    return finished


def _stem(plan: Plan, edition: Edition, named: tuple[Edition, ...], wishes: Wishes) -> str:
    """The plan's folder name; behind it the sponsor, that it is a sample, and units and paper of any edition but the first of those that the plan names.

    So the file of an edition has one name, whichever editions are wished for.
    """
    special = (*((wishes.sponsor,) if wishes.sponsor else ()), *(("sample",) if wishes.sample else ()))
    name = ".".join((plan.folder.resolve().name, *special))
    return name if edition == named[0] else f"{name}.{edition.name.replace(' ', '-')}"


def _account(plan: Plan, what: str) -> Account:
    return Account(plan.around.store, f"{what} {plan.folder.resolve()}")
