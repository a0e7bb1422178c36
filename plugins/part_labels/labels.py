"""Model → what stands on each label, and the PDF: `part labels: {sheet: letter}` or `a4` in the shop's settings, `first: 7` begins on the seventh label.

A piece has one label: letter, name, which of how many, finished sizes, stock, plan. Sheets are those of office suppliers (common practice, no source): US Letter (ANSI
A) with 3 x 10 labels of 2 5/8 x 1 in; A4 (ISO 216) with 3 x 8 labels of 70 x 37 mm, edge to edge.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.api import Edition, Leaves, Model, Part, Settings, ask, export, inch, mm

from .sheets import Label, Sheet, leaves

SHEETS = {
    "letter": Sheet(paper=(inch("8 1/2"), inch(11)), across=3, down=10, label=(inch("2 5/8"), inch(1)), left=inch("3/16"), top=inch("1/2"),
                    pitch=(inch("2 3/4"), inch(1))),
    "a4": Sheet(paper=(mm(210), mm(297)), across=3, down=8, label=(mm(70), mm(37)), left=mm(0), top=mm("0.5"), pitch=(mm(70), mm(37))),
}


class LabelSettings(Settings):
    """Which sheets, and where to begin on the first one."""

    key = "part labels"
    sheet: str = ask.word("none", "letter: 3 x 10 of 2 5/8 x 1 in; a4: 3 x 8 of 70 x 37 mm", of=("none", "letter", "a4"))
    first: int = ask.count("1", "the first free label of the sheet", least="1", most="30")


@dataclass(frozen=True)
class _Place:
    """One of how many."""

    number: int
    of: int


@export(".labels.pdf")
def part_labels(model: Model, edition: Edition, settings: LabelSettings) -> bytes | Leaves:
    """Labels for all parts, kind by kind; nothing unless sheets are chosen."""
    if settings.sheet == "none":
        return b""
    sheet = SHEETS[settings.sheet]
    return leaves(labels(model, edition), sheet, min(settings.first, sheet.across * sheet.down) - 1, f"Labels: {model.plan.title}")


def labels(model: Model, edition: Edition) -> tuple[Label, ...]:
    """In the order of the letters."""
    parts = {part.name: part for part in model.parts}
    found = []
    for kind in model.kinds:
        for number, name in enumerate(kind.parts, start=1):
            found.append(_label(parts[name], kind.letter, _Place(number, len(kind.parts)), model, edition))
    return tuple(found)


def _label(part: Part, letter: str, place: _Place, model: Model, edition: Edition) -> Label:
    sizes = " × ".join(edition.show(size) for size in (part.length, part.width, part.thickness)) + (" mm" if edition.units == "mm" else " in")
    count = f"{place.number} of {place.of}" if place.of > 1 else "the only one"
    return Label(letter=letter, name=part.name.replace(".", ", "), lines=(sizes, f"{part.stock.name}, {count}", f"plan {model.plan.number}, {model.plan.title}"))


