"""Operations, tools, cautions and terms of the library.

In: the library's texts and an edition's unit. Out: frozen rows. Conditions of cautions are those of the edition's side.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal, cast

from compiler.base.measures import Length, exact, inch, mm
from compiler.base.report import Outcome, Report
from compiler.base.showing import Units
from compiler.language.yaml_tree import read_tree
from compiler.values.draft import Mapping, Node, Scalar, Sequence
from compiler.values.entries import LibraryCaution, LibraryOperation, Operations, Protection, Term, Tool
from compiler.values.source import Library


@lru_cache(maxsize=8)
def operations(library: Library, units: Units) -> Outcome[Operations]:
    """All operations with what they refer to."""
    roots, report = _roots(library, "/operations/")
    merged: dict[str, list[tuple[str, Node]]] = {}
    notice = ""
    for root in roots:
        for key, node in root.entries:
            if key.text == "notice":
                notice = _text(node, "text")
            elif isinstance(node, Mapping):
                merged.setdefault(key.text, []).extend((name.text, value) for name, value in node.entries)
    return Outcome(Operations(
        notice=notice,
        tools=tuple(Tool(name=name, kind=_text(node, "kind")) for name, node in merged.get("tools", [])),
        protection=tuple(Protection(name=name, text=_text(node, "text"), source=_text(node, "source"))
                         for name, node in merged.get("protection", [])),
        cautions=tuple(_caution(name, node, units) for name, node in merged.get("cautions", [])),
        operations=tuple(_operation(name, node) for name, node in merged.get("operations", [])),
        units=units,
    ), report)


@lru_cache(maxsize=8)
def glossary(library: Library) -> Outcome[tuple[Term, ...]]:
    """All terms, in the order of the alphabet."""
    roots, report = _roots(library, "/glossary/")
    terms = [Term(name=key.text, text=_text(node, "text"), also=_texts(node, "also")) for root in roots for key, node in root.entries]
    return Outcome(tuple(sorted(terms, key=lambda term: term.name)), report)


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


def _texts(node: Node | None, key: str) -> tuple[str, ...]:
    value = node.get(key) if isinstance(node, Mapping) else None
    if isinstance(value, Scalar):
        return (value.text,)
    return tuple(item.text for item in value.items if isinstance(item, Scalar)) if isinstance(value, Sequence) else ()


def _caution(name: str, node: Node, units: Units) -> LibraryCaution:
    when: list[tuple[str, str]] = []
    limits: list[tuple[str, Length]] = []
    conditions = node.get("when") if isinstance(node, Mapping) else None
    if isinstance(conditions, Mapping):
        for key, value in conditions.entries:
            side = value.get(units) if isinstance(value, Mapping) else value
            if isinstance(side, Scalar):
                when.append((key.text, side.text))
                if key.text.split()[0] in ("length", "width", "thickness", "height") and isinstance(value, Mapping):
                    limits.append((key.text, inch(exact(side.text)) if units == "inch" else mm(exact(side.text))))
            elif isinstance(side, Sequence):
                when.append((key.text, ", ".join(item.text for item in side.items if isinstance(item, Scalar))))
    return LibraryCaution(name=name, word=cast("Literal['DANGER', 'WARNING', 'CAUTION', 'NOTICE']", _text(node, "word")),
                          risk=_text(node, "risk"), avoid=_text(node, "do"), when=tuple(when), limits=tuple(limits), source=_text(node, "source"))


def _operation(name: str, node: Node) -> LibraryOperation:
    tools = node.get("tools") if isinstance(node, Mapping) else None
    any_of = tools.get("any") if isinstance(tools, Mapping) else None
    choices = tuple(tuple(item.text for item in choice.items if isinstance(item, Scalar)) for choice in any_of.items if isinstance(choice, Sequence)) \
        if isinstance(any_of, Sequence) else ()
    return LibraryOperation(name=name, group=_text(node, "group"), must=_texts(tools, "must"), any_of=choices,
                            cautions=_texts(node, "cautions"), protection=_texts(node, "protection"), source=_text(node, "source"))
