"""The text of the notes with its places: where a line or a piece of one stands.

In: the text. Out: spots by line and column. It must not know what the text means.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.base.report import Spot


@dataclass(frozen=True, slots=True)
class Page:
    """The lines of a file."""

    file: str
    lines: tuple[str, ...]

    def spot(self, line: int) -> Spot:
        """The first character of a line (from 0)."""
        text = self.lines[line] if line < len(self.lines) else ""
        return Spot(self.file, line=line + 1, column=len(text) - len(text.lstrip()) + 1)

    def find(self, content: str, line: int) -> Spot:
        """The place of an expression: its own text in this line or the following ones."""
        for number in range(line, min(line + 40, len(self.lines))):
            column = self.lines[number].find(content)
            if column >= 0:
                return Spot(self.file, line=number + 1, column=column + 1 + len(content) - len(content.lstrip()))
        return self.spot(line)
