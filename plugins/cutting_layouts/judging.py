"""What makes a job impossible or doubtful, before anything is laid out.

In: a job. Out: problems, all of them at once; those that are no warnings leave the job without a layout.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .job import Job, Piece, Stock
from .layout import Problem

MANY = 1000
"""Pieces from which a layout is likelier a slip of the pen than a plan."""


def judge(job: Job) -> tuple[Problem, ...]:
    """Everything that is wrong with the job."""
    if not any(piece.count for piece in job.pieces):
        return ()
    if not job.stocks:
        hint = "Give it its sheets or its lengths in the library."
        return (Problem(code="no-stock", says="no size is given that it is sold in, so nothing is laid out", hint=hint),)
    stocks = [found for stock in job.stocks for found in _of_stock(stock)]
    usable = [stock for stock in job.stocks if useful(stock)]
    if not usable:
        return (*stocks, Problem(code="no-stock", says="there is nothing to lay the parts out on"))
    pieces = [found for piece in job.pieces for found in _of_piece(piece, usable, job.kerf)]
    return (*stocks, *pieces, *_of_all(job, usable))


def useful(stock: Stock) -> bool:
    """Whether anything can be sawn from it."""
    return stock.usable_length > 0 and stock.usable_width > 0 and (stock.count is None or stock.count > 0)


def fits(piece: Piece, stock: Stock, *, turned: bool = False) -> bool:
    """Whether the stock holds the piece; `turned` asks as if its grain might turn."""
    length, width = piece.length + piece.allowance, piece.width
    ways = [(length, width), (width, length)] if piece.turnable or turned else [(length, width)]
    return any(long <= stock.usable_length and wide <= stock.usable_width for long, wide in ways)


def _of_stock(stock: Stock) -> Iterator[Problem]:
    if stock.count is not None and stock.count < 0:
        hint = "Give how many there are."
        yield Problem(code="negative-count", says="there can't be {0} of {stock}", stock=stock.id, counts=(stock.count,), hint=hint)
    if stock.usable_length <= 0 or stock.usable_width <= 0:
        yield Problem(
            code="all-trim", says="nothing is left of {stock}, {0} × {1}, once its edges are trimmed", stock=stock.id, warning=True,
            sizes=(stock.width, stock.length), hint="Leave it out.",
        )  # fmt: skip


def _of_piece(piece: Piece, stocks: Sequence[Stock], kerf: int) -> Iterator[Problem]:
    if piece.count < 0:
        yield Problem(code="negative-count", says="{0} of {piece} can't be sawn", piece=piece.id, counts=(piece.count,))
    if piece.count <= 0:
        return
    if piece.length <= 0 or piece.width <= 0:
        yield Problem(code="no-size", says="{piece} has no size", piece=piece.id)
    elif not any(fits(piece, stock) for stock in stocks):
        yield _too_big(piece, stocks)
    elif (least := min(piece.length, piece.width if piece.width > 1 else piece.length)) <= kerf:
        yield Problem(
            code="kerf", says="the kerf, {0}, is as wide as {piece} or wider ({1}): sawing it makes more dust than part", piece=piece.id,
            sizes=(kerf, least), hint="Look at the kerf in shop.yaml, or cut the part with a knife.", warning=True,
        )  # fmt: skip


def _too_big(piece: Piece, stocks: Sequence[Stock]) -> Problem:
    """By how much, on the stock that comes nearest."""
    nearest = min(stocks, key=lambda stock: (sum(_over(piece, stock)), -stock.area, stock.id))
    long, wide = _over(piece, nearest)
    over = " and ".join(f"{{{at}}} too {word}" for at, (size, word) in enumerate(((long, "long"), (wide, "wide"))) if size)
    if any(fits(piece, stock, turned=True) for stock in stocks):
        hint = "With its grain turned it would fit."
    else:
        hint = "Make it of two pieces, make it smaller, or choose a larger size of stock."
    where = "{2} × {3} with its edges trimmed" if nearest.width > 1 else "{3} with its ends trimmed"
    return Problem(
        code="too-big", says=f"{{piece}} is {over} for {{stock}}, {where}", piece=piece.id, stock=nearest.id, hint=hint,
        sizes=(long, wide, nearest.usable_width, nearest.usable_length),
    )  # fmt: skip


def _over(piece: Piece, stock: Stock) -> tuple[int, int]:
    """How much too long and too wide it is; of a piece that may turn, the better way."""
    length, width = piece.length + piece.allowance, piece.width
    ways = [(length, width), (width, length)] if piece.turnable else [(length, width)]
    return min(
        ((max(0, long - stock.usable_length), max(0, wide - stock.usable_width)) for long, wide in ways),
        key=lambda over: (sum(over), over),
    )


def _of_all(job: Job, stocks: Sequence[Stock]) -> Iterator[Problem]:
    most = max(job.pieces, key=lambda piece: (piece.count, piece.id))
    number = sum(piece.count for piece in job.pieces)
    if number > MANY:
        yield Problem(
            code="many", says="{0} pieces, {1} of them {piece}, are more than a plan needs: they are laid out quickly rather than well", warning=True,
            piece=most.id, counts=(number, most.count), hint="Look for a count with a figure too many.",
        )  # fmt: skip
    if all(stock.count is not None for stock in stocks):
        need = sum(piece.count * (piece.length + job.kerf) * (piece.width + job.kerf) for piece in job.pieces)
        have = sum((stock.count or 0) * (stock.usable_length + job.kerf) * (stock.usable_width + job.kerf) for stock in stocks)
        if need > have:
            yield Problem(code="no-room", says="the parts have more area than the stock there is", hint="Add a size, or more of one.")
