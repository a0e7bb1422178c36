"""Sections in their order, numbered and resolved: a Document."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from compiler.base.report import Findings, Outcome
from compiler.stages.arrange.numbering import Numbers, number_section
from compiler.stages.arrange.resolving import Resolver
from compiler.values import document as doc
from compiler.values.model import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class Frontispiece:
    """What the document needs beside its sections."""

    shop: str
    terms: str
    step: Fraction
    language: str
    subject: str
    sample: bool = False
    disclosure: str = ""


def order(sections: Iterable[tuple[str, doc.Section]], landmarks: tuple[str, ...]) -> tuple[doc.Section, ...]:
    """Sections behind the landmark or section each names (`after`); ties by name.

    A section called like a landmark stands at it. One that follows nothing known stands at the end.
    """
    waiting = sorted(sections, key=lambda pair: pair[1].name)
    at_landmark = {section.name: section for _, section in waiting if section.name in landmarks}
    placed: list[doc.Section] = []
    rest = [(after, section) for after, section in waiting if section.name not in landmarks]

    def follow(name: str) -> None:
        mine = [section for after, section in rest if after == name]
        rest[:] = [pair for pair in rest if pair[0] != name]
        for section in mine:
            placed.append(section)
            follow(section.name)

    for name in landmarks:
        if name in at_landmark:
            placed.append(at_landmark[name])
        follow(name)
    placed.extend(section for _, section in rest)
    return tuple(placed)


def arrange(sections: tuple[doc.Section, ...], model: Model, front: Frontispiece) -> Outcome[doc.Document]:
    """The numbered document. A reference to nothing is an error at its place."""
    found = Findings()
    numbers = Numbers()
    numbered = tuple(number_section(section, numbers) for section in sections)
    contents = tuple(
        (section.number, section.title, section.anchor) for section in numbered if section.numbered
    )
    resolved = tuple(
        replace(
            section,
            blocks=tuple(Resolver(numbers, model, contents, found).block(block) for block in section.blocks),
        )
        for section in numbered
    )
    document = doc.Document(
        title=model.plan.title,
        shop=front.shop,
        number=model.plan.number,
        issue=model.plan.issue,
        date=model.plan.date,
        units=model.edition.units,
        paper=model.edition.paper,
        step=front.step,
        language=front.language,
        subject=front.subject,
        sections=resolved,
        terms=front.terms,
        sample=front.sample,
        disclosure=front.disclosure,
    )
    return Outcome(document, found.report())
