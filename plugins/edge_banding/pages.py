"""EdgeBanding → one table: what to buy, and which edges to cover in which order of parts."""

from __future__ import annotations

from compiler.api import Blocks, Column, Edition, Group, Length, PartMark, Table, section

from .listing import EdgeBanding, Tape


@section("Edge tape", after="hardware", name="edge tape")
def edge_tape(banding: EdgeBanding, edition: Edition) -> Blocks:
    """A group for every tape; no tape, no section."""
    if not banding.tapes:
        return
    yield Table(
        "Edges to cover",
        columns=(Column(head="Done", kind="tick", width=12), Column(head="Part", kind="letter", width=10), Column(head="Name", kind="name", width=34),
                 Column(head="Edge", width=18), Column(head="Long", kind="dim", width=26)),
        groups=tuple(_group(tape, edition) for tape in banding.tapes), name="edge tape",
    )


def _group(tape: Tape, edition: Edition) -> Group:
    rows = tuple((edge.number, PartMark(edge.part, edge.letter, edge.name, named=False), edge.name[:1].upper() + edge.name[1:], edge.face, edge.long)
                 for edge in tape.edges)
    rolls = f"{tape.rolls} {'roll' if tape.rolls == 1 else 'rolls'} of {far(tape.roll, edition)}"
    return Group(title=tape.name[:1].upper() + tape.name[1:], rows=rows, aside=f"{far(tape.run, edition)} with waste: {rolls}")


def far(size: Length, edition: Edition) -> str:
    """Feet or metres, rounded up to one or to a tenth."""
    if edition.units == "inch":
        return f"{-(-size.inches // 12)} ft"
    return f"{float(-(-size.mm // 100) / 10):g} m"
