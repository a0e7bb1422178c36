"""Published answers, and kerf arithmetic that can be done on paper. The source stands beside each."""

from __future__ import annotations

import pytest

from plugins.cutting_layouts.job import Job, Piece, Stock
from plugins.cutting_layouts.packing import Bin, Block, First, Tally, fill
from plugins.cutting_layouts.solving import lay_out
from tests.plugins.cutting_layouts.instances import bins, lengths
from tests.plugins.cutting_layouts.verifier import faults

# Encyclopedia article on the cutting-stock problem: 5600 mm rolls, 13 widths; proven optimal with two open solvers besides.
ROLLS = ((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20), (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20))

# Instance cgcut1 of the OR-Library (Christofides and Whitlock 1977): length, width, value, most copies; sheet 15 x 10.
CGCUT1 = ((8, 4, 66, 2), (3, 7, 35, 1), (8, 2, 24, 3), (3, 4, 17, 5), (3, 3, 11, 2), (3, 2, 8, 2), (2, 1, 2, 1))

EIGHTH = 8
"""1/8 in in 1/64 in, the kerf of an ordinary blade."""


def _rods(length: int, wanted: tuple[tuple[int, int], ...], kerf: int) -> Job:
    pieces = tuple(Piece(id=f"{size}", length=size, width=1, count=count) for size, count in wanted)
    return Job(pieces=pieces, stocks=(Stock(id="stock", length=length, width=1, cost=1),), kerf=kerf)


def _inches(*wanted: tuple[float, int]) -> tuple[tuple[int, int], ...]:
    return tuple((int(size * 64), count) for size, count in wanted)


def test_seventy_three_rolls() -> None:
    """73 rolls, 407,160 mm of paper, 1,640 mm or 0.401 % of it wasted; and it is told to be the best possible."""
    layout = lay_out(_rods(5600, ROLLS, 0), linear=True)
    wasted = sum(sheet.copies * sheet.length for sheet in layout.sheets) - 407_160
    assert (73, 1640, True) == (layout.sheet_count, wasted, layout.best_possible)
    assert 407_160 == sum(size * count for size, count in ROLLS)
    assert 0.401 == round(wasted / (73 * 5600) * 100, 3)


def test_the_bound_of_material_is_not_the_answer() -> None:
    """An example of an open modelling language: 453 rolls (proven with an exact solver), though the material would fill 416; the bound says so."""
    layout = lay_out(_rods(100, ((14, 211), (31, 395), (36, 610), (45, 97)), 0), linear=True)
    assert (453, 453, True) == (layout.sheet_count, layout.bound.sheets, layout.best_possible)


@pytest.mark.parametrize(
    ("wanted", "without", "with_kerf"),
    [
        (((12.0, 8),), 1, 2),  # arithmetic
        (((24.0, 4),), 1, 2),  # arithmetic
        (((16.0, 12),), 2, 3),  # proven with an exact solver
        (((48.0, 3), (32.0, 5), (16.0, 8)), 5, 6),  # proven with an exact solver
        (((28.25, 4), (42.0, 2), (18.0, 2), (23.75, 6), (31.5, 3)), None, 5),  # proven with an exact solver
        (((47.9375, 2), (31.875, 3), (15.75, 6)), None, 3),  # parts drawn a kerf short fit: proven with an exact solver
    ],
)
def test_boards_of_eight_feet(wanted: tuple[tuple[float, int], ...], without: int | None, with_kerf: int) -> None:
    """How many 96 in boards, without a kerf and with 1/8 in."""
    if without is not None:
        assert without == lay_out(_rods(96 * 64, _inches(*wanted), 0), linear=True).sheet_count
    assert with_kerf == lay_out(_rods(96 * 64, _inches(*wanted), EIGHTH), linear=True).sheet_count


@pytest.mark.parametrize("linear", [True, False])
def test_twelve_strips_of_four_inches_do_not_come_out_of_four_feet(linear: bool) -> None:
    """Twelve need 49 3/8 in; eleven need 45 1/4 in and leave 2 5/8 in after the last kerf (arithmetic)."""
    assert 2 == lay_out(_rods(48 * 64, _inches((4.0, 12)), EIGHTH), linear=linear).sheet_count
    eleven = lay_out(_rods(48 * 64, _inches((4.0, 11)), EIGHTH), linear=linear)
    assert 1 == eleven.sheet_count
    assert 2.625 * 64 == eleven.sheets[0].offcuts[0].box.length
    widest = (48 - 11 / 8) / 12
    assert 1 == lay_out(_rods(48 * 64, ((int(widest * 64), 12),), EIGHTH), linear=linear).sheet_count
    assert 2 == lay_out(_rods(48 * 64, ((int(widest * 64) + 1, 12),), EIGHTH), linear=linear).sheet_count


def test_twelve_metric_strips() -> None:
    """Twelve of 100 mm with a kerf of 3.2 mm need 1235.2 mm; 1220 mm give eleven (arithmetic)."""
    assert 2 == lay_out(_rods(12200, ((1000, 12),), 32), linear=True).sheet_count
    assert 1 == lay_out(_rods(12200, ((1000, 11),), 32), linear=True).sheet_count


@pytest.mark.parametrize(
    ("size", "without", "with_kerf"),
    [((12, 24), 16, 10), ((16, 24), 12, 8), ((14, 20), 15, 14), ((12, 12), 32, 21), ((15.75, 31.75), 9, 9), ((11.25, 36), 10, 10)],
)  # fmt: skip
def test_how_many_come_out_of_a_sheet(size: tuple[float, float], without: int, with_kerf: int) -> None:
    """Of 48 x 96 in, by an exact dynamic programme over guillotine cuts: so many and not one more."""
    for kerf, most in ((0, without), (EIGHTH, with_kerf)):
        assert 1 == _sheets(size, most, kerf).sheet_count
        assert 2 == _sheets(size, most + 1, kerf).sheet_count


def _sheets(size: tuple[float, float], count: int, kerf: int):  # type: ignore[no-untyped-def]
    piece = Piece(id="A", length=int(size[1] * 64), width=int(size[0] * 64), count=count, turnable=True)
    job = Job(pieces=(piece,), stocks=(Stock(id="sheet", length=96 * 64, width=48 * 64, cost=1),), kerf=kerf)
    layout = lay_out(job)
    assert () == faults(job, layout)
    return layout


def test_fixed_grain_gives_eight() -> None:
    """11 1/4 x 36 in out of 48 x 96 in: four by two where the grain may not turn (arithmetic)."""
    for count, sheets in ((8, 1), (9, 2)):
        piece = Piece(id="A", length=36 * 64, width=11 * 64 + 16, count=count)
        job = Job(pieces=(piece,), stocks=(Stock(id="sheet", length=96 * 64, width=48 * 64, cost=1),), kerf=EIGHTH)
        assert sheets == lay_out(job).sheet_count


@pytest.mark.parametrize(("turnable", "best"), [(False, 244), (True, 260)])
def test_the_most_valuable_filling(turnable: bool, best: int) -> None:
    """cgcut1: 244 published; turned 260, all 150 units of area, by exact enumeration."""
    blocks = [Block(length, width, turnable and length != width, count, value) for length, width, value, count in CGCUT1]
    found = [fill([Bin(15, 10)], blocks, 0, queue=512, first=first, tally=Tally()) for first in (First.ALONG, First.ACROSS)]
    assert best == max(sum(blocks[spot.block].value for pattern in patterns for spot in pattern.spots) for patterns in found)


@pytest.mark.parametrize("turned", [False, True])
def test_public_bins(turned: bool) -> None:
    """The twenty instances of 20 pieces (Berkey and Wang 1987, Martello and Vigo 1998): no more bins than the best known."""
    small = [one for one in bins(turned) if one.parts == 20]
    assert 20 == len(small)
    assert [] == [one.name for one in small if lay_out(one.job).sheet_count > one.best]


def test_public_lengths() -> None:
    """Falkenauer's uniform class (1996): twelve instances of 120 pieces at their proven optimum."""
    uniform = [one for one in lengths() if one.name.startswith("u120")]
    assert 12 == len(uniform)
    assert [] == [one.name for one in uniform if lay_out(one.job, linear=True).sheet_count > one.best]
