"""Entries of the library that describe work and words: tools, protection, cautions, operations, terms.

In: the library's files, judged. Out: frozen rows that safety notes, tool lists and the glossary read.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from compiler.base.measures import Length
from compiler.base.showing import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool by its name: machine, hand tool, bit or aid."""

    name: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Protection:
    """What a maker wears."""

    name: str
    text: str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LibraryCaution:
    """A caution: signal word, hazard with its consequence, how to avoid it.

    `when` holds its conditions as the library words them: (`length under`, "12" or "300"), in the edition's unit;
    `limits` holds those that are lengths, exact. All must hold; none means always.
    """

    name: str
    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    risk: str
    avoid: str
    when: tuple[tuple[str, str], ...] = ()
    limits: tuple[tuple[str, Length], ...] = ()
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LibraryOperation:
    """Work in the shop: the tools it must have, one of each inner list of `any_of`, its cautions, what to wear."""

    name: str
    group: str
    must: tuple[str, ...] = ()
    any_of: tuple[tuple[str, ...], ...] = ()
    cautions: tuple[str, ...] = ()
    protection: tuple[str, ...] = ()
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Operations:
    """All operations of the library with what they refer to, and the notice that stands before everything."""

    notice: str
    tools: tuple[Tool, ...]
    protection: tuple[Protection, ...]
    cautions: tuple[LibraryCaution, ...]
    operations: tuple[LibraryOperation, ...]
    units: Units = "inch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """A word of the trade and its meaning; `also` is its other spelling or name."""

    name: str
    text: str
    also: tuple[str, ...] = ()
