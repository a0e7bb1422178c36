"""Where each entry of the library stands: found without reading the rest.

In: the library's texts. Out: an entry's tree, parsed only when it is asked for. A library of three hundred entries costs
a scan for unindented keys and `name:` lines; a plan uses two dozen of them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from compiler.base.report import Diagnostic, Outcome, Report, Spot
from compiler.language.names import house_spelling
from compiler.language.yaml_tree import read_tree
from compiler.values.draft import Mapping
from compiler.values.source import Library

_KEY = re.compile(r"(?m)^(?P<key>[^\s#\"'][^\n]*?):[ ]*(?:#.*)?$|^(?:\"(?P<double>[^\"\n]+)\"|'(?P<single>[^'\n]+)'):[ ]*(?:#.*)?$")
_KIND = re.compile(r"(?m)^  kind: *([^\n#]*?) *(?:#.*)?$")
_NAME = re.compile(r"(?m)^  name: *(.*?) *$")
_SIDE = re.compile(r"(?:inch|mm): *((?:\"[^\"]*\")|[^,}]*)")


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: its key, kind and further names, the file and line it begins at, and its text."""

    key: str
    kind: str
    names: tuple[str, ...]
    file: str
    line: int
    text: str


@lru_cache(maxsize=8)
def entries(library: Library) -> tuple[Entry, ...]:
    """All entries of the library's stock, hardware and finishes, in the order of files and lines."""
    found: list[Entry] = []
    for file in library.files:
        if "/operations/" in file.name or "/glossary/" in file.name:
            continue
        heads = list(_KEY.finditer(file.text))
        for head, following in zip(heads, [*heads[1:], None], strict=True):
            body = file.text[head.start(): following.start() if following else len(file.text)]
            key = head["key"] or head["double"] or head["single"]
            kind = _KIND.search(body)
            found.append(Entry(key, kind[1] if kind else "", _names(body), file.name, file.text.count("\n", 0, head.start()) + 1, body))
    return tuple(found)


def _names(body: str) -> tuple[str, ...]:
    line = _NAME.search(body)
    if line is None:
        return ()
    text = line[1]
    if text.startswith("{"):
        return tuple(dict.fromkeys(side.strip(' "') for side in _SIDE.findall(text)))
    return (text.strip('"\''),)


@lru_cache(maxsize=8)
def _by_name(library: Library) -> dict[str, Entry]:
    named: dict[str, Entry] = {}
    for entry in entries(library):
        named.setdefault(house_spelling(entry.key), entry)
    for entry in entries(library):
        before = next((entry.key.removesuffix(name) for name in entry.names if entry.key.endswith(" " + name)), "")
        for name in entry.names:
            named.setdefault(house_spelling(name), entry)
            if before:
                named.setdefault(house_spelling(before + name), entry)
    return named


def find_entry(library: Library, name: str, kind: str = "") -> Entry | None:
    """The entry a plan means by a name: its key, a name of either edition, or either without the word of its kind
    (`No. 8 x 1 1/4` under `screws` is `screw No. 8 x 1 1/4`, and so is `screw 4 x 30`). None when there is none.
    """
    named = _by_name(library)
    wanted = house_spelling(name.strip())
    for text in (f"{kind} {wanted}", wanted) if kind else (wanted,):
        if text in named:
            return named[text]
    return None


def names_of(library: Library, *, stock: bool | None = None) -> tuple[str, ...]:
    """All names that can be asked for; only stock's, or only other things', on request."""
    kinds = ("sheet", "board", "rod", "moulding", "tape")
    return tuple(name for name, entry in _by_name(library).items()
                 if entry.kind != "species" and (stock is None or (entry.kind in kinds) is stock))


@lru_cache(maxsize=512)
def tree_of(entry: Entry) -> Outcome[Mapping]:
    """The entry's keys and values. A fault in it is placed in the library's file."""
    outcome = read_tree(entry.file, entry.text)
    report = Report(tuple(_moved(fault, entry) for fault in outcome.report.diagnostics))
    root = outcome.value
    if isinstance(root, Mapping) and root.entries and isinstance(root.entries[0][1], Mapping):
        return Outcome(root.entries[0][1], report)
    return Outcome(None, report)


def _moved(fault: Diagnostic, entry: Entry) -> Diagnostic:
    at = fault.at
    place = Spot(entry.file, line=(at.line or 1) + entry.line - 1 if at else entry.line, column=at.column if at else 1)
    return Diagnostic(fault.code, fault.says, place, fault.hint, fault.severity)
