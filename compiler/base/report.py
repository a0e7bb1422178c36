"""What went wrong, as values.

In: a code, a sentence, a place. Out: frozen diagnostics, gathered in a report beside each stage's value.
A place is a key path (or, for files that can't be read as a tree, a line and column); it becomes a line
and column only when shown, so that an equal fault stays equal when the file above it changes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum

Key = str | int


class Severity(StrEnum):
    """How bad it is: an error stops the edition, a warning and advice don't."""

    ERROR = "error"
    WARNING = "warning"
    ADVICE = "advice"


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in one of the maker's files.

    `file` is the path inside the plan's folder (`design.yaml`), or a name such as `shop.yaml`.
    `path` is the key path to a value; `on_key` points at its key instead.
    `start`, `end` count characters inside that value's own text (after unquoting).
    `line`, `column` (from 1) are used only where there is no path: syntax errors, Markdown.
    `shown` is the line itself, for files that neither the plan nor the library holds, such as a theme's.
    """

    file: str
    path: tuple[Key, ...] = ()
    on_key: bool = False
    start: int | None = None
    end: int | None = None
    line: int | None = field(default=None, compare=False)
    column: int | None = field(default=None, compare=False)
    shown: str = field(default="", compare=False)

    @classmethod
    def in_text(cls, file: str, text: str, at: int, width: int = 1, path: tuple[Key, ...] = ()) -> Spot:
        """The place of some characters of a text, the first at `at` (from 0), not beyond their line."""
        begin = text.rfind("\n", 0, at) + 1
        line = text[begin:].split("\n", 1)[0].rstrip("\r")
        wide = max(1, min(width, begin + len(line) - at))
        return cls(file, path, start=0, end=wide, line=text.count("\n", 0, at) + 1, column=at - begin + 1, shown=line)

    def within(self, start: int, end: int | None = None) -> Spot:
        """The same value, narrowed to some of its characters (counted from the value's start)."""
        base = self.start or 0
        return Spot(
            self.file,
            self.path,
            self.on_key,
            base + start,
            None if end is None else base + end,
            self.line,
            self.column,
        )

    def key(self, *keys: Key) -> Spot:
        """A place below this one."""
        return Spot(self.file, (*self.path, *keys))


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One fault: what, where, and the cure.

    `code` is a name in lower-case words with hyphens (`unknown-key`), also the heading in the reference.
    `says` is one sentence that states the fault with the value seen; `hint` states the cure.
    """

    code: str
    says: str
    at: Spot | None = None
    hint: str = ""
    severity: Severity = Severity.ERROR
    also: tuple[Spot, ...] = ()
    plugin: str = ""
    edition: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """Diagnostics in the order they were found."""

    diagnostics: tuple[Diagnostic, ...] = ()

    def __add__(self, other: Report) -> Report:
        return Report(self.diagnostics + other.diagnostics)

    def __iter__(self) -> Iterator[Diagnostic]:
        return iter(self.diagnostics)

    def __bool__(self) -> bool:
        return bool(self.diagnostics)

    @property
    def errors(self) -> tuple[Diagnostic, ...]:
        """The diagnostics that stop an edition."""
        return tuple(d for d in self.diagnostics if d.severity is Severity.ERROR)

    @property
    def ok(self) -> bool:
        """True when nothing in it stops an edition."""
        return not self.errors


@dataclass(frozen=True, slots=True)
class Outcome[T]:
    """What a stage gives: a value (None when it could make none) and its report."""

    value: T | None
    report: Report = Report()


class Findings:
    """A list to gather diagnostics in while a stage runs; it never leaves the stage."""

    def __init__(self) -> None:
        self._found: list[Diagnostic] = []

    def error(
        self,
        code: str,
        says: str,
        at: Spot | None = None,
        hint: str = "",
        *,
        also: tuple[Spot, ...] = (),
        plugin: str = "",
    ) -> None:
        """Record a fault that stops the edition."""
        self.add(Diagnostic(code, says, at, hint, Severity.ERROR, also, plugin))

    def warning(
        self,
        code: str,
        says: str,
        at: Spot | None = None,
        hint: str = "",
        *,
        also: tuple[Spot, ...] = (),
        plugin: str = "",
    ) -> None:
        """Record a fault that does not stop the edition."""
        self.add(Diagnostic(code, says, at, hint, Severity.WARNING, also, plugin))

    def advice(
        self,
        code: str,
        says: str,
        at: Spot | None = None,
        hint: str = "",
        *,
        also: tuple[Spot, ...] = (),
        plugin: str = "",
    ) -> None:
        """Record a remark."""
        self.add(Diagnostic(code, says, at, hint, Severity.ADVICE, also, plugin))

    def add(self, diagnostic: Diagnostic) -> None:
        """Record a diagnostic once: an equal one is not added again."""
        if diagnostic not in self._found:
            self._found.append(diagnostic)

    def extend(self, report: Report) -> None:
        """Record all of a report."""
        for diagnostic in report.diagnostics:
            self.add(diagnostic)

    def report(self) -> Report:
        """What was gathered so far."""
        return Report(tuple(self._found))
