"""Where a case is cut to show its inside.

In: the model. Out: the words of a section from the right, None for a piece that is not hollow (a table, a bench).
"""

from __future__ import annotations

from compiler.api import ZERO, Length, Model

FOOTPRINT = 4
"""A shelf or bottom takes at least this part (one in four) of the piece's footprint."""


def section_of(model: Model) -> str | None:
    """`section at … from the right` through the middle, or through the middle of the left half where a divider stands in the middle."""
    if not _hollow(model):
        return None
    span = model.overall.across
    middle = (span.start + span.end) / 2
    upright = [part.box.across for part in model.parts if part.pose.square and part.thickness_axis == "across"]
    if not any(one.start < middle < one.end for one in upright):
        return "section at middle from the right"
    return f"section at {_written(model, span.start + span.size / 4)} from the right"


def _hollow(model: Model) -> bool:
    """True when something lies level between the lowest and the highest face: a shelf, a deck, a bottom."""
    whole = model.overall
    footprint = whole.across.size.inches * whole.deep.size.inches
    for part in model.parts:
        if part.thickness_axis != "up" or not part.pose.square:
            continue
        inside = part.box.up.start > whole.up.start and part.box.up.end < whole.up.end
        if inside and part.box.across.size.inches * part.box.deep.size.inches * FOOTPRINT >= footprint:
            return True
    return False


def _written(model: Model, place: Length) -> str:
    """A place as a section's words spell it, in the edition's unit."""
    return str(place.inches if model.edition.units == "inch" else place.mm) if place != ZERO else "0"
