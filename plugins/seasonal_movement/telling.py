"""Movements → what the reader is told: how much each wide part moves, what lets it, and how long slots have to be.

A slot is as long as the screw's clearance hole and the movement at it together, up to the next 1/16 in or 1 mm (arithmetic).
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.api import (
    Column,
    Edition,
    Group,
    Length,
    Paragraph,
    PartMark,
    Table,
    inch,
    mm,
    task,
)
from plugins.loads_and_movement.amounts import length
from plugins.loads_and_movement.notes import UseNote

from .judging import Movement, Movements, MovementSettings


@task
def movement_notes(edition: Edition, found: Movements, settings: MovementSettings) -> tuple[UseNote, ...]:
    """One table of the parts that move enough to see."""
    rows = [row for row in found.rows if row.moves >= settings.told_from]
    if not rows:
        return ()
    low, high = found.humidity
    table = Table(
        "Movement across the grain",
        columns=(Column(head="Part", kind="letter", width=8), Column(head="Name", kind="name", width=22), Column(head="Across grain", kind="dim", width=10),
                 Column(head="Moves", kind="dim", width=10), Column(head="What lets it", kind="note", width=50)),
        groups=(Group(title="", rows=tuple(
            (PartMark(row.part, row.letter, row.name, named=False), row.name[:1].upper() + row.name[1:], row.width, row.moves,
             "; ".join(_lets(row, edition))) for row in rows)),),
        name="movement",
    )
    says = (f"From the dry season to the damp one: {float(low):g} to {float(high):g} % humidity in the room, {float(found.dry):.0f} to"
            f" {float(found.damp):.0f} % moisture in the wood, {settings.sawn}-sawn boards. Along the grain wood hardly moves.")
    if not found.valid:
        says += " That is more than the published figures were measured for (6 to 14 %): take it as a rough guide."
    return (UseNote("movement", "", (table, Paragraph(says))),)


def _lets(row: Movement, edition: Edition) -> Iterator[str]:
    slots: dict[str, Length] = {}
    for give in row.gives:
        if give.slotted:
            slots[give.slotted] = max(slots.get(give.slotted, inch(0)), up_to_step(give.hole + row.reach_moves, edition))
        else:
            yield f"the {give.kind}s give"
    for where, long in slots.items():
        yield f"slots in the {where}, at least {length(long, edition)} long"
    if row.room is not None and not row.glued_groove:
        yield f"room in its grooves, {length(row.room, edition)} in all"
    if not row.gives and row.room is None:
        yield "fixed only over a width that a joint can take" if row.held else "free at its edges"


def up_to_step(size: Length, edition: Edition) -> Length:
    """Rounded up to 1/16 in or 1 mm."""
    if edition.units == "mm":
        return mm(-(-size.mm // 1))
    return inch(-(-size.inches * 16 // 1)) / 16
