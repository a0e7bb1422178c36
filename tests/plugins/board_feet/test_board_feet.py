"""Board feet against worked examples of measurement pages (rows LUM of the project's check values)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.api import CutList, CutRow, Length, Stock, Table, Wood, inch
from plugins.board_feet import BoardFeetSettings, board_feet, lumber

POPLAR = Wood(name="yellow-poplar")


def board(thick: Length, wide: Length, long: Length, *, number: int = 1, wood: Wood | None = POPLAR, kind: str = "board") -> CutRow:
    stock = Stock(key="x", name="x", called="x", kind=kind, thickness=thick, rough=thick, species=wood)  # type: ignore[arg-type]
    return CutRow(letter="A", name="rail", assembly=(), component="", stock=stock, number=number, length=long, width=wide,
                  thickness=thick, rough_length=long, rough_width=wide, rough_thickness=thick)


def tally(*rows: CutRow, waste: str = "1") -> Fraction:
    return board_feet(CutList(rows=rows), BoardFeetSettings(waste=Fraction(waste))).rows[0].to_buy.board_feet


@pytest.mark.parametrize(("thick", "wide", "long", "feet"), [
    ("1", 9, 96, 6),                # LUM-36: a woodworking-tips page
    ("1 1/2", 9, 96, 9),            # LUM-37: the same page
    ("1", 6, 96, 4),                # LUM-39: 1 x 6 x 8 ft nominal, by the formula
    ("1.25", 8, 120, Fraction(25, 3)),  # LUM-40
    ("2", 4, 96, Fraction(16, 3)),  # LUM-41
    ("2", 10, 144, 20),             # LUM-42
    ("1", 12, 12, 1),               # LUM-26: the definition (hardwood-export association)
])
def test_worked_examples(thick: str, wide: int, long: int, feet: Fraction) -> None:
    """The examples' boards without waste."""
    assert feet == tally(board(inch(thick), inch(wide), inch(long)))


def test_a_board_foot_in_metric() -> None:
    """One board foot is 2359.737 cubic centimetres (LUM-27)."""
    volume = board_feet(CutList(rows=(board(inch(1), inch(12), inch(12)),)), BoardFeetSettings(waste=Fraction(1))).rows[0].in_parts
    assert Fraction(2359737216, 10**12) == volume.cubic_metres


def test_waste_is_on_top() -> None:
    """A quarter more for clear hardwood, 20 to 30 % (LUM-44, trade practice)."""
    assert Fraction(15, 2) == tally(board(inch(1), inch(9), inch(96)), waste="1.25")


def test_pieces_count() -> None:
    """Four rails, four times the wood."""
    row = board_feet(CutList(rows=(board(inch(1), inch(9), inch(96), number=4),)), BoardFeetSettings(waste=Fraction(1))).rows[0]
    assert (4, 24) == (row.pieces, row.in_parts.board_feet)


def test_sheets_are_not_counted() -> None:
    """A plywood faced with poplar is no poplar by the foot."""
    cut_list = CutList(rows=(board(inch(1), inch(9), inch(96), kind="sheet"),))
    assert () == board_feet(cut_list, BoardFeetSettings(waste=Fraction(1))).rows


def test_the_table_has_a_row_a_species() -> None:
    """In the order of the alphabet; no wood, no table."""
    settings = BoardFeetSettings(waste=Fraction(1))
    rows = (board(inch(1), inch(9), inch(96)), board(inch(1), inch(9), inch(96), wood=Wood(name="black cherry")))
    (table,) = lumber(board_feet(CutList(rows=rows), settings), settings)
    assert isinstance(table, Table)
    assert ["black cherry", "yellow-poplar"] == [row[0] for row in table.groups[0].rows]
    assert [] == list(lumber(board_feet(CutList(), settings), settings))
