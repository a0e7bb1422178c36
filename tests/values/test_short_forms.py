"""Short forms that authors write: tables from heads and rows, paragraphs from a text, diagrams, quantities as text."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from compiler.base.measures import Area, Volume, inch, mm
from compiler.values.diagram import Pen
from compiler.values.document import Column, Group, Money, Paragraph, Table
from compiler.values.figure import Lettering, Region, Stroke
from compiler.values.model import Edition

INCH, METRIC = Edition(units="inch", paper="letter"), Edition(units="mm", paper="a4")


def test_a_table_of_heads_and_rows_tells_its_columns_from_the_cells() -> None:
    """Sizes, numbers, money, words."""
    table = Table("Lumber", ("Name", "Long", "Pieces", "Wood", "Cost"),
                  (("oak", inch(3), 2, Volume(), Money(Fraction(3))), ("ash", inch(4), 1, Volume(), Money(Fraction(4)))))
    assert ["text", "dim", "number", "number", "money"] == [column.kind for column in table.columns]
    assert 2 == len(table.groups[0].rows)


def test_both_forms_of_a_table_are_equal() -> None:
    """And a copy with another number keeps columns and rows."""
    short = Table("Lumber", ("Name",), (("oak",),))
    assert short == Table("Lumber", columns=(Column(head="Name"),), groups=(Group(title="", rows=(("oak",),)),))
    assert short.groups == replace(short, number=4).groups


def test_a_row_of_another_length_is_refused_when_it_is_built() -> None:
    """At the author's line, not on the page."""
    with pytest.raises(ValueError, match="a row of 1 cells in a table of 2 columns"):
        Table("Lumber", ("Name", "Long"), (("oak",),))


def test_a_paragraph_may_be_a_text() -> None:
    """Or mixed content."""
    assert Paragraph(("Words.",)) == Paragraph("Words.")


@pytest.mark.parametrize(("edition", "quantity", "text"), [
    (INCH, inch("35 1/16"), "35 1/16"), (INCH, inch("-1/4"), "-1/4"), (INCH, mm(891), "35 3/32"),
    (METRIC, mm(891), "891"), (METRIC, mm("353.5"), "353.5"), (METRIC, inch(1), "25.5"),
    (INCH, Area(Fraction(216)), "1.50"), (METRIC, Area(Fraction(216)), "0.14"),
    # 1 board foot = 144 cubic inches = 0.002359737 m3: definition, hardwood-export association page.
    (INCH, Volume(Fraction(1440)), "10.00"), (METRIC, Volume(Fraction(1440)), "0.024"),
    (replace(INCH, step=Fraction(1, 8)), inch("3/16"), "1/4"),
])
def test_an_edition_shows_quantities_as_plain_text(edition: Edition, quantity: object, text: str) -> None:
    """For exports: rounded once, no unit, a plain minus."""
    assert text == edition.show(quantity)  # type: ignore[arg-type]


def test_a_pen_draws_in_painting_order() -> None:
    """A filled rectangle is its area, then its outline; the picture is a value of its own."""
    pen = Pen(40, 20)
    pen.rectangle(1, 2, 10, 5, fill="front")
    first = pen.picture("A board")
    pen.letters(5, 5, "A", anchor="middle")
    assert [Region, Stroke] == [type(mark) for mark in first.marks]
    assert ((1.0, 2.0), (11.0, 2.0), (11.0, 7.0), (1.0, 7.0), (1.0, 2.0)) == first.marks[1].paths[0]  # type: ignore[union-attr]
    assert isinstance(pen.picture("A board").marks[-1], Lettering)
    assert (40.0, 20.0, "A board") == (first.width, first.height, first.says)
