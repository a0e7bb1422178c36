"""The quick YAML parser (libyaml) against ruamel.yaml's own in Python: the same events at the same places, or the same fault.

The parser in Python is the outside reference: it is the one that the plans' faults are told with.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from compiler.language import yaml_tree

ROOT = Path(__file__).parents[2]
TEXTS = tuple(path.read_text(encoding="utf-8") for folder in ("projects", "shared") for path in sorted((ROOT / folder).rglob("*.yaml")))
PIECES = tuple(text[at:text.find("\n", at + 600) + 1] for text in TEXTS for at in range(0, len(text), 600))


def events(text: str, parse: Any) -> list[tuple[object, ...]] | str:
    """All that the reader of plans asks of an event, or the fault."""
    try:
        return [(type(each).__name__, getattr(each, "value", None), getattr(each, "style", None) or "", getattr(each, "tag", None) is None,
                 getattr(each, "anchor", None), getattr(each, "flow_style", None), each.start_mark.index, each.start_mark.line,
                 each.start_mark.column, each.end_mark.index) for each in parse(text)]
    except YAMLError as fault:
        return str(fault)


def reference(text: str) -> Any:
    """The parser in Python."""
    return YAML(typ="safe", pure=True).parse(text)


@pytest.mark.parametrize("text", TEXTS)
def test_our_own_files(text: str) -> None:
    """Every design, shop and library file of the project."""
    assert events(text, yaml_tree._events) == events(text, reference)


def test_they_are_read_by_the_quick_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nearly all of them: it is installed, and what it gives is taken."""
    slow = []

    class Told(YAML):  # type: ignore[misc]
        def __init__(self, **named: Any) -> None:
            slow.append(bool(named.get("pure")))
            super().__init__(**named)

    monkeypatch.setattr(yaml_tree, "YAML", Told)
    for text in TEXTS:
        list(yaml_tree._events(text))
    assert slow.count(True) <= len(TEXTS) // 4


@pytest.mark.parametrize("text", ["a:\tb\n", "a: &x b\n", "a: *x\n", "a: !t b\n", "a:\nb: c\n", "{a: , b: c}\n", "a: b", "a: b\u2028*c: d\n", "a: b\r\nc: d\r\n",
                                  "- [a, b\n", "a: 'b\n", "a: b: c\n", "<<: a\n", "a: 1\n--- \nb: 2\n", "\ufeffa: b\n", "a: \U0001f9f0 b\n", "? a\n: b\n", ""])
def test_what_is_odd(text: str) -> None:
    """Tabs, anchors, tags, keys without values, other ends of lines, what is left open."""
    assert events(text, yaml_tree._events) == events(text, reference)


@given(st.sampled_from(PIECES), st.lists(st.tuples(st.integers(0, 700), st.integers(0, 2), st.text(" :,{}[]#\"'-?|>&*!%@`\t\n~½é1", max_size=3)), max_size=3))
def test_files_with_mistakes_in_them(text: str, edits: list[tuple[int, int, str]]) -> None:
    """Characters put in and taken out anywhere."""
    for at, gone, new in edits:
        text = text[:at] + new + text[at + gone:]
    assert events(text, yaml_tree._events) == events(text, reference)
