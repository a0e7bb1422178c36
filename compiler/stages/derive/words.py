"""Whether plugins name operations and tools as the library does: by another word no tool and no caution would come with them.

In: what plugins bring, the model, the library. Out: a warning for each word that neither the library has nor a safety rule answers, at
the joint that says it, with the nearest word. A plugin may have work of its own: a safety rule that names it is enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from compiler.base.report import Diagnostic, Severity, Spot
from compiler.language import did_you_mean
from compiler.values.contributions import Brought, Contributions, SafetyRule
from compiler.values.library import Library
from compiler.values.model import Model


def foreign_words(contributions: Contributions, model: Model, library: Library) -> Iterator[Diagnostic]:
    """The warnings, each word once a plugin."""
    known = {"operation": [operation.name for operation in library.operations], "tool": [name for name, _ in library.tools]}
    rules = [entry.thing for entry in contributions.safety_rules]
    kinds = {kind.name: kind for kind in contributions.joint_kinds}
    joints = {joint.id: joint for joint in model.joints}
    told: set[tuple[str, str]] = set()
    for use in model.operations:
        joint = joints.get(use.by)
        kind = kinds.get(joint.kind) if joint is not None else None
        if joint is None or kind is None:
            continue
        for what, word in (("operation", use.does), *(("tool", tool) for tool in use.tools)):
            if word not in known[what] and not _answered(what, word, rules) and (kind.author.plugin, word) not in told:
                told.add((kind.author.plugin, word))
                comes = "no tool and no caution comes with it" if what == "operation" else "it stands in the list of tools without its kind"
                yield _warning(f"Joint `{kind.name}`", what, word, comes, known[what], kind, joint.at)
    for entry in contributions.safety_rules:
        rule = entry.thing
        used = {"operation": {use.does for use in model.operations}, "tool": {tool for use in model.operations for tool in use.tools}}
        for what, word in (("operation", rule.operation), ("tool", rule.tool)):
            # Work of the plugin's own may not be in this plan: then only a near word shows that it is a slip.
            if word and word not in known[what] and word not in used[what] and did_you_mean(word, known[what]):
                yield _warning(f"Safety rule '{entry.name}'", what, word, "the rule never speaks", known[what], entry, None)


def _answered(what: str, word: str, rules: Iterable[SafetyRule]) -> bool:
    return any(word == (rule.operation if what == "operation" else rule.tool) for rule in rules)


def _warning(who: str, what: str, word: str, comes: str, known: list[str], entry: Brought[Any], at: Spot | None) -> Diagnostic:
    near = did_you_mean(word, known)
    hint = f"Did you mean {near}?" if near else f"Name one of shared/operations, or write SafetyRule({what}={word!r}, …)."
    also = (entry.at,) if at is not None and entry.at is not None else ()
    says = f"{who}: the library has no {what} `{word}`; {comes}."
    return Diagnostic("foreign-word", says, at or entry.at, hint, Severity.WARNING, also, entry.author.plugin)
