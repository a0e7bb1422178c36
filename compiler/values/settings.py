"""Shop settings as one plan sees them: the shop's file, overridden by the plan's."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.base.measures import Length
from compiler.base.report import Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A piece in the shop's rack: stock key, size (across, along the grain), how many, and its mark."""

    stock: str
    width: Length
    length: Length
    count: int = 1
    mark: str = ""
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What a stock or an item costs: per piece, per board foot or per metre; `source` says where the price is from."""

    key: str
    amount: Fraction
    per: str = "piece"
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Booklet:
    """Wishes for the booklet's sections, each name with its place: left out, in another order, shown in full in a sample."""

    leave_out: tuple[tuple[str, Spot], ...] = ()
    order: tuple[tuple[str, Spot], ...] = ()
    sample: tuple[tuple[str, Spot], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The shop. Lengths are those of the edition at hand."""

    name: str
    terms: str = ""
    mark: bytes = b""
    currency: str = "$"
    kerf: Length
    trim: Length
    rough_length: Length
    rough_width: Length
    fit: tuple[tuple[str, Length], ...] = ()
    step: Fraction = Fraction(1, 32)
    prices: tuple[Price, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    tools: tuple[str, ...] = ()
    trusted: tuple[str, ...] = ()
    table_limit: tuple[Length, Length] | None = None
    humidity: tuple[Fraction, Fraction] | None = None
    plugin_settings: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    booklet: Booklet = Booklet()
