"""Tokens of a theme's styles filled in: `var(--line)` becomes `13pt` before the layout sees it.

In: one style sheet with `:root { --name: value; }` rules. Out: the sheet without them. Tokens are constants of a theme:
the last definition wins everywhere, so that a paper, a child theme or an option can change one. Filling them in
here spares the layout engine a look-up for every box.
"""

from __future__ import annotations

import re

_COMMENT = re.compile(r"/\*.*?\*/", re.S)
_ROOT = re.compile(r":root\s*\{([^{}]*)\}")
_TOKEN = re.compile(r"--([a-z0-9-]+)\s*:\s*([^;]*);?")
_USE = re.compile(r"var\(\s*--([a-z0-9-]+)\s*\)")
DEEPEST = 10


def filled_in(style: str) -> str:
    """The style with its tokens' values. A token that is not defined stays as written, for the layout engine to name."""
    bare = _COMMENT.sub("", style)
    tokens = {name: value.strip() for rule in _ROOT.findall(bare) for name, value in _TOKEN.findall(rule)}
    text = _ROOT.sub("", bare)
    for _ in range(DEEPEST):
        new = _USE.sub(lambda use: tokens.get(use[1], use[0]), text)
        if new == text:
            break
        text = new
    return text
