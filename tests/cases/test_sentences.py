"""Whatever is said is said in sentences: of every message in the cases, of every mistake of a plugin's author, of every text in the code.

A sentence begins with a capital or a figure, or with a name as it was typed: quoted, or of a file (`notes.md`).
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

from tests.made import ROOT
from tests.plug.test_mistakes import MISTAKES

BEGINS = re.compile(r"[A-Z0-9`“]|[\w-]*[./][\w./-]+ ")
SAID = re.compile(r"(?m)^(?:error|warning|advice): (.+) \[[\w-]+\](?: \(\w+\))?$")
HINTED = re.compile(r"(?m)^  → (.+)$")
TELLS = {"error": 1, "warning": 1, "advice": 1, "Diagnostic": 1, "_refuse": 2, "_fault": 1}
"""Functions that tell a fault, with the place of the sentence among their arguments; a plugin's own begin with it."""


def texts_of(node: ast.expr) -> list[str]:
    """What a sentence in the code begins with, as far as it is written there: of both branches of a choice."""
    if isinstance(node, ast.IfExp):
        return [*texts_of(node.body), *texts_of(node.orelse)]
    first = node.values[0] if isinstance(node, ast.JoinedStr) and node.values else node
    return [first.value] if isinstance(first, ast.Constant) and isinstance(first.value, str) else []


def written(file: Path) -> list[str]:
    """The beginnings of all sentences in a module."""
    found = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            own = isinstance(node.func, ast.Name)
            name = node.func.id if isinstance(node.func, ast.Name) else node.func.attr if isinstance(node.func, ast.Attribute) else ""
            place = 0 if own and name in ("error", "warning", "advice", "refuse") else TELLS.get(name)
            if place is not None and len(node.args) > place:
                found += texts_of(node.args[place])
    return found


def test_every_message_of_the_cases_is_a_sentence() -> None:
    """And every hint."""
    pages = [page.read_text(encoding="utf-8") for page in sorted((ROOT / "tests" / "cases").rglob("*.md"))]
    said = [says for page in pages for form in (SAID, HINTED) for says in form.findall(page)]
    assert len(said) > 700
    assert [] == [says for says in said if not BEGINS.match(says)]


def test_every_message_to_an_author_is_a_sentence() -> None:
    """With its full stop."""
    said = [says for _, expected in MISTAKES.values() for says in expected.split(" ", 1)[1].split(" · ")]
    assert [] == [says for says in said if not BEGINS.match(says) or says[-1] not in ".?"]


def test_every_sentence_in_the_code_begins_as_one() -> None:
    """Also those that no case shows."""
    files = [file for folder in ("compiler", "plugins") for file in sorted((ROOT / folder).rglob("*.py"))]
    said = [(file.relative_to(ROOT).as_posix(), text) for file in files for text in written(file)]
    assert len(said) > 250
    assert [] == [(file, text) for file, text in said if not BEGINS.match(text)]
