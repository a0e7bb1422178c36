"""What plugins must agree on: one maker per product, no word twice, every need met, no circle.

In: all that was judged one by one. Out: `Contributions`, with tasks in the order of their needs, and a report.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Any

from compiler.base.report import Findings
from compiler.plug.judging import Judged
from compiler.values.contributions import GIVEN, LANDMARKS, Author, Brought, Contributions, Need, SafetyRule
from compiler.values.findings import Hazard


def agree(judged: Judged, authors: tuple[Author, ...], found: Findings) -> Contributions:
    """Everything that can stand together. Of two that claim the same, both are named and neither is used."""
    _unique(judged.joint_kinds, lambda one: f"The joint word `{one.name}` is taken", "bring it", found)
    _unique(judged.sections, lambda one: f"The section name `{one.thing.name}` is taken", "bring it", found, lambda one: one.thing.name)
    _unique(judged.exports, lambda one: f"The suffix `{one.thing.suffix}` is taken", "write it", found, lambda one: one.thing.suffix)
    _unique(judged.explanations, lambda one: f"The topic `{one.thing.topic}` is taken", "explain it", found, lambda one: one.thing.topic)
    _unique(judged.components, lambda one: f"The component `{one.name}` is taken", "bring it", found)
    _unique(judged.views, lambda one: f"The view word `{one.name}` is taken", "bring it", found)
    settings = list(judged.settings.values())
    _unique(settings, lambda one: f"The settings `{one.name}` are taken", "ask for them", found)
    _one_maker(judged, found)
    tasks = _met(judged.tasks, judged, found)
    order = _in_order(tasks, found)
    makers = {entry.makes for entry in order} | set(GIVEN) | {Hazard}
    return Contributions(
        plugins=authors,
        joint_kinds=_sorted(judged.joint_kinds),
        tasks=tuple(order),
        checks=_sorted(_known(judged.checks, makers, judged, found)),
        sections=_sorted(_placed(_known(judged.sections, makers, judged, found), found)),
        safety_rules=tuple(sorted(judged.safety_rules, key=lambda one: (one.author.plugin, one.name))),
        exports=_sorted(_known(judged.exports, makers, judged, found)),
        explanations=_sorted(_known(judged.explanations, makers, judged, found)),
        settings=_sorted(settings),
        components=_sorted(judged.components),
        views=_sorted(judged.views),
    )


def _unique(entries: list[Brought[Any]], taken: Any, verb: str, found: Findings, key: Any = lambda one: one.name) -> None:
    for one in list(entries):
        same = [other for other in entries if key(other) == key(one)]
        if len(same) > 1:
            names = [other.author.plugin for other in same]
            who = f"{' and '.join(names)} both {verb}" if len(same) == 2 and len(set(names)) == 2 else f"brought by {', '.join(names)}"
            last = same[-1]
            found.error("plugin-clash", f"{taken(one)}: {who}.", last.at, plugin=last.author.plugin)
            for other in same:
                entries.remove(other)


def _one_maker(judged: Judged, found: Findings) -> None:
    tasks = judged.tasks
    for made in dict.fromkeys(entry.makes for entry in tasks):
        makers = [entry for entry in tasks if entry.makes is made]
        single = [entry for entry in makers if not entry.many]
        if made is None or len(makers) < 2 or not single:
            continue
        last = makers[-1]
        if made in GIVEN:
            continue
        who = " and by ".join(entry.author.plugin for entry in makers)
        found.error("plugin-clash", f"`{made.__name__}` is made twice: by {who}.", last.at,
                    "One product has one maker; a task of tuple[X, ...] may be one of many.", plugin=last.author.plugin)
        judged.spoiled.add(made)
        for entry in makers:
            tasks.remove(entry)


def _known(entries: Iterable[Brought[Any]], makers: set[type | None], judged: Judged, found: Findings) -> list[Brought[Any]]:
    """Those whose needs are all made by something; the others are reported."""
    kept = []
    several = {SafetyRule, Hazard} | {task.makes for task in judged.tasks if task.many}
    for entry in entries:
        missing = [need for need in entry.needs if not _is_met(need, makers)]
        for need in missing:
            _report_missing(entry, need, makers, judged, found)
        odd = [need for need in entry.needs if need not in missing and _miscounted(entry, need, makers, several, found)]
        if not missing and not odd:
            kept.append(entry)
    return kept


def _miscounted(entry: Brought[Any], need: Need, makers: set[type | None], several: set[type | None], found: Findings) -> bool:
    """True when one is asked for where there are many, or many where there is one: it would come out empty."""
    name = need.type.__name__
    if need.type in several and not need.many:
        says = f"`{entry.name}` needs {name}, of which there are many; write {need.name}: tuple[{name}, ...]."
    elif need.many and need.type in makers and need.type not in several:
        says = f"`{entry.name}` needs a tuple of {name}, of which there is one; write {need.name}: {name}."
    else:
        return False
    found.error("plugin-need", says, entry.at, plugin=entry.author.plugin)
    return True


def _is_met(need: Need, makers: set[type | None]) -> bool:
    return need.settings or need.many or need.optional or need.type in makers


def _report_missing(entry: Brought[Any], need: Need, makers: set[type | None], judged: Judged, found: Findings) -> None:
    if need.type in judged.spoiled or any(other.makes is need.type for other in judged.tasks):
        return  # Its maker is in trouble itself, and that is reported.
    names = sorted(maker.__name__ for maker in makers if maker is not None)
    near = difflib.get_close_matches(need.type.__name__, names, 1, 0.6)
    hint = f"Did you mean {near[0]}?" if near else ""
    if need.type.__name__ in names:
        hint = f"Another type of that name is made; this one is from {need.type.__module__}."
    found.error("plugin-need", f"`{entry.name}` needs {need.type.__name__}, which no plugin makes.",
                entry.at, hint, plugin=entry.author.plugin)


def _met(tasks: list[Brought[Any]], judged: Judged, found: Findings) -> list[Brought[Any]]:
    """Tasks whose needs can be met, given that tasks whose can't fall out one after another."""
    kept = list(tasks)
    while True:
        makers = {entry.makes for entry in kept} | set(GIVEN) | {Hazard}
        still = _known(kept, makers, judged, found)
        if len(still) == len(kept):
            return kept
        kept = still


def _in_order(tasks: list[Brought[Any]], found: Findings) -> list[Brought[Any]]:
    """Each task after the makers of its needs; among equals by plugin and name. Circles are reported and left out."""
    waiting = list(_sorted(tasks))
    done: list[Brought[Any]] = []
    while waiting:
        unmade = {entry.makes for entry in waiting}
        ready = [entry for entry in waiting if not any(need.type in unmade for need in entry.needs)]
        if not ready:
            _report_circle(waiting, found)
            return done
        done.append(ready[0])
        waiting.remove(ready[0])
    return done


def _report_circle(waiting: list[Brought[Any]], found: Findings) -> None:
    path = [waiting[0]]
    while True:
        needed = next(other for need in path[-1].needs for other in waiting if other.makes is need.type)
        if needed in path:
            path = path[path.index(needed):]
            break
        path.append(needed)
    made = [getattr(entry.makes, "__name__", "") for entry in path]
    steps = [f"`{entry.name}` needs {made[(at + 1) % len(path)]}" for at, entry in enumerate(path)]
    first = path[0]
    found.error("plugin-circle", f"These tasks go round in a circle: {', '.join(steps)}.", first.at,
                plugin=first.author.plugin)


def _placed(sections: list[Brought[Any]], found: Findings) -> list[Brought[Any]]:
    """Sections that stand after something; one that doesn't is reported."""
    names = {*LANDMARKS, *(entry.thing.name for entry in sections)}
    kept = []
    for entry in sections:
        after = entry.thing.after
        if (after in names and after != entry.thing.name) or entry.thing.name in LANDMARKS:
            kept.append(entry)
            continue
        near = difflib.get_close_matches(after, sorted(names), 1, 0.6)
        hint = f"Did you mean {near[0]}?" if near else f"Landmarks: {', '.join(LANDMARKS)}."
        found.error("plugin-refused", f"Section `{entry.thing.name}` stands after `{after}`, which is no section.",
                    entry.at, hint, plugin=entry.author.plugin)
    return kept


def _sorted(entries: Iterable[Brought[Any]]) -> tuple[Brought[Any], ...]:
    return tuple(sorted(entries, key=lambda one: (one.author.plugin, one.name)))
