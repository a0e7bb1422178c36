"""Views in the words that plugins bring, turned into views of the compiler's own words.

In: the words of a view, the model, what plugins bring. Out: the same view in words that can be drawn, or what is wrong with them. Words
that no plugin brings are left as they are. It draws nothing.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from compiler.base.report import Diagnostic, Outcome, Report, Spot
from compiler.guard import call
from compiler.language import did_you_mean
from compiler.values.contributions import Brought, ViewTask
from compiler.values.document import VIEW_SIDES, View
from compiler.values.model import Model

Kinds = tuple[Brought[ViewTask[...]], ...]
STEP = ("step made ", "step ")
"""Words before those of a step's view: the piece as built so far, seen as they say."""


def own_view(view: View, model: Model, kinds: Kinds, at: Spot | None = None) -> Outcome[View]:
    """The view in the compiler's own words. Of a view's wishes the plugin's own fill those that are not set."""
    before = next((words for words in STEP if view.words.startswith(words)), "")
    words = view.words.removeprefix(before).strip()
    kind = max((one for one in kinds if words == one.name or words.startswith(one.name + " ")), key=lambda one: len(one.name), default=None)
    if kind is None:
        return Outcome(view)
    made = _asked(kind, words.removeprefix(kind.name).strip(), model, at)
    if made.value is None:
        return Outcome(None, made.report)
    other = made.value
    # Only corners and sides can be seen "so far"; a section or a detail is itself.
    before = before if other.words.split(" ")[0] in VIEW_SIDES else ""
    joined = replace(view, words=before + other.words, only=other.only or view.only, tinted=view.tinted or other.tinted,
                     exploded=view.exploded or other.exploded, dimensions=view.dimensions and other.dimensions)
    return Outcome(joined, made.report)


def _asked(kind: Brought[ViewTask[...]], rest: str, model: Model, at: Spot | None) -> Outcome[View]:
    """What the plugin gives for the words behind its own."""
    given: list[Any] = []
    takes = [need for need in kind.needs if need.type is not Model]
    if rest and not takes:
        return _fault(kind, f"`{kind.name}` stands alone; `{rest}` has no meaning behind it.", at, f"Write {kind.name}.")
    for need in kind.needs:
        if need.type is Model:
            given.append(model)
        elif need.type is str:
            given.append(rest)
        else:
            names = model.named(rest) if rest else ()
            if not names:
                near = did_you_mean(rest, list(dict.fromkeys([*(one.name for one in model.kinds), *(part.name for part in model.parts)])))
                says = f"`{rest}` is no part of this plan." if rest else f"`{kind.name}` needs the name of a part behind it."
                return _fault(kind, says, at, f"Did you mean {near}?" if near else f"Write {kind.name} and a part.")
            parts = tuple(model.part(name) for name in names)
            given.append(parts if need.many else parts[0])
    outcome = call(kind.author, kind.name, lambda: kind.thing.run(*given), what=f"View `{kind.name}`", at=at, units=model.edition.units)
    if not outcome.report.ok or isinstance(outcome.value, View):
        return outcome
    says = f"View `{kind.name}` gave a {type(outcome.value).__name__}; it gives a View."
    fault = Diagnostic("plugin-stopped", says, at or kind.at, "Is there a return?" if outcome.value is None else "",
                       also=(kind.at,) if at is not None and kind.at is not None else (), plugin=kind.author.plugin)
    return Outcome(None, outcome.report + Report((fault,)))


def _fault(kind: Brought[ViewTask[...]], says: str, at: Spot | None, hint: str) -> Outcome[View]:
    return Outcome(None, Report((Diagnostic("no-view", says, at, hint, plugin=kind.author.plugin),)))
