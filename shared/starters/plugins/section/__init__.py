"""Sample plugin: a page of the booklet, made from lists that other plugins work out.

A section yields blocks in reading order. One that yields nothing is left out.
"""

from compiler.api import (
    Blocks,
    CutList,
    Figure,
    ItemList,
    Model,
    Paragraph,
    PartMark,
    Plugin,
    View,
    hook,
    section,
)


@section("Sample plugin", after="cut list")
def sample_plugin(cut_list: CutList, model: Model) -> Blocks:
    """Boxes to tick as the parts are cut, and a picture of where they go."""
    if not cut_list.rows:
        return
    yield Paragraph(("Tick each part when it is cut: ", cut_list.pieces, " pieces in ", len(cut_list.rows), " rows."))
    yield ItemList(items=tuple((PartMark(row.name), ": ", row.length, " long") for row in cut_list.rows), style="boxes")
    yield Figure(f"{model.plan.title}, where the parts go", View("front right top", dimensions=False), name="sample plugin")


@hook
def plugin() -> Plugin:
    """All that this plugin brings."""
    return Plugin(contract=1, sections=(sample_plugin,))
