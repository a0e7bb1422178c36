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
    cut = section_of(model)
    views = [(name, words) for name, words in model.views if name != "exploded"]
    if cut is not None and cut not in dict(views).values():
        views.insert(0, ("section", cut))
    cuts = [words.removeprefix("section ") for _, words in views if words.startswith("section ") and " without " not in words]
    words = f"sizes with {'; '.join(cuts)}" if cuts else "sizes"
    yield Figure(
        f"Front, {side} side and top", View(words, width=168, both_units=drawn.both, first_angle=drawn.first), name="sizes", placing="page",
        strip=(("Sizes in", unit), ("Projection", drawn.projection)),
    )
    for name, words in views:
        letter = f"{chr(ord('A') + cuts.index(words.removeprefix('section ')))}" if words.removeprefix("section ") in cuts else ""
        caption = "Cut through from front to back, seen from the right" if words == cut and name == "section" else name[:1].upper() + name[1:]
        height = 150 if words == cut and name == "section" else 0
        yield Figure(f"{letter}–{letter}. {caption}" if letter else caption, View(words, width=168, height=height, both_units=drawn.both), name=name)


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(sizes,), views=(cut_through,))
