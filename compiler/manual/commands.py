"""The commands, read from the parser that reads them.

In: an argparse parser. Out: for each command its words and what each means, in the parser's own sentences.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its words as typed, what it does, and each of its arguments with what it means."""

    name: str
    says: str
    arguments: tuple[tuple[str, str], ...]


def commands(parser: argparse.ArgumentParser) -> tuple[Command, ...]:
    """In the order of the help."""
    found = []
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            helps = {choice.dest: choice.help or "" for choice in action._choices_actions}
            for name, inner in action.choices.items():
                rows = tuple((_typed(each), each.help or "") for each in inner._actions if not isinstance(each, argparse._HelpAction))
                found.append(Command(name, helps.get(name, ""), rows))
    return tuple(found)


def _typed(action: argparse.Action) -> str:
    """An argument as it is typed: `--units {inch,mm}`, `PLAN ...`."""
    word = ", ".join(action.option_strings)
    if action.nargs == 0:
        return word
    meant = "{" + ",".join(map(str, action.choices)) + "}" if action.choices else str(action.metavar or action.dest).upper()
    many = " ..." if action.nargs in ("+", "*") else ""
    return f"{word} {meant}{many}".strip()
