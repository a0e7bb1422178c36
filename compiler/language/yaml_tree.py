"""A YAML text becomes a tree of characters and places: nothing in it is a number, a date or a truth value yet.

In: a file's name and text. Out: a `Node`, with what the plans' YAML refuses (anchors, aliases, merge keys, tags, further
documents, keys written twice) reported at its place. The parser's own errors are put in words by `yaml_faults`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import cast

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from compiler.base.report import Findings, Key, Outcome, Spot
from compiler.language.names import house_spelling
from compiler.language.yaml_faults import explain_yaml, missing_space
from compiler.values.draft import Mapping, Node, Quoting, Scalar, Sequence

DEEPEST = 24
_ORDINARY = re.compile(r"[\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe]*\n")
"""Texts of which both of the library's parsers give the same events: without tabs, other ends of lines and rare signs, whole to the end of the last line."""


@dataclass(slots=True)
class _Open:
    """A list or mapping that is being read."""

    event: Event
    path: tuple[Key, ...]
    items: list[Node] = field(default_factory=list)
    entries: list[tuple[Scalar, Node]] = field(default_factory=list)
    key: Scalar | None = None
    twice: bool = False


class _Stop(Exception):
    """Reading ends here; the fault is reported."""


def read_tree(file: str, text: str) -> Outcome[Node]:
    """The tree of a YAML text; None when it can't be read as one. An empty text is an empty mapping."""
    findings = Findings()
    try:
        root = _Reader(file, text, findings).read()
    except YAMLError as fault:
        findings.add(explain_yaml(file, text, fault))
        return Outcome(None, findings.report())
    except _Stop:
        return Outcome(None, findings.report())
    return Outcome(root if root is not None else Mapping(()), findings.report())


def _events(text: str) -> Iterable[Event]:
    """The parser's events. The one in C takes a tenth of the time, where it is installed; what it refuses, and what makers get told about
    (anchors, tags, keys without values), is read by the one in Python, whose places and sentences the faults are told with."""
    if _ORDINARY.fullmatch(text):
        with suppress(YAMLError):
            events = list(YAML(typ="safe").parse(text))
            if not any(map(_uncommon, events)):
                return events
    return YAML(typ="safe", pure=True).parse(text)  # type: ignore[no-any-return]


def _uncommon(event: Event) -> bool:
    if isinstance(event, ScalarEvent) and not event.value and not event.style:
        return True
    return isinstance(event, AliasEvent) or getattr(event, "anchor", None) is not None or getattr(event, "tag", None) is not None


class _Reader:
    """Builds the tree from parser events with a stack of its own, so that no nesting can exhaust the machine's."""

    def __init__(self, file: str, text: str, findings: Findings) -> None:
        self._file, self._text, self._findings = file, text, findings
        self._stack: list[_Open] = []
        self._root: Node | None = None

    def read(self) -> Node | None:
        documents = 0
        for event in _events(self._text):
            match event:
                case DocumentStartEvent():
                    documents += 1
                    if documents > 1:
                        self._refuse(event, "second-document", "A second document begins here; a plan's file holds one.",
                                     "Remove the line of dashes.")
                        raise _Stop
                case AliasEvent():
                    self._anchor(event)
                    self._put(Scalar("", "*", *self._span(event)))
                case ScalarEvent():
                    self._marks(event)
                    style = event.style if event.style in ("'", '"', "|", ">") else ""
                    self._scalar(Scalar(event.value, cast(Quoting, style), *self._span(event)), event)
                case MappingStartEvent() | SequenceStartEvent():
                    self._marks(event)
                    if len(self._stack) >= DEEPEST:
                        self._refuse(event, "too-deep", f"This is nested more than {DEEPEST} levels deep.", "A plan needs about eight.")
                        raise _Stop
                    self._stack.append(_Open(event, self._next_path()))
                case MappingEndEvent() | SequenceEndEvent():
                    self._close(event)
                case _:
                    pass
        return self._root

    def _span(self, event: Event) -> tuple[int, int]:
        return event.start_mark.index, event.end_mark.index

    def _refuse(self, event: Event, code: str, says: str, hint: str) -> None:
        self._findings.error(code, says, self._here(event), hint)

    def _here(self, event: Event) -> Spot:
        return Spot(self._file, line=event.start_mark.line + 1, column=event.start_mark.column + 1, path=self._next_path())

    def _next_path(self) -> tuple[Key, ...]:
        if not self._stack:
            return ()
        top = self._stack[-1]
        if isinstance(top.event, SequenceStartEvent):
            return (*top.path, len(top.items))
        return (*top.path, top.key.text) if top.key else top.path

    def _anchor(self, event: Event) -> None:
        mark = Spot(self._file, line=event.start_mark.line + 1, column=event.start_mark.column + 1)
        self._findings.error("no-anchors", "Plans don't use YAML anchors.", mark, "Give the length a name under `sizes`.")

    def _marks(self, event: ScalarEvent | MappingStartEvent | SequenceStartEvent) -> None:
        if event.anchor:
            self._anchor(event)
        if event.tag is not None:
            mark = Spot(self._file, line=event.start_mark.line + 1, column=event.start_mark.column + 1)
            self._findings.error("no-tags", "Plans don't use YAML tags.", mark, "Remove the word with the exclamation mark.")

    def _scalar(self, scalar: Scalar, event: ScalarEvent) -> None:
        top = self._stack[-1] if self._stack else None
        if top is None or not isinstance(top.event, MappingStartEvent) or top.key is not None:
            self._put(scalar)
            return
        mark = Spot(self._file, line=event.start_mark.line + 1, column=event.start_mark.column + 1)
        if not scalar.text:
            self._findings.error("key-is-empty", "Nothing stands before this colon.", mark, "Write a name before it, or remove the line.")
            top.key, top.twice = scalar, True
            return
        if scalar.text == "<<" and not scalar.quoting:
            self._findings.error("no-anchors", "Plans don't use YAML anchors.", mark, "Give the length a name under `sizes`.")
            top.twice = True
        first = next((name for name, _ in top.entries if house_spelling(name.text) == house_spelling(scalar.text)), None)
        if first is not None:
            line = self._text.count("\n", 0, first.start) + 1
            mark = Spot(self._file, line=mark.line, column=mark.column, start=0, end=len(scalar.text))
            self._findings.error("written-twice", f"`{scalar.text}` is written twice, here and in line {line}.", mark, "Remove one.",
                                 also=(Spot(self._file, (*top.path, first.text), on_key=True),))
            top.twice = True
        top.key = scalar

    def _put(self, node: Node) -> None:
        if not self._stack:
            self._root = node
            return
        top = self._stack[-1]
        if isinstance(top.event, SequenceStartEvent):
            top.items.append(node)
            return
        if top.key is None:
            start = node.start
            line = self._text.count("\n", 0, start) + 1
            self._findings.error("key-is-no-text", "A key is one word or name; this is a list or a group.",
                                 Spot(self._file, line=line, column=start - self._text.rfind("\n", 0, start)), "Write a name before the colon.")
            top.key, top.twice = Scalar("", "", node.start, node.stop), True
            return
        key = top.key
        if isinstance(node, Scalar) and not node.text and not node.quoting and node.start == node.stop:
            self._empty(key, top)
        if not top.twice:
            top.entries.append((key, node))
        top.key, top.twice = None, False

    def _empty(self, key: Scalar, top: _Open) -> None:
        """A key without a value, where the reason can be seen from the characters alone."""
        if not key.text:
            return
        fault = missing_space(key.text)
        line = self._text.count("\n", 0, key.start) + 1
        column = key.start - self._text.rfind("\n", 0, key.start)
        flow = bool(getattr(top.event, "flow_style", False))
        if fault is not None:
            says = f"`{key.text}` has no value: a space is missing after the colon."
            self._findings.error("space-after-colon", says, Spot(self._file, line=line, column=column + fault),
                                 f"Write {key.text[:fault]}: {key.text[fault + 1:]}.")
            split = key.start + fault
            top.entries.append((Scalar(key.text[:fault], "", key.start, split), Scalar(key.text[fault + 1:], "", split + 1, key.stop)))
            top.twice = True
        elif flow and top.entries:
            before, value = top.entries[-1]
            shown = f"{before.text}: {value.text} and {key.text}" if isinstance(value, Scalar) else f"{key.text}: …"
            self._findings.error("comma-in-braces", f"`{key.text}` has no value: inside {{ }} a comma begins the next key.",
                                 Spot(self._file, line=line, column=column, start=0, end=len(key.text)), f"Write {shown}.")
            top.twice = True

    def _close(self, event: Event) -> None:
        top = self._stack.pop()
        start, stop = top.event.start_mark.index, event.end_mark.index
        flow = bool(getattr(top.event, "flow_style", False))
        if isinstance(top.event, SequenceStartEvent):
            self._put(Sequence(tuple(top.items), flow, start, stop))
        else:
            self._put(Mapping(tuple(top.entries), flow, start, stop))
