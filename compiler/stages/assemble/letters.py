"""Letters of the rows: those that letters.yaml holds, and new ones for new rows.

In: rows, letters given before. Out: each row with its letter, and what is doubtful. Letters skip I, O and Q and go on past
Z: AA, AB. A letter once given is never given to another part.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.base.report import Findings, Spot
from compiler.stages.assemble.kinds import Row

ALPHABET = "ABCDEFGHJKLMNPRSTUVWXYZ"
"""The letters used: I, O and Q are read as figures. Source: drafting practice."""


def letter_after(letter: str) -> str:
    """The next letter: A to Z without I, O, Q, then AA, AB."""
    number = 0
    for character in letter:
        number = number * len(ALPHABET) + ALPHABET.index(character) + 1
    return _letter(number + 1)


def _letter(number: int) -> str:
    letters = ""
    while number:
        number, rest = divmod(number - 1, len(ALPHABET))
        letters = ALPHABET[rest] + letters
    return letters


def _rank(letter: str) -> tuple[int, tuple[int, ...]]:
    return len(letter), tuple(ALPHABET.find(character) for character in letter)


def lettered(rows: Sequence[Row], given: Sequence[tuple[str, str]], at: Spot | None, findings: Findings) -> tuple[tuple[Row, str], ...]:
    """Each row with its letter: that of letters.yaml, else the next one never given; in the order of the letters."""
    by_name = {name: letter for letter, name in given if not name.startswith("(gone)")}
    names = {row.name for row in rows}
    found: list[tuple[Row, str]] = []
    fresh: list[Row] = []
    for row in rows:
        letter = by_name.get(row.name)
        if letter is None:
            fresh.append(row)
        else:
            found.append((row, letter))
    gone = [(letter, name) for letter, name in given if not name.startswith("(gone)") and name not in names]
    if len(gone) == 1 and len(fresh) == 1:
        letter, name = gone[0]
        findings.warning("renamed-part", f"Letter {letter} belonged to `{name}`, which is gone, and `{fresh[0].name}` has no letter.",
                         at.key(letter) if at else None, f"If it was renamed, write `{letter}: {fresh[0].name}` in letters.yaml.")
    last = max((letter for letter, _ in given), key=_rank, default="")
    for row in fresh:
        last = letter_after(last) if last else "A"
        found.append((row, last))
    return tuple(sorted(found, key=lambda pair: _rank(pair[1])))
