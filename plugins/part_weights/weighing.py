"""Weights and kinds → PartWeights, and their table.

Weights are those of the solids, cuts and all, with the density of the stock (or its wood) at 12 % moisture: specific gravity x 1.12 (definition of
basic density). Setting `part weights: {print: yes}` puts the table behind the cut list.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    Blocks,
    Column,
    Edition,
    Group,
    Model,
    Paragraph,
    PartMark,
    Settings,
    Table,
    Weights,
    ask,
    section,
    task,
)
from plugins.loads_and_movement.amounts import POUND


class WeightSettings(Settings):
    """Whether the table is printed."""

    key = "part weights"
    print_: str = ask.word("no", "yes: a table of weights stands behind the cut list", of=("no", "yes"))


@dataclass(frozen=True)
class PartWeight:
    """One kind: how many, and the kilograms of all of them."""

    part: str
    letter: str
    name: str
    number: int
    kilograms: Fraction


@dataclass(frozen=True)
class PartWeights:
    """All kinds whose density is known, in the order of the letters; `unknown` names stock without one."""

    rows: tuple[PartWeight, ...]
    unknown: tuple[str, ...]

    @property
    def total(self) -> Fraction:
        """Kilograms of all parts."""
        return sum((row.kilograms for row in self.rows), Fraction(0))


@task
def part_weights(model: Model, weights: Weights) -> PartWeights:
    """Weights by kind."""
    heavy = dict(weights.parts)
    rows = [PartWeight(kind.parts[0], kind.letter, kind.name, len(kind.parts), sum((heavy.get(name, Fraction(0)) for name in kind.parts), Fraction(0)))
            for kind in model.kinds]
    return PartWeights(tuple(row for row in rows if row.kilograms), weights.unknown)


@section("Weights", after="cut list", name="part weights")
def weight_table(found: PartWeights, edition: Edition, settings: WeightSettings) -> Blocks:
    """Only when it is asked for."""
    if settings.print_ == "no" or not found.rows:
        return
    yield Table(
        "Weights",
        columns=(Column(head="Part", kind="letter", width=10), Column(head="Name", kind="name", width=42), Column(head="Qty", kind="number", width=12),
                 Column(head="Each", kind="number", width=18), Column(head="Together", kind="number", width=18)),
        groups=(Group(title="", rows=tuple((PartMark(row.part, row.letter, row.name, named=False), row.name[:1].upper() + row.name[1:], row.number,
                                            fine(row.kilograms / row.number, edition), fine(row.kilograms, edition)) for row in found.rows)),),
        total=(None, "All parts", None, None, fine(found.total, edition)), name="part weights",
    )
    if found.unknown:
        yield Paragraph(f"The library has no density of {', '.join(found.unknown)}.", style="note")


def fine(kilograms: Fraction, edition: Edition) -> str:
    """To a tenth of a pound or 50 g; lighter things to a hundredth of a pound or 10 g."""
    number = kilograms if edition.units == "mm" else kilograms / POUND
    step = Fraction(1, 100) if number < Fraction(1, 2) else Fraction(1, 10) if edition.units == "inch" else Fraction(1, 20)
    value = float((number / step + Fraction(1, 2)) // 1 * step)
    return f"{value:.2f} kg" if edition.units == "mm" else f"{value:.{1 if step == Fraction(1, 10) else 2}f} lb"
