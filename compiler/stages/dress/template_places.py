"""Where in a template Jinja gave up, to the character: it tells the line alone, and a line may hold many tags.

In: a template's source, what was raised of it. Out: the first character and how many (start, width), None where that can't be told.
The source is lexed and parsed once more and what the parser has left is counted, which costs nothing where no template is at fault.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from jinja2 import Environment, TemplateSyntaxError
from jinja2.lexer import TokenStream
from jinja2.parser import Parser

_PASSED_OVER = ("whitespace", "comment", "raw")
"""How the kinds of pieces begin that the lexer keeps from the parser."""
_OF_ONE = ("expected", "unexpected", "encountered")
"""How messages begin that are about the piece that the parser stands at."""
_INNERMOST = re.compile(r"needs to be closed is '(\w+)'")


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece of the source as the lexer cuts it: a name, a bracket, the begin or end of a tag, or text between tags."""

    start: int
    kind: str
    text: str

    @property
    def stop(self) -> int:
        return self.start + len(self.text)


def stopped_at(environment: Environment, source: str, fault: TemplateSyntaxError, word: str) -> tuple[int, int] | None:
    """The faulty word or bracket; the tag that has the fault where no single one is it; the open tag where one isn't closed.

    `word` is what the fault's message quotes.
    """
    pieces, end, broken = _lexed(environment, source)
    if broken is not None and (broken.message, broken.lineno) == (fault.message, fault.lineno):
        tag = _tag(pieces, len(pieces) - 1)
        return (end, len(word)) if word and source.startswith(word, end) else _span(tag, source)
    pieces = [piece for piece in pieces if not piece.kind.startswith(_PASSED_OVER)]
    number = _reached(environment, source)
    if number is None:
        return _named(pieces, source, fault, word)
    if number >= len(pieces):
        open_tag = _INNERMOST.search(fault.message or "")
        tag = _unclosed(pieces, open_tag[1]) if open_tag else _tag(pieces, len(pieces) - 1)
        return _span(tag, source)
    piece = pieces[number]
    tag = _tag(pieces, number)
    if tag and word and piece is not tag[-1] and (fault.message or "").lower().startswith(_OF_ONE):
        return piece.start, len(piece.text)
    return _span(tag, source) if tag and _line(source, tag[0].start) <= fault.lineno <= _line(source, tag[-1].start) else None


def _lexed(environment: Environment, source: str) -> tuple[list[_Piece], int, TemplateSyntaxError | None]:
    """All pieces; where the last one ends; what the lexer stopped at, if it did."""
    pieces: list[_Piece] = []
    end = 0
    try:
        for _, kind, text in environment.lexer.tokeniter(source, None):
            start = max(source.find(text, end), end)  # white space before a tag may be left out; a text with \r\n is given with \n
            pieces.append(_Piece(start, kind, text))
            end = start + len(text)
    except TemplateSyntaxError as fault:
        return pieces, end, fault
    return pieces, end, None


def _reached(environment: Environment, source: str) -> int | None:
    """How many pieces the parser had behind it when it gave up, None when it doesn't."""
    parser = Parser(environment, source)
    try:
        parser.parse()
    except TemplateSyntaxError:
        return _left(environment.lexer.tokenize(source)) - _left(parser.stream)
    return None


def _left(stream: TokenStream) -> int:
    """How many pieces a stream has left, as far as they can be lexed."""
    number = 0
    try:
        for _ in stream:
            number += 1
    except TemplateSyntaxError:
        number += 1  # the one before the fault
    return number


def _tag(pieces: list[_Piece], number: int) -> list[_Piece]:
    """The tag that a piece is of; [] for text between tags."""
    begin = next((at for at in range(number, -1, -1) if pieces[at].kind.endswith("_begin")), None)
    if begin is None:
        return []
    end = next((at for at in range(begin, len(pieces)) if pieces[at].kind.endswith("_end")), len(pieces) - 1)
    return pieces[begin : end + 1] if number <= end else []


def _unclosed(pieces: list[_Piece], kind: str) -> list[_Piece]:
    """The last tag of a kind that opens a block and has no end."""
    closed = 0
    for number in range(len(pieces) - 2, -1, -1):
        if pieces[number].kind != "block_begin":
            continue
        name, tag = pieces[number + 1].text, _tag(pieces, number)
        if name == f"end{kind}":
            closed += 1
        elif name == kind and not (kind == "set" and any(piece.text == "=" for piece in tag)):
            if not closed:
                return tag
            closed -= 1
    return []


def _named(pieces: list[_Piece], source: str, fault: TemplateSyntaxError, word: str) -> tuple[int, int] | None:
    """A filter or test of that name in the fault's line; whatever has the name, where only one has it."""
    before = {"No filter": ("|", "filter"), "No test": ("is", "not")}.get(" ".join((fault.message or "").split()[:2]))
    found = [piece for last, piece in zip([None, *pieces], pieces, strict=False) if piece.text == word and _line(source, piece.start) == fault.lineno
             and (before is None or (last is not None and last.text in before))]
    return (found[0].start, len(word)) if found and (before or len(found) == 1) else None


def _span(tag: list[_Piece], source: str) -> tuple[int, int] | None:
    return (tag[0].start, len(source[tag[0].start : tag[-1].stop].rstrip())) if tag else None


def _line(source: str, at: int) -> int:
    return source.count("\n", 0, at) + 1
