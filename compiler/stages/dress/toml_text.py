"""A theme.toml with the place of every key and value, which Python's reader of TOML doesn't keep.

In: the text of a file that the reader took, or what it says of one that it refused. Out: spots by key path. It reads no values: only where
they begin and end.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from compiler.base.report import Key, Spot

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_WORD = re.compile(r"[A-Za-z0-9_-]+")
_QUOTED = re.compile(r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'', re.S)
_BARE = re.compile(r"[^,\]}#\n]*")
_FAULT = re.compile(r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")

Keys = tuple[Key, ...]


@dataclass(slots=True)
class TomlText:
    """The text of a theme.toml; `file` is what diagnostics call it."""

    file: str
    text: str
    _keys: dict[Keys, tuple[int, int]] = field(default_factory=dict)
    _values: dict[Keys, tuple[int, int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        _Walk(self.text, self._keys, self._values).walk()

    def key(self, *path: Key) -> Spot:
        """Where a key stands; the one above it where it doesn't."""
        return self._spot(path, self._keys, self._values)

    def value(self, *path: Key) -> Spot:
        """Where a value stands; its key where it spans lines, the one above it where it isn't there."""
        return self._spot(path, self._values, self._keys)

    def _spot(self, path: Keys, first: dict[Keys, tuple[int, int]], second: dict[Keys, tuple[int, int]]) -> Spot:
        for length in range(len(path), 0, -1):
            found = first.get(path[:length]) or second.get(path[:length])
            if found is not None:
                return Spot.in_text(self.file, self.text, found[0], found[1] - found[0], path)
        return Spot.in_text(self.file, self.text, 0, len(self.text), path)

    def refused(self, says: str) -> tuple[str, Spot]:
        """What the reader says, without its place, and the place."""
        found = _FAULT.search(says)
        if found is None:
            return says, Spot.in_text(self.file, self.text, 0)
        last = len(self.text.rstrip())
        if found["line"] is None:
            return says[: found.start()], Spot.in_text(self.file, self.text, max(0, last - 1))
        lines = self.text.split("\n")
        at = sum(len(line) + 1 for line in lines[: int(found["line"]) - 1]) + int(found["column"]) - 1
        return says[: found.start()], Spot.in_text(self.file, self.text, at)


class _Walk:
    """One pass over a text; where it doesn't understand it, it stops, and what follows has no place of its own."""

    def __init__(self, text: str, keys: dict[Keys, tuple[int, int]], values: dict[Keys, tuple[int, int]]) -> None:
        self.text, self.keys, self.values, self.at = text, keys, values, 0
        self.rows: dict[Keys, int] = {}

    def walk(self) -> None:
        table: Keys = ()
        while True:
            self.skip()
            start = self.at
            if self.text.startswith("[", self.at):
                rows = self.text.startswith("[[", self.at)
                self.at += 2 if rows else 1
                table = self.of_rows(self.dotted(()))
                if rows:
                    self.rows[table] = self.rows.get(table, -1) + 1
                    table = (*table, self.rows[table])
                    self.keys[table] = (start, self.at + 2)
                self.at += 2 if rows else 1
            elif not self.entry(table):
                return

    def of_rows(self, path: Keys) -> Keys:
        """The path with the last row of every list of tables on the way: [fonts.x] after [[fonts]] is in its last."""
        found: Keys = ()
        for place, key in enumerate(path):
            found = (*found, key)
            if found in self.rows and place < len(path) - 1:
                found = (*found, self.rows[found])
        return found

    def entry(self, above: Keys) -> bool:
        """`key = value`; False when there is none."""
        path = self.dotted(above)
        if path == above or not self.text.startswith("=", self.at):
            return False
        self.at += 1
        self.value(path)
        return True

    def dotted(self, above: Keys) -> Keys:
        path = above
        while True:
            self.skip()
            found = _QUOTED.match(self.text, self.at) or _WORD.match(self.text, self.at)
            if found is None:
                return path
            path = (*path, found[0].strip("\"'"))
            self.keys.setdefault(path, found.span())
            self.at = found.end()
            self.skip()
            if not self.text.startswith(".", self.at):
                return path
            self.at += 1

    def value(self, path: Keys) -> None:
        self.skip()
        start = self.at
        opening = self.text[start:start + 1]
        if opening in ("[", "{"):
            self.at += 1
            self.inside(path, "]" if opening == "[" else "}")
        else:
            found = _QUOTED.match(self.text, start) or _BARE.match(self.text, start)
            self.at = start + len(found[0].rstrip()) if found else start
        self.values[path] = (start, self.at)

    def inside(self, path: Keys, closing: str) -> None:
        number = 0
        while True:
            self.skip()
            if self.at >= len(self.text) or self.text.startswith(closing, self.at):
                self.at += 1
                return
            before = self.at
            if closing == "}":
                self.entry(path)
            else:
                self.value((*path, number))
            number += 1
            self.skip()
            if self.text.startswith(",", self.at):
                self.at += 1
            elif self.at == before:
                return

    def skip(self) -> None:
        found = _BLANK.match(self.text, self.at)
        self.at = found.end() if found else self.at
