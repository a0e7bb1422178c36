"""How the shop draws: which projection, and whether the other unit stands behind each number.

In: what makers write under `drawings`. It must not know any drawing; the plugins that ask for drawings need it.
"""

from __future__ import annotations

from compiler.values import ask
from compiler.values.joinery import Settings


class DrawingSettings(Settings):
    """How drawings are arranged and lettered."""

    key = "drawings"
    projection: str = ask.word("third angle", "third angle: the view from the right stands right; first angle: it stands left",
                               of=("third angle", "first angle"))
    dual_units: str = ask.word("no", "yes: millimetres in brackets behind inches, or inches behind millimetres, in dimensioned and part drawings",
                               of=("no", "yes"))

    @property
    def both(self) -> bool:
        """True when both units are lettered."""
        return self.dual_units == "yes"

    @property
    def first(self) -> bool:
        """True for first-angle projection."""
        return self.projection == "first angle"
