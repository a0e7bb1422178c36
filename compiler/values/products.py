"""Products that several plugins read: each is made by one bundled plugin and stands here because it is shared.

In: made by tasks from the Model and the shop's settings. Out: read by sections, checks, exports, other tasks.
Quantities are exact; rounding up to packs is done once, in the list that is taken to the shop.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import ZERO, Area, Length, Volume
from compiler.values.library import Item, Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """One row of the cut list: all equal parts, with one letter.

    `length` runs along the grain, `width` across it; both hold tongues and tenons. `rough_length` and
    `rough_width` add the shop's allowance; `rough_thickness` is the thickness it is bought in. For sheets the
    rough sizes are the finished ones: a sheet is cut to size with the saw. `strips` > 1: glued up.
    `hands`: how many are left, right, front, back ones. `joined` tells whether a joint made it longer or wider;
    `work` names what is cut into it or grows from it, in the trade's words.
    """

    letter: str
    name: str
    assembly: tuple[str, ...]
    component: str
    stock: Stock
    number: int
    hands: tuple[tuple[str, int], ...] = ()
    length: Length
    width: Length
    thickness: Length
    rough_length: Length
    rough_width: Length
    rough_thickness: Length
    grain: Literal["along", "any"] = "along"
    strips: int = 1
    band: tuple[str, ...] = ()
    joined: bool = False
    work: tuple[str, ...] = ()
    note: str = ""
    parts: tuple[str, ...] = ()

    @property
    def species(self) -> str:
        """The wood's name; empty for sheets and for stock of no named wood."""
        return self.stock.species.name if self.stock.species is not None and self.stock.kind != "sheet" else ""

    @property
    def area(self) -> Area:
        """Face area of all its pieces, finished."""
        return self.length * self.width * self.number

    @property
    def volume(self) -> Volume:
        """Volume of all its pieces, finished, before cuts."""
        return self.length * self.width * self.thickness * self.number

    @property
    def rough_volume(self) -> Volume:
        """Volume of all its pieces as they are sawn from rough boards."""
        return self.rough_length * self.rough_width * self.rough_thickness * self.number


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """All rows, in the order of their letters."""

    rows: tuple[CutRow, ...] = ()

    @property
    def species(self) -> tuple[str, ...]:
        """The woods of its boards, in the order of the alphabet. Sheets are not wood by the foot."""
        return tuple(sorted({row.species for row in self.rows if row.stock.kind == "board" and row.species}))

    def of(self, species: str) -> tuple[CutRow, ...]:
        """The rows cut from boards of one wood."""
        return tuple(row for row in self.rows if row.stock.kind == "board" and row.species == species)

    @property
    def stocks(self) -> tuple[Stock, ...]:
        """Every stock it uses, sheets first, then boards and the rest, by name, the thinner first."""
        order = ("sheet", "board", "rod", "moulding", "tape")
        found = {row.stock.key: row.stock for row in self.rows}

        def rank(stock: Stock) -> tuple[object, ...]:
            words = " ".join(word for word in stock.name.split() if not word[0].isdigit())
            return order.index(stock.kind), words, stock.rough or stock.thickness, stock.name

        return tuple(sorted(found.values(), key=rank))

    def from_stock(self, stock: Stock) -> tuple[CutRow, ...]:
        """The rows cut from one stock."""
        return tuple(row for row in self.rows if row.stock.key == stock.key)

    @property
    def assemblies(self) -> tuple[str, ...]:
        """The groups its rows belong to, in the order of the letters; "" for parts that stand alone."""
        return tuple(dict.fromkeys(row.assembly[0] if row.assembly else "" for row in self.rows))

    def in_assembly(self, name: str) -> tuple[CutRow, ...]:
        """The rows of one group."""
        return tuple(row for row in self.rows if (row.assembly[0] if row.assembly else "") == name)

    def row(self, name: str) -> CutRow:
        """The row by its name, its letter, or the full name of one of its parts. Raises KeyError."""
        for row in self.rows:
            if name in (row.name, row.letter) or name in row.parts:
                return row
        raise KeyError(name)

    @property
    def pieces(self) -> int:
        """How many pieces there are to cut."""
        return sum(row.number for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCount:
    """How many sheets, boards or lengths of one size a stock's parts are cut from, offcuts of the shop not counted.

    `size` is width and length, the width of a length is 0; `volume` is the wood in all of them, for boards; `cost` is that of all of them, None when
    the shop has no price.
    """

    stock: str
    size: tuple[Length, Length]
    number: int
    volume: Volume = Volume()
    cost: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StockToBuy:
    """What a cutting layout found: the lists that say how much to buy go by it, where there is one."""

    rows: tuple[StockCount, ...] = ()

    def of(self, stock: str) -> tuple[StockCount, ...]:
        """The rows of a stock, by its key; none when no layout holds it."""
        return tuple(row for row in self.rows if row.stock == stock)


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareRow:
    """One item. `count` is needed, `packs` are bought; `used` says for what, with how many each."""

    item: Item
    count: int
    used: tuple[tuple[str, int], ...] = ()

    @property
    def packs(self) -> int:
        """How many packs hold them: rounded up."""
        return -(-self.count // max(self.item.pack, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyRow:
    """Something bought by what it covers: glue, a finish. `area` is covered once, `coats` times.

    `cover` is the area that one of `unit` (`gallon`, `litre`) covers once, None when the library does not say.
    """

    name: str
    item: Item | None
    use: Literal["glue", "finish"]
    area: Area
    coats: int = 1
    cover: Area | None = None
    unit: str = ""
    more: Fraction = Fraction(1)
    parts: tuple[str, ...] = ()

    @property
    def amount(self) -> Fraction | None:
        """How many of `unit` it takes, with the allowance; None when the library gives no cover."""
        if not self.cover:
            return None
        return self.area.square_inches * self.coats * self.more / self.cover.square_inches

    @property
    def buy(self) -> str:
        """What to buy, rounded up: finish to a quart or a quarter litre, glue to 4 fluid ounces or 50 ml (common practice,
        no source). A US gallon has 4 quarts and 128 fluid ounces. "see the label" when the library gives no cover.
        """
        if self.amount is None:
            return "see the label"
        gallons = self.unit == "gallon"
        if self.use == "glue":
            small, step, word = (128, 4, "fl oz") if gallons else (1000, 50, "ml")
            return f"{-(-self.amount * small // step) * step} {word}"
        quarters = -(-self.amount * 4 // 1)
        if gallons:
            return f"{quarters} qt" if quarters % 4 else f"{quarters // 4} gal"
        return f"{float(Fraction(quarters, 4)):g} l"


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareList:
    """Everything that is bought ready made: fasteners and fittings by piece, glue and finish by what they cover."""

    rows: tuple[HardwareRow, ...] = ()
    supplies: tuple[SupplyRow, ...] = ()

    def count(self, key: str) -> int:
        """How many of an item are needed, by its key or its name; 0 when none."""
        return sum(row.count for row in self.rows if key in (row.item.key, row.item.name))


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialRow:
    """One stock or item to buy. Of `area`, `volume`, `run` and `count` the one it is sold by is given.

    `price` is what one unit (`per`) costs and `cost` the whole; None when the shop has no price for it.
    `reckoned`: the number of sheets is from area and waste, not from a layout.
    """

    name: str
    kind: str
    count: int = 0
    area: Area = Area()
    volume: Volume = Volume()
    run: Length = ZERO
    per: str = ""
    price: Fraction | None = None
    cost: Fraction | None = None
    source: str = ""
    reckoned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials:
    """What to buy, stock first, then hardware and supplies."""

    rows: tuple[MaterialRow, ...] = ()
    currency: str = "$"

    @property
    def cost(self) -> Fraction | None:
        """What all rows with a price cost; None when no row has one."""
        known = [row.cost for row in self.rows if row.cost is not None]
        return sum(known, Fraction(0)) if known else None

    @property
    def unpriced(self) -> tuple[str, ...]:
        """The names of what has no price."""
        return tuple(row.name for row in self.rows if row.cost is None)
