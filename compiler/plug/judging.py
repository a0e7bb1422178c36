"""Whether what a plugin brings can be used: each field of its `Plugin`, each function, each class.

In: one plugin and its author. Out: its contributions, with needs and products read from annotations, and a report that
names the plugin and the line of every mistake. What several plugins must agree on (two makers, cycles) is
judged in `agreeing`. No function of an author is called here.
"""

from __future__ import annotations

import sys
import types
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from compiler.base.report import Findings, Spot
from compiler.guard import author_line, cure
from compiler.plug import asking, producing
from compiler.plug.hints import hints_of
from compiler.plug.needs import read_needs
from compiler.plug.parts_and_views import judge_component, judge_view
from compiler.values import contributions as brought
from compiler.values.contributions import Author, Brought, Plugin
from compiler.values.joinery import Component, Joint, Settings

HOWS = ("into", "to", "with", "on")
SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")
KINDS: tuple[tuple[str, str, type, str], ...] = (
    ("tasks", "task", brought.Task, "@task"),
    ("checks", "check", brought.CheckTask, "@check"),
    ("sections", "section", brought.SectionTask, "@section(title, after=…)"),
    ("exports", "export", brought.ExportTask, "@export(suffix)"),
    ("explanations", "explanation", brought.Explanation, "@explanation(topic)"),
    ("views", "view", brought.ViewTask, "@view(word)"),
)


@dataclass(slots=True)
class Judged:
    """What stood up to judgement, of one plugin or of several. `spoiled` are products whose makers did not."""

    joint_kinds: list[Brought[type[Joint]]] = field(default_factory=list)
    tasks: list[Brought[brought.Task[..., object]]] = field(default_factory=list)
    checks: list[Brought[brought.CheckTask[...]]] = field(default_factory=list)
    sections: list[Brought[brought.SectionTask[...]]] = field(default_factory=list)
    safety_rules: list[Brought[brought.SafetyRule]] = field(default_factory=list)
    exports: list[Brought[brought.ExportTask[...]]] = field(default_factory=list)
    explanations: list[Brought[brought.Explanation[...]]] = field(default_factory=list)
    components: list[Brought[type[Component]]] = field(default_factory=list)
    views: list[Brought[brought.ViewTask[...]]] = field(default_factory=list)
    settings: dict[type[Settings], Brought[type[Settings]]] = field(default_factory=dict)
    spoiled: set[type] = field(default_factory=set)


def judge(plugin: Plugin, author: Author, found: Findings, judged: Judged, *, speaks: int = brought.CONTRACT) -> None:
    """Add to `judged` what can be used of a plugin, and to `found` what can't."""
    if not _contract(plugin.contract, author, found, speaks):
        return
    for name, word, kind, mark in KINDS:
        for thing in _each(plugin, name, word, author, found):
            if not isinstance(thing, kind):
                named = getattr(thing, "__name__", None) or getattr(getattr(thing, "run", None), "__name__", repr(thing))
                _refuse(found, author, f"`{name}` holds `{named}`, which is no {word}; put {mark} above it.", _line_of(thing, author))
                continue
            _function(name, word, thing, author, found, judged)
    for thing in _each(plugin, "joint_kinds", "joint", author, found):
        if not (isinstance(thing, type) and issubclass(thing, Joint)):
            named = getattr(thing, "__name__", repr(thing))
            _refuse(found, author, f"`joint_kinds` holds `{named}`, which is no kind of joint; write class {named}(Joint).",
                    _line_of(thing, author))
            continue
        _joint(thing, author, found, judged)
    for thing in _each(plugin, "components", "component", author, found):
        if not (isinstance(thing, type) and issubclass(thing, Component)):
            named = getattr(thing, "__name__", repr(thing))
            _refuse(found, author, f"`components` holds `{named}`, which is no component; write class {named}(Component).", _line_of(thing, author))
            continue
        _component(thing, author, found, judged)
    for thing in _each(plugin, "safety_rules", "safety rule", author, found):
        if not isinstance(thing, brought.SafetyRule):
            _refuse(found, author, f"`safety_rules` holds a {type(thing).__name__}; it holds SafetyRule(word=…, says=…, source=…).")
            continue
        _rule(thing, author, found, judged)


def _contract(number: object, author: Author, found: Findings, speaks: int) -> bool:
    spoken = [old for old in (speaks - 1, speaks) if old >= 1]
    if isinstance(number, bool) or not isinstance(number, int) or number not in spoken:
        words = " and ".join(str(old) for old in spoken)
        _refuse(found, author, f"`{author.plugin}` is made for contract {number}; this compiler speaks {words}.", code="plugin-contract",
                hint="Take the plugin's newer version." if isinstance(number, int) and number < speaks else "Update the compiler.")
        return False
    if number < speaks:
        found.advice("plugin-contract", f"`{author.plugin}` is made for contract {number}, the one before; {speaks} is current.",
                     plugin=author.plugin)
    return True


def _each(plugin: Plugin, name: str, word: str, author: Author, found: Findings) -> Iterable[Any]:
    given = getattr(plugin, name)
    if isinstance(given, tuple):
        return given
    if isinstance(given, (list, set, frozenset, types.GeneratorType)):
        _refuse(found, author, f"`{name}` is a {type(given).__name__}; write a tuple: {name}=(…,).")
    else:
        _refuse(found, author, f"`{name}` is a single {word}; a tuple of one has a comma: {name}=(…,).")
    return ()


def _function(name: str, word: str, thing: Any, author: Author, found: Findings, judged: Judged) -> None:
    run: Callable[..., object] = thing.run
    called = getattr(run, "__name__", word)
    what = f"{word.capitalize()} `{called}`"
    line = _line_of(thing, author)
    before = len(found.report().diagnostics)
    if not (run.__doc__ or "").strip():
        _refuse(found, author, f"{what} has no docstring; its first line says in lists what it is for.", line)
    try:
        hints = hints_of(run)
    except (NameError, AttributeError, TypeError, SyntaxError) as problem:
        _refuse(found, author, f"{what}: its annotations can't be read: {problem}.", line, hint=cure(problem))
        return
    if name == "views":
        needs = judge_view(thing, called, hints, lambda says: _refuse(found, author, says, line))
    else:
        needs = read_needs(run, hints, what, lambda says: _refuse(found, author, says, line))
    entry: Brought[Any] = Brought(thing=thing, name=thing.word if name == "views" else called, author=author, at=line, needs=needs)
    for need in needs:
        if need.settings:
            _settings(need.type, author, found, judged)
    if name == "tasks":
        made, many = producing.read_product(run, hints, called, lambda says: _refuse(found, author, says, line))
        entry = replace(entry, makes=made, many=many)
    elif name == "sections" and not str(thing.title).strip():
        _refuse(found, author, f"{what} has no title.", line)
    elif name == "exports" and (not thing.suffix.startswith(".") or "/" in thing.suffix or "\\" in thing.suffix):
        _refuse(found, author, f"{what}: the suffix is `{thing.suffix}`; it begins with a point, as in `.csv`.", line)
    elif name == "explanations" and not str(thing.topic).strip():
        _refuse(found, author, f"{what} has no topic, the word that it is asked for by.", line)
    if len(found.report().diagnostics) == before:
        getattr(judged, name).append(entry)
    elif entry.makes is not None:
        judged.spoiled.add(entry.makes)


def _joint(kind: type[Joint], author: Author, found: Findings, judged: Judged) -> None:
    line = author_line(author, kind.line, _file_of(kind))
    before = len(found.report().diagnostics)
    what = f"Joint `{kind.__name__}`"
    if not isinstance(kind.kind, str) or not kind.kind.strip():
        _refuse(found, author, f'{what} has no word; write kind = "…", the word makers use.', line)
    elif kind.kind != kind.kind.lower() or not kind.kind.replace(" ", "").replace("-", "").isalpha():
        _refuse(found, author, f"{what}: the word `{kind.kind}` is not lower-case words and spaces.", line)
    if kind.how not in HOWS:
        _refuse(found, author, f"{what}: `how` is {kind.how!r}; it is one of {', '.join(HOWS)}.", line)
    if not (kind.__doc__ or "").strip() or kind.__doc__ == Joint.__doc__:
        _refuse(found, author, f"{what} has no docstring; its first line says in the reference what it is.", line)
    if kind.make is Joint.make:
        _refuse(found, author, f"{what} has no make; write def make(self, c: Contact) -> Work.", line)
    _no_stock(kind, author, found)
    asking.judge_fields(kind, ("receiver.", "acting.", "contact.", "shop."), lambda says, asked, hint: _refuse(
        found, author, says, author_line(author, asked.line, _file_of(kind)), hint=hint))
    if len(found.report().diagnostics) == before:
        judged.joint_kinds.append(Brought(thing=kind, name=kind.kind, author=author, at=line))


def _component(kind: type[Component], author: Author, found: Findings, judged: Judged) -> None:
    file, before = _file_of(kind), len(found.report().diagnostics)
    line = author_line(author, kind.line, file)
    judge_component(kind, lambda says, hint, asked: _refuse(
        found, author, says, author_line(author, asked.line, file) if asked else line, hint=hint))
    if len(found.report().diagnostics) == before:
        judged.components.append(Brought(thing=kind, name=kind.kind, author=author, at=line))


def _settings(kind: type[Settings], author: Author, found: Findings, judged: Judged) -> None:
    if kind in judged.settings:
        return
    line = author_line(author, kind.line, _file_of(kind))
    judged.settings[kind] = Brought(thing=kind, name=kind.key, author=author, at=line)
    if not kind.key.strip():
        _refuse(found, author, f'Settings `{kind.__name__}` have no key; write key = "…", as makers write it.', line)
    _no_stock(kind, author, found)
    asking.judge_fields(kind, ("shop.",), lambda says, asked, hint: _refuse(
        found, author, says, author_line(author, asked.line, _file_of(kind)), hint=hint))


def _no_stock(kind: type[Joint | Settings], author: Author, found: Findings) -> None:
    for asked in kind.asks:
        if asked.takes == "stock":
            _refuse(found, author, f"`{kind.__name__}.{asked.field}` asks for a stock; only components do.", author_line(author, asked.line, _file_of(kind)))


def _rule(rule: brought.SafetyRule, author: Author, found: Findings, judged: Judged) -> None:
    what = f"Safety rule '{rule.says[:40]}'"
    if rule.word not in SIGNALS:
        _refuse(found, author, f"{what}: the signal word is {rule.word!r}; it is one of {', '.join(SIGNALS)}.")
    elif not rule.says.strip():
        _refuse(found, author, "A safety rule says nothing; `says` states the hazard and how to avoid it.")
    elif not rule.source.strip():
        _refuse(found, author, f"{what} has no source; write where it comes from, or 'common practice, no source'.")
    elif not any((rule.operation, rule.tool, rule.stock, rule.finish, rule.hazard)):
        _refuse(found, author, f"{what} is asked for by nothing: give an operation, a tool, a stock, a finish or a hazard.")
    else:
        judged.safety_rules.append(Brought(thing=rule, name=rule.says[:40], author=author))


def _line_of(thing: object, author: Author) -> Spot | None:
    run = getattr(thing, "run", thing)
    code = getattr(run, "__code__", None)
    if code is not None:
        return author_line(author, code.co_firstlineno, code.co_filename)
    line = getattr(thing, "line", 0)
    return author_line(author, line, _file_of(thing)) if isinstance(thing, type) and isinstance(line, int) else None


def _file_of(kind: object) -> str:
    module = sys.modules.get(getattr(kind, "__module__", ""))
    return getattr(module, "__file__", None) or ""


def _refuse(found: Findings, author: Author, says: str, at: Spot | None = None, *, code: str = "plugin-refused",
            hint: str = "") -> None:
    found.error(code, says, at, hint, plugin=author.plugin)
