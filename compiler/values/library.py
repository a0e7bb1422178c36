"""Entries of the library as one edition sees them: stock, woods, hardware, operations, glossary.

In: the library's files, already judged. Out: frozen entries of one edition, with the source of their figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """A species. Density in kg per cubic metre, stiffness in GPa, movement per 1 % of moisture content.

    A figure the library does not know is None; a check that needs it says so.
    """

    name: str
    botanical: str = ""
    density: Fraction | None = None
    stiffness: Fraction | None = None
    radial: Fraction | None = None
    tangential: Fraction | None = None
    sources: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a part is made of, as one edition buys it.

    `key` is the library's key, `name` this edition's name, `called` the plan's short name.
    `thickness` is actual (sheet), the most it planes to (board), the section (rod, moulding, tape).
    `rough` is the thickness it is bought in. `sheets` are sizes (across, along the face grain).
    `lengths` is the range or list sold. `widest` is the widest board; what is wider than it yields is glued up.
    """

    key: str
    name: str
    called: str
    kind: Literal["sheet", "board", "rod", "moulding", "tape"]
    thickness: Length
    rough: Length | None = None
    width: Length | None = None
    widest: Length | None = None
    sheets: tuple[tuple[Length, Length], ...] = ()
    lengths: tuple[Length, ...] = ()
    dressed: bool = False
    species: Wood | None = None
    density: Fraction | None = None
    stiffness: Fraction | None = None
    facts: tuple[tuple[str, str], ...] = ()
    sources: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A piece of hardware or a supply, as one edition buys it. `measures` holds its lengths by name."""

    key: str
    name: str
    kind: str
    measures: tuple[tuple[str, Length], ...] = ()
    pack: int = 1
    sold_as: str = ""
    brings: tuple[tuple[str, int], ...] = ()
    count_rule: tuple[tuple[str, str], ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    sources: tuple[tuple[str, str], ...] = ()

    def measure(self, name: str) -> Length | None:
        """A length of it by name (`diameter`, `length`, `pilot` …), None when the library has none."""
        return dict(self.measures).get(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution of the library: signal word (ANSI Z535.6), hazard and consequence, how to avoid it, and when it holds.

    `when` are conditions that must all hold: (`length under`, a Length), (`weight over`, kg), (`species`, names) …
    Weights are kilograms, volumes litres, in both editions.
    """

    name: str
    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    risk: str
    do: str
    when: tuple[tuple[str, Length | Fraction | str | tuple[str, ...]], ...] = ()
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """Work the library knows: tools it needs (`must` all of them, `any_of` one of each list), cautions and protection by name."""

    name: str
    group: str
    must: tuple[str, ...] = ()
    any_of: tuple[tuple[str, ...], ...] = ()
    cautions: tuple[str, ...] = ()
    protection: tuple[str, ...] = ()
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """A word of the trade with its meaning; `also` are other spellings of it."""

    name: str
    text: str
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Library:
    """What the library says beside stock and hardware: operations, tools (name, kind), cautions, protection, terms,
    for what other items bring along, all items of the plan, and all its stock, edge tapes included.

    `notice` is the general sentence that codes and licensed practice come first.
    """

    notice: str
    operations: tuple[Operation, ...]
    tools: tuple[tuple[str, str], ...]
    cautions: tuple[Caution, ...]
    protection: tuple[tuple[str, str], ...]
    terms: tuple[Term, ...]
    finishes: tuple[Item, ...] = ()
    glues: tuple[Item, ...] = ()
    items: tuple[Item, ...] = ()
    stocks: tuple[Stock, ...] = ()
