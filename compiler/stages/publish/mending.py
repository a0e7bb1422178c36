"""A mend for a fault of WeasyPrint 70: a line broken after its first word although all its words fit.

Where a text before another inline box fits but for the blank at its end, `split_first_line` takes the line for unbreakable and keeps only
its first word. The words without that blank are then tried, and kept when they fit: a blank at a line's end hangs over.
tests/stages/test_publish.py fails when the mend is no longer needed.
"""

from __future__ import annotations

import importlib
from typing import Any

import compiler.draw.typesetter  # noqa: F401 - it loads the engine

_breaks: Any = importlib.import_module("weasyprint.text.line_break")


def split_first_line(text: str, style: Any, context: Any, max_width: float | None, *more: Any, **named: Any) -> Any:
    """What fits on a line: (layout, length, where the next line starts or None, width, height, baseline)."""
    first: Any = _breaks.split_first_line(text, style, context, max_width, *more, **named)
    if first[2] is None or not text.endswith(" ") or max_width is None or " " not in text[:-1]:
        return first
    words = _breaks.split_first_line(text.rstrip(" "), style, context, max_width, *more, **named)
    return first if words[2] is not None else _breaks.split_first_line(text, style, context, max_width + style["font_size"], *more, **named)


def mend() -> None:
    """Put it in WeasyPrint's place, where lines of text are broken."""
    lines: Any = importlib.import_module("weasyprint.layout.inline")
    lines.split_first_line = split_first_line
