"""CutList and HardwareList → Materials.

What a cutting layout takes (`StockToBuy`) is what is bought. Without one: boards by rough volume times the waste factor of `board_feet`, so that
both lists say the same; sheets by the area of the parts times `sheet waste`, in whole sheets of the first size sold; bars, mouldings and tapes by
their rough length.
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
    Edition,
    HardwareList,
    MaterialRow,
    Materials,
    Settings,
    Shop,
    Stock,
    StockCount,
    StockToBuy,
    Volume,
    ask,
    inch,
    task,
)
from plugins.board_feet import BoardFeetSettings

MEASURES = {
    ("board foot", "mm"): ("cubic metre", Volume(Fraction(144)).cubic_metres),
    ("cubic metre", "inch"): ("board foot", 1 / Volume(Fraction(144)).cubic_metres),
    ("foot", "mm"): ("metre", inch(12).mm / 1000),
    ("metre", "inch"): ("foot", 1000 / inch(12).mm),
}
"""A price in the other system's measure: the edition's measure, and how many of it are one of the shop's."""


class MaterialsSettings(Settings):
    """How much more sheet to buy than the parts hold."""

    key = "materials"
    sheet_waste: Fraction = ask.ratio("1.15", "times the area of the sheet parts", least="1", most="3")


@task
def materials(cut_list: CutList, hardware: HardwareList, shop: Shop, edition: Edition, wood: BoardFeetSettings, settings: MaterialsSettings,
              layouts: StockToBuy | None = None) -> Materials:
    """What to buy: sheets, boards, the rest, hardware, supplies."""
    rows = []
    for stock in cut_list.stocks:
        counts, of = layouts.of(stock.key) if layouts else (), cut_list.from_stock(stock)
        row = _laid_out(stock, of, counts) if counts else _reckoned(stock, of, wood.waste, settings.sheet_waste)
        priced = _priced(row, stock.key, _amounts(row), shop, edition)
        costs = [count.cost for count in counts if count.cost is not None]
        # What a layout costs is its own, to the cent, so that no number stands twice and differs.
        known = bool(counts) and priced.price is not None and len(costs) == len(counts)
        rows.append(replace(priced, cost=sum(costs, Fraction(0))) if known else priced)
    for item in hardware.rows:
        row = MaterialRow(name=item.item.name, kind=item.item.kind, count=item.count)
        rows.append(_priced(row, item.item.key, {"piece": Fraction(item.count), "pack": Fraction(item.packs)}, shop, edition))
    for supply in hardware.supplies:
        row = MaterialRow(name=supply.name, kind=supply.use, area=supply.area * supply.coats)
        amounts = {"piece": Fraction(1), **({supply.unit: supply.amount} if supply.amount is not None else {})}
        rows.append(_priced(row, supply.item.key if supply.item is not None else supply.name, amounts, shop, edition))
    return Materials(rows=tuple(rows), currency=shop.currency)


def _laid_out(stock: Stock, rows: tuple[CutRow, ...], counts: tuple[StockCount, ...]) -> MaterialRow:
    """What the layouts take."""
    row = MaterialRow(name=stock.name, kind=stock.kind, count=sum(count.number for count in counts))
    if stock.kind == "sheet":
        return replace(row, area=sum((each.area for each in rows), Area()))
    if stock.kind == "board":
        return replace(row, volume=sum((count.volume for count in counts), Volume()))
    return replace(row, run=sum((count.size[1] * count.number for count in counts), ZERO))


def _reckoned(stock: Stock, rows: tuple[CutRow, ...], waste: Fraction, sheet_waste: Fraction) -> MaterialRow:
    """What the parts take with some waste: whole sheets, boards by volume, the rest by its run."""
    if stock.kind == "sheet":
        area = sum((row.area for row in rows), Area())
        count = 0
        if stock.sheets:
            across, along = stock.sheets[0]
            whole = area.square_inches * sheet_waste / (across * along).square_inches
            count = -(-whole.numerator // whole.denominator)
        return MaterialRow(name=stock.name, kind="sheet", count=count, area=area, reckoned=True)
    if stock.kind == "board":
        return MaterialRow(name=stock.name, kind="board", volume=sum((row.rough_volume for row in rows), Volume()) * waste)
    return MaterialRow(name=stock.name, kind=stock.kind, run=sum((row.rough_length * row.number for row in rows), ZERO))


def _amounts(row: MaterialRow) -> dict[str, Fraction]:
    """How much of a stock there is in each measure in which it may have a price."""
    if row.kind == "board":
        return {"board foot": row.volume.board_feet, "cubic metre": row.volume.cubic_metres}
    if row.kind == "sheet":
        return {"piece": Fraction(row.count)}
    return {"metre": row.run.mm / 1000, "foot": row.run.inches / 12, **({"piece": Fraction(row.count)} if row.count else {})}


def _priced(row: MaterialRow, key: str, amounts: dict[str, Fraction], shop: Shop, edition: Edition) -> MaterialRow:
    """The row with the shop's price for it, when it is a price per something that the row is counted in, told in the edition's unit."""
    price = next((price for price in shop.prices if price.key in (key, row.name) and price.per in amounts), None)
    if price is None:
        return row
    per, size = MEASURES.get((price.per, edition.units), (price.per, Fraction(1)))
    return replace(row, per=per, price=price.amount / size, cost=price.amount * amounts[price.per], source=price.source)
