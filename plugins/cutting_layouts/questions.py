"""The plan's parts and the shop's stock become jobs, one a stock.

In: the cut list, the shop (kerf, trim, prices, offcuts, table), the stock's own sizes. Out: `Question`s: a job in small whole
units with the unit's length, and what its pieces and sizes are called. Sizes of parts go up to the next unit and sizes of stock down, so
that what fits on paper fits on the saw. Nothing is solved here.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.api import (
    ZERO,
    CutList,
    CutRow,
    Length,
    Model,
    Price,
    Settings,
    Shop,
    Stock,
    Volume,
    ask,
    inch,
    mm,
)

from .job import Bench, Job, Piece, Run, Trims, Way
from .job import Stock as Size
from .layout import Problem

Kind = Literal["sheet", "board", "length"]


class LayoutSettings(Settings):
    """How the shop saws. Common practice, no source, where nothing else is said."""

    key = "cutting layouts"
    end_trim: Length = ask.size("1", "cut off each end of a board", metric="25", least="0", most="6")
    edge_trim: Length = ask.size("1/8", "taken off each edge of a rough board", metric="3", least="0", most="1")
    joint_allowance: Length = ask.size("1/16", "planed off each edge of a strip for gluing", metric="2", least="0", most="1/2")
    keep_longer: Length = ask.size("12", "an offcut is kept from this length", metric="300", least="0")
    keep_wider: Length = ask.size("6", "an offcut is kept from this width", metric="150", least="0")
    safe_longer: Length = ask.size("6", "a piece shorter than this is not safe at the saw", metric="150", least="0")
    safe_wider: Length = ask.size("3/4", "a piece narrower than this is not safe at the saw", metric="20", least="0")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One stock's job. `unit` is the length of one; `priced` tells whether costs are money (in cents) or only sizes.

    `parts` are (piece, row's name, a part's full name); `marks` (offcut, where it lies); `racked` (offcut, its number in the shop's list).
    `thick` is the thickness bought, for boards, and `glued` the pieces that are strips of a panel. `problems` are those found while asking.
    """

    stock: Stock
    kind: Kind
    job: Job
    unit: Length
    priced: bool
    parts: tuple[tuple[str, str, str], ...] = ()
    marks: tuple[tuple[str, str], ...] = ()
    racked: tuple[tuple[str, int], ...] = ()
    thick: Length = ZERO
    glued: tuple[str, ...] = ()
    net: Volume = Volume()
    problems: tuple[Problem, ...] = ()


def questions(cut_list: CutList, model: Model, shop: Shop, settings: LayoutSettings) -> tuple[Question, ...]:
    """One for every stock that has parts, in the order of the cut list."""
    inches = model.edition.units == "inch"
    unit = inch("1/64") if inches else mm("0.1")
    asked = []
    for stock in cut_list.stocks:
        rows = cut_list.from_stock(stock)
        if not rows:
            continue
        if stock.kind == "sheet":
            asked.append(_sheets(stock, rows, model, shop, settings, unit))
        elif stock.kind == "board":
            asked.append(_boards(stock, rows, shop, settings, unit))
        else:
            asked.append(_lengths(stock, rows, model, shop, settings, unit))
    return tuple(asked)


def in_units(length: Length, unit: Length) -> int:
    """So many units hold the length."""
    exact: Fraction = length / unit
    return -(-exact.numerator // exact.denominator)


def _bench(shop: Shop, settings: LayoutSettings, unit: Length) -> Bench:
    def pair(longer: Length, wider: Length) -> tuple[int, int]:
        return (in_units(longer, unit), in_units(wider, unit))

    return Bench(
        table=None if shop.table_limit is None else pair(*shop.table_limit),
        safe=pair(settings.safe_longer, settings.safe_wider),
        keep=pair(settings.keep_longer, settings.keep_wider),
    )


def _sheets(stock: Stock, rows: tuple[CutRow, ...], model: Model, shop: Shop, settings: LayoutSettings, unit: Length) -> Question:
    trim = in_units(shop.trim, unit)
    price = _price(stock, shop, "piece")
    sizes = []
    for number, (across, along) in enumerate(stock.sheets, 1):
        length, width = (along / unit).__floor__(), (across / unit).__floor__()
        first = stock.sheets[0]
        share = (along / first[1]) * (across / first[0])
        cost = _cents(price.amount * share) if price else _by_area(length, width)
        sizes.append(Size(id=f"sheet {number}", length=length, width=width, cost=cost, trims=Trims(left=trim, right=trim, bottom=trim, top=trim)))
    racked = [(at, one) for at, one in enumerate(shop.offcuts) if one.stock == stock.key]
    offcuts = [(f"offcut {number}", at, one) for number, (at, one) in enumerate(racked, 1)]
    problems = _unpriced(price, rows, shop, "by the sheet, so the smaller sheet")
    for name, _, offcut in offcuts:
        length, width = (offcut.length / unit).__floor__(), (offcut.width / unit).__floor__()
        if min(length, width) <= 2 * trim:
            says = "{stock} is smaller than what is trimmed off a sheet, and is not used"
            problems.append(Problem(code="all-trim", says=says, stock=name, warning=True, hint="Leave it out of the list."))
        # A piece on the rack is paid for.
        count = 0 if min(length, width) <= 2 * trim else offcut.count
        sizes.append(Size(id=name, length=length, width=width, cost=0, count=count, offcut=True))
    pieces = tuple(
        Piece(id=row.letter or row.name, length=in_units(row.length, unit), width=in_units(row.width, unit), count=row.number, turnable=row.grain == "any")
        for row in rows
    )
    job = Job(pieces=pieces, stocks=tuple(sizes), kerf=in_units(shop.kerf, unit), runs=_runs(rows, model), bench=_bench(shop, settings, unit))
    return Question(
        stock=stock, kind="sheet", job=job, unit=unit, priced=price is not None, parts=_names(rows), problems=tuple(problems),
        marks=tuple((name, offcut.mark) for name, _, offcut in offcuts), racked=tuple((name, at) for name, at, _ in offcuts),
    )  # fmt: skip


def _names(rows: tuple[CutRow, ...]) -> tuple[tuple[str, str, str], ...]:
    return tuple((row.letter or row.name, row.name, row.parts[0] if row.parts else "") for row in rows)


def _runs(rows: tuple[CutRow, ...], model: Model) -> tuple[Run, ...]:
    """The runs of figure whose parts all come from this stock, side by side along the grain, or across for upright grain."""
    letters = {name: row.letter or row.name for row in rows for name in row.parts}
    found = []
    for number, names in enumerate(model.runs_of_figure, 1):
        if names and all(name in letters for name in names):
            grain = model.part(names[0]).grain
            found.append(Run(name=f"run {number}", members=tuple(letters[name] for name in names), way=Way.ACROSS if grain == "up" else Way.ALONG))
    return tuple(found)


def _boards(stock: Stock, rows: tuple[CutRow, ...], shop: Shop, settings: LayoutSettings, unit: Length) -> Question:
    """Boards of the widest width and every whole length sold; wide parts as strips with their joint allowance.

    Dressed boards have their edges.
    """
    price = _price(stock, shop, "board foot") or _price(stock, shop, "cubic metre")
    rough = stock.rough or stock.thickness
    widest = stock.widest or max(row.rough_width for row in rows)
    edge = ZERO if stock.dressed else settings.edge_trim
    trims = Trims(left=in_units(settings.end_trim, unit), right=in_units(settings.end_trim, unit), bottom=in_units(edge, unit), top=in_units(edge, unit))
    sizes = []
    for number, length in enumerate(_board_lengths(stock, rows), 1):
        volume = length * widest * rough
        amount = volume.board_feet if price and price.per == "board foot" else volume.cubic_metres
        cost = _cents(price.amount * amount) if price else int(volume.cubic_inches * 10)
        sizes.append(Size(id=f"board {number}", length=(length / unit).__floor__(), width=(widest / unit).__floor__(), cost=cost, trims=trims))
    pieces, problems = [], _unpriced(price, rows, shop, "by the board foot or the cubic metre, so the smaller board")
    room = widest - edge * 2
    for row in rows:
        width, strips = row.rough_width, row.strips
        if strips > 1 and room > settings.joint_allowance * 2:
            width = row.rough_width / strips + settings.joint_allowance * 2
            # A shop that trims or planes more than most may need more strips than the plan says.
            while width > room:
                strips += 1
                width = row.rough_width / strips + settings.joint_allowance * 2
            if strips > row.strips:
                says = "{0} strips are too few to glue {piece} up from boards that are at most {2} wide: it is laid out as {1}"
                hint, counts = f"Write glue-up: {strips} strips.", (row.strips, strips)
                name, most = row.letter or row.name, in_units(widest, unit)
                problems.append(Problem(code="few-strips", says=says, piece=name, counts=counts, sizes=(most,), hint=hint, warning=True))
        elif strips == 1 and row.width <= room:
            width = min(width, room)
        long, wide = in_units(row.rough_length, unit), in_units(width, unit)
        pieces.append(Piece(id=row.letter or row.name, length=long, width=wide, count=row.number * strips))
    job = Job(pieces=tuple(pieces), stocks=tuple(sizes), kerf=in_units(shop.kerf, unit), bench=_bench(shop, settings, unit))
    net = sum((row.volume for row in rows), Volume())
    return Question(
        stock=stock, kind="board", job=job, unit=unit, priced=price is not None, parts=_names(rows), thick=rough, net=net, problems=tuple(problems),
        glued=tuple(row.letter or row.name for row in rows if row.strips > 1),
    )  # fmt: skip


def _board_lengths(stock: Stock, rows: tuple[CutRow, ...]) -> tuple[Length, ...]:
    """The lengths sold: those listed, or every foot (300 mm) of the range; 8 ft (2400 mm) where the library says nothing."""
    if len(stock.lengths) == 2:
        low, high = stock.lengths
        step = inch(12) if (low / inch(12)).denominator == 1 else mm(300)
        return tuple(low + step * number for number in range(int((high - low) / step) + 1))
    return stock.lengths or (inch(96),)


def _lengths(stock: Stock, rows: tuple[CutRow, ...], model: Model, shop: Shop, settings: LayoutSettings, unit: Length) -> Question:
    """Rods, mouldings and tape: one dimension, a unit wide.

    Each mitred end costs the slant of its thickness besides (common practice, no source).
    """
    price = next((price for per in ("foot", "metre", "piece") if (price := _price(stock, shop, per))), None)
    trims = Trims(left=in_units(settings.end_trim, unit), right=in_units(settings.end_trim, unit))
    sizes = []
    for number, length in enumerate(stock.lengths or (inch(96),), 1):
        run = {"foot": length.inches / 12, "metre": length.mm / 1000}
        cost = _cents(price.amount * run.get(price.per, Fraction(1))) if price else int(length.inches * 10)
        sizes.append(Size(id=f"length {number}", length=(length / unit).__floor__(), width=1, cost=cost, trims=trims))
    pieces = []
    for row in rows:
        slant = in_units(row.thickness * _mitres(row, model), unit)
        pieces.append(Piece(id=row.letter or row.name, length=in_units(row.length, unit), width=1, count=row.number, allowance=slant))
    job = Job(pieces=tuple(pieces), stocks=tuple(sizes), kerf=in_units(shop.kerf, unit), bench=_bench(shop, settings, unit))
    problems = tuple(_unpriced(price, rows, shop, "by the foot, the metre or the piece, so the shorter length"))
    return Question(stock=stock, kind="length", job=job, unit=unit, priced=price is not None, parts=_names(rows), problems=problems)


def _mitres(row: CutRow, model: Model) -> int:
    """The most mitred ends that a part of this row has."""
    return max((sum(1 for feature in model.part(name).features if feature.called == "mitre") for name in row.parts), default=0)


def _price(stock: Stock, shop: Shop, per: str) -> Price | None:
    return next((price for price in shop.prices if price.per == per and price.key in (stock.key, stock.name)), None)


def _unpriced(price: Price | None, rows: tuple[CutRow, ...], shop: Shop, measure: str) -> list[Problem]:
    """A shop that has prices has none for this: told at its first part."""
    if price or not shop.prices:
        return []
    says = f"there is no price for it {measure} counts as the cheaper one"
    return [Problem(code="no-price", says=says, piece=rows[0].letter or rows[0].name, hint="Give it one under prices in shop.yaml.", warning=True)]


def _cents(amount: Fraction) -> int:
    return max(round(amount * 100), 1)


def _by_area(length: int, width: int) -> int:
    """A stand-in for money where the shop has no price: larger costs more."""
    return max(length * width // 4096, 1)
