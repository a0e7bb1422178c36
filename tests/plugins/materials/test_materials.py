"""What to buy, and what it costs where the shop knows."""

from __future__ import annotations

from fractions import Fraction

from compiler.api import (
    CutList,
    Edition,
    HardwareList,
    HardwareRow,
    Materials,
    Paragraph,
    Part,
    StockCount,
    StockToBuy,
    Table,
    inch,
)
from compiler.values.settings import Price
from plugins.board_feet import BoardFeetSettings, board_feet
from plugins.cut_list.listing import cut_list
from plugins.materials.listing import MaterialsSettings, materials
from plugins.materials.pages import shopping_list
from tests.plugins.small_models import OAK_6_4, PLY, POPLAR_4_4, SCREW, model, part, shop

NONE = HardwareList()
INCH, METRIC = Edition(units="inch", paper="letter"), Edition(units="mm", paper="a4")
WOOD, SHEETS = BoardFeetSettings(waste=Fraction(5, 4)), MaterialsSettings(sheet_waste=Fraction(1))
PARTS = (part("side", PLY, inch(96), inch(48)), part("rail", POPLAR_4_4, inch(95), inch("8 3/4")), part("top", OAK_6_4, inch(38), inch(13)))


def listed(*prices: Price, hardware: HardwareList = NONE, parts: tuple[Part, ...] = PARTS, edition: Edition = INCH) -> Materials:
    return materials(cut_list(model(*parts), shop()), hardware, shop(*prices), edition, WOOD, SHEETS)


def test_boards_agree_with_the_board_foot_tally() -> None:
    """Each species' rows add up to what `board_feet` says to buy: no number stands twice and differs."""
    tally = {row.species: row.to_buy for row in board_feet(cut_list(model(*PARTS), shop()), WOOD).rows}
    bought = {row.name: row.volume for row in listed().rows if row.kind == "board"}
    assert tally == {"yellow-poplar": bought["poplar 4/4"], "white oak": bought["white oak 6/4"]}


def test_sheets_are_whole() -> None:
    """One full sheet is one; an inch more is two."""
    assert 1 == listed().rows[0].count
    assert 2 == listed(parts=(*PARTS, part("strip", PLY, inch(96), inch(1)))).rows[0].count


def test_a_cutting_layout_has_the_last_word() -> None:
    """Three sheets laid out are three to buy, whatever the area says; and nothing is reckoned then."""
    sheets = StockToBuy(rows=(StockCount(stock="birch plywood 3/4", size=(inch(48), inch(96)), number=3, cost=Fraction(276)),))
    row = materials(cut_list(model(*PARTS), shop()), NONE, shop(), INCH, WOOD, SHEETS, sheets).rows[0]
    assert (3, False, True) == (row.count, row.reckoned, listed().rows[0].reckoned)


def test_boards_laid_out_are_bought_as_they_are_and_cost_what_the_layout_says() -> None:
    """One board of 7 x 108 in and one of 7 x 84 in, 4/4: 5 1/4 and 4 1/12 board feet, each to the cent at 4.10."""
    boards = StockToBuy(rows=tuple(
        StockCount(stock="poplar 4/4", size=(inch(7), inch(long)), number=1, volume=inch(long) * inch(7) * inch(1), cost=cost)
        for long, cost in ((108, Fraction("21.52")), (84, Fraction("16.74")))))
    price = Price(key="poplar 4/4", amount=Fraction("4.10"), per="board foot")
    found = materials(cut_list(model(*PARTS), shop()), NONE, shop(price), INCH, WOOD, SHEETS, boards)
    row = next(row for row in found.rows if row.name == "poplar 4/4")
    assert (2, Fraction(28, 3), Fraction("38.26")) == (row.count, row.volume.board_feet, row.cost)
    table = next(block for block in shopping_list(found) if isinstance(block, Table))
    assert any("2 boards, " in str(cell) for each in table.groups[0].rows for cell in each)


def test_a_sheet_costs_by_the_piece_and_boards_by_the_foot() -> None:
    """92 a sheet; 1 x 9 x 96 in are 6 board feet (LUM-36), 7.5 with waste, at 4.10 each: 30.75."""
    rows = {row.name: row for row in listed(Price(key="birch plywood 3/4", amount=Fraction(92)),
                                            Price(key="poplar 4/4", amount=Fraction("4.10"), per="board foot")).rows}
    assert (92, Fraction("30.75"), None) == tuple(rows[name].cost for name in ("birch plywood 3/4", "poplar 4/4", "white oak 6/4"))


def test_a_price_is_told_in_the_measure_of_the_edition() -> None:
    """A cubic metre is 423.776 board feet (LUM-27: one is 2359.737 cubic centimetres): 4.10 a foot is 1737.48 a cubic metre; the cost stays."""
    price = Price(key="poplar 4/4", amount=Fraction("4.10"), per="board foot")
    told = [next(row for row in listed(price, edition=edition).rows if row.name == "poplar 4/4") for edition in (INCH, METRIC)]
    assert ["board foot", "cubic metre"] == [row.per for row in told]
    assert told[1].price is not None and "1737.48" == f"{float(told[1].price):.2f}" and told[0].cost == told[1].cost


def test_hardware_costs_by_the_pack_or_by_the_piece() -> None:
    """101 screws: two packs, or a hundred and one pieces."""
    hardware = HardwareList(rows=(HardwareRow(item=SCREW, count=101),))
    costs = [listed(Price(key=SCREW.key, amount=Fraction(3), per=per), hardware=hardware).rows[-1].cost for per in ("pack", "piece")]
    assert [6, 303] == costs


def test_a_price_per_something_else_is_no_price() -> None:
    """A sheet can't be bought by the board foot."""
    assert None is listed(Price(key="birch plywood 3/4", amount=Fraction(4), per="board foot")).rows[0].cost


def test_the_whole_cost_leaves_out_what_has_no_price_and_says_so() -> None:
    """And there is none when no price is known."""
    some = listed(Price(key="birch plywood 3/4", amount=Fraction(92)))
    assert (92, ("poplar 4/4", "white oak 6/4")) == (some.cost, some.unpriced)
    assert None is listed().cost


def test_the_cost_column_comes_with_the_first_price() -> None:
    """Three columns without, five with; what has no price is named below."""
    without = next(block for block in shopping_list(listed()) if isinstance(block, Table))
    priced = list(shopping_list(listed(Price(key="birch plywood 3/4", amount=Fraction(92)))))
    assert 3 == len(without.columns)
    assert isinstance(priced[0], Table)
    assert 5 == len(priced[0].columns)
    assert ("The shop has no price for poplar 4/4, white oak 6/4.",) == next(b for b in priced if isinstance(b, Paragraph)).content
    assert [] == list(shopping_list(Materials()))
    assert () == listed(parts=()).rows
    assert CutList() == cut_list(model(), shop())
