"""Every message by its code: what the code says in the compiler's own sources, and an example from the annotated cases that are tests.

In: the folders of the sources and of the cases. Out: `Message`s in the order of their codes. A code without a case shows the sentence as
it stands in the source, with … for what differs.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

TELLERS = ("error", "warning", "advice", "Diagnostic", "Refused", "refuse", "report", "_fault")
"""The names of the functions that a code and a sentence are given to."""

_CODE = re.compile(r"[a-z]+(-[a-z]+)*")
_CASE = re.compile(r"^## (?P<title>.+?)\n.*?```text\n(?P<said>.*?)```", re.M | re.S)
_SAID = re.compile(r"^(?P<rank>error|warning|advice): (?P<says>.+?) \[(?P<code>[a-z]+(?:-[a-z]+)*)\](?P<tags>( \([^)]+\))*)\n(?P<rest>.*?)(?=\n\n|\Z)",
                   re.M | re.S)
_LINE = re.compile(r"^ +\d+ \| (?P<line>.*)$", re.M)
_UNPRINTED = re.compile("[\u2e80-\ud7ff\uf900-\uffff]")
_HINT = re.compile(r"^  → (?P<hint>.+)$", re.M)


UNCAUSED: dict[str, str] = {
    "explode-nowhere": "guards the drawing: check tells it first, as no-direction or unknown-part",
    "letter-not-seen": "only very crowded pieces hide a part wholly when they are moved apart; no small example does",
    "pages-unsettled": "guards the layout: page numbers that never settle have not been met",
    "unknown-kind": "guards the writer of starters: the command line takes no other kind",
}
"""Codes that no file of a maker's causes in a small example, each with the reason."""


@dataclass(frozen=True, slots=True)
class Message:
    """One code. `line` is what was written in the example, "" when there is none; `says` and `hint` are of the example or the source."""

    code: str
    says: str
    hint: str = ""
    line: str = ""
    rank: str = "error"
    tested: bool = False


def messages(sources: tuple[Path, ...], cases: Path) -> tuple[Message, ...]:
    """All codes, each once: those of the sources, and those that only cases show (codes that are put together)."""
    files = [file for source in sources for file in sorted(source.rglob("*.py"))]
    found = {message.code: message for file in files for message in (*_checks_in(file), *_in_source(file))}
    for page in sorted(cases.rglob("*.md")):
        for message in _in_cases(page.read_text(encoding="utf-8")):
            known = found.get(message.code)
            if known is None or not known.tested:
                found[message.code] = message
    return tuple(found[code] for code in sorted(found))


def _in_source(file: Path) -> Iterator[Message]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    named = {node.targets[0].id: text for node in ast.walk(tree) if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
             and (text := _text(node.value)) is not None}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call) or len(node.args) < 2 or _name(node.func) not in TELLERS:
            continue
        code, second = _text(node.args[0]), node.args[1]
        says = named.get(second.id) if isinstance(second, ast.Name) else _text(second)
        if code is None or says is None or " " not in says or not _CODE.fullmatch(code):
            continue
        hints = [_text(word.value) for word in node.keywords if word.arg == "hint"] + [_text(each) for each in node.args[2:4]]
        rank = next((word for word in ("warning", "advice") if word in ast.unparse(node.func) or word.upper() in ast.unparse(node)), "error")
        yield Message(code, says, next((hint for hint in hints if hint and " " in hint), ""), rank=rank)


def _checks_in(file: Path) -> Iterator[Message]:
    """The checks of plugins: a check's name is the code of what it finds, its docstring says what that is."""
    for node in ast.parse(file.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and any(isinstance(mark, ast.Name) and mark.id == "check" for mark in node.decorator_list):
            yield Message(node.name.replace("_", "-"), (ast.get_docstring(node) or "").split("\n", 1)[0], rank="warning")


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else function.id if isinstance(function, ast.Name) else ""


def _text(node: ast.expr) -> str | None:
    """A text as it stands in the source; … where a value is put in."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(str(piece.value) if isinstance(piece, ast.Constant) else "…" for piece in node.values)
    return None


def _in_cases(text: str) -> Iterator[Message]:
    for case in _CASE.finditer(text):
        for said in _SAID.finditer(case["said"]):
            line, hint = _LINE.search(said["rest"]), _HINT.search(said["rest"])
            # The manual can't print the letter that no font of its own has.
            said_of = _UNPRINTED.sub("…", said["says"])
            yield Message(said["code"], said_of, hint["hint"] if hint else "", line["line"].strip(" …") if line else "", said["rank"], tested=True)
