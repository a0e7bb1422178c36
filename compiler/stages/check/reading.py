"""Single texts of a draft, for one edition: its side of a pair, a spoken form, a name, the entries of a list.

In: nodes of the draft, with what each is called and its place. Out: texts with their units, trees; a fault, and None, for what can't be read.
"""

from __future__ import annotations

from collections.abc import Callable

from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.language import Refused, diagnostic, parse_thing
from compiler.language.trees import Thing
from compiler.stages.check.keys import KEYS, check_keys, sequence, text
from compiler.stages.check.rules import Entry, Sized, Spoken
from compiler.values.draft import Mapping, Node


class TextReader:
    """Reads texts for one edition's side of pairs. `bare` is the unit of bare numbers, None for the plan's."""

    def __init__(self, units: Units, findings: Findings, bare: Units | None = None) -> None:
        self._units, self._findings, self._bare = units, findings, bare

    def sized(self, node: Node | None, what: str, at: Spot) -> Sized | None:
        """A size: one text, or this edition's side of a pair."""
        if isinstance(node, Mapping):
            if not any(key in KEYS["pair"] for key in node.names()):
                text(node, what, at, self._findings)
                return None
            check_keys(node, "pair", at, self._findings)
            side = node.get(self._units)
            if side is None:
                self._findings.error("no-side", f"`{what}` has no {self._units} side.", at, f"Add {self._units}: … to the pair.")
                return None
            found = text(side, what, at.key(self._units), self._findings)
            return Sized(found.text, at.key(self._units), self._units) if found else None
        found = text(node, what, at, self._findings)
        return Sized(found.text, at, self._bare) if found else None

    def same_in_both(self, node: Node | None, what: str, at: Spot) -> Sized | None:
        """A text that no edition may have its own of: numbers and copies say which parts exist."""
        if isinstance(node, Mapping) and any(key in KEYS["pair"] for key in node.names()):
            says = f"`{what}` is one for all editions: they may differ in sizes and stock, never in which parts exist."
            self._findings.error("one-for-both", says, at, "Write it without inch and mm.")
            return None
        found = text(node, what, at, self._findings)
        return Sized(found.text, at, self._bare) if found else None

    def spoken[T](self, node: Node | None, what: str, at: Spot, parse: Callable[[str], T]) -> Spoken[T] | None:
        """A text of one of the spoken forms."""
        sized = self.same_in_both(node, what, at) if what == "copies" else self.sized(node, what, at)
        if sized is None:
            return None
        try:
            return Spoken(parse(sized.text), sized)
        except Refused as fault:
            self._findings.add(diagnostic(fault, sized.at))
            return None

    def entries(self, root: Mapping, key: str, at: Spot) -> tuple[Entry, ...]:
        """The entries of a list of mappings."""
        found = sequence(root.get(key), key, at.key(key), self._findings)
        if found is None:
            return ()
        result = []
        for index, item in enumerate(found.items):
            spot = at.key(key, index)
            if isinstance(item, Mapping) and item.entries:
                result.append(Entry(item, spot))
            else:
                hint = "Write - {kind: part, into: part}." if key == "joints" else "Write - {key: value}."
                self._findings.error("wrong-shape", f"An entry of `{key}` is written in braces: {{…: …, …: …}}.", spot, hint)
        return tuple(result)

    def text_at(self, root: Mapping, key: str, at: Spot) -> tuple[str, Spot] | None:
        """The text of a key, with its place."""
        found = text(root.get(key), key, at.key(key), self._findings)
        return (found.text, at.key(key)) if found is not None else None

    def thing(self, name: str, at: Spot) -> Thing | None:
        """The name of a part, with dots."""
        try:
            return parse_thing(name)
        except Refused as fault:
            self._findings.add(diagnostic(fault, at))
            return None
