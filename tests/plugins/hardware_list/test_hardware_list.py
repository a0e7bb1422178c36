"""Hardware by count and packs; glue and finish by area and cover."""

from __future__ import annotations

from fractions import Fraction

from compiler.api import FinishUse, HardwareList, HardwareRow, HardwareUse, Model, SupplyRow, Table, inch
from plugins.hardware_list.listing import HardwareSettings, hardware_list
from plugins.hardware_list.pages import hardware_pages
from tests.plugins.small_models import (
    HINGE,
    LIBRARY,
    PLY,
    SCREW,
    VARNISH,
    joint,
    model,
    part,
    square_feet,
)

SETTINGS = HardwareSettings(glue="wood glue", glue_more=Fraction(5, 4))
SIDE, BOTTOM = part("side", PLY, inch(33), inch(11)), part("bottom", PLY, inch(34), inch(11))


def listed(whole: Model) -> HardwareList:
    return hardware_list(whole, LIBRARY, SETTINGS)


def test_fasteners_of_all_joints_add_up_and_say_what_for() -> None:
    """Six for one kind of joint, four for the other way round."""
    whole = model(SIDE, BOTTOM, joints=(joint("bottom", "side", item=SCREW, count=3), joint("bottom", "side", item=SCREW, count=3),
                                        joint("side", "bottom", item=SCREW, count=4)))
    (row,) = listed(whole).rows
    assert (10, (("bottom to side", 6), ("side to bottom", 4))) == (row.count, row.used)


def test_packs_are_rounded_up_at_the_end() -> None:
    """101 screws in hundreds are two packs; 100 are one."""
    assert [2, 1, 1] == [HardwareRow(item=SCREW, count=count).packs for count in (101, 100, 1)]


def test_what_an_item_brings_along_is_counted_with_it() -> None:
    """Two doors, two hinges each, four screws a hinge."""
    rows = listed(model(SIDE, hardware=(HardwareUse(item=HINGE, count=4, on=("side",)),)))
    assert 4 == rows.count("butt hinge 2")
    assert 16 == rows.count("screw No. 4 x 1/2")


def test_glue_follows_the_glued_area_of_one_face() -> None:
    """100 square feet at 250 to the gallon (FIN-12, practice) and a quarter more: half a gallon. Dry joints take none."""
    whole = model(SIDE, BOTTOM, joints=(joint("bottom", "side", area=square_feet(100)),
                                        joint("bottom", "side", area=square_feet(50), glue=False)))
    (glue,) = listed(whole).supplies
    assert (square_feet(100), Fraction(1, 2)) == (glue.area, glue.amount)


def test_finish_follows_area_and_coats() -> None:
    """42 square feet, three coats at 125 a quart are 1.008 quarts (FIN-04): two quarts to buy."""
    (row,) = listed(model(SIDE, finishes=(FinishUse(kind="varnish", coats=3, parts=("side",), area=square_feet(42), item=VARNISH),))).supplies
    assert Fraction(1008, 1000) == (row.amount or 0) * 4
    assert "2 qt" == row.buy


def test_litres_are_bought_in_quarters() -> None:
    """0.3 l is half a litre to buy; glue comes in smaller steps."""
    tenth = SupplyRow(name="oil", item=None, use="finish", area=square_feet(3), cover=square_feet(10), unit="litre")
    assert "0.5 l" == tenth.buy
    glue = SupplyRow(name="glue", item=None, use="glue", area=square_feet(3), cover=square_feet(100), unit="litre")
    assert "50 ml" == glue.buy


def test_without_a_cover_the_label_decides() -> None:
    """A finish that the library does not know has area and coats, and no made-up amount."""
    (row,) = listed(model(SIDE, finishes=(FinishUse(kind="wax", coats=1, parts=("side",), area=square_feet(3)),))).supplies
    assert (None, "see the label") == (row.amount, row.buy)


def test_many_places_are_told_by_the_part_that_is_fastened() -> None:
    """Five kinds of joint of one rail: one number."""
    rails = tuple(part(f"{word} stile", PLY, inch(9), inch(2)) for word in ("one", "two", "three", "four", "five"))
    joints = tuple(joint("side", stile.name, item=SCREW, count=2) for stile in rails)
    (table, *_) = hardware_pages(listed(model(SIDE, *rails, joints=joints)))
    assert isinstance(table, Table)
    assert "side" == table.groups[0].rows[0][-1]


def test_the_pages_name_packs_and_places() -> None:
    """One table for pieces, one for glue and finish; none where there is nothing."""
    whole = model(SIDE, BOTTOM, joints=(joint("bottom", "side", item=SCREW, count=3, area=square_feet(1)),))
    hardware, supplies = hardware_pages(listed(whole))
    assert isinstance(hardware, Table)
    assert isinstance(supplies, Table)
    assert (1, "wood screw No. 8 x 1 1/4", 3, "1 pack of 100", "bottom to side") == hardware.groups[0].rows[0]
    assert [] == list(hardware_pages(HardwareList()))
