"""An entry of the library as one edition buys it: stock, woods, hardware, supplies.

In: an entry and an edition's unit. Out: a frozen Stock or Item with the sources of its figures. Figures are true lengths
of the side they stand on; nothing is converted. An entry without a side that the edition needs is a fault.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from typing import Literal, cast

from compiler.base.measures import Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Units
from compiler.language.evaluation import Reading, value_of, wanted
from compiler.language.faults import Refused, Unsolved
from compiler.language.parsing import parse_size, parse_sizes
from compiler.language.scopes import Names
from compiler.library.index import Entry, entries, find_entry, tree_of
from compiler.values.draft import Mapping, Node, Scalar, Sequence
from compiler.values.library import Item, Stock, Wood
from compiler.values.source import Library

STOCK_KINDS = ("sheet", "board", "rod", "moulding", "tape")
_POUNDS_PER_CUBIC_FOOT = Fraction("16.018463")
_NO_NAMES = Names({})


def kind_of(library: Library, name: str) -> str:
    """The kind of the entry a name means, "" when there is none."""
    entry = find_entry(library, name)
    return entry.kind if entry else ""


def find_stock(library: Library, name: str, units: Units, called: str = "") -> Outcome[Stock]:
    """The stock a name means; no value and an empty report when no stock is called so."""
    entry = find_entry(library, name)
    if entry is None or entry.kind not in STOCK_KINDS:
        return Outcome(None)
    return _stock(library, entry, units, called or name)


def find_item(library: Library, name: str, units: Units, kind: str = "") -> Outcome[Item]:
    """The hardware or supply a name means (`kind` is the word put before it: screw, brad, dowel)."""
    entry = find_entry(library, name, kind)
    if entry is None or entry.kind in (*STOCK_KINDS, "species"):
        return Outcome(None)
    return _item(entry, units)


def woods(library: Library) -> tuple[Wood, ...]:
    """All species of the library."""
    return tuple(_wood(entry) for entry in entries(library) if entry.kind == "species")


@lru_cache(maxsize=256)
def _stock(library: Library, entry: Entry, units: Units, called: str) -> Outcome[Stock]:
    findings = Findings()
    tree = tree_of(entry)
    findings.extend(tree.report)
    if tree.value is None:
        return Outcome(None, findings.report())
    side = _Side(entry, tree.value, units, findings)
    thickness = side.length("thickness")
    width = side.length("width")
    if entry.kind == "rod":
        thickness = width = side.length("diameter")
    section = side.pair("section")
    if section:
        thickness, width = section
    if thickness is None:
        side.missing("thickness")
        return Outcome(None, findings.report())
    sheets = [size] if (size := side.pair("sheet")) else []
    species = find_entry(library, side.text("species")) if side.text("species") else None
    wood = _wood(species) if species else None
    density = _density(tree.value) or (wood.density if wood else None)
    stiffness = _stiffness(tree.value) or (wood.stiffness if wood else None)
    known = ("kind", "name", "thickness", "width", "sheet", "section", "diameter", "lengths", "widest", "rough", "species",
             "density", "moe", "source", "dressed")
    return Outcome(Stock(
        key=entry.key, name=side.text("name") or entry.key, called=called,
        kind=cast("Literal['sheet', 'board', 'rod', 'moulding', 'tape']", entry.kind), thickness=thickness,
        rough=side.length("rough"), width=width, widest=side.length("widest"), sheets=tuple(sheets),
        lengths=side.lengths("lengths"), dressed=side.text("dressed") == "yes", species=wood, density=density, stiffness=stiffness,
        facts=side.facts(known), sources=_sources(tree.value),
    ), findings.report())


@lru_cache(maxsize=256)
def _item(entry: Entry, units: Units) -> Outcome[Item]:
    findings = Findings()
    tree = tree_of(entry)
    findings.extend(tree.report)
    if tree.value is None:
        return Outcome(None, findings.report())
    side = _Side(entry, tree.value, units, findings)
    measures = tuple((key.text, length) for key, _ in tree.value.entries
                     if key.text not in _WORDS and (length := side.length(key.text, quiet=True)) is not None)
    inner = tuple((f"{key.text} {name}", length) for key, node in tree.value.entries if isinstance(node, Mapping) and key.text not in _WORDS
                  for name, length in side.inner(node))
    brings: list[tuple[str, int]] = []
    with_ = tree.value.get("with")
    if isinstance(with_, Mapping):
        brings = [(key.text, int(value.text)) for key, value in with_.entries if isinstance(value, Scalar) and value.text.isdigit()]
    pack = side.text("pack")
    known = ("kind", "name", "pack", "with", "source", "count", "sold as", *(name for name, _ in measures))
    return Outcome(Item(
        key=entry.key, name=side.text("name") or entry.key, kind=entry.kind, measures=measures + inner,
        pack=int(pack) if pack.isdigit() else 1, sold_as=side.text("sold as"), brings=tuple(brings),
        count_rule=side.rule("count"), facts=side.facts(known), sources=_sources(tree.value),
    ), findings.report())


_WORDS = ("kind", "name", "pack", "with", "source", "count", "note", "sold as", "cover", "coats", "touch", "again", "use", "rags",
          "grit", "fit", "thread", "load", "needed", "made", "stock", "for", "angle")


class _Side:
    """One edition's side of an entry."""

    def __init__(self, entry: Entry, tree: Mapping, units: Units, findings: Findings) -> None:
        self._entry, self._tree, self._units, self._findings = entry, tree, units, findings

    def _node(self, key: str) -> Node | None:
        node = self._tree.get(key)
        if isinstance(node, Mapping) and ("inch" in node.names() or "mm" in node.names()):
            return node.get(self._units)
        return node

    def missing(self, key: str) -> None:
        """Report a side that isn't there."""
        self._findings.error("no-side", f"`{self._entry.key}` has no {self._units} side for `{key}`.",
                             Spot(self._entry.file, line=self._entry.line, column=1),
                             "Add it in the library, or name a pair: {inch: …, mm: …}.")

    def text(self, key: str) -> str:
        """A word or name; "" when there is none."""
        node = self._node(key)
        return node.text if isinstance(node, Scalar) else ""

    def length(self, key: str, *, quiet: bool = False) -> Length | None:
        """A length; None when there is none."""
        node = self._node(key)
        if node is None and isinstance(self._tree.get(key), Mapping) and not quiet:
            self.missing(key)
        if not isinstance(node, Scalar):
            return None
        found = _length(node.text, self._units)
        if found is None and not quiet:
            self._findings.error("library-length", f"`{self._entry.key}`: `{key}` is no length: {node.text}.",
                                 Spot(self._entry.file, line=self._entry.line, column=1), "Write 3/4 or 19.")
        return found

    def inner(self, node: Mapping) -> list[tuple[str, Length]]:
        """Lengths one level below, of this side."""
        found = []
        for key, value in node.entries:
            side = value.get(self._units) if isinstance(value, Mapping) else value
            if isinstance(side, Scalar) and (length := _length(side.text, self._units)) is not None and key.text not in ("inch", "mm"):
                found.append((key.text, length))
        return found

    def pair(self, key: str) -> tuple[Length, Length] | None:
        """Two lengths with x between them."""
        node = self._node(key)
        if not isinstance(node, Scalar):
            return None
        try:
            sizes = parse_sizes(node.text).sizes
        except Refused:
            return None
        values = [wanted(value_of(size, _NO_NAMES, Reading(self._units, self._units)), "length", size, node.text) for size in sizes]
        return cast("tuple[Length, Length]", tuple(values[:2]))

    def lengths(self, key: str) -> tuple[Length, ...]:
        """A range (`6' to 12'`), a list or one length."""
        node = self._node(key)
        texts = [item.text for item in node.items if isinstance(item, Scalar)] if isinstance(node, Sequence) \
            else re.split(r" to ", node.text) if isinstance(node, Scalar) else []
        return tuple(length for text in texts if (length := _length(text, self._units)) is not None)

    def rule(self, key: str) -> tuple[tuple[str, str], ...]:
        """A rule of counting: its words, and its figures of this side."""
        node = self._tree.get(key)
        if isinstance(node, Scalar):
            return (("rule", node.text),)
        if not isinstance(node, Mapping):
            return ()
        found = []
        other = "mm" if self._units == "inch" else "inch"
        for name, value in node.entries:
            if name.text == other:
                continue
            label = "limits" if name.text == self._units else name.text
            side = value.get(self._units) if isinstance(value, Mapping) else value
            if isinstance(side, Scalar):
                found.append((label, side.text))
            elif isinstance(side, Sequence):
                found.append((label, " ".join(item.text for item in side.items if isinstance(item, Scalar))))
        return tuple(found)

    def facts(self, known: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
        """All other words of this side."""
        return tuple((key.text, text) for key, _ in self._tree.entries if key.text not in known and (text := self.text(key.text)))


def _length(text: str, units: Units) -> Length | None:
    """A true length in the unit of its side."""
    if not re.match(r"[\d.½¼¾]", text):
        return None
    try:
        tree = parse_size(text)
        return cast(Length, wanted(value_of(tree, _NO_NAMES, Reading(units, units)), "length", tree, text))
    except (Refused, Unsolved):
        return None


@lru_cache(maxsize=128)
def _wood(entry: Entry) -> Wood:
    tree = tree_of(entry).value or Mapping(())
    botanical = tree.get("botanical")
    movement = tree.get("movement")
    radial = _fraction(movement.get("radial")) if isinstance(movement, Mapping) else None
    tangential = _fraction(movement.get("tangential")) if isinstance(movement, Mapping) else None
    return Wood(name=entry.key, botanical=botanical.text if isinstance(botanical, Scalar) else "", density=_density(tree),
                stiffness=_stiffness(tree), radial=radial, tangential=tangential, sources=_sources(tree))


def _fraction(node: Node | None) -> Fraction | None:
    if isinstance(node, Scalar) and (found := re.match(r"\d+(\.\d+)?", node.text)):
        return Fraction(found.group())
    return None


def _density(tree: Mapping) -> Fraction | None:
    """Kilograms per cubic metre, from the metric side, else from pounds per cubic foot."""
    node = tree.get("density")
    if not isinstance(node, Mapping):
        return None
    metric = _fraction(node.get("mm"))
    if metric is not None:
        return metric
    pounds = _fraction(node.get("inch"))
    return pounds * _POUNDS_PER_CUBIC_FOOT if pounds is not None else None


def _stiffness(tree: Mapping) -> Fraction | None:
    node = tree.get("moe")
    return _fraction(node.get("mm")) if isinstance(node, Mapping) else None


def _sources(tree: Mapping) -> tuple[tuple[str, str], ...]:
    node = tree.get("source")
    if isinstance(node, Scalar):
        return (("all", node.text),)
    if isinstance(node, Mapping):
        return tuple((key.text, value.text) for key, value in node.entries if isinstance(value, Scalar))
    return ()

