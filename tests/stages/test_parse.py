"""Parsing never fails, never guesses a type, and is not brought down by any file."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.language.yaml_tree import read_tree
from compiler.stages.parse import parse
from compiler.values.draft import Mapping, Scalar
from compiler.values.source import Source, SourceFile


@pytest.mark.parametrize("word", ["no", "y", "on", "12:30", "1_000", "012", "3/4", "2026-11-25", "~", "null", "0x10", "1e3", ".inf", "="])
def test_words_stay_words(word: str) -> None:
    """YAML's own types are never used."""
    root = read_tree("design.yaml", f"key: {word}\n").value
    assert isinstance(root, Mapping)
    assert Scalar(word) == root.get("key")


def test_order_is_kept() -> None:
    """Lists and keys keep the order of writing."""
    root = read_tree("design.yaml", "b: 1\na: 2\nc: 3\n").value
    assert isinstance(root, Mapping)
    assert ("b", "a", "c") == root.names()


def test_places_are_no_part_of_equality() -> None:
    """A comment above changes nothing below."""
    assert read_tree("design.yaml", "a: 1\n").value == read_tree("design.yaml", "# words\n\na:   1\n").value


def test_an_alias_bomb_costs_nothing() -> None:
    """Nine lines that would unfold to a thousand million words."""
    lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]" for before, name in zip("abcdefgh", "bcdefghi", strict=True)]
    begin = time.perf_counter()
    outcome = read_tree("design.yaml", "\n".join(lines) + "\n")
    assert {"no-anchors"} == {each.code for each in outcome.report.diagnostics}
    assert time.perf_counter() - begin < 2


@pytest.mark.parametrize("text", ["a: " + "[" * 100_000, "{" * 100_000, "- " * 50_000, "a: [" + "{b: [" * 5_000, "\n".join(" " * n + "a:" for n in range(400))])
def test_deep_nesting_is_one_sentence(text: str) -> None:
    """No nesting exhausts the machine."""
    outcome = read_tree("design.yaml", text)
    assert outcome.value is None
    assert 1 == len(outcome.report.diagnostics)


def test_an_empty_file_is_an_empty_mapping() -> None:
    """Comments alone are empty, too."""
    assert [Mapping(()), Mapping(())] == [read_tree("design.yaml", "").value, read_tree("design.yaml", "# nothing\n").value]


def test_a_key_twice_keeps_the_first() -> None:
    """In both spellings it is one key."""
    outcome = read_tree("design.yaml", "base moulding: 1\nbase molding: 2\n")
    assert ["written-twice"] == [each.code for each in outcome.report.diagnostics]
    assert isinstance(outcome.value, Mapping)
    assert Scalar("1") == outcome.value.get("base moulding")


@given(st.text(max_size=200))
def test_no_file_is_too_strange(text: str) -> None:
    """A tree, or a sentence with a place."""
    outcome = read_tree("design.yaml", text)
    for each in outcome.report.diagnostics:
        assert each.says and each.at is not None
    assert outcome.value is not None or not outcome.report.ok


@given(st.lists(st.sampled_from(["a", ": ", ":", "\n", "  ", "- ", "[", "]", "{", "}", ", ", '"', "'", "#", "&x ", "*x", "!t ", "---\n", "|", ">", "\t", "?", "%", "1/2"]), max_size=25).map("".join))
def test_no_heap_of_marks_is_too_strange(text: str) -> None:
    """YAML's own marks, in any order."""
    outcome = read_tree("design.yaml", text)
    assert outcome.value is not None or not outcome.report.ok


def test_places_to_fill_in_comments_are_told() -> None:
    """At their line and column; in a value they are the author's own words."""
    report = parse(Source(folder="x", files=(SourceFile("design.yaml", "sizes: {a: 1}  # [fill: yours]\nnote: '[fill: no]'\n", ""),))).report
    assert [("to-fill", "To fill: yours.", 1, 18)] == [(one.code, one.says, one.at.line, one.at.column) for one in report if one.at]
