"""The section gathers notes by subject and ends with its limits."""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Edition, Heading, Paragraph
from plugins.loads_and_movement.amounts import POUND, weight
from plugins.loads_and_movement.notes import UseNote
from plugins.loads_and_movement.pages import LIMITS, loads_and_movement

INCH, METRIC = Edition(units="inch", paper="letter"), Edition(units="mm", paper="a4")


def test_notes_stand_under_their_subject() -> None:
    """In the order load, movement, standing, whoever made them first."""
    notes = (UseNote("standing", "", (Paragraph("heavy"),)), UseNote("load", "Shelves", (Paragraph("books"),)))
    blocks = list(loads_and_movement(notes))
    assert [("What it carries",), ("Shelves",), ("Lifting and standing",)] == [block.content for block in blocks if isinstance(block, Heading)]


def test_it_defers_to_licensed_practice() -> None:
    """Its last words; with nothing to tell there is no section."""
    last = list(loads_and_movement((UseNote("load", "", (Paragraph("books"),)),)))[-1]
    assert isinstance(last, Paragraph)
    assert (LIMITS,) == last.content and "licensed" in LIMITS
    assert [] == list(loads_and_movement(()))


def test_weights_are_shown_coarsely() -> None:
    """To 5 lb or 2 kg, loads downwards."""
    assert ["75 lb", "70 lb", "7 lb"] == [weight(73 * POUND, INCH), weight(73 * POUND, INCH, to="down"), weight(7 * POUND, INCH)]
    assert ["26 kg", "24 kg"] == [weight(Fraction(251, 10), METRIC), weight(Fraction(251, 10), METRIC, to="down")]
