"""What the library says beside stock and hardware: operations, tools, cautions, protection, terms, finishes, glues.

In: the library's texts and an edition's unit. Out: one frozen value. Conditions of cautions are those of the edition's side;
weights become kilograms and volumes litres in both, so that what a plan warns of doesn't depend on its unit.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Literal, cast

from compiler.base.measures import Length, exact, inch, mm
from compiler.base.report import Outcome, Report
from compiler.base.showing import Units
from compiler.language.yaml_tree import read_tree
from compiler.values.draft import Mapping, Node, Scalar, Sequence
from compiler.values.library import Caution, Operation, Term
from compiler.values.library import Library as Handbook
from compiler.values.source import Library

KILOGRAMS = {"lb": Fraction(45359237, 100_000_000), "kg": Fraction(1)}
"""The pound is exact by the international agreement of 1959."""

LITRES = {"ft3": Fraction(28316846592, 1_000_000_000), "dm3": Fraction(1)}
"""A cubic foot is exact: 304.8 mm cubed."""

Condition = Length | Fraction | str | tuple[str, ...]


@lru_cache(maxsize=8)
def handbook(library: Library, units: Units) -> Outcome[Handbook]:
    """Everything of the operations and glossary folders."""
    roots, report = _roots(library, "/operations/")
    merged: dict[str, list[tuple[str, Node]]] = {}
    notice = ""
    for root in roots:
        for key, node in root.entries:
            if key.text == "notice":
                notice = _text(node, "text")
            elif isinstance(node, Mapping):
                merged.setdefault(key.text, []).extend((name.text, value) for name, value in node.entries)
    terms, of_terms = _terms(library)
    return Outcome(
        Handbook(
            notice=notice,
            tools=tuple((name, _text(node, "kind")) for name, node in merged.get("tools", [])),
            protection=tuple((name, _text(node, "text")) for name, node in merged.get("protection", [])),
            cautions=tuple(_caution(name, node, units) for name, node in merged.get("cautions", [])),
            operations=tuple(_operation(name, node) for name, node in merged.get("operations", [])),
            terms=terms,
        ),
        report + of_terms,
    )


def _terms(library: Library) -> tuple[tuple[Term, ...], Report]:
    roots, report = _roots(library, "/glossary/")
    terms = [
        Term(name=key.text, text=_text(node, "text"), also=_texts(node, "also")) for root in roots for key, node in root.entries
    ]
    return tuple(sorted(terms, key=lambda term: term.name)), report


def _roots(library: Library, folder: str) -> tuple[list[Mapping], Report]:
    roots: list[Mapping] = []
    report = Report()
    for file in library.files:
        if folder in file.name:
            outcome = read_tree(file.name, file.text)
            report += outcome.report
            if isinstance(outcome.value, Mapping):
                roots.append(outcome.value)
    return roots, report


def _text(node: Node | None, key: str) -> str:
    value = node.get(key) if isinstance(node, Mapping) else None
    return value.text if isinstance(value, Scalar) else ""


def _said(node: Node | None, key: str, units: Units) -> str:
    """A text, or that of the edition's units where it is written for both."""
    value = node.get(key) if isinstance(node, Mapping) else None
    return _text(value, units) if isinstance(value, Mapping) else _text(node, key)


def _texts(node: Node | None, key: str) -> tuple[str, ...]:
    value = node.get(key) if isinstance(node, Mapping) else None
    if isinstance(value, Scalar):
        return (value.text,)
    return tuple(item.text for item in value.items if isinstance(item, Scalar)) if isinstance(value, Sequence) else ()


def _caution(name: str, node: Node, units: Units) -> Caution:
    conditions = node.get("when") if isinstance(node, Mapping) else None
    when = (
        tuple((key.text, _condition(key.text, value, units)) for key, value in conditions.entries)
        if isinstance(conditions, Mapping)
        else ()
    )
    word = cast("Literal['DANGER', 'WARNING', 'CAUTION', 'NOTICE']", _text(node, "word"))
    return Caution(name=name, word=word, risk=_said(node, "risk", units), do=_said(node, "do", units), when=when, source=_text(node, "source"))


def _condition(name: str, value: Node, units: Units) -> Condition:
    side = value.get(units) if isinstance(value, Mapping) else value
    if isinstance(side, Sequence):
        return tuple(item.text for item in side.items if isinstance(item, Scalar))
    text = side.text if isinstance(side, Scalar) else ""
    if not isinstance(value, Mapping):
        return text
    number, _, unit = text.partition(" ")
    if unit in KILOGRAMS:
        return exact(number) * KILOGRAMS[unit]
    if unit in LITRES:
        return exact(number) * LITRES[unit]
    return inch(text) if units == "inch" else mm(text)


def _operation(name: str, node: Node) -> Operation:
    tools = node.get("tools") if isinstance(node, Mapping) else None
    any_of = tools.get("any") if isinstance(tools, Mapping) else None
    choices = (
        tuple(
            tuple(item.text for item in choice.items if isinstance(item, Scalar))
            for choice in any_of.items
            if isinstance(choice, Sequence)
        )
        if isinstance(any_of, Sequence)
        else ()
    )
    return Operation(
        name=name,
        group=_text(node, "group"),
        must=_texts(tools, "must"),
        any_of=choices,
        cautions=_texts(node, "cautions"),
        protection=_texts(node, "protection"),
        source=_text(node, "source"),
    )
