"""Part drawings: each part that is more than a plain box, with all sizes of its workings."""

from compiler.api import (
    Blocks,
    Cells,
    Figure,
    Inlines,
    Kind,
    Model,
    Paragraph,
    Part,
    Plugin,
    View,
    hook,
    inch,
    section,
)

FEW = 3
SHORT = inch(36)
CELL = 82
WHOLE = 168


@section("Part drawings", after="sizes", name="part drawings")
def part_drawings(model: Model) -> Blocks:
    """Simple parts two to a row, the others across the page, in the order of their letters."""
    drawn = [(kind, model.part(kind.parts[0])) for kind in model.kinds]
    drawn = [(kind, part) for kind, part in drawn if part.features]
    if not drawn:
        return
    yield Paragraph(
        content=(
            "Length lies across; the foot, the left end or the front edge is the datum. A letter on a face tells which part it is,",
            " the arrow runs with the grain. Parts that are not here are plain: cut them to the cut list.",
        )
    )
    row: list[Figure] = []
    for kind, part in drawn:
        if _simple(part):
            row.append(Figure(_caption(kind, part), View(f"part {part.name}", width=CELL), name=kind.name, placing="cell"))
            continue
        if row:
            yield Cells(figures=tuple(row))
            row = []
        yield Figure(_caption(kind, part), View(f"part {part.name}", width=WHOLE), name=kind.name)
    if row:
        yield Cells(figures=tuple(row))


def _simple(part: Part) -> bool:
    """Short and without notes: a note needs more room than half a page is wide."""
    if part.length > SHORT:
        return False
    cuts = [feature for feature in part.features if feature.op == "cut"]
    return not cuts and len(part.features) <= FEW and all(feature.frame.square for feature in part.features)


def _caption(kind: Kind, part: Part) -> Inlines:
    number = len(kind.parts)
    pieces = f", {number} pieces" if number > 1 else ""
    hands = " and ".join(f"{count} {hand}" for hand, count in kind.hands) if kind.hands else ""
    drawn = f"; drawn: the {part.hand} one" if kind.hands and part.hand else ""
    hands = f" ({hands}{drawn})" if hands else ""
    return (f"{kind.letter} {kind.name}{pieces}{hands}, ", part.thickness, " thick")


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(part_drawings,))
