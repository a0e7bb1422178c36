"""The last pages: words that the plan uses, terms of use, the record of its issues."""

from __future__ import annotations

import re
from collections.abc import Iterator

from compiler.api import (
    Blocks,
    Columns,
    Facts,
    Heading,
    History,
    ItemList,
    Library,
    Model,
    Notes,
    Paragraph,
    Shop,
    Term,
    Words,
    Write,
    plain,
    section,
)


@section("Words used", after="finishing", name="words")
def words_used(model: Model, notes: Notes, library: Library) -> Blocks:
    """The glossary's terms that stand in this plan's text, joints or lists, in the order of the alphabet."""
    text = " ".join(
        [
            *(plain(block) for step in notes.steps for block in step.content),
            *(step.key for step in notes.steps),
            *(plain(block) for block in notes.introduction),
            *(joint.kind for joint in model.joints),
            *(row.name for row in model.kinds),
        ]
    ).lower()
    used = tuple((term.name, term.text) for term in library.terms if _used(term, text))
    if used:
        yield Words(terms=used)


def _used(term: Term, text: str) -> bool:
    return any(re.search(rf"\b{re.escape(word)}(s|es|ed)?\b", text) for word in _spellings(term))


def _spellings(term: Term) -> Iterator[str]:
    yield term.name.lower()
    yield from (word.lower() for word in term.also)


@section("Terms of use", after="terms", name="terms")
def terms_of_use(shop: Shop, library: Library) -> Blocks:
    """What a buyer may do with the plan, and what no plan can promise."""
    if shop.terms:
        yield Paragraph(content=(shop.terms,))
    yield Paragraph(content=(library.notice,))
    yield Paragraph(
        content=(
            "The sizes in this plan were worked out from one model and checked against each other. Wood, tools and hands differ:"
            " measure as you go, and fit each part to the piece you have.",
        )
    )


@section("Record of this plan", after="record", name="record")
def record(model: Model, shop: Shop, history: History) -> Blocks:
    """Which issue and edition this is, what each issue changed, and room for the builder's own notes."""
    yield Columns(
        left=(
            Facts(
                rows=(
                    ("Plan", f"{model.plan.number}, {model.plan.title}"),
                    ("Issue", f"{model.plan.issue}, {model.plan.date}"),
                    ("Edition", f"{'inches' if model.edition.units == 'inch' else 'millimetres'}, {PAPERS[model.edition.paper]}"),
                    ("Shop", shop.name),
                )
            ),
        ),
        right=(
            Write(label="Built by, for whom, finished on", lines=1),
            Write(label="What I would do differently next time", lines=3),
        ),
    )
    for issue in reversed(history.issues[1:]):
        yield Heading(content=(f"What issue {issue.number} changed",))
        yield ItemList(items=tuple((change,) for change in issue.changes) or (("No size, count or list differs from the issue before.",),))


PAPERS = {"letter": "Letter paper", "a4": "A4 paper"}
