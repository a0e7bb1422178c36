"""Model → products, sections, hazards, exports: every function of every plugin, in an order in which each has its needs.

In: judged contributions and the values given to all (Model, Edition, Shop, Notes, Library). Out: `Derived` and a report.
A function that fails is one diagnostic; what needs its product is passed over, the rest goes on. This stage must not know plans' files,
pages, or where results are kept: `keep` decides whether a product is made again.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from compiler.base.report import Outcome
from compiler.stages.derive.running import Keep, Run
from compiler.stages.derive.words import foreign_words
from compiler.values.contributions import GIVEN, LANDMARKS, Brought, Contributions
from compiler.values.derived import Derived
from compiler.values.document import Section
from compiler.values.findings import Hazard
from compiler.values.library import Library
from compiler.values.model import Model


def derive(contributions: Contributions, given: Iterable[object], *, keep: Keep | None = None) -> Outcome[Derived]:
    """Everything that can be worked out. `given` holds one Model and whatever else functions may need.

    Checks come as soon as their needs are made, so that tasks may need the hazards they find (`tuple[Hazard, ...]`).
    """
    run = Run(contributions, {_given_as(value): value for value in given}, keep or (lambda task, inputs, make: make()))
    model = run.given.get(Model)
    run.hazards += [Hazard(name, at) for name, at in model.hazards] if isinstance(model, Model) else []
    late = _needing_hazards(contributions)
    for task in contributions.tasks:
        if task not in late:
            run.task(task)
    waiting = [check for check in contributions.checks if not run.check(check)]
    run.hazards_known = True
    for task in late:
        run.task(task)
    for check in waiting:
        run.check(check, last=True)
    run.unanswered()
    library = run.given.get(Library)
    if isinstance(model, Model) and isinstance(library, Library):
        for fault in foreign_words(contributions, model, library):
            run.found.add(fault)
    sections = [section for entry in contributions.sections if (section := run.section(entry)) is not None]
    sections = _behind_what_is_there(sections, {entry.thing.name: entry.thing.after for entry in contributions.sections})
    exports = [export for entry in contributions.exports if (export := run.export(entry)) is not None]
    products = tuple(product for product in run.made.values() if product is not None)
    return Outcome(Derived(products=products, sections=tuple(sections), hazards=tuple(run.hazards), exports=tuple(exports)),
                   run.found.report())


def explain(contributions: Contributions, topic: str, given: Iterable[object], *, keep: Keep | None = None) -> Outcome[tuple[str, ...]]:
    """The lines of one explanation; only the tasks that it needs are run. None when there is no such topic."""
    asked = next((entry for entry in contributions.explanations if entry.thing.topic == topic), None)
    if asked is None:
        return Outcome(None)
    run = Run(contributions, {_given_as(value): value for value in given}, keep or (lambda task, inputs, make: make()))
    for task in _needed_by(asked, contributions):
        run.task(task)
    return Outcome(run.explanation(asked), run.found.report())


def _needed_by(asked: Brought[Any], contributions: Contributions) -> list[Brought[Any]]:
    """The tasks whose products it needs, itself or through others, in their order."""
    wanted = {need.type for need in asked.needs}
    tasks = []
    for task in reversed(contributions.tasks):
        if task.makes in wanted:
            tasks.append(task)
            wanted |= {need.type for need in task.needs}
    return tasks[::-1]


def _behind_what_is_there(sections: list[tuple[str, Section]], behind: dict[str, str]) -> list[tuple[str, Section]]:
    """A section that would follow one without pages stands where that one would have stood."""
    there = {section.name for _, section in sections} | set(LANDMARKS)
    found = []
    for after, section in sections:
        for _ in behind:
            if after in there or after not in behind:
                break
            after = behind[after]
        found.append((after, section))
    return found


def _given_as(value: object) -> type:
    """The type that functions ask for it by: a value under watch is of a kind of its own."""
    return next((kind for kind in GIVEN if isinstance(value, kind)), type(value))


def _needing_hazards(contributions: Contributions) -> list[Brought[Any]]:
    """The tasks that wait for the hazards of checks, themselves or through what they need."""
    late: list[Brought[Any]] = []
    for task in contributions.tasks:
        if any(need.type is Hazard or any(need.type is other.makes for other in late) for need in task.needs):
            late.append(task)
    return late
