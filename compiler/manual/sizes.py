"""The forms of sizes and places, each with a text that is worked out when the manual is made.

In: nothing. Out: `Form`s, and what each comes to, from the grammar and the arithmetic that plans use.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Angle, Length, inch
from compiler.base.report import Spot
from compiler.base.showing import Style, show
from compiler.language import Names, evaluate, parse_copies, parse_edge, parse_extent, parse_place, parse_tilt

NAMES = Names({"width": inch(36), "leg": inch("3/2"), "shelves": 2, "splay": Angle(Fraction(10))})
"""What the examples may name: width 36, leg 1 1/2, shelves 2, splay 10 deg."""


@dataclass(frozen=True, slots=True)
class Form:
    """A way of writing: an example and what it means. `form` tells which part of the grammar reads it."""

    text: str
    says: str
    form: Literal["size", "extent", "copies", "place", "edge", "tilt"] = "size"


SIZES: tuple[tuple[str, tuple[Form, ...]], ...] = (
    ("Sizes (here width is 36, leg 1 1/2, shelves 2)", (
        Form("3/4", "a fraction"),
        Form("1 1/2", "a whole number and a fraction"),
        Form("0.25", "a decimal"),
        Form("5' 3 1/2\"", "feet and inches"),
        Form("18 mm", "a true length; cm and in as well"),
        Form("width - 2 * leg", "a sum of names; a minus has a space on both sides"),
        Form("(width - leg) / 4", "brackets"),
        Form("width / shelves", "a length by a count"),
        Form("width / 7 rounded to 1/16", "to the nearest; rounded up, rounded down"),
        Form("larger of leg and 2", "the larger or the smaller of some"),
    )),
    ("Where a part stands: across, deep, up", (
        Form("0 to width - 3", "between two places", "extent"),
        Form("from 4", "from a place on; the stock gives the other end", "extent"),
        Form("to 34", "up to a place", "extent"),
        Form("from 4 for 3", "from a place, so far", "extent"),
        Form("to 34 for 3", "up to a place, so far", "extent"),
        Form("between left side and right side", "between the facing faces of two parts", "extent"),
        Form("between left stile and right stile with 1/16 clear", "less so much at each end", "extent"),
        Form("centred on middle", "about the middle line", "extent"),
        Form("20 centred on leg", "so long, about another part", "extent"),
        Form("as bottom", "the same two places as that part", "extent"),
    )),
    ("Copies", (
        Form("mirror across", "a left one and a right one", "copies"),
        Form("mirror across and deep", "four: front left, front right, back left, back right", "copies"),
        Form("3 across every 12", "a row, from one to the next", "copies"),
        Form("2 up evenly between bottom and deck", "with equal gaps", "copies"),
        Form("with shelf", "one for each copy of another part", "copies"),
    )),
    ("Places on a part, edges, tilts", (
        Form("2 from front and 4 from bottom", "from the part's own edges", "place"),
        Form("centre", "in the middle, both ways", "place"),
        Form("centre across and 1 from top", "in the middle one way", "place"),
        Form("top front", "the edge of two faces", "edge"),
        Form("all round top", "the four edges of a face", "edge"),
        Form("bottom by splay to front about top front edge", "turned about an edge so that a face goes that way", "tilt"),
    )),
)

_PARSERS = {"extent": parse_extent, "copies": parse_copies, "place": parse_place, "edge": parse_edge, "tilt": parse_tilt}


def shown(form: Form) -> str:
    """What a size comes to; nothing for other forms, which are read all the same. Raises ValueError when the text can't be read."""
    if form.form != "size":
        _PARSERS[form.form](form.text)
        return ""
    outcome = evaluate(form.text, NAMES, "inch", Spot("design.yaml"))
    if not isinstance(outcome.value, Length):
        raise ValueError(f"{form.text}: {'; '.join(fault.says for fault in outcome.report)}")
    return show(outcome.value, Style(step=Fraction(1, 64))).text
