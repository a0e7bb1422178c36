"""The functions of plugins, run over one model: each with its needs and nothing else, each call watched by the guard.

In: judged contributions and the values given to all. Out: what the functions made and found, gathered in a `Run`, which is asked for one
function after another: their order is decided in `deriving`. A function whose need was not made is passed over: that fault is told already.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Protocol

from compiler.base.report import Diagnostic, Findings, Outcome, Report, Severity
from compiler.base.showing import Units
from compiler.guard import call, in_words
from compiler.stages.derive.settings import settings_of
from compiler.values.contributions import Brought, Contributions, Need, SafetyRule
from compiler.values.document import Block, Leaves, Section
from compiler.values.findings import Finding, Hazard
from compiler.values.model import Model
from compiler.values.settings import Shop

BLOCKS: tuple[type, ...] = Block.__args__


class Keep(Protocol):
    """Whether a product is made again: gives what `make` gives, or an equal outcome kept from before."""

    def __call__(self, task: Brought[Any], inputs: tuple[object, ...],
                 make: Callable[[], Outcome[object]]) -> Outcome[object]: ...


class _Missing(Exception):
    """A need that was not made; its fault is reported already."""


@dataclass(slots=True)
class Run:
    """One run over one model; it ends with `derive`."""

    contributions: Contributions
    given: dict[type, object]
    keep: Keep
    made: dict[str, object] = field(default_factory=dict)
    single: dict[type, object] = field(default_factory=dict)
    many: dict[type, tuple[object, ...]] = field(default_factory=dict)
    settings: dict[type, object] = field(default_factory=dict)
    hazards: list[Hazard] = field(default_factory=list)
    hazards_known: bool = False
    found: Findings = field(default_factory=Findings)

    @property
    def units(self) -> Units:
        """The unit in which findings are written."""
        model = self.given.get(Model)
        return model.edition.units if isinstance(model, Model) else "inch"

    # ---- needs -------------------------------------------------------------------------------------------

    def inputs(self, entry: Brought[Any]) -> tuple[object, ...]:
        """The values of its needs, in order. Raises _Missing."""
        return tuple(self.need(need) for need in entry.needs)

    def need(self, need: Need) -> object:
        """The value of one need. Raises _Missing."""
        if need.settings:
            return self.setting(need)
        if need.many:
            return self.all_of(need.type)
        if need.type in self.single:
            return self.single[need.type]
        if need.type in self.given:
            return self.given[need.type]
        if need.optional and not any(task.makes is need.type for task in self.contributions.tasks):
            return None
        raise _Missing

    def all_of(self, kind: type) -> tuple[object, ...]:
        """Everything of a type that many may make."""
        if kind is SafetyRule:
            return tuple(rule.thing for rule in self.contributions.safety_rules)
        if kind is Hazard:
            return tuple(self.hazards)
        return self.many.get(kind, ())

    def setting(self, need: Need) -> object:
        """The settings of a plugin, read when first asked for. Raises _Missing where they are at fault."""
        if need.type not in self.settings:
            model, shop = self.given.get(Model), self.given.get(Shop)
            entry = next(one for one in self.contributions.settings if one.thing is need.type)
            outcome = settings_of(entry, shop if isinstance(shop, Shop) else None, model if isinstance(model, Model) else None)
            self.found.extend(outcome.report)
            self.settings[need.type] = outcome.value
        value = self.settings[need.type]
        if value is None:
            raise _Missing
        return value

    # ---- functions ---------------------------------------------------------------------------------------

    def task(self, entry: Brought[Any]) -> None:
        """Run a task; its product is there from now on."""
        try:
            inputs = self.inputs(entry)
        except _Missing:
            return
        outcome = self.keep(entry, inputs, lambda: self._make(entry, inputs))
        self.found.extend(outcome.report)
        if outcome.value is None or entry.makes is None:
            return
        self.made[f"{entry.author.plugin} {entry.name}"] = outcome.value
        if entry.many and isinstance(outcome.value, tuple):
            self.many[entry.makes] = (*self.many.get(entry.makes, ()), *outcome.value)
        else:
            self.single[entry.makes] = outcome.value

    def _make(self, entry: Brought[Any], inputs: tuple[object, ...]) -> Outcome[object]:
        outcome = call(entry.author, entry.name, lambda: entry.thing.run(*inputs), units=self.units)
        value, kind = outcome.value, entry.makes
        if not outcome.report.ok or kind is None:
            return Outcome(None, outcome.report)
        if entry.many:
            wrong = next((each for each in value if not isinstance(each, kind)), None) if isinstance(value, tuple) else value
            fits = isinstance(value, tuple) and wrong is None
            expected = f"a tuple of {kind.__name__}"
        else:
            fits, wrong, expected = isinstance(value, kind), value, f"a {kind.__name__}"
        if fits:
            return outcome
        fault = Diagnostic("plugin-stopped", f"`{entry.name}` gave a {type(wrong).__name__}; it gives {expected}.",
                           entry.at, "Is there a return?" if value is None else "", plugin=entry.author.plugin)
        return Outcome(None, outcome.report + Report((fault,)))

    def check(self, entry: Brought[Any], *, last: bool = False) -> bool:
        """Run a check; False when its needs are not there yet."""
        if not last and any(need.type is Hazard for need in entry.needs):
            return False
        try:
            inputs = self.inputs(entry)
        except _Missing:
            return False
        for finding in self._yielded(entry, inputs, (Finding, Hazard), "a check yields error(…), warning(…), advice(…) or hazard(…)"):
            if isinstance(finding, Hazard):
                if finding not in self.hazards:
                    self.hazards.append(finding)
            else:
                self.found.add(diagnostic(finding, entry, self.units))
        return True

    def section(self, entry: Brought[Any]) -> tuple[str, Section] | None:
        """A section with what it stands after; None when it has no blocks."""
        try:
            inputs = self.inputs(entry)
        except _Missing:
            return None
        blocks = self._yielded(entry, inputs, BLOCKS, "a section yields blocks: Paragraph(…), Table(…), Figure(…)")
        if not blocks:
            return None
        thing = entry.thing
        return thing.after, Section(name=thing.name, title=thing.title, blocks=blocks, plugin=entry.author.plugin,
                                    numbered=thing.numbered)

    def export(self, entry: Brought[Any]) -> tuple[str, bytes | Leaves] | None:
        """A file's suffix with what it holds; None when it is empty."""
        try:
            inputs = self.inputs(entry)
        except _Missing:
            return None
        outcome = self.keep(entry, inputs, lambda: call(entry.author, entry.name, lambda: entry.thing.run(*inputs), units=self.units))
        self.found.extend(outcome.report)
        if not outcome.report.ok:
            return None
        if isinstance(outcome.value, Leaves):
            return (entry.thing.suffix, outcome.value) if outcome.value.pages else None
        if isinstance(outcome.value, (str, bytes)):
            raw = outcome.value.encode() if isinstance(outcome.value, str) else outcome.value
            return (entry.thing.suffix, raw) if raw else None
        self.found.error("plugin-stopped", f"`{entry.name}` gave a {type(outcome.value).__name__}; an export gives text, bytes or Leaves.",
                         entry.at, plugin=entry.author.plugin)
        return None

    def explanation(self, entry: Brought[Any]) -> tuple[str, ...] | None:
        """The sentences of an explanation."""
        try:
            inputs = self.inputs(entry)
        except _Missing:
            return None
        return self._yielded(entry, inputs, (str,), "an explanation yields sentences")

    def _yielded(self, entry: Brought[Any], inputs: tuple[object, ...], kinds: tuple[type, ...], rule: str) -> tuple[Any, ...]:
        def run() -> tuple[Any, ...] | None:
            given = entry.thing.run(*inputs)
            return None if given is None else tuple(given)

        outcome = call(entry.author, entry.name, run, units=self.units)
        self.found.extend(outcome.report)
        if not outcome.report.ok:
            return ()
        line = entry.at
        if outcome.value is None:
            self.found.error("plugin-stopped", f"`{entry.name}` has no yield; {rule}.", line, plugin=entry.author.plugin)
            return ()
        for each in outcome.value:
            if not isinstance(each, kinds):
                self.found.error("plugin-stopped", f"`{entry.name}` yields a {type(each).__name__}; {rule}.", line,
                                 plugin=entry.author.plugin)
                return ()
        return outcome.value

    def unanswered(self) -> None:
        """A warning for each hazard that no safety rule answers: it would be lost silently."""
        answered = {rule.thing.hazard for rule in self.contributions.safety_rules}
        for name in dict.fromkeys(hazard.name for hazard in self.hazards):
            if name not in answered:
                at = next(hazard.at for hazard in self.hazards if hazard.name == name)
                self.found.warning("unanswered-hazard", f"No safety rule answers the hazard `{name}`.", at,
                                   f"Write SafetyRule(hazard={name!r}, …) in a plugin.")


def diagnostic(finding: Finding, entry: Brought[Any], units: Units) -> Diagnostic:
    """A finding as a diagnostic: its code is the name of the check or joint that found it."""
    at = finding.at.key(finding.key) if finding.at is not None and finding.key else finding.at
    code = entry.name.replace("_", "-").replace(" ", "-")
    return Diagnostic(code, finding.sentence(lambda length: in_words(length, units)), at, finding.hint, Severity(finding.severity), plugin=entry.author.plugin)
