"""CutList and HardwareList → Materials.

What a cutting layout takes (`StockToBuy`) is what is bought. Without one: boards by rough volume times the waste factor of `board_feet`, so that
both lists say the same; sheets by the area of the parts times `sheet waste`, in whole sheets of the first size sold; bars, mouldings and tapes by
their rough length.
Prices are the shop's: per piece (a sheet, a pack), per board foot, per metre or per foot.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from compiler.api import (
    ZERO,
    Area,
    CutList,
    CutRow,
    Edition,
    HardwareList,
    HardwareRow,
    Length,
    MaterialRow,
    Materials,
    Settings,
    Shop,
    Stock,
    StockCount,
    StockToBuy,
    SupplyRow,
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


@dataclass(frozen=True, slots=True)
class _Buying:
    """The shop that has the prices, and the edition in whose measures they are told."""

    shop: Shop
    edition: Edition


class MaterialsSettings(Settings):
    """How much more sheet to buy than the parts hold."""

    key = "materials"
    sheet_waste: Fraction = ask.ratio("1.15", "times the area of the sheet parts", least="1", most="3")


@task
def materials(cut_list: CutList, hardware: HardwareList, shop: Shop, edition: Edition, wood: BoardFeetSettings, settings: MaterialsSettings,
              layouts: StockToBuy | None = None) -> Materials:
    """What to buy: sheets, boards, the rest, hardware, supplies."""
    buy = _Buying(shop, edition)
    rows = []
    for stock in cut_list.stocks:
        counts = layouts.of(stock.key) if layouts else ()
        of = cut_list.from_stock(stock)
        rows.append(_laid_out(stock, of, counts, buy) if counts else _reckoned(stock, of, buy, wood.waste, settings.sheet_waste))
    rows += [_hardware(row, buy) for row in hardware.rows]
    rows += [_supply(row, buy) for row in hardware.supplies]
    return Materials(rows=tuple(rows), currency=shop.currency)


def _laid_out(stock: Stock, rows: tuple[CutRow, ...], counts: tuple[StockCount, ...], buy: _Buying) -> MaterialRow:
    """What the layouts take; the cost is theirs, to the cent, so that no number stands twice and differs."""
    number = sum(count.number for count in counts)
    volume = sum((count.volume for count in counts), Volume())
    run = sum((count.size[1] * count.number for count in counts), ZERO)
    area = sum((row.area for row in rows), Area())
    plain = MaterialRow(name=stock.name, kind=stock.kind, count=number)
    sold = {"sheet": replace(plain, area=area), "board": replace(plain, volume=volume)}.get(stock.kind, replace(plain, run=run))
    row = _priced(sold, stock.key, buy, _amounts(stock.kind, number, volume, run))
    costs = [count.cost for count in counts if count.cost is not None]
    return replace(row, cost=sum(costs, Fraction(0))) if row.price is not None and len(costs) == len(counts) else row


def _amounts(kind: str, count: int, volume: Volume, run: Length) -> dict[str, Fraction]:
    if kind == "board":
        return {"board foot": volume.board_feet, "cubic metre": volume.cubic_metres}
    if kind == "sheet":
        return {"piece": Fraction(count)}
    return {"metre": run.mm / 1000, "foot": run.inches / 12, **({"piece": Fraction(count)} if count else {})}


def _reckoned(stock: Stock, rows: tuple[CutRow, ...], buy: _Buying, waste: Fraction, sheet_waste: Fraction) -> MaterialRow:
    if stock.kind == "sheet":
        area = sum((row.area for row in rows), Area())
        count = 0
        if stock.sheets:
            across, along = stock.sheets[0]
            whole = area.square_inches * sheet_waste / (across * along).square_inches
            count = -(-whole.numerator // whole.denominator)
        return _priced(MaterialRow(name=stock.name, kind="sheet", count=count, area=area, reckoned=True), stock.key, buy, _amounts("sheet", count, Volume(), ZERO))
    if stock.kind == "board":
        volume = sum((row.rough_volume for row in rows), Volume()) * waste
        return _priced(MaterialRow(name=stock.name, kind="board", volume=volume), stock.key, buy, _amounts("board", 0, volume, ZERO))
    run = sum((row.rough_length * row.number for row in rows), ZERO)
    return _priced(MaterialRow(name=stock.name, kind=stock.kind, run=run), stock.key, buy, _amounts(stock.kind, 0, Volume(), run))


def _hardware(row: HardwareRow, buy: _Buying) -> MaterialRow:
    return _priced(MaterialRow(name=row.item.name, kind=row.item.kind, count=row.count), row.item.key, buy,
                   {"piece": Fraction(row.count), "pack": Fraction(row.packs)})


def _supply(row: SupplyRow, buy: _Buying) -> MaterialRow:
    key = row.item.key if row.item is not None else row.name
    amounts = {"piece": Fraction(1), row.unit: row.amount} if row.amount is not None else {"piece": Fraction(1)}
    return _priced(MaterialRow(name=row.name, kind=row.use, area=row.area * row.coats), key, buy, amounts)


def _priced(row: MaterialRow, key: str, buy: _Buying, amounts: dict[str, Fraction]) -> MaterialRow:
    """The row with the shop's price for it, when it is a price per something that the row is counted in, told in the edition's unit."""
    price = next((price for price in buy.shop.prices if price.key in (key, row.name) and price.per in amounts), None)
    if price is None:
        return row
    per, size = MEASURES.get((price.per, buy.edition.units), (price.per, Fraction(1)))
    return replace(row, per=per, price=price.amount / size, cost=price.amount * amounts[price.per], source=price.source)
