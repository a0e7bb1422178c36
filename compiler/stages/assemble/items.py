"""Hardware by what makers call it: the plan's short names, the library's keys, either edition's names.

In: a design, the library's files. Out: items of one edition, or the fault with what the library has instead.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from compiler.base.measures import Length
from compiler.base.report import Diagnostic, Spot
from compiler.base.showing import Units
from compiler.language import Names, did_you_mean, listed
from compiler.library import entries, find_item
from compiler.values.design import Design, Known
from compiler.values.library import Item
from compiler.values.source import Library


@dataclass(frozen=True, slots=True)
class Items:
    """Where the items of one design are found."""

    design: Design
    library: Library
    _values: dict[str, dict[str, Known]] = field(init=False, repr=False, compare=False)
    _units: dict[str, Units] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_units", {scope.id: scope.units for scope in self.design.scopes if scope.units})
        object.__setattr__(self, "_values", {scope.id: dict(scope.values) for scope in self.design.scopes})

    def names(self, scope: str, *, axis: str = "", first: Mapping[str, Known] | None = None) -> Names:
        """What names mean in a scope of the design; `first` is looked at before. Raises KeyError for no such scope."""
        return Names(self._values[scope], axis=axis, first=first)

    def units(self, scope: str) -> Units:
        """The unit of bare numbers in a scope."""
        return self._units.get(scope) or self.design.plan.units

    def find(self, text: str, word: str = "", scope: str = "") -> Item | None:
        """The item a maker means. `word` is its trade's word: `screws: No. 8 x 1 1/4` is the entry `screw No. 8 x 1 1/4`."""
        text = self._short_name(text, scope)
        wanted = {text, f"{word} {text}".strip()}
        for item in self.design.items:
            if item.key in wanted or (item.name in wanted and (not word or word in item.kind or word in item.key)):
                return item
        return find_item(self.library, text, self.design.edition.units, word).value

    def _short_name(self, text: str, scope: str) -> str:
        """What a short name of the plan's materials stands for, else the text itself."""
        for known in (scope, ""):
            meant = self._values.get(known, {}).get(text)
            if isinstance(meant, str):
                return meant
        return text

    def longest_below(self, item: Item, most: Length) -> Item | None:
        """The longest item of the same kind and thickness that is no longer than a length."""
        found: list[tuple[Length, str, Item]] = []
        for entry in entries(self.library):
            if entry.kind != item.kind:
                continue
            other = find_item(self.library, entry.key, self.design.edition.units).value
            length = other.measure("length") if other else None
            if other is not None and length is not None and length <= most and other.measure("diameter") == item.measure("diameter"):
                found.append((length, other.key, other))
        return max(found, key=lambda each: each[:2])[2] if found else None

    def fault(self, text: str, word: str, at: Spot) -> Diagnostic:
        """The fault for an item that the library doesn't have, with those that begin alike."""
        whole = f"{word} {text}".strip()
        keys = [entry.key for entry in entries(self.library)] + [item.key for item in self.design.items]
        alike = sorted({key for key in keys if key.split()[0] == whole.split()[0]}) if whole.split() else []
        near = did_you_mean(whole, keys)
        hint = f"There are {listed(alike[:8])}." if alike else f"Did you mean {near}?" if near else "Add it to the library."
        return Diagnostic("unknown-item", f"The library has no `{text}`.", at, hint)
