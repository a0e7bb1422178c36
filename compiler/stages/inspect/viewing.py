"""Are the views that the author asks for views of this piece?

In: view words with their places, the model, and what turns words of plugins into the compiler's own. Out: a report. It draws nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from compiler.base.report import Findings, Outcome, Report, Spot
from compiler.values.document import View
from compiler.values.model import Model

LISTS = ("sheets",)
"""Words of a step that ask for something else than a view."""


def judge_views(wished: Iterable[tuple[str, Spot | None]], model: Model,
                own: Callable[[View, Spot | None], Outcome[View]] = lambda view, at: Outcome(view)) -> Report:
    """What is wrong with the words, each at its place."""
    from compiler.draw.view_words import fault_of

    found = Findings()
    for words, at in wished:
        if not words or words in LISTS:
            continue
        view = own(View(words), at)
        found.extend(view.report)
        fault = fault_of(view.value.words, model) if view.value is not None else None
        if fault is not None:
            found.error("no-view", fault[0], at, fault[1])
    return found.report()
