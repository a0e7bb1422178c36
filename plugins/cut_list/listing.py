"""Model → CutList.

In: kinds with their letters, parts with finished sizes (joints included), the shop's rough allowance. Out: one row a kind,
then the loose pieces that joints bring along.

Rough sizes are for boards and what else is sold by length. A board part is sawn longer by `rough_length` and wider by
`rough_width`; one that is glued up from strips needs that width for each strip, as every edge is jointed (common
practice, no source). Its rough thickness is the thickness the stock is bought in. Sheets are cut to size.
"""

from __future__ import annotations

from dataclasses import replace

from compiler.api import CutList, CutRow, Kind, Length, Model, Part, Shop, task

LOOSE = "loose pieces"


@task
def cut_list(model: Model, shop: Shop) -> CutList:
    """Every kind of part once, in the order of the letters."""
    parts = {part.name: part for part in model.parts}
    rows = [_row(kind, [parts[name] for name in kind.parts], shop) for kind in model.kinds]
    return CutList(rows=(*rows, *_loose(model, shop)))


def _loose(model: Model, shop: Shop) -> list[CutRow]:
    """What joints bring along (wedges, keys), equal ones together, without a letter."""
    equal: dict[tuple[str, str, Length, Length, Length], list[Part]] = {}
    for piece in model.pieces:
        equal.setdefault((piece.kind, piece.stock.key, piece.length, piece.width, piece.thickness), []).append(piece)
    rows = [_row(Kind(letter="", name=pieces[0].kind, parts=tuple(piece.name for piece in pieces)), pieces, shop) for pieces in equal.values()]
    return [replace(row, assembly=(LOOSE,), joined=False) for row in rows]


def _row(kind: Kind, parts: list[Part], shop: Shop) -> CutRow:
    part = parts[0]
    stock = part.stock
    length, width, thickness = part.length, part.width, part.thickness
    if stock.kind in ("rod", "moulding", "tape"):
        length = length + shop.rough_length
    elif stock.kind == "board":
        length = length + shop.rough_length
        if not stock.dressed or part.strips > 1 or stock.width is None:
            width = width + shop.rough_width * part.strips
        else:
            width = max(width, stock.width)
        thickness = max(stock.rough or thickness, thickness)
    box = part.box
    return CutRow(
        letter=kind.letter,
        name=kind.name,
        assembly=_home(parts),
        component=part.component,
        stock=stock,
        number=len(parts),
        hands=kind.hands,
        length=part.length,
        width=part.width,
        thickness=part.thickness,
        rough_length=length,
        rough_width=width,
        rough_thickness=thickness,
        grain="any" if part.grain == "any" else "along",
        strips=part.strips,
        band=tuple(face for face, _ in part.band),
        joined=part.length > box.span(part.length_axis).size or part.width > box.span(part.width_axis).size,
        work=tuple(dict.fromkeys(feature.called for feature in part.features)),
        note=part.note,
        parts=kind.parts,
    )


def _home(parts: list[Part]) -> tuple[str, ...]:
    """The group that all of them belong to; for the uses of a component, the component's name."""
    path = parts[0].assembly
    for part in parts[1:]:
        path = tuple(one for one, other in zip(path, part.assembly, strict=False) if one == other)
    if parts[0].component and len({part.assembly for part in parts}) > 1:
        return (parts[0].component,)
    return path
