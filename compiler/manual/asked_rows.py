"""What joints, components and settings ask for, as rows of the manual.

In: fields as their authors wrote them. Out: tables with a row a field: key, what it is, default, limits.
"""

from __future__ import annotations

from compiler.values.ask import Asked
from compiler.values.document import Code, Column, Group, Inline, Table

ASKED = (Column(head="Key", width=15), Column(head="What it is", width=37), Column(head="Default", width=24), Column(head="Limits", width=24))
"""The columns of what a joint or a plugin asks for."""


def asks_table(title: str, asks: tuple[Asked, ...]) -> Table:
    """A table of what may be written for one joint or component."""
    return Table(title, columns=ASKED, groups=(Group(title="", rows=ask_rows(asks)),), dense=True)


def ask_rows(asks: tuple[Asked, ...]) -> tuple[tuple[Inline, ...], ...]:
    """A row a field: key, what it is, default, limits."""
    return tuple((code(asked.key), asked.says, code(_default(asked)), code(_limits(asked))) for asked in asks)


def _default(asked: Asked) -> str:
    if asked.takes == "stop":
        return "runs through"
    text = asked.default if asked.default is not None else "none"
    return f"{text}; metric {asked.metric}" if asked.metric is not None else text


def _limits(asked: Asked) -> str:
    if asked.takes == "word":
        return " or ".join(asked.words)
    if asked.takes == "fasteners":
        every, count = (*asked.words, "", "")[:2]
        return f"every {every}" if every else f"count {count}" if count else ""
    return f"{asked.least or '…'} to {asked.most or '…'}" if asked.least or asked.most else ""


def code(text: str) -> Inline:
    """Words as typed; nothing for nothing."""
    return Code(text) if text else ""
