"""The cut list's sizes: finished with joints, rough with the shop's allowance."""

from __future__ import annotations

from dataclasses import replace

from compiler.api import CutRow, Part, inch
from plugins.cut_list.listing import cut_list
from tests.plugins.small_models import OAK_6_4, PLY, POPLAR_4_4, model, part, shop


def row(*parts: Part) -> CutRow:
    return cut_list(model(*parts), shop()).rows[0]


def test_tongues_are_in_the_finished_length() -> None:
    """34 9/16 between the sides and 1/4 into each: 35 1/16 (the sum in the design notes)."""
    bottom = row(part("bottom", PLY, inch("34 9/16"), inch("11 1/32"), tongues=inch("1/2")))
    assert inch("35 1/16") == bottom.length
    assert bottom.joined


def test_a_board_is_sawn_longer_wider_and_as_thick_as_it_is_bought() -> None:
    """One inch and a quarter more; 4/4 is 1 in rough (definition of quarters)."""
    rail = row(part("rail", POPLAR_4_4, inch(30), inch("1 1/2")))
    assert (inch(31), inch("1 3/4"), inch(1)) == (rail.rough_length, rail.rough_width, rail.rough_thickness)


def test_a_sheet_part_is_cut_to_size() -> None:
    """No allowance: a saw leaves the finished edge."""
    side = row(part("side", PLY, inch(33), inch(11)))
    assert (side.length, side.width, side.thickness) == (side.rough_length, side.rough_width, side.rough_thickness)


def test_every_strip_of_a_glued_up_part_needs_its_allowance() -> None:
    """Six strips have six edges to joint: 13 1/4 + 6 x 1/4."""
    top = row(part("top", OAK_6_4, inch(38), inch("13 1/4"), strips=6))
    assert inch("14 3/4") == top.rough_width


def test_equal_parts_are_one_row() -> None:
    """Two sides, one letter, two to cut."""
    rows = cut_list(model(part("left side", PLY, inch(33), inch(11), kind="side"),
                          part("right side", PLY, inch(33), inch(11), kind="side")), shop()).rows
    assert [("A", "side", 2, ("left side", "right side"))] == [(r.letter, r.name, r.number, r.parts) for r in rows]


def test_parts_of_a_component_stand_under_its_name() -> None:
    """The sides of both drawers are one row of the group `drawer`."""
    sides = row(part("left drawer.side", PLY, inch(9), inch(4), kind="drawer side", component="drawer", assembly=("left drawer",)),
                part("right drawer.side", PLY, inch(9), inch(4), kind="drawer side", component="drawer", assembly=("right drawer",)))
    assert ("drawer",) == sides.assembly


def test_the_list_can_be_read_by_group_and_by_stock() -> None:
    """Both ways hold every row once."""
    whole = cut_list(model(part("side", PLY, inch(33), inch(11), assembly=("case",)),
                           part("rail", POPLAR_4_4, inch(30), inch(2), assembly=("face frame",)),
                           part("top", OAK_6_4, inch(38), inch(13))), shop())
    assert ("case", "face frame", "") == whole.assemblies
    assert ("birch plywood 3/4", "poplar 4/4", "white oak 6/4") == tuple(stock.name for stock in whole.stocks)
    assert whole.rows == tuple(r for name in whole.assemblies for r in whole.in_assembly(name))
    assert "rail" == whole.row("B").name


def test_species_are_those_of_boards() -> None:
    """Sheets are not wood by the foot, whatever they are faced with."""
    whole = cut_list(model(part("side", PLY, inch(33), inch(11)), part("top", OAK_6_4, inch(38), inch(13)),
                           part("rail", POPLAR_4_4, inch(30), inch(2))), shop())
    assert ("white oak", "yellow-poplar") == whole.species


def test_loose_pieces_of_joints_are_cut_too() -> None:
    """Two equal wedges are one row at the end, without a letter."""
    rail = part("rail", POPLAR_4_4, inch(30), inch(2))
    wedges = tuple(part(f"rail wedge {number}", POPLAR_4_4, inch(2), inch("3/8"), kind="rail wedge", thickness=inch("1/8")) for number in (1, 2))
    last = cut_list(replace(model(rail), pieces=wedges), shop()).rows[-1]
    assert ("", "rail wedge", 2, ("loose pieces",)) == (last.letter, last.name, last.number, last.assembly)
