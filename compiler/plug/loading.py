"""From candidates to contributions: consent, import, judgement, agreement.

In: where plugins are and whom the shop trusts. Out: frozen `Contributions` and a report; a plugin in trouble is left
out and named, the rest is loaded. Nothing is kept between calls but what Python itself keeps of imported modules.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import replace
from difflib import get_close_matches
from pathlib import Path
from types import ModuleType

from compiler.base.report import Findings, Outcome, Report
from compiler.plug.agreeing import agree
from compiler.plug.finding import Candidate, find
from compiler.plug.importing import author_of, bring, bring_module
from compiler.plug.judging import Judged, judge
from compiler.plug.trust import refusal
from compiler.values.contributions import Author, Contributions, Plugin

BUNDLED = Path(__file__).resolve().parents[2] / "plugins"
"""The folder of the plugins that stand beside the compiler."""


def load(*, bundled: Path | None = BUNDLED, installed: bool = True, shop: Path | None = None, plan: Path | None = None,
         trusted: tuple[str, ...] = (), trust_all: bool = False,
         given: Iterable[Plugin | ModuleType] = ()) -> Outcome[Contributions]:
    """All plugins of a plan. `shop` and `plan` are folders that may hold a folder `plugins`; `trusted` is the shop's list.

    `given` are plugins at hand, for tests.
    """
    found, judged, authors = Findings(), Judged(), []
    uses: list[tuple[Author, str]] = []
    for candidate in _by_name(find(bundled=bundled, installed=installed, shop=shop, plan=plan), found):
        refused = None if trust_all else refusal(candidate, trusted)
        if refused is not None:
            found.add(refused)
            continue
        brought = bring(candidate)
        found.extend(brought.report)
        if brought.value is not None:
            author = author_of(candidate)
            authors.append(author)
            uses += [(author, name) for name in brought.value.uses]
            judge(brought.value, author, found, judged)
    for number, plugin in enumerate(given, 1):
        author = _author_of_given(plugin, number)
        if isinstance(plugin, ModuleType):
            outcome = bring_module(plugin, author)
            found.extend(outcome.report)
            if outcome.value is None:
                continue
            plugin = outcome.value
        authors.append(author)
        uses += [(author, name) for name in plugin.uses]
        judge(plugin, author, found, judged)
    _judge_uses(uses, authors, found)
    return Outcome(agree(judged, tuple(authors), found), found.report())


def load_given(*plugins: Plugin | ModuleType) -> Outcome[Contributions]:
    """Only the plugins at hand, for tests."""
    return load(bundled=None, installed=False, given=plugins)


def left_out(report: Report, loaded: Report) -> Report:
    """A plan's report, where a joint that is not known may be that of a plugin that was left out: then no other word is proposed."""
    plugins = tuple(dict.fromkeys(fault.plugin for fault in loaded.errors if fault.plugin))
    if not plugins:
        return report
    hint = f"It may be one of {' or '.join(plugins)}, which was left out: mend that first."
    return Report(tuple(replace(fault, hint=hint) if fault.code == "unknown-joint" else fault for fault in report.diagnostics))


def _judge_uses(uses: list[tuple[Author, str]], authors: list[Author], found: Findings) -> None:
    names = [author.plugin for author in authors]
    for author, name in uses:
        if name not in names:
            near = get_close_matches(name, names, 1, 0.6)
            found.error("plugin-need", f"`{author.plugin}` uses the plugin `{name}`, which is not there.", None,
                        f"Did you mean {near[0]}?" if near else "", plugin=author.plugin)


def _by_name(candidates: tuple[Candidate, ...], found: Findings) -> list[Candidate]:
    """The candidates, of which no two may have one name."""
    kept: dict[str, Candidate] = {}
    for candidate in candidates:
        first = kept.setdefault(candidate.name, candidate)
        if first is not candidate:
            found.error("plugin-clash", f"There are two plugins called `{candidate.name}`: one {_WHERE[first.found]}, "
                        f"one {_WHERE[candidate.found]}.", hint="Rename the folder of one.", plugin=candidate.name)
    return list(kept.values())


_WHERE = {"bundled": "bundled", "installed": "installed", "shop": "in the shop's folder", "plan": "in the plan's folder"}


def _author_of_given(plugin: Plugin | ModuleType, number: int) -> Author:
    if isinstance(plugin, ModuleType):
        folder = str(Path(plugin.__file__).parent) if plugin.__file__ else ""
        name = Path(folder).name if plugin.__name__.startswith("plugins_of_") else plugin.__name__.rpartition(".")[2]
        return Author(plugin=name, folder=folder)
    things = tuple(thing for field in _fields(plugin) for thing in field) if _sound(plugin) else ()
    names = [getattr(getattr(thing, "run", thing), "__module__", "") for thing in things]
    file = next((getattr(sys.modules.get(name), "__file__", None) for name in names if name), None)
    return Author(plugin=names[0].rpartition(".")[2] if names else f"plugin {number}", folder=str(Path(file).parent) if file else "")


def _sound(plugin: Plugin) -> bool:
    return all(isinstance(field, tuple) for field in _fields(plugin))


def _fields(plugin: Plugin) -> tuple[tuple[object, ...], ...]:
    return (plugin.joint_kinds, plugin.tasks, plugin.checks, plugin.sections, plugin.exports, plugin.explanations, plugin.components, plugin.views)
