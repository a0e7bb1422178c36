"""Where a fault in a plugin's component is shown: at the part of the plan that uses it, and at the author's line.

In: reports whose places say `component drawer box`, the plan's tree, the components. Out: the same reports with places that exist.
"""

from __future__ import annotations

import linecache
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from textwrap import dedent

from compiler.base.report import Diagnostic, Report, Spot
from compiler.guard import author_line
from compiler.language import house_spelling, position_of
from compiler.language.yaml_tree import read_tree
from compiler.values.contributions import Brought
from compiler.values.draft import Draft, Mapping, Node, Scalar, Sequence, Tree
from compiler.values.joinery import Component
from compiler.values.source import SourceFile

_MARK = "component "


def in_the_plan(report: Report, components: Iterable[Brought[type[Component]]], draft: Draft | None) -> Report:
    """The report, each fault of a component where the plan first uses it."""
    spots = [spot for fault in report for spot in (fault.at, *fault.also) if spot is not None]
    if not any(spot.file.startswith(_MARK) for spot in spots):
        return report
    known = {f"{_MARK}{one.name}": one for one in components}
    return Report(tuple(_placed(fault, known, draft) for fault in report))


def _placed(fault: Diagnostic, known: dict[str, Brought[type[Component]]], draft: Draft | None) -> Diagnostic:
    there = (_line(known[spot.file], spot) if spot.file in known else spot for spot in fault.also)
    also = tuple(spot for spot in there if spot is not None)
    if fault.at is None or fault.at.file not in known:
        return replace(fault, also=also)
    component = known[fault.at.file]
    line = _line(component, fault.at)
    use = _use(draft.root("design.yaml") if draft else None, component.name, Spot("design.yaml"))
    own = (line,) if line is not None and use is not None else ()
    return replace(fault, at=use or line, also=tuple(dict.fromkeys((*own, *also))), plugin=fault.plugin or component.author.plugin)


def _use(node: Node | None, name: str, at: Spot) -> Spot | None:
    """The first `component: NAME` in a tree."""
    inside: Iterator[tuple[str | int, Node]] = iter(())
    if isinstance(node, Mapping):
        word = node.get("component")
        if isinstance(word, Scalar) and house_spelling(word.text) == name:
            return at.key("component")
        inside = ((key.text, value) for key, value in node.entries)
    elif isinstance(node, Sequence):
        inside = ((index, value) for index, value in enumerate(node.items))
    return next((found for key, value in inside if (found := _use(value, name, at.key(key))) is not None), None)


def _line(component: Brought[type[Component]], spot: Spot) -> Spot | None:
    """The line of the author's file: of the field, else of that line of the text, else of the class."""
    kind, author = component.thing, component.author
    file = getattr(sys.modules.get(kind.__module__), "__file__", None) or ""
    asked = next((asked for asked in kind.asks if spot.path[:2] == ("sizes", asked.key)), None)
    if asked is not None:
        return author_line(author, asked.line, file)
    text = dedent(kind.written).strip("\n") + "\n"
    inner = Draft(folder="", trees=(Tree(spot.file, read_tree(spot.file, text).value),), files=(SourceFile(spot.file, text, ""),))
    place, first = position_of(spot, inner), text.split("\n", 1)[0].strip()
    lines = linecache.getlines(file)
    start = next((number for number in range(kind.line, len(lines) + 1) if lines[number - 1].strip().removeprefix('written = """') == first), None)
    return author_line(author, start + place.line - 1 if start and place else kind.line, file)
