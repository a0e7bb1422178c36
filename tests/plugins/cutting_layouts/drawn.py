"""Jobs drawn by hypothesis: from one part to a shop's week, with everything that a plan may ask for."""

from __future__ import annotations

from hypothesis import strategies as st

from plugins.cutting_layouts.job import Bench, Job, Piece, Run, Stock, Trims, Way

SHEET = (3072, 1536)
"""4 by 8 feet in 1/32 in."""

_edges = st.sampled_from((Trims(), Trims(left=8, right=8, bottom=8, top=8), Trims(left=32, right=32, bottom=2, top=2)))
_benches = st.sampled_from((Bench(), Bench(safe=(192, 24), keep=(384, 192)), Bench(table=(1600, 800), safe=(192, 24), keep=(384, 192))))


@st.composite
def jobs(draw: st.DrawFn, most: int = 150) -> Job:
    """Up to `most` pieces, each of which fits somewhere; scarce offcuts besides endless sheets; runs of equal pieces."""
    trims, kerf = draw(_edges), draw(st.sampled_from((0, 3, 4)))
    stocks = [Stock(id="sheet", length=SHEET[0], width=SHEET[1], cost=8000, trims=trims)]
    if draw(st.booleans()):
        stocks.append(Stock(id="half", length=1536, width=1536, cost=4500, trims=trims))
    if draw(st.booleans()):
        stocks.append(Stock(id="rack", length=draw(st.integers(300, 2000)), width=draw(st.integers(200, 1200)), cost=draw(st.sampled_from((0, 300))), count=draw(st.integers(1, 2)), offcut=True))
    left = draw(st.integers(1, most))
    pieces = []
    while left > 0:
        count = draw(st.integers(1, min(left, 12)))
        left -= count
        length, width = draw(st.integers(40, 2400)), draw(st.integers(20, 1200))
        pieces.append(Piece(id=f"P{len(pieces)}", length=length, width=width, count=count, turnable=draw(st.booleans())))
    return Job(pieces=tuple(pieces), stocks=tuple(stocks), kerf=kerf, runs=tuple(_runs(draw, pieces)), bench=draw(_benches))


def _runs(draw: st.DrawFn, pieces: list[Piece]) -> list[Run]:
    found = []
    for piece in pieces:
        if piece.count >= 2 and not piece.turnable and draw(st.booleans()):
            many = draw(st.integers(2, min(piece.count, 4)))
            found.append(Run(name=f"run of {piece.id}", members=(piece.id,) * many, way=draw(st.sampled_from(tuple(Way)))))
    return found


@st.composite
def rods(draw: st.DrawFn) -> Job:
    """Lengths out of bars of one or two lengths; a mitred piece needs a little more than it is long."""
    stocks = [Stock(id="bar", length=3072, width=1, cost=1150, trims=Trims(left=16, right=16))]
    if draw(st.booleans()):
        stocks.append(Stock(id="long bar", length=4608, width=1, cost=1750, trims=Trims(left=16, right=16)))
    pieces = [
        Piece(id=f"P{at}", length=draw(st.integers(100, 2900)), width=1, count=draw(st.integers(1, 8)), allowance=draw(st.sampled_from((0, 24))))
        for at in range(draw(st.integers(1, 8)))
    ]
    return Job(pieces=tuple(pieces), stocks=tuple(stocks), kerf=4)
