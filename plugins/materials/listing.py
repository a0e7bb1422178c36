"""CutList and HardwareList → Materials.

Boards: rough volume times the waste factor of `board_feet`, so that both lists say the same. Sheets: area of the parts times
`sheet waste`, in whole sheets of the first size sold, unless a cutting layout made `SheetsToBuy`. Bars, mouldings and tapes: rough length.
Prices are the shop's: per piece (a sheet, a pack), per board foot, per metre or per foot.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from compiler.api import (
    ZERO,
    Area,
    CutList,
    CutRow,
    HardwareList,
    HardwareRow,
    MaterialRow,
    Materials,
    Settings,
    SheetsToBuy,
    Shop,
    Stock,
    SupplyRow,
    Volume,
    ask,
    task,
)
from plugins.board_feet import BoardFeetSettings


class MaterialsSettings(Settings):
    """How much more sheet to buy than the parts hold."""

    key = "materials"
    sheet_waste: Fraction = ask.ratio("1.15", "times the area of the sheet parts", least="1", most="3")


@task
def materials(cut_list: CutList, hardware: HardwareList, shop: Shop, wood: BoardFeetSettings, settings: MaterialsSettings,
              sheets: SheetsToBuy | None = None) -> Materials:
    """What to buy: sheets, boards, the rest, hardware, supplies."""
    laid_out = sheets or SheetsToBuy()
    rows = [_stock(stock, cut_list.from_stock(stock), shop, wood.waste, settings.sheet_waste, laid_out.number(stock.key))
            for stock in cut_list.stocks]
    rows += [_hardware(row, shop) for row in hardware.rows]
    rows += [_supply(row, shop) for row in hardware.supplies]
    return Materials(rows=tuple(rows), currency=shop.currency)


def _stock(stock: Stock, rows: tuple[CutRow, ...], shop: Shop, waste: Fraction, sheet_waste: Fraction, laid_out: int | None) -> MaterialRow:
    if stock.kind == "sheet":
        area = sum((row.area for row in rows), Area())
        count = laid_out or 0
        if laid_out is None and stock.sheets:
            across, along = stock.sheets[0]
            whole = area.square_inches * sheet_waste / (across * along).square_inches
            count = -(-whole.numerator // whole.denominator)
        return _priced(MaterialRow(name=stock.name, kind="sheet", count=count, area=area, reckoned=laid_out is None), stock.key, shop, {"piece": Fraction(count)})
    if stock.kind == "board":
        volume = sum((row.rough_volume for row in rows), Volume()) * waste
        return _priced(MaterialRow(name=stock.name, kind="board", volume=volume), stock.key, shop,
                       {"board foot": volume.board_feet, "cubic metre": volume.cubic_metres})
    run = sum((row.rough_length * row.number for row in rows), ZERO)
    return _priced(MaterialRow(name=stock.name, kind=stock.kind, run=run), stock.key, shop,
                   {"metre": run.mm / 1000, "foot": run.inches / 12})


def _hardware(row: HardwareRow, shop: Shop) -> MaterialRow:
    return _priced(MaterialRow(name=row.item.name, kind=row.item.kind, count=row.count), row.item.key, shop,
                   {"piece": Fraction(row.count), "pack": Fraction(row.packs)})


def _supply(row: SupplyRow, shop: Shop) -> MaterialRow:
    key = row.item.key if row.item is not None else row.name
    amounts = {"piece": Fraction(1), row.unit: row.amount} if row.amount is not None else {"piece": Fraction(1)}
    return _priced(MaterialRow(name=row.name, kind=row.use, area=row.area * row.coats), key, shop, amounts)


def _priced(row: MaterialRow, key: str, shop: Shop, amounts: dict[str, Fraction]) -> MaterialRow:
    """The row with the shop's price for it, when it is a price per something that the row is counted in."""
    price = next((price for price in shop.prices if price.key in (key, row.name) and price.per in amounts), None)
    if price is None:
        return row
    return replace(row, per=price.per, price=price.amount, cost=price.amount * amounts[price.per], source=price.source)
