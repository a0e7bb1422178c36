"""Shop settings as one plan sees them: shop.yaml, overridden by the plan's `settings`.

In: the draft, the library, one edition. Out: a Shop with lengths of that edition. A shop without a file has the defaults of the trade
(common practice, no source): saw kerf 1/8 in or 3 mm, edges trimmed 1/4 in or 6 mm.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import cast

from compiler.base.measures import Length, exact, inch, mm
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Units
from compiler.language import (
    Names,
    Reading,
    Refused,
    Unsolved,
    diagnostic,
    did_you_mean,
    listed,
    parse_sizes,
    value_of,
    wanted,
)
from compiler.language.parsing import parse_size
from compiler.library import find_entry, find_stock
from compiler.stages.check.keys import check_keys, mapping, sequence, text, texts
from compiler.values.draft import Draft, Mapping, Node, Scalar, Sequence
from compiler.values.model import Edition
from compiler.values.settings import Booklet, Offcut, Price, Shop
from compiler.values.source import Library

KEYS = ("shop", "terms", "currency", "kerf", "trim", "rough allowance", "fit", "smallest fraction", "theme", "prices", "offcuts", "tools",
        "trusted", "table limit", "humidity", "booklet", "settings", "facts")
ELSEWHERE = {"mark": "The shop's mark lies beside shop.yaml as mark.svg or mark.png.", "units": "Each plan names its own unit.",
             "paper": "Each plan names its editions: inch letter, metric a4."}
DEFAULTS: dict[str, tuple[str, str]] = {"kerf": ("1/8", "3"), "trim": ("1/4", "6"), "length": ("1", "25"), "width": ("1/4", "6")}
_NO_NAMES = Names({})


def shop_of(draft: Draft, library: Library, edition: Edition) -> Outcome[Shop]:
    """The shop's settings for one plan and edition."""
    findings = Findings()
    return Outcome(_Reader(draft, library, edition.units, findings).shop(), findings.report())


class _Reader:
    def __init__(self, draft: Draft, library: Library, units: Units, findings: Findings) -> None:
        self._draft, self._library, self._units, self._findings = draft, library, units, findings
        self._at = Spot("shop.yaml")
        root = draft.root("shop.yaml")
        self._root = root if isinstance(root, Mapping) else Mapping(())
        plan = draft.root("design.yaml")
        own = plan.get("settings") if isinstance(plan, Mapping) else None
        self._plan = own if isinstance(own, Mapping) else Mapping(())

    def shop(self) -> Shop:
        for key, _ in self._root.entries:
            if key.text not in KEYS:
                near = did_you_mean(key.text, KEYS)
                hint = ELSEWHERE.get(key.text) or (f"Did you mean {near}?" if near else f"The keys of a shop are {listed(KEYS)}.")
                self._findings.error("unknown-key", f"A shop has no `{key.text}`.", Spot("shop.yaml", (key.text,), on_key=True), hint)
        rough, rough_at = self._group("rough allowance")
        return Shop(
            name=self._text("shop") or "", terms=self._text("terms"), mark=self._draft.mark, currency=self._text("currency") or "$",
            kerf=self._length(*self._node("kerf"), "kerf"), trim=self._length(*self._node("trim"), "trim"),
            rough_length=self._length(rough.get("length"), rough_at.key("length"), "length"),
            rough_width=self._length(rough.get("width"), rough_at.key("width"), "width"),
            fit=self._fit(), step=self._step(), prices=self._prices(), offcuts=self._offcuts(),
            tools=tuple(name for name, _ in texts(*self._list("tools"))), trusted=tuple(name for name, _ in texts(*self._list("trusted"))),
            table_limit=self._pair("table limit"), humidity=self._humidity(), plugin_settings=self._plugins(), facts=self._facts(),
            booklet=self._booklet(),
        )

    def _node(self, key: str) -> tuple[Node | None, Spot]:
        """A setting and its place: the plan's own before the shop's."""
        if self._plan.get(key) is not None:
            return self._plan.get(key), Spot("design.yaml", ("settings", key))
        return self._root.get(key), self._at.key(key)

    def _list(self, key: str) -> tuple[Node | None, str, Spot, Findings]:
        node, at = self._node(key)
        return node, key, at, self._findings

    def _group(self, key: str) -> tuple[Mapping, Spot]:
        node, at = self._node(key)
        return mapping(node, key, at, self._findings) or Mapping(()), at

    def _text(self, key: str) -> str:
        node, at = self._node(key)
        found = text(node, key, at, self._findings)
        return found.text if found else ""

    def _side(self, node: Node | None, at: Spot) -> tuple[Node | None, Spot]:
        if isinstance(node, Mapping) and ("inch" in node.names() or "mm" in node.names()):
            return node.get(self._units), at.key(self._units)
        return node, at

    def _length(self, node: Node | None, at: Spot, default: str) -> Length:
        """A length of this edition; the trade's default when it isn't set. A bare number outside a pair is in inches."""
        paired = isinstance(node, Mapping)
        node, at = self._side(node, at)
        found = text(node, default, at, self._findings)
        if found is not None:
            length = self._value(found.text, at, self._units if paired else "inch")
            if length is not None:
                return length
        english, metric = DEFAULTS.get(default, ("0", "0"))
        return inch(exact(english)) if self._units == "inch" else mm(exact(metric))

    def _value(self, written: str, at: Spot, units: Units) -> Length | None:
        try:
            tree = parse_size(written)
            return cast(Length, wanted(value_of(tree, _NO_NAMES, Reading(units, self._units)), "length", tree, written))
        except Refused as fault:
            self._findings.add(diagnostic(fault, at))
        except Unsolved:
            pass
        return None

    def _fit(self) -> tuple[tuple[str, Length], ...]:
        group, at = self._group("fit")
        return tuple((key.text, self._length(node, at.key(key.text), "fit")) for key, node in group.entries)

    def _step(self) -> Fraction:
        if self._units == "mm":
            return Fraction(1, 2)
        written = self._text("smallest fraction")
        if not written:
            return Fraction(1, 32)
        if written in ("1/8", "1/16", "1/32", "1/64"):
            return Fraction(written)
        self._findings.error("smallest-fraction", f"The smallest fraction is 1/8, 1/16, 1/32 or 1/64; `{written}` is none.",
                             self._node("smallest fraction")[1], "Write 1/32.")
        return Fraction(1, 32)

    def _prices(self) -> tuple[Price, ...]:
        group, at = self._group("prices")
        found = []
        for key, node in group.entries:
            spot = at.key(key.text)
            written = text(node, key.text, spot, self._findings)
            match = re.fullmatch(r"(\d+(?:\.\d+)?)(?: per (.+))?", written.text) if written else None
            entry = find_entry(self._library, key.text)
            if written is None:
                continue
            if match is None:
                self._findings.error("price", f"`{written.text}` is no price.", spot, "Write 92, or 4.10 per board foot.")
            elif entry is None:
                self._findings.warning("unknown-material", f"There is no `{key.text}` in the library, so its price is not used.", Spot(spot.file, spot.path, on_key=True))
            else:
                found.append(Price(key=entry.key, amount=Fraction(match[1]), per=match[2] or "piece", source="shop.yaml"))
        return tuple(found)

    def _offcuts(self) -> tuple[Offcut, ...]:
        node, at = self._node("offcuts")
        group = sequence(node, "offcuts", at, self._findings)
        found = []
        for index, item in enumerate(group.items if group else ()):
            spot = at.key(index)
            if not isinstance(item, Mapping):
                self._findings.error("wrong-shape", "An offcut is written {stock: …, size: 24 x 40}.", spot)
                continue
            words = {key.text: value.text for key, value in item.entries if isinstance(value, Scalar)}
            metric = " mm" in words.get("stock", "")
            stock = find_stock(self._library, words.get("stock", ""), self._units)
            sizes = self._sizes(words.get("size", ""), spot.key("size"), "mm" if metric else "inch")
            if "stock" not in words:
                self._findings.error("wrong-shape", "An offcut is written {stock: …, size: 24 x 40}.", spot, "Name its stock.")
            elif stock.value is None:
                self._findings.error("unknown-material", f"There is no stock `{words.get('stock', '')}` in the library.", spot.key("stock"))
            elif sizes:
                count = words.get("count", "1")
                if not count.isdigit() or int(count) == 0:
                    self._findings.error("count", f"There can't be `{count}` of an offcut.", spot.key("count"), "Write how many there are: count: 1.")
                    continue
                found.append(Offcut(stock=stock.value.key, width=sizes[0], length=sizes[1], count=int(count), mark=words.get("mark", ""), at=spot))
        return tuple(found)

    def _sizes(self, written: str, at: Spot, units: Units) -> tuple[Length, Length] | None:
        """Two true lengths: an offcut is as large as it is in either edition."""
        try:
            trees = parse_sizes(written).sizes
            values = [cast(Length, wanted(value_of(tree, _NO_NAMES, Reading(units, units)), "length", tree, written)) for tree in trees]
            return values[0], values[1]
        except Refused as fault:
            self._findings.add(diagnostic(fault, at))
        return None

    def _pair(self, key: str) -> tuple[Length, Length] | None:
        node, at = self._side(*self._node(key))
        return self._sizes(node.text, at, self._units) if isinstance(node, Scalar) else None

    def _humidity(self) -> tuple[Fraction, Fraction] | None:
        node, at = self._node("humidity")
        if node is None:
            return None
        found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*%?\s*to\s*(\d+(?:\.\d+)?)\s*%?", node.text) if isinstance(node, Scalar) else None
        if found is None or not 0 <= float(found[1]) < float(found[2]) <= 100:
            self._findings.error("humidity", "`humidity` is two figures of relative humidity, the lower one first.", at, "Write humidity: 30 to 60.")
            return None
        return Fraction(found[1]), Fraction(found[2])

    def _plugins(self) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
        """Settings of plugins, by their key: the shop's, then the plan's over them."""
        merged: dict[str, dict[str, str]] = {}
        shop = self._root.get("settings")
        for group in (shop if isinstance(shop, Mapping) else Mapping(()), self._plan):
            for key, node in group.entries:
                if isinstance(node, Mapping) and key.text not in KEYS:
                    for name, value in node.entries:
                        side, _ = self._side(value, self._at)
                        words = side.text if isinstance(side, Scalar) else \
                            ", ".join(item.text for item in side.items if isinstance(item, Scalar)) if isinstance(side, Sequence) else ""
                        merged.setdefault(key.text, {})[name.text] = words
        return tuple((key, tuple(values.items())) for key, values in merged.items())

    def _booklet(self) -> Booklet:
        """The plan's wishes for its booklet; each that it doesn't have is the shop's."""
        plan = self._draft.root("design.yaml")
        own = plan.get("booklet") if isinstance(plan, Mapping) else None
        found: dict[str, tuple[tuple[str, Spot], ...]] = {}
        for node, at in ((self._root.get("booklet"), self._at.key("booklet")), (own, Spot("design.yaml", ("booklet",)))):
            group = mapping(node, "booklet", at, self._findings)
            if group is not None:
                check_keys(group, "booklet", at, self._findings)
                found |= {key.text: texts(value, key.text, at.key(key.text), self._findings) for key, value in group.entries}
        return Booklet(leave_out=found.get("leave out", ()), order=found.get("order", ()), sample=found.get("sample", ()))

    def _facts(self) -> tuple[tuple[str, str], ...]:
        group, at = self._group("facts")
        return tuple((key.text, found.text) for key, node in group.entries if (found := text(node, key.text, at.key(key.text), self._findings)) is not None)
