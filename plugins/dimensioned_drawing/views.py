"""A view in words of its own: a part cut through in the middle of its length."""

from __future__ import annotations

from compiler.api import Model, Part, View, view

SEEN = {"across": "right", "deep": "front", "up": "top"}
"""From where the cut face is looked at, by the axis that the part's length runs along: as third-angle projection shows it."""


@view("cut through")
def cut_through(model: Model, part: Part) -> View:
    """The piece cut square to the length of a part, in its middle: how wide, how thick, what lies against it."""
    longest = max(("across", "deep", "up"), key=lambda axis: getattr(part.box, axis).size)
    along = longest if part.grain == "any" else part.grain
    return View(f"section at {part.name}.middle from the {SEEN[along]}")
