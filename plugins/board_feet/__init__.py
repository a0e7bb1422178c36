"""Board feet of solid wood to buy, by species.

Rule: rough sizes of the cut list (finished size plus the shop's allowance, thickness in
quarters), 144 cubic inches to the foot, then the shop's waste factor. Sheets are not wood by the foot.
"""

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    Blocks,
    CutList,
    Plugin,
    Settings,
    StockToBuy,
    Table,
    Volume,
    ask,
    hook,
    section,
    task,
)


class BoardFeetSettings(Settings):
    """How much more to buy than the parts hold."""

    key = "board feet"
    waste: Fraction = ask.ratio("1.25", "times the wood in the rough parts", least="1", most="3")


@dataclass(frozen=True)
class Wood:
    """One species."""

    species: str
    pieces: int
    in_parts: Volume
    to_buy: Volume


@dataclass(frozen=True)
class BoardFeet:
    """Wood to buy, one row a species, in the order of the alphabet."""

    rows: tuple[Wood, ...]


@task
def board_feet(cut_list: CutList, settings: BoardFeetSettings) -> BoardFeet:
    """Rough volume of the solid parts by species, with waste."""
    woods = []
    for species in cut_list.species:
        rows = cut_list.of(species)
        volume = sum((row.rough_volume for row in rows), Volume())
        woods.append(Wood(species, sum(row.number for row in rows), volume, volume * settings.waste))
    return BoardFeet(tuple(woods))


@section("Lumber to buy", after="materials")
def lumber(tally: BoardFeet, settings: BoardFeetSettings, layouts: StockToBuy | None = None) -> Blocks:
    """The tally as a table; nothing where board layouts say which boards to buy, since those are other numbers."""
    if tally.rows and not (layouts and any(row.volume for row in layouts.rows)):
        heads = ("Species", "Pieces", "In the parts", f"To buy (× {float(settings.waste):g})")
        yield Table("Lumber", heads, tuple((w.species, w.pieces, w.in_parts, w.to_buy) for w in tally.rows))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(board_feet,), sections=(lumber,))
