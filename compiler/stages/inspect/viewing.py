"""Are the views that the author asks for views of this piece?

In: view words with their places, the model. Out: a report. It draws nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.base.report import Findings, Report, Spot
from compiler.values.model import Model

LISTS = ("sheets",)
"""Words of a step that ask for something else than a view."""


def judge_views(wished: Iterable[tuple[str, Spot | None]], model: Model) -> Report:
    """What is wrong with the words, each at its place."""
    from compiler.draw.view_words import fault_of

    found = Findings()
    for words, at in wished:
        fault = fault_of(words, model) if words and words not in LISTS else None
        if fault is not None:
            found.error("no-view", fault[0], at, fault[1])
    return found.report()
