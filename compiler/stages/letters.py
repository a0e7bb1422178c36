"""Part letters as they are kept: one letter, one part, for ever.

In: the model and the text of letters.yaml as it was. Out: its new text: old lines as they stand, letters of parts that are no more
marked `(gone)`, new ones behind. A line that nobody can read as a letter is left alone.
"""

from __future__ import annotations

import re

from compiler.values.model import Model

HEAD = "# Written by publish. One letter, one part, for ever. Rename a part here too when you rename it in design.yaml.\n"
_LINE = re.compile(r"^([A-Z]+):\s*(\(gone\)\s*)?(.*?)\s*$")


def letters_text(model: Model, before: str) -> str:
    """The text to write; equal to `before` when no letter is new or gone."""
    names = {row.letter: row.name for row in model.kinds}
    lines: list[str] = []
    seen: set[str] = set()
    for line in before.splitlines():
        match = _LINE.match(line)
        if match is None:
            lines.append(line)
            continue
        letter, _, name = match.groups()
        seen.add(letter)
        if letter in names:
            lines.append(f"{letter}: {names[letter]}" if names[letter] != name or match.group(2) else line)
        else:
            lines.append(f"{letter}: (gone) {name}" if not match.group(2) else line)
    if not before.strip():
        lines = HEAD.splitlines()
    lines += [f"{row.letter}: {row.name}" for row in model.kinds if row.letter not in seen]
    return "\n".join(lines) + "\n"
