"""The finishing schedule: coats, areas, amounts, drying times, and what to do with the rags."""

from __future__ import annotations

from compiler.api import Blocks, Column, Group, HardwareList, Model, Paragraph, Signal, Table, section


@section("Finishing schedule", after="finishing", name="finishing")
def finishing(model: Model, hardware: HardwareList) -> Blocks:
    """One row a finish: where, coats, area, amount; the times are the library's and the can's own label wins."""
    supplies = [row for row in hardware.supplies if row.use == "finish"]
    if not supplies:
        return
    yield Paragraph(
        content=(
            "Sand to the grit that the can asks for, and take the dust off before every coat. Amounts are reckoned from the"
            " faces that stay uncovered; times are usual ones: the label of what you bought comes first.",
        ),
        style="lede",
    )
    rows = []
    for row in supplies:
        facts = dict(row.item.facts) if row.item is not None else {}
        rows.append(
            (
                row.coats,
                row.name,
                _where(row.parts, model),
                row.area,
                row.buy,
                facts.get("again", ""),
                facts.get("use", ""),
            )
        )
    yield Table(
        "Finish",
        columns=(
            Column(head="Coats", kind="tick", width=9),
            Column(head="Finish", kind="name", width=24),
            Column(head="On", width=22),
            Column(head="Area, once", width=11),
            Column(head="Buy about", width=10),
            Column(head="Next coat", width=13),
            Column(head="Ready", width=11),
        ),
        groups=(Group(title="", rows=tuple(rows)),),
        name="finish",
    )
    for row in supplies:
        note = dict(row.item.facts).get("note", "") if row.item is not None else ""
        if note:
            yield Paragraph(content=(f"{row.name[:1].upper()}{row.name[1:]}: {note}",))
    if any(row.item is not None and dict(row.item.facts).get("rags") == "self-heating" for row in supplies):
        yield Signal(
            word="WARNING",
            content=(
                (
                    "Rags wet with drying oil heat up by themselves and can start a fire within hours. Spread them flat outdoors"
                    " in one layer until they are hard, or put them under water in a sealed metal can.",
                ),
            ),
            source="SAF-26",
            again=("Rags wet with drying oil can set themselves on fire: treat them",),
        )


def _where(parts: tuple[str, ...], model: Model) -> str:
    """Names of kinds, or of whole assemblies where all of one is meant; `doors` where all uses of a component are."""
    wanted = set(parts)
    words: list[str] = []
    for group in model.assemblies:
        uses = [use for use in model.assemblies if group.component and use.component == group.component]
        for alike in (uses, [group]):
            inside = {part.name for use in alike for part in model.parts if part.assembly[: len(use.path)] == use.path}
            if inside and inside <= wanted and len(inside) > 1:
                words.append(f"{group.component}s" if len(alike) > 1 else group.name)
                wanted -= inside
    words.extend(dict.fromkeys(model.part(name).kind for name in parts if name in wanted))
    return ", ".join(words)
