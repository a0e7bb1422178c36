"""Why so many sheets, boards or lengths, in sentences: what the plan's explanations print.

In: the layouts, the shop, the edition. Out: lines of text, in the plan's own names and sizes. The reasons are worked out by explaining.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from compiler.api import Edition, Length, Shop, explanation, inch, mm

from .answers import Answer, CuttingLayouts
from .explaining import Reasons, Saving, explain
from .job import Way

_STEP = {"inch": inch("1/16"), "mm": mm("1")}
"""Sizes are made smaller by so much at a time: less is nothing that a maker would change a plan for."""

_ONE = {"sheet": "sheet", "board": "board", "length": "length"}


@explanation("sheets")
def why_sheets(layouts: CuttingLayouts, shop: Shop, edition: Edition) -> Iterator[str]:
    """Why the plan takes so many sheets, and what would save one."""
    yield from _all(layouts, "sheet", shop, edition)


@explanation("boards")
def why_boards(layouts: CuttingLayouts, shop: Shop, edition: Edition) -> Iterator[str]:
    """Why the plan takes so many boards, and what would save one."""
    yield from _all(layouts, "board", shop, edition)


@explanation("lengths")
def why_lengths(layouts: CuttingLayouts, shop: Shop, edition: Edition) -> Iterator[str]:
    """Why the plan takes so many lengths of moulding and bar, and what would save one."""
    yield from _all(layouts, "length", shop, edition)


def _all(layouts: CuttingLayouts, kind: str, shop: Shop, edition: Edition) -> Iterator[str]:
    answers = layouts.of(kind)
    if not answers:
        yield f"The plan takes no {_ONE[kind]}s."
    for number, answer in enumerate(answers):
        if number:
            yield ""
        yield from _of(answer, shop, edition)


def _of(answer: Answer, shop: Shop, edition: Edition) -> Iterator[str]:
    question, layout = answer.question, answer.layout
    sizes = {size.id: size for size in question.job.stocks}
    bought = sum(sheet.copies for sheet in layout.sheets if not sizes[sheet.stock].offcut)
    racked = layout.sheet_count - bought
    cost = f", {shop.currency}{layout.cost / 100:,.2f}" if question.priced else ""
    rack = f", and {_many(racked, 'offcut')} of the shop" if racked else ""
    yield f"{question.stock.name}: {_many(bought, _ONE[question.kind])} to buy{cost}{rack}"
    reasons = explain(question.job, layout, step=max(1, int(_STEP[edition.units] / question.unit)))
    yield f"  {_spent(reasons)}"
    if layout.best_possible and bought <= 1:
        yield f"  {'One' if bought else 'None'} is the least there can be."
        return
    yield f"  {_bound(answer, reasons)}"
    if bought:
        yield from (f"  {line}" for line in _savings(answer, reasons, edition))


def _spent(reasons: Reasons) -> str:
    spent = reasons.spent
    shares = (
        (spent.parts, "parts"), (spent.kerfs, "kerfs"), (spent.trims, "trimmed edges"), (spent.kept, "offcuts worth keeping"), (spent.waste, "waste"),
    )  # fmt: skip
    told = [f"{words} {float(Fraction(area, spent.stock)):.0%}".replace("%", " %") for area, words in shares if area]
    return f"Of its area: {', '.join(told)}."


def _bound(answer: Answer, reasons: Reasons) -> str:
    layout, bound = answer.layout, reasons.bound
    one = _ONE[answer.question.kind]
    why = {
        "area": "the parts have too much area for less",
        "large pieces": f"the large parts can't share a {one} in any better way",
        "lengths": "the lengths add up in no better way",
        "all ways tried": "all ways of sawing them were tried",
    }
    reason = why.get(bound.reason, bound.reason)
    if layout.best_possible:
        return f"No layout is cheaper: {reason}."
    over = float(Fraction(layout.cost - bound.cost, max(bound.cost, 1)))
    cheaper = f"No layout was found that costs less; it can't be cheaper by more than {over:.1%}".replace("%", " %")
    return f"{cheaper}, since {reason}." if bound.sheets < 2 else f"{cheaper}, and fewer than {_many(bound.sheets, one)} can't do: {reason}."


def _savings(answer: Answer, reasons: Reasons, edition: Edition) -> Iterator[str]:
    one = _ONE[answer.question.kind]
    for saving in reasons.savings:
        yield _saving(answer, saving, edition)
    if reasons.forcing:
        yield f"So {_called(answer, reasons.forcing)} is what asks for the last {one}."
    if not reasons.savings:
        yield f"No single part or size, made smaller by up to a quarter, was found to save a {one}."
    if reasons.untried:
        yield "Not every change was tried."


def _saving(answer: Answer, saving: Saving, edition: Edition) -> str:
    question = answer.question
    left = f"{_many(saving.sheets, _ONE[question.kind])} would do" if saving.sheets < answer.layout.sheet_count else "it would cost less"
    if saving.fewer:
        strips = " strips" if saving.pieces[0] in answer.question.glued else ""
        return f"With {saving.fewer} fewer{strips} of {_called(answer, saving.pieces[0])} {left}."
    by: Length = question.unit * saving.by
    unit = " in" if edition.units == "inch" else " mm"
    names = ", ".join(_called(answer, piece) for piece in saving.pieces)
    return f"With {names} {edition.show(by)}{unit} {'shorter' if saving.way is Way.ALONG else 'narrower'} {left}."


def _called(answer: Answer, name: str) -> str:
    return next((f"{row} ({piece})" if piece != row else row for piece, row, _ in answer.question.parts if piece == name), name)


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
