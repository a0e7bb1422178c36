"""Every question answered: the plan's layouts, and the sheets to buy that follow from them."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.api import CutList, Model, SheetCount, SheetsToBuy, Shop, task

from .layout import Layout
from .questions import LayoutSettings, Question, questions
from .solving import lay_out


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One stock with its layout."""

    question: Question
    layout: Layout


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingLayouts:
    """All stocks of the plan, sheets first."""

    answers: tuple[Answer, ...] = ()

    def of(self, kind: str) -> tuple[Answer, ...]:
        """The answers of one kind of stock that have something to show."""
        return tuple(one for one in self.answers if one.question.kind == kind and one.layout.sheets)


@task
def cutting_layouts(cut_list: CutList, model: Model, shop: Shop, settings: LayoutSettings) -> CuttingLayouts:
    """A layout for every stock. The same parts, stock and settings give the same layout on every machine."""
    return CuttingLayouts(
        answers=tuple(
            Answer(question=question, layout=lay_out(question.job, linear=question.kind == "length"))
            for question in questions(cut_list, model, shop, settings)
        )
    )


@task
def sheets_to_buy(layouts: CuttingLayouts) -> SheetsToBuy:
    """Whole sheets by stock and size; offcuts of the shop are not bought."""
    rows = []
    for answer in layouts.of("sheet"):
        question = answer.question
        sizes = {size.id: size for size in question.job.stocks}
        counts: dict[str, int] = {}
        for sheet in answer.layout.sheets:
            if not sizes[sheet.stock].offcut:
                counts[sheet.stock] = counts.get(sheet.stock, 0) + sheet.copies
        for name, number in counts.items():
            size = sizes[name]
            rows.append(SheetCount(stock=question.stock.key, size=(question.unit * size.width, question.unit * size.length), number=number))
        if not counts and answer.layout.sheets:
            first = question.stock.sheets[0]
            rows.append(SheetCount(stock=question.stock.key, size=first, number=0))
    return SheetsToBuy(rows=tuple(rows))
