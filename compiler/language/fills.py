"""Places that an author still has to fill: `[fill: what belongs there]`, and blanks of three or more low lines.

In: a text. Out: the text without them, and what is told of each with its place. They are told until they are gone, and never printed.
"""

from __future__ import annotations

import re

_FILL = re.compile(r"\s*(?:\[fill: ?(?P<what>[^\]]*)\]|(?<!\w)_{3,}(?!\w))")


def without_fills(text: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    """The text without its places to fill; for each the piece of text that marks it, and a sentence."""
    told = tuple((found[0], f"To fill: {found['what'].strip()}." if (found["what"] or "").strip() else "A blank is still to be filled.")
                 for found in _FILL.finditer(text))
    return _FILL.sub("", text), told


def fills_of_lines(text: str) -> tuple[tuple[int, int, str], ...]:
    """Line and column (from 1) of every `[fill: …]` in the comments of a YAML file, with its sentence."""
    return tuple((number, line.index("[fill:", line.index("#")) + 1, without_fills(line[line.index("#"):])[1][0][1])
                 for number, line in enumerate(text.splitlines(), start=1) if re.search(r"#.*\[fill:[^\]]*\]", line))
