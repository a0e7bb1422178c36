"""What is told of a plan without making it: where a size comes from, which plugins are at work.

In: a plan's folder. Out: lines to print, with a report.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from compiler.base.report import Diagnostic, Outcome, Report
from compiler.build.commands import BUNDLED
from compiler.build.reading import Plan, editions_of, read_plan
from compiler.build.surroundings import surroundings
from compiler.build.wishes import Lines, Wishes, Workshop
from compiler.build.working import explained_with, model_of
from compiler.showing import Place
from compiler.values.contributions import Brought, Contributions
from compiler.values.design import Design
from compiler.values.model import Edition, Model
from compiler.values.settings import Shop


def why(folder: Path, quantity: str, wishes: Wishes, workshop: Workshop = BUNDLED) -> Lines:
    """The chain of expressions and joints behind one size."""
    from compiler.stages.why import lines
    from compiler.stages.why import why as reason_for

    def told(known: _Known) -> Outcome[tuple[str, ...]]:
        reason = reason_for(known.model, quantity)
        return Outcome(lines(reason.value, known.edition.units) if reason.value is not None else None, reason.report)

    return _in_the_first_edition(folder, wishes, workshop, told)


def explain(folder: Path, topic: str, wishes: Wishes, workshop: Workshop = BUNDLED) -> Lines:
    """What a plugin says of a topic in one plan, such as why it takes so many sheets; without a topic, which there are."""
    from compiler.stages.derive import explain as explanation_of

    def told(known: _Known) -> Outcome[tuple[str, ...]]:
        topics = sorted(entry.thing.topic for entry in known.contributions.explanations)
        if not topic:
            return Outcome(tuple(topics))
        if topic not in topics:
            near = difflib.get_close_matches(topic, topics, 1)
            hint = f"Did you mean `{near[0]}`?" if near else f"There are {', '.join(topics)}."
            return Outcome(None, Report((Diagnostic("unknown-topic", f"Nothing explains `{topic}`.", hint=hint),)))
        return explanation_of(known.contributions, topic, explained_with(known.plan, known.edition, known.model, known.shop, known.design))

    return _in_the_first_edition(folder, wishes, workshop, told)


@dataclass(frozen=True, slots=True)
class _Known:
    """A plan worked out in one edition."""

    plan: Plan
    edition: Edition
    model: Model
    shop: Shop
    design: Design
    contributions: Contributions


def _in_the_first_edition(folder: Path, wishes: Wishes, workshop: Workshop, tell: Callable[[_Known], Outcome[tuple[str, ...]]]) -> Lines:
    """What is told of a plan in the first edition wished for, with all that was found wrong on the way."""
    plan = read_plan(folder, surroundings(workshop))
    report = plan.report
    if plan.source is None:
        return Lines(report=report, place=Place(folder))
    editions, found = editions_of(plan, wishes)
    report += found
    shown: tuple[str, ...] = ()
    for edition in editions[:1]:
        outcome, design = model_of(plan, edition, wishes)
        report += outcome.report
        if outcome.value is not None and design is not None:
            model, shop, contributions = outcome.value
            told = tell(_Known(plan, edition, model, shop, design, contributions))
            report += told.report
            shown = told.value or ()
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
        ("components", contributions.components),
        ("tasks", contributions.tasks),
        ("checks", contributions.checks),
        ("sections", contributions.sections),
        ("views", contributions.views),
        ("rules", contributions.safety_rules),
        ("exports", contributions.exports),
        ("explanations", contributions.explanations),
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
