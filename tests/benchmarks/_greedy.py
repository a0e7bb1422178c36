"""A plain greedy packer to measure against: largest piece first, into the free rectangle that it fills best.

In: a job. Out: how many of each stock. Each piece stands in a corner of a free rectangle, whose rest is cut in two along its shorter
spare side (guillotine, shorter axis split; a textbook method). It judges no cuts and no offcuts.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from plugins.cutting_layouts.job import Job, Piece, Stock


@dataclass
class _Sheet:
    stock: Stock
    free: list[tuple[int, int]] = field(default_factory=list)


def greedy(job: Job) -> list[Stock]:
    """The stock used, a kerf counted with every piece and every sheet."""
    pieces = sorted(
        (piece for piece in job.pieces for _ in range(piece.count)), key=lambda piece: (-piece.length * piece.width, piece.id)
    )
    sheets: list[_Sheet] = []
    for piece in pieces:
        if not _place(piece, sheets, job.kerf):
            stock = _next_stock(piece, sheets, job)
            sheets.append(_Sheet(stock, [(stock.usable_length + job.kerf, stock.usable_width + job.kerf)]))
            _place(piece, sheets, job.kerf)
    return [sheet.stock for sheet in sheets]


def _next_stock(piece: Piece, sheets: list[_Sheet], job: Job) -> Stock:
    """The cheapest for its area that takes the piece and is left."""
    left = [
        stock
        for stock in job.stocks
        if any(long <= stock.usable_length and wide <= stock.usable_width for long, wide in _ways(piece, 0))
        and (stock.count is None or sum(1 for sheet in sheets if sheet.stock is stock) < stock.count)
    ]
    return min(left, key=lambda stock: ((stock.cost or 0) / stock.area, stock.id))


def _place(piece: Piece, sheets: list[_Sheet], kerf: int) -> bool:
    best: tuple[int, int, int, tuple[int, int]] | None = None
    for number, sheet in enumerate(sheets):
        for at, (long, wide) in enumerate(sheet.free):
            for way in _ways(piece, kerf):
                if way[0] <= long and way[1] <= wide:
                    spare = min(long - way[0], wide - way[1])
                    best = min(best, (spare, number, at, way)) if best else (spare, number, at, way)
    if best is None:
        return False
    _, number, at, (length, width) = best
    long, wide = sheets[number].free.pop(at)
    over, above = long - length, wide - width
    parts = [(over, width), (long, above)] if over < above else [(over, wide), (length, above)]
    sheets[number].free.extend(part for part in parts if min(part) > 0)
    return True


def _ways(piece: Piece, kerf: int) -> list[tuple[int, int]]:
    length, width = piece.length + piece.allowance + kerf, piece.width + kerf
    return [(length, width), (width, length)] if piece.turnable else [(length, width)]
