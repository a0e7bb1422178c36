"""Markdown, as the notes use it: CommonMark with tables, no HTML, and `{{ … }}` read before Markdown's own marks.

In: a text. Out: tokens, and ways to walk them by heading and by block. This is the only module that knows the parser.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token


@dataclass(frozen=True, slots=True)
class Head:
    """A heading of level 1 or 2: its inline token and its line (from 0)."""

    level: int
    inline: Token
    line: int


def markdown() -> MarkdownIt:
    """A parser; a `size` token holds what stands between braces, with a % before it when it was a statement."""
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    parser.inline.ruler.before("text", "size", _size_rule)
    return parser


def _size_rule(state: StateInline, silent: bool) -> bool:
    for opening, closing in (("{{", "}}"), ("{%", "%}")):
        if state.src.startswith(opening, state.pos):
            end = state.src.find(closing, state.pos + 2)
            if end < 0:
                return False
            if not silent:
                token = state.push("size", "", 0)
                token.content = ("%" if opening == "{%" else "") + state.src[state.pos + 2 : end]
            state.pos = end + 2
            return True
    return False


def chunks(tokens: list[Token]) -> Iterator[tuple[Head | None, list[Token]]]:
    """Each level 1 or 2 heading with what follows it; first what stands before any."""
    head: Head | None = None
    body: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.type == "heading_open" and token.tag in ("h1", "h2"):
            if head is not None or body:
                yield head, body
            head, body = Head(int(token.tag[1]), tokens[at + 1], line_of(token)), []
            at += 3
            continue
        body.append(token)
        at += 1
    if head is not None or body:
        yield head, body


def closing(tokens: list[Token], at: int) -> int:
    """Where the block that opens at `at` ends."""
    depth = 0
    for index in range(at, len(tokens)):
        depth += tokens[index].nesting
        if depth == 0:
            return index
    return len(tokens) - 1


def line_of(token: Token) -> int:
    """The line (from 0) that a block begins on."""
    return token.map[0] if token.map else 0
