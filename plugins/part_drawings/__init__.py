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
    section,
)

CELL, WIDE, LARGE = (82, 60), (168, 72), (168, 82)
"""The most of a drawing in mm, across and up: half a row, a row, and a row for what takes several views or many notes."""

VIEWS = ("mortise", "tenon", "profile", "bevelled end", "level end")
"""Features whose sizes take more views than one."""


@section("Part drawings", after="sizes", name="part drawings")
def part_drawings(model: Model) -> Blocks:
    """Parts with much work on them across the page, then the others two to a row, each in the order of their letters."""
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
    wide = [Figure(_caption(kind, part), _view(part), name=kind.name) for kind, part in drawn if _room(part) != CELL]
    yield from wide
    small = [
        Figure(_caption(kind, part), _view(part), name=kind.name, placing="cell") for kind, part in drawn if _room(part) == CELL
    ]
    if small:
        yield Cells(figures=tuple(small))


def _view(part: Part) -> View:
    width, height = _room(part)
    return View(f"part {part.name}", width=width, height=height)


def _room(part: Part) -> tuple[int, int]:
    """How much paper the notes and views of its cuts ask for."""
    cuts = {feature.called for feature in part.features if feature.op == "cut"}
    if len(cuts) > 2 or any(feature.called in VIEWS or not feature.frame.square for feature in part.features):
        return LARGE
    return WIDE if len(cuts) > 1 else CELL


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
