"""Dimensioned drawings: the piece from front, side and top with its sizes, cut through if it is hollow, and the author's own views."""

from compiler.api import Blocks, DrawingSettings, Figure, Model, Paragraph, Plugin, View, hook, section

from .sections import section_of
from .views import cut_through


@section("Sizes", after="exploded", name="sizes")
def sizes(model: Model, drawn: DrawingSettings) -> Blocks:
    """Outside sizes, the inside of a case cut through, then the author's own views."""
    units = ("inches", "millimetres") if model.edition.units == "inch" else ("millimetres", "inches")
    unit = f"{units[0]} [{units[1]}]" if drawn.both else units[0]
    yield Paragraph(
        content=(
            "Outside sizes and openings. Thicknesses of stock and the second of two equal sizes are left out; cut parts"
            " to the cut list, not to these.",
        )
    )
    side = "left" if drawn.first else "right"
    yield Figure(
        f"Front, {side} side and top", View("sizes", width=168, both_units=drawn.both, first_angle=drawn.first), name="sizes", placing="page",
        strip=(("Sizes in", unit), ("Projection", drawn.projection)),
    )
    cut = section_of(model)
    if cut is not None and cut not in dict(model.views).values():
        yield Figure("Cut through from front to back, seen from the right", View(cut, width=168, height=150, both_units=drawn.both), name="section")
    for name, words in model.views:
        if name != "exploded":
            yield Figure(name[:1].upper() + name[1:], View(words, width=168, both_units=drawn.both), name=name)


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(sizes,), views=(cut_through,))
