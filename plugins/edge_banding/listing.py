"""Model and library → EdgeBanding: the taped edges of every kind of part, and the tape to buy.

An edge is as long as the part on that face; every piece of tape is cut over it on both ends, and joints in the middle of an edge show: that is
what `over` and the waste of the library's tape are for (common practice). Rolls are the longest length that the library's tape is sold in.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    ZERO,
    Edition,
    Findings,
    Length,
    Library,
    Model,
    Part,
    Settings,
    Stock,
    advice,
    ask,
    check,
    task,
)

AXIS = {"left": "across", "right": "across", "front": "deep", "back": "deep", "bottom": "up", "top": "up"}


class BandingSettings(Settings):
    """How tape is cut."""

    key = "edge banding"
    over: Length = ask.size("1", "how much longer than its edge each piece is cut", metric="25", least="0", most="6")
    roll: Length = ask.size("25'", "length of a roll, where the library does not say", metric="7600", least="3'", most="1000'")


@dataclass(frozen=True)
class TapedEdge:
    """The edges on one face of all parts of a kind; `long` is that of one."""

    part: str
    letter: str
    name: str
    face: str
    number: int
    long: Length
    wide: Length


@dataclass(frozen=True)
class Tape:
    """One tape: its edges, the length needed with what is cut over and wasted, and the rolls that hold it."""

    key: str
    name: str
    width: Length | None
    edges: tuple[TapedEdge, ...]
    run: Length
    roll: Length
    rolls: int


@dataclass(frozen=True)
class EdgeBanding:
    """All tapes, by name."""

    tapes: tuple[Tape, ...]


@task
def edge_banding(model: Model, library: Library, settings: BandingSettings) -> EdgeBanding:
    """Tape by kind of tape."""
    stocks = {stock.key: stock for stock in library.stocks}
    parts = {part.name: part for part in model.parts}
    edges: dict[str, list[TapedEdge]] = {}
    for kind in model.kinds:
        part = parts[kind.parts[0]]
        for face, tape in part.band:
            edge = _edge(part, face, len(kind.parts))
            if edge is not None:
                edges.setdefault(tape, []).append(edge)
    return EdgeBanding(tuple(_tape(key, tuple(edges[key]), stocks.get(key), settings) for key in sorted(edges)))


def _edge(part: Part, face: str, number: int) -> TapedEdge | None:
    """None for a broad face: that is no edge."""
    if AXIS[face] == part.thickness_axis:
        return None
    along = next(axis for axis in ("across", "deep", "up") if axis not in (AXIS[face], part.thickness_axis))
    span = {"across": part.box.across, "deep": part.box.deep, "up": part.box.up}[along]
    return TapedEdge(part.name, part.letter, part.kind, face, number, span.size, part.thickness)


def _tape(key: str, edges: tuple[TapedEdge, ...], stock: Stock | None, settings: BandingSettings) -> Tape:
    net = sum(((edge.long + settings.over) * edge.number for edge in edges), ZERO)
    run = net * (1 + waste(stock))
    roll = max(stock.lengths) if stock is not None and stock.lengths else settings.roll
    return Tape(key, stock.name if stock is not None else key, stock.width if stock is not None else None, edges, run, roll, -(-run.inches // roll.inches))


def waste(stock: Stock | None) -> Fraction:
    """The share that the library adds for a tape: `10 %`."""
    found = re.match(r"(\d+(?:\.\d+)?) ?%", dict(stock.facts).get("waste", "") if stock is not None else "")
    return Fraction(found[1]) / 100 if found else Fraction(0)


@check
def narrow_tape(model: Model, edition: Edition, banding: EdgeBanding) -> Findings:
    """Tape that is narrower than its edge."""
    for tape in banding.tapes:
        for edge in tape.edges:
            if tape.width is not None and tape.width < edge.wide:
                unit = "in" if edition.units == "inch" else "mm"
                yield advice(f"`{tape.name}` is {edition.show(tape.width)} {unit} wide; the edge of `{edge.name}` is {edition.show(edge.wide)} {unit}.",
                             at=model.part(edge.part), key="edge band", hint="Take a wider tape.")
