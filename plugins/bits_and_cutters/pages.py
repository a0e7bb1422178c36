"""BitsAndCutters → a table behind the hardware."""

from __future__ import annotations

from compiler.api import Blocks, Column, Edition, Group, Length, Table, section

from .listing import Bit, BitsAndCutters

GROUPS = (("drill bit", "Drill bits"), ("edge cutter", "Edge cutters"), ("groove", "Grooves, dadoes, mortises"))
MEASURED = {"round-over": "radius", "cove": "radius", "bead": "radius", "chamfer": "width", "straight cutter or stack": "width", "mortising bit or chisel": "width"}


@section("Bits and cutters", after="hardware", name="bits and cutters")
def bits_table(found: BitsAndCutters, edition: Edition) -> Blocks:
    """Sizes by kind; nothing bored or shaped, no section."""
    groups = tuple(Group(title=title, rows=tuple(_row(bit, edition) for bit in found.bits if bit.kind == kind)) for kind, title in GROUPS
                   if any(bit.kind == kind for bit in found.bits))
    if groups:
        yield Table("Bits and cutters",
                    columns=(Column(head="Have", kind="tick", width=9), Column(head="What", kind="name", width=35),
                             Column(head="Size", kind="number", width=13), Column(head="For", kind="note", width=43)),
                    groups=groups, name="bits and cutters", dense=True)


def _row(bit: Bit, edition: Edition) -> tuple[int, str, str, str]:
    return 1, _called(bit), exact(bit.size, edition), told(bit.uses)


def told(uses: tuple[str, ...]) -> str:
    """`dado for bottom, deck` instead of each by itself."""
    groups: dict[str, list[str]] = {}
    for use in uses:
        what, _, where = use.partition(" for ")
        groups.setdefault(what, []).extend([where] if where else [])
    return "; ".join(f"{what} for {', '.join(where)}" if where else what for what, where in groups.items())


def _called(bit: Bit) -> str:
    measured = MEASURED.get(bit.called)
    return bit.called[:1].upper() + bit.called[1:] + (f", {measured}" if measured else "")


def exact(size: Length, edition: Edition) -> str:
    """Bits are made to 1/64 in, finer than a plan's sizes are rounded; millimetres as they are."""
    if edition.units == "mm" or size.inches.denominator > 64:
        return edition.show(size)
    whole, rest = divmod(size.inches, 1)
    return f"{whole} {rest}" if whole and rest else f"{rest or whole}"
