"""HardwareList → what to buy ready made, with what each is for."""

from __future__ import annotations

from compiler.api import Blocks, Column, Group, HardwareList, HardwareRow, Paragraph, Table, section

FASTENERS = ("brad", "dowel", "loose tongue", "machine screw", "bolt", "pocket screw", "wood screw", "plug", "insert", "sleeve")
MANY = 4
"""From more places than these on, a row tells only which parts are fastened."""


@section("Hardware and supplies", after="materials", name="hardware")
def hardware_pages(hardware: HardwareList) -> Blocks:
    """Pieces first, rounded up to packs; then glue and finish."""
    if hardware.rows:
        yield Table(
            "Hardware",
            columns=(
                Column(head="Have", kind="tick"),
                Column(head="Item", kind="name", width=30),
                Column(head="Needed", kind="number", width=8),
                Column(head="Buy", width=15),
                Column(head="For", kind="note", width=40),
            ),
            groups=tuple(Group(title=title, rows=tuple(_row(row) for row in rows)) for title, rows in _groups(hardware)),
            name="hardware",
            dense=True,
        )
    if hardware.supplies:
        yield Table(
            "Glue and finish",
            columns=(
                Column(head="Have", kind="tick"),
                Column(head="Supply", kind="name"),
                Column(head="Area, once"),
                Column(head="Coats", kind="number"),
                Column(head="Amount"),
            ),
            groups=(Group(title="", rows=tuple((1, row.name, row.area, row.coats, row.buy) for row in hardware.supplies)),),
            name="supplies",
            dense=True,
        )
        if any(row.amount is None for row in hardware.supplies):
            yield Paragraph("Where no amount is given, go by the label: area and coats are what it asks for.", style="note")


def _groups(hardware: HardwareList) -> list[tuple[str, list[HardwareRow]]]:
    """What is driven in, then what is fitted; by kind within each."""
    driven = [row for row in hardware.rows if row.item.kind in FASTENERS]
    fitted = [row for row in hardware.rows if row.item.kind not in FASTENERS]
    return [(title, rows) for title, rows in (("Fasteners", driven), ("Fittings", fitted)) if rows]


def _row(row: HardwareRow) -> tuple[int, str, int, str, str]:
    size = row.item.pack
    buy = f"{row.packs} {'pack' if row.packs == 1 else 'packs'} of {size}" if size > 1 else str(row.count)
    kind, name = row.item.kind, row.item.name
    called = f"{kind} {name}" if kind in FASTENERS and kind not in name else name
    return 1, called, row.count, buy, _for(row)


def _for(row: HardwareRow) -> str:
    """What it is for, with the number at each place where there are several; joints of many pairs by the part that is fastened."""
    used = dict(row.used)
    if len(used) > MANY:
        used = {}
        for where, number in row.used:
            first = where.partition(" to ")[0]
            used[first] = used.get(first, 0) + number
    places = {where: number for where, number in used.items() if where}
    return ", ".join(f"{where} ({number})" if len(places) > 1 else where for where, number in places.items())

