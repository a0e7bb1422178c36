"""Part drawings: each part that is more than a plain box, with all sizes of its workings."""

from typing import Literal

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

THIRD, HALF, WIDE, LARGE = (50, 50), (82, 60), (168, 72), (168, 82)
"""The most of a drawing in mm, across and up: a third of a row, half of one, a row, and a row for what takes several views or many notes."""

VIEWS = ("mortise", "tenon", "profile", "bevelled end", "level end")
"""Features whose sizes take more views than one."""


@section("Part drawings", after="sizes", name="part drawings")
def part_drawings(model: Model) -> Blocks:
    """Parts with much work on them across the page, then those with less, two and three to a row, each in the order of their letters."""
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
    for most in (LARGE, WIDE, HALF, THIRD):
        figures = tuple(_figure(kind, part, most) for kind, part in drawn if _room(part) == most)
        if most[0] == WIDE[0]:
            yield from figures
        elif figures:
            yield Cells(figures=figures, across=3 if most == THIRD else 2)


def _figure(kind: Kind, part: Part, most: tuple[int, int]) -> Figure:
    placing: Literal["text", "cell"] = "text" if most[0] == WIDE[0] else "cell"
    view = View(f"part {part.name}", width=most[0], height=most[1])
    return Figure(_caption(kind, part), view, name=kind.name, placing=placing)


def _room(part: Part) -> tuple[int, int]:
    """How much paper the notes and views of its cuts ask for."""
    cuts = {feature.called for feature in part.features if feature.op == "cut"}
    if len(cuts) > 2 or any(feature.called in VIEWS or not feature.frame.square for feature in part.features):
        return LARGE
    return WIDE if len(cuts) > 1 else HALF if cuts else THIRD


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
