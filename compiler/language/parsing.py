"""A spoken text becomes a frozen tree.

In: one text and the form it should have (`size`, `extent`, `copies` …). Out: a tree from `trees`, or `Refused` with
the sentence the maker needs. Characters that word processors put in (½ ′ ″ − hard spaces) are read as meant, and
places are still counted in the text as written.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, cast

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from compiler.language import trees
from compiler.language.faults import Refused, explain
from compiler.language.grammar import FORMS, GRAMMAR
from compiler.language.names import house_spelling

_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_SINGLE = {"′": "'", "’": "'", "″": '"', "”": '"', "−": "-", "–": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ", "\n": " "}
_LONGEST = 400
_DEEPEST = 30


@cache
def _parser() -> Lark:
    return Lark(GRAMMAR, parser="lalr", start=list(FORMS), propagate_positions=True)


@lru_cache(maxsize=4096)
def parse(text: str, form: str) -> trees.Tree | trees.Thing:
    """The tree of a text. Raises `Refused`."""
    if len(text) > _LONGEST:
        raise Refused("too-long", f"This text has {len(text)} characters; no size needs more than {_LONGEST}.",
                      "Give its pieces names under `sizes`.", 0, len(text))
    if _depth(text) > _DEEPEST:
        raise Refused("too-deep", "These brackets are nested too deeply to be read.", "Give the pieces names under `sizes`.", 0)
    folded, places = _fold(text)
    try:
        tree = _parser().parse(folded, start=form)
    except UnexpectedToken as fault:
        at = len(folded) if fault.token.type == "$END" else (fault.token.start_pos or 0)
        raise _explained(text, folded, places, form, at) from None
    except UnexpectedCharacters as fault:
        raise _explained(text, folded, places, form, fault.pos_in_stream or 0) from None
    except UnexpectedInput as fault:
        raise _explained(text, folded, places, form, fault.pos_in_stream or 0) from None
    built = _Builder(folded, places).build(tree)
    return cast("trees.Tree | trees.Thing", built)


def parse_size(text: str) -> trees.Size:
    """A size. Raises `Refused`."""
    return cast("trees.Size", parse(text, "size"))


def parse_extent(text: str) -> trees.Extent:
    """An extent. Raises `Refused`."""
    return cast("trees.Extent", parse(text, "extent"))


def parse_copies(text: str) -> trees.Copies:
    """Copies. Raises `Refused`."""
    return cast("trees.Copies", parse(text, "copies"))


def parse_tilt(text: str) -> trees.Tilt:
    """A tilt. Raises `Refused`."""
    return cast("trees.Tilt", parse(text, "tilt"))


def parse_place(text: str) -> trees.Place:
    """A place on a part. Raises `Refused`."""
    return cast("trees.Place", parse(text, "place"))


def parse_edge(text: str) -> trees.Edge:
    """A face or an edge. Raises `Refused`."""
    return cast("trees.Edge", parse(text, "edge"))


def parse_sizes(text: str) -> trees.Sizes:
    """Two or three sizes with x between them. Raises `Refused`."""
    return cast("trees.Sizes", parse(text, "sizes"))


def parse_thing(text: str) -> trees.Thing:
    """The name of a part, with dots. Raises `Refused`."""
    return cast("trees.Thing", parse(text, "thing"))


def _depth(text: str) -> int:
    deepest = depth = 0
    for character in text:
        depth += {"(": 1, ")": -1}.get(character, 0)
        deepest = max(deepest, depth)
    return deepest


def _explained(text: str, folded: str, places: list[int], form: str, at: int) -> Refused:
    if folded == text:
        return explain(text, form, at)
    fault = explain(folded, form, at)
    start = places[min(fault.start, len(places) - 1)]
    end = None if fault.end is None else places[min(fault.end, len(places) - 1)]
    return Refused(fault.code, fault.says, fault.hint, start, end)


def _fold(text: str) -> tuple[str, list[int]]:
    """The text in plain characters, and for each of them (and the end) its place in the text as written."""
    pieces: list[str] = []
    places: list[int] = []
    for index, character in enumerate(text):
        plain = _SINGLE.get(character, character)
        if character in _VULGAR:
            plain = _VULGAR[character]
            if pieces and pieces[-1][-1:].isdigit():
                plain = " " + plain
        pieces.append(plain)
        places.extend([index] * len(plain))
    places.append(len(text))
    return "".join(pieces), places


class _Builder:
    """Turns lark's tree into ours, with places in the text as written."""

    def __init__(self, text: str, places: list[int]) -> None:
        self._text, self._places = text, places

    def build(self, tree: Tree[Token]) -> Any:
        rule: Callable[[Tree[Token]], Any] = getattr(self, "_" + tree.data)
        return rule(tree)

    def _span(self, found: Tree[Token] | Token) -> tuple[int, int]:
        if isinstance(found, Token):
            return self._places[found.start_pos or 0], self._places[found.end_pos or 0]
        return self._places[found.meta.start_pos], self._places[found.meta.end_pos]

    def _all(self, tree: Tree[Token]) -> list[Any]:
        return [child if isinstance(child, Token) else self.build(child) for child in tree.children]

    def _inner(self, tree: Tree[Token]) -> trees.Size:
        return cast("trees.Size", self._all(tree)[0])

    def _number(self, tree: Tree[Token]) -> trees.Number:
        token = cast(Token, tree.children[0])
        start, end = self._span(tree)
        value, odd = self._value(token)
        unit = ""
        if len(tree.children) > 1:
            unit = {'"': "in", "°": "deg"}.get(str(tree.children[1]), str(tree.children[1]))
        return trees.Number(value, cast(trees.Unit, unit), start, end, odd)

    def _value(self, token: Token) -> tuple[Fraction, int]:
        text = str(token)
        start, end = self._span(token)
        if re.match(r"0\d", text):
            raise Refused("plain-number", f"Write the number plainly: {text} is {text.lstrip('0') or '0'}.", f"Write {text.lstrip('0') or '0'}.", start, end)
        whole, _, fraction = text.rpartition(" ")
        if "/" not in fraction:
            return Fraction(text), 0
        above, below = (int(digits) for digits in fraction.split("/"))
        if below == 0:
            raise Refused("divided-by-nothing", f"{text} divides by nothing.", "", start, end)
        odd = below if below > 12 and below & (below - 1) else 0
        return Fraction(int(whole or 0)) + Fraction(above, below), odd

    def _feet(self, tree: Tree[Token]) -> trees.Number:
        start, end = self._span(tree)
        feet, _, inches = str(tree.children[0]).partition("'")
        value = Fraction(feet) * 12
        for piece in inches.strip(' "').split():
            value += Fraction(piece)
        return trees.Number(value, "in", start, end)

    def _names(self, tree: Tree[Token]) -> trees.Thing:
        tokens = [cast(Token, child) for child in tree.children]
        return trees.Thing(tuple(house_spelling(str(token)) for token in tokens), tuple(self._span(token) for token in tokens))

    _thing = _names

    def _ref(self, tree: Tree[Token]) -> trees.Reference:
        thing = self._names(tree)
        return trees.Reference(thing, thing.start, thing.end)

    def _total(self, tree: Tree[Token]) -> trees.Sum:
        left, sign, right = self._all(tree)
        return trees.Sum("+" if sign == "+" else "-", left, right, *self._span(tree))

    def _product(self, tree: Tree[Token]) -> trees.Product:
        left, sign, right = self._all(tree)
        at = self._span(sign)[0]
        if sign in "/÷" and isinstance(right, trees.Number) and right.value.denominator > 1 and self._bare_fraction(right):
            raise Refused("two-readings", "This divides twice, and it can be read in two ways.",
                          "Write it with brackets: which one is divided first?", at, self._span(tree)[1])
        return trees.Product("*" if sign in "*×" else "/", left, right, *self._span(tree), at)

    def _bare_fraction(self, number: trees.Number) -> bool:
        start, end = self._places.index(number.start), self._places.index(number.end)
        before = self._text[:start].rstrip()
        return "/" in self._text[start:end] and not before.endswith("(")

    def _negative(self, tree: Tree[Token]) -> trees.Negative:
        return trees.Negative(self._all(tree)[1], *self._span(tree))

    def _pick(self, tree: Tree[Token]) -> trees.Pick:
        word, *sizes = self._all(tree)
        return trees.Pick(word.startswith("larger"), tuple(sizes), *self._span(tree))

    def _rounded(self, tree: Tree[Token]) -> trees.Rounded:
        of, *rest = self._all(tree)
        way = str(rest[0]) if len(rest) == 2 else ""
        return trees.Rounded(of, cast(Any, way), rest[-1], *self._span(tree))

    def _from_to(self, tree: Tree[Token]) -> trees.FromTo:
        return trees.FromTo(*self._all(tree))

    def _start(self, tree: Tree[Token]) -> trees.From:
        return trees.From(*self._all(tree))

    _start_for = _start

    def _end(self, tree: Tree[Token]) -> trees.To:
        return trees.To(*self._all(tree))

    def _between(self, tree: Tree[Token]) -> trees.Between:
        return trees.Between(*self._all(tree))

    def _centred(self, tree: Tree[Token]) -> trees.Centred:
        return trees.Centred(self._all(tree)[-1])

    def _centred_for(self, tree: Tree[Token]) -> trees.Centred:
        size, _, on = self._all(tree)
        return trees.Centred(on, size)

    def _same(self, tree: Tree[Token]) -> trees.As:
        return trees.As(*self._all(tree))

    def _mirror(self, tree: Tree[Token]) -> trees.Mirror:
        return trees.Mirror(cast(Any, tuple(str(axis) for axis in tree.children)))

    def _pitch(self, tree: Tree[Token]) -> trees.Repeat:
        count, axis, pitch = self._all(tree)
        return trees.Repeat(count, cast(Any, str(axis)), pitch)

    def _evenly(self, tree: Tree[Token]) -> trees.Evenly:
        count, axis, low, high = self._all(tree)
        return trees.Evenly(count, cast(Any, str(axis)), low, high)

    def _follow(self, tree: Tree[Token]) -> trees.Follow:
        return trees.Follow(*self._all(tree))

    def _tilt(self, tree: Tree[Token]) -> trees.Tilt:
        face, angle, goes, first, second = self._all(tree)
        return trees.Tilt(cast(Any, str(face)), angle, cast(Any, str(goes)), cast(Any, (str(first), str(second))))

    def _place(self, tree: Tree[Token]) -> trees.Place:
        return trees.Place(tuple(self._all(tree)))

    def _centre(self, tree: Tree[Token]) -> trees.Centre:
        return trees.Centre(cast(Any, str(tree.children[1])) if len(tree.children) > 1 else None)

    def _offset(self, tree: Tree[Token]) -> trees.Offset:
        size, word, face = self._all(tree)
        return trees.Offset(size, cast(Any, str(word)), cast(Any, str(face)))

    def _edge(self, tree: Tree[Token]) -> trees.Edge:
        return trees.Edge(cast(Any, tuple(str(face) for face in tree.children)))

    def _all_round(self, tree: Tree[Token]) -> trees.Edge:
        return trees.Edge(cast(Any, (str(tree.children[-1]),)), all_round=True)

    def _sizes(self, tree: Tree[Token]) -> trees.Sizes:
        return trees.Sizes(tuple(self._all(tree)))
