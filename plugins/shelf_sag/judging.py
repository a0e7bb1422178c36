"""Shelves → what they carry, and remarks where one would bend too far.

Rule: the sag of a beam that rests at both ends (dadoes hold better than that) under the shop's load stays below span / 600. Sources:
20 lb a foot of average books (two shop references); 0.02 in a foot = span / 600 at first loading, since wood goes on bending by half
as much again and more; 1/32 in a foot = span / 384 is what the eye sees (furniture-building magazine's book, chapter on shelves); at
most 200 lb on a shelf (architectural woodwork standards 2009).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    Column,
    Edition,
    Findings,
    Group,
    Length,
    Model,
    Paragraph,
    PartMark,
    Settings,
    Table,
    advice,
    ask,
    check,
    task,
    warning,
)
from plugins.loads_and_movement.amounts import POUND, length, weight
from plugins.loads_and_movement.notes import UseNote

from .beam import bending_stiffness, load_for, sag
from .shelves import Shelf, shelves

ON_WALL = "mount to wall"
SEEN = 384
"""Span over sag that the eye begins to see."""


class ShelfSettings(Settings):
    """What shelves are meant to carry and how far they may bend."""

    key = "shelf sag"
    load: Fraction = ask.ratio("20", "pounds on each foot of a shelf (1 lb a foot is 1.49 kg a metre)", least="1", most="500")
    span_over_sag: int = ask.count("600", "the span is at least so many times the sag", least="100", most="2000")
    most: int = ask.count("200", "pounds on one shelf, however stiff it is", least="10", most="2000")
    least_depth: Length = ask.size("5", "narrower parts are rails", metric="125", least="1", most="30")


@dataclass(frozen=True)
class ShelfLoad:
    """One kind of shelf: its sag under the shop's load, the load in kilograms it takes, and its sag then."""

    shelf: Shelf
    sag: Length | None
    takes: Fraction | None
    sag_then: Length | None


@dataclass(frozen=True)
class ShelfLoads:
    """All shelves, in plan order."""

    rows: tuple[ShelfLoad, ...]


@task
def shelf_loads(model: Model, settings: ShelfSettings) -> ShelfLoads:
    """Sag and load of every kind of shelf."""
    return ShelfLoads(tuple(_load(shelf, settings) for shelf in shelves(model, settings.least_depth)))


def _load(shelf: Shelf, settings: ShelfSettings) -> ShelfLoad:
    if shelf.strips is None or shelf.turned:
        return ShelfLoad(shelf, None, None, None)
    stiffness = bending_stiffness(shelf.strips)
    pounds = min(load_for(shelf.span / settings.span_over_sag, shelf.span, stiffness), Fraction(settings.most))
    return ShelfLoad(shelf, sag(settings.load / 12, shelf.span, stiffness), pounds * POUND,
                     sag(pounds / shelf.span.inches, shelf.span, stiffness))


@check
def sagging_shelf(model: Model, edition: Edition, loads: ShelfLoads, settings: ShelfSettings) -> Findings:
    """A shelf that would bend too far, or whose grain runs the wrong way."""
    for row in loads.rows:
        shelf, part = row.shelf, model.part(row.shelf.part)
        if shelf.turned:
            yield warning(f"The grain of `{shelf.name}` runs across its span: it bends many times as far.", at=part, key="grain",
                          hint="Let the grain run from support to support.")
            continue
        if row.sag is None:
            yield advice(f"The library knows no stiffness of {part.stock.name}: the sag of `{shelf.name}` is not reckoned.", at=part)
            continue
        seen = row.sag > shelf.span / SEEN
        if not seen and (shelf.held or row.sag <= shelf.span / settings.span_over_sag):
            continue
        bends, most = length(row.sag, edition), length(shelf.span / settings.span_over_sag, edition)
        says = f"`{shelf.name}` bends about {bends} over {length(shelf.span, edition)} under {_load_words(settings, edition)}; "
        says += f"just less than {most} stays unseen for years." if bends == most else f"{most} is the most that stays unseen for years."
        hint = "Take thicker stock, glue a strip under its front edge, or put a support in the middle."
        yield (warning if seen else advice)(says, at=part, hint=hint)


def _load_words(settings: ShelfSettings, edition: Edition) -> str:
    if edition.units == "inch":
        return f"{float(settings.load):g} lb a foot"
    return f"{round(float(settings.load * POUND / Fraction('0.3048')))} kg a metre"


@task
def shelf_notes(model: Model, loads: ShelfLoads, edition: Edition, settings: ShelfSettings) -> tuple[UseNote, ...]:
    """The loads for the reader, of shelves that their stiffness limits: what holds up the others, no formula here tells."""
    rows = [row for row in loads.rows if row.takes is not None and row.sag_then is not None and row.takes < settings.most * POUND]
    if not rows:
        return ()
    table = Table(
        "Shelves",
        columns=(Column(head="Part", kind="letter", width=8), Column(head="Shelf", kind="name", width=42), Column(head="Clear span", kind="dim", width=10),
                 Column(head="Carries, spread evenly", width=30), Column(head="Bends then", kind="dim", width=10)),
        groups=(Group(title="", rows=tuple(
            (PartMark(row.shelf.part, row.shelf.letter, row.shelf.name, named=False), row.shelf.name[:1].upper() + row.shelf.name[1:], row.shelf.span,
             weight(row.takes or Fraction(0), edition, to="down"), row.sag_then) for row in rows)),),
        name="shelf loads",
    )
    says = (f"Books weigh about {_load_words(settings, edition)} of shelf. The loads are those that bend a shelf by one part in"
            f" {settings.span_over_sag} of its span when they are put on, as if its ends only rested; wood goes on bending for years, by half as much"
            " again. Half the load in the middle counts like nearly the whole.")
    if any(use.does == ON_WALL for use in model.operations):
        says += " This piece hangs on a wall: what its fixings and the wall hold limits all of it together, and can be much less."
    return (UseNote("load", "", (table, Paragraph(says))),)
