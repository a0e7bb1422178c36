"""What the layouts could not do, told at the part or the offcut that it is about, in the plan's own names and sizes.

In: the layouts, the model, the shop. Out: findings. A part that no sheet holds is an error: it can't be made. Boards and lengths
can be had longer than the library says, so there it is a warning.
"""

from __future__ import annotations

from compiler.api import Edition, Findings, Model, Offcut, Part, Shop, check, error, warning

from .answers import Answer, CuttingLayouts
from .layout import Problem

_STOPS = ("too-big", "negative-count", "no-size")


@check
def layout_problems(layouts: CuttingLayouts, model: Model, shop: Shop, edition: Edition) -> Findings:
    """Every problem of every stock."""
    for answer in layouts.answers:
        for problem in (*answer.question.problems, *answer.layout.problems):
            says, hint = problem.told(lambda size, unit=answer.question.unit: edition.show(unit * size), _Names(answer, shop, edition))  # type: ignore[misc]
            stops = problem.code in _STOPS and answer.question.kind == "sheet"
            yield (error if stops else warning)(f"`{answer.question.stock.name}`: {says}.", at=_place(answer, problem, model, shop), hint=hint)
        if answer.layout.timed_out:
            yield warning(f"`{answer.question.stock.name}`: the layout was stopped early and may not come out the same again.")


class _Names:
    """What the plan calls a piece or a size of stock."""

    def __init__(self, answer: Answer, shop: Shop, edition: Edition) -> None:
        self._question, self._shop, self._edition = answer.question, shop, edition

    def __call__(self, name: str) -> str:
        question = self._question
        for piece, row, _ in question.parts:
            if piece == name:
                return f"{row} ({piece})" if piece != row else row
        for size in question.job.stocks:
            if size.id == name:
                along, across = (self._edition.show(question.unit * side) for side in (size.length, size.width))
                mark = dict(question.marks).get(name, "")
                if size.offcut:
                    return f"the offcut {mark or f'{across} × {along}'}"
                kind = {"sheet": "sheet", "board": "board", "length": "length"}[question.kind]
                return f"a {kind} of {along}" if question.kind == "length" else f"a {kind} of {across} × {along}"
        return name


def _place(answer: Answer, problem: Problem, model: Model, shop: Shop) -> Part | Offcut | Model | None:
    racked = dict(answer.question.racked)
    if problem.stock in racked:
        return shop.offcuts[racked[problem.stock]]
    for piece, _, part in answer.question.parts:
        if piece == problem.piece and part:
            return model.part(part)
    return model
