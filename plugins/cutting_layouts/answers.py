"""Every question answered: the plan's layouts, and what is to be bought for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import ZERO, CutList, Model, Shop, StockCount, StockToBuy, Volume, task

from .job import Stock
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
def stock_to_buy(layouts: CuttingLayouts) -> StockToBuy:
    """Whole sheets, boards and lengths by stock and size; offcuts of the shop are not bought."""
    return StockToBuy(rows=tuple(row for answer in layouts.answers if answer.layout.sheets for row in _bought(answer)))


def _bought(answer: Answer) -> Iterator[StockCount]:
    question = answer.question
    key, unit = question.stock.key, question.unit
    sizes = {size.id: size for size in question.job.stocks}
    counts: dict[str, int] = {}
    for sheet in answer.layout.sheets:
        if not sizes[sheet.stock].offcut:
            counts[sheet.stock] = counts.get(sheet.stock, 0) + sheet.copies
    for name, number in counts.items():
        size = sizes[name]
        wide = ZERO if question.kind == "length" else unit * size.width
        wood = wood_in(question, size) * number if question.kind == "board" else Volume()
        cost = Fraction((size.cost or 0) * number, 100) if question.priced else None
        yield StockCount(stock=key, size=(wide, unit * size.length), number=number, volume=wood, cost=cost)
    if not counts:
        yield StockCount(stock=key, size=(ZERO, ZERO), number=0)


def wood_in(question: Question, size: Stock) -> Volume:
    """The wood in one board, rough."""
    return question.unit * size.length * (question.unit * size.width) * question.thick
