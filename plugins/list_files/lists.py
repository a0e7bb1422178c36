"""Products → plain tables: a name, heads with their units, rows of texts and exact numbers.

Lengths are rounded as the plan shows them, and are numbers of the edition's unit. Nothing is added up here that a list has not.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import CutList, Edition, HardwareList, Length, Materials
from plugins.bits_and_cutters.listing import BitsAndCutters
from plugins.edge_banding.listing import EdgeBanding
from plugins.loads_and_movement.amounts import POUND
from plugins.part_weights.weighing import PartWeights


@dataclass(frozen=True)
class Size:
    """A length as a number of its unit."""

    number: Fraction


Value = str | int | Fraction | Size | None


@dataclass(frozen=True)
class List:
    """One table. Rows are as long as heads."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


def size(length: Length, edition: Edition) -> Size:
    """Rounded once, as the plan shows it."""
    text = edition.show(length).split()
    value = sum((Fraction(word) for word in text), Fraction(0)) if not text[0].startswith("-") else -sum((Fraction(word.lstrip("-")) for word in text), Fraction(0))
    return Size(value)


def cut_list(found: CutList, edition: Edition) -> List:
    """One row a kind."""
    unit = _unit(edition)
    heads = ("Part", "Name", "Group", "Quantity", f"Thick ({unit})", f"Wide ({unit})", f"Long ({unit})", "Stock", "Grain", "Strips", f"Rough thick ({unit})",
             f"Rough wide ({unit})", f"Rough long ({unit})", "Work", "Note")
    return List("Cut list", heads, tuple(
        (row.letter, row.name, " ".join(row.assembly), row.number, size(row.thickness, edition), size(row.width, edition), size(row.length, edition), row.stock.name,
         row.grain, row.strips, size(row.rough_thickness, edition), size(row.rough_width, edition), size(row.rough_length, edition), ", ".join(row.work), row.note)
        for row in found.rows))


def hardware(found: HardwareList) -> List:
    """Pieces, then glue and finish."""
    rows: list[tuple[Value, ...]] = [(row.item.name, row.item.kind, row.count, row.packs if row.item.pack > 1 else None, row.item.pack if row.item.pack > 1 else None,
                                      "; ".join(f"{number} {where}" for where, number in row.used)) for row in found.rows]
    rows += [(row.name, row.use, None, None, None, f"buy {row.buy}; {row.coats} {'coat' if row.coats == 1 else 'coats'}") for row in found.supplies]
    return List("Hardware", ("Item", "Kind", "Needed", "Packs", "In a pack", "For"), tuple(rows))


def materials(found: Materials, edition: Edition) -> List:
    """What is bought, with prices where the shop has them."""
    metric = edition.units == "mm"
    heads = ("What", "Kind", "Count", "Square metres" if metric else "Square feet", "Cubic metres" if metric else "Board feet", "Metres" if metric else "Feet",
             "Per", f"Price ({found.currency})", f"Cost ({found.currency})", "Price from")
    rows = tuple(
        (row.name, row.kind, row.count or None, _two(row.area.square_metres if metric else row.area.square_feet) if row.area else None,
         (round(row.volume.cubic_metres, 4) if metric else _two(row.volume.board_feet)) if row.volume else None,
         _two(row.run.mm / 1000 if metric else row.run.inches / 12) if row.run else None,
         row.per or None, row.price, _two(row.cost) if row.cost is not None else None, row.source or None) for row in found.rows)
    return List("Materials", heads, rows)


def weights(found: PartWeights, edition: Edition) -> List:
    """Kilograms or pounds, to a hundredth."""
    metric = edition.units == "mm"
    unit = "kg" if metric else "lb"
    scale = Fraction(1) if metric else 1 / POUND
    rows: list[tuple[Value, ...]] = [(row.letter, row.name, row.number, _two(row.kilograms / row.number * scale), _two(row.kilograms * scale)) for row in found.rows]
    return List("Weights", ("Part", "Name", "Quantity", f"Each ({unit})", f"Together ({unit})"), tuple(rows))


def tapes(found: EdgeBanding, edition: Edition) -> List:
    """Every taped edge."""
    unit = _unit(edition)
    return List("Edge tape", ("Tape", "Part", "Name", "Edge", "Quantity", f"Long ({unit})", "Rolls of this tape"), tuple(
        (tape.name, edge.letter, edge.name, edge.face, edge.number, size(edge.long, edition), tape.rolls) for tape in found.tapes for edge in tape.edges))


def bits(found: BitsAndCutters, edition: Edition) -> List:
    """Every bit and cutter, to the exact size."""
    metric = edition.units == "mm"
    return List("Bits and cutters", ("What", f"Size ({_unit(edition)})", "For"), tuple(
        (bit.called, round(bit.size.mm, 2) if metric else round(bit.size.inches, 6), ", ".join(bit.uses)) for bit in found.bits))


def _unit(edition: Edition) -> str:
    return "mm" if edition.units == "mm" else "in"


def _two(number: Fraction) -> Fraction:
    return round(number, 2)
