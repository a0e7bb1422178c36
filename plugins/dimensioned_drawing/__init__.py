"""Dimensioned drawings: the piece from front, side and top with its sizes, cut through if it is hollow, and the author's own views."""

from compiler.api import Blocks, Figure, Model, Paragraph, Plugin, View, hook, section

from .sections import section_of
from .views import cut_through


@section("Sizes", after="exploded", name="sizes")
def sizes(model: Model) -> Blocks:
    """Outside sizes, the inside of a case cut through, then the author's own views."""
    unit = "inches" if model.edition.units == "inch" else "millimetres"
    yield Paragraph(
        content=(
            "Outside sizes and openings. Thicknesses of stock and the second of two equal sizes are left out; cut parts"
            " to the cut list, not to these.",
        )
    )
    yield Figure(
        "Front, right side and top", View("sizes", width=168), name="sizes", placing="page",
        strip=(("Sizes in", unit), ("Projection", "third angle")),
    )
    cut = section_of(model)
    if cut is not None and cut not in dict(model.views).values():
        yield Figure("Cut through from front to back, seen from the right", View(cut, width=168, height=150), name="section")
    for name, words in model.views:
        if name != "exploded":
            yield Figure(name[:1].upper() + name[1:], View(words, width=168), name=name)


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(sizes,), views=(cut_through,))
