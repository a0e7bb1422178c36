"""Bounds that hold: by the property that defines them, and against published optima."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plugins.cutting_layouts.bound import bound
from plugins.cutting_layouts.columns import Columns, proven
from plugins.cutting_layouts.knapsack import best_lengths, most_value
from plugins.cutting_layouts.packing import Bin, Block
from plugins.cutting_layouts.slices import sliced
from plugins.cutting_layouts.weights import grown
from tests.plugins.cutting_layouts.instances import bins, lengths


@st.composite
def _sets_that_fit(draw: st.DrawFn) -> tuple[int, list[int]]:
    whole = draw(st.integers(10, 400))
    sizes, left = [], whole
    while left > 0 and len(sizes) < 12 and draw(st.booleans()):
        size = draw(st.integers(1, left))
        sizes.append(size)
        left -= size
    return whole, sizes


@given(_sets_that_fit(), st.sampled_from(["same", "u", "U", "phi"]), st.integers(1, 200))
@settings(max_examples=600)
def test_what_fits_still_fits_when_it_is_grown(fitting: tuple[int, list[int]], name: str, parameter: int) -> None:
    """A dual feasible function: sizes that add up to no more than the whole give no more than 1 (its definition)."""
    whole, sizes = fitting
    parameter = min(parameter, 5) if name == "u" else parameter
    assert sum((grown(size, whole, (name, parameter)) for size in sizes), Fraction(0)) <= 1


@pytest.mark.parametrize("turned", [False, True])
def test_no_bound_is_above_the_best_known(turned: bool) -> None:
    """The 100 public instances (Berkey and Wang 1987, Martello and Vigo 1998); the best known meets the bound in seven of ten at least."""
    met = 0
    for one in bins(turned):
        stock = one.job.stocks[0]
        blocks = [Block(piece.length, piece.width, piece.turnable, piece.count) for piece in one.job.pieces]
        least = bound([Bin(stock.length, stock.width)], [None], blocks, 0)
        assert least.sheets <= one.best, one.name
        met += least.sheets == one.best
    assert met >= 70


def test_slices_and_rows_are_never_above_the_best_known_and_prove_more() -> None:
    """Oriented public instances, those of 20 and two of 40 parts: never above the best known, and three more of them proven."""
    proven_more = []
    for one in bins(False):
        name = one.name.split()[0]
        if "_n20_" not in name and name not in ("c07_n40_7", "c08_n40_7"):
            continue
        stock = one.job.stocks[0]
        kinds, blocks = [Bin(stock.length, stock.width)], [Block(piece.length, piece.width, False, piece.count) for piece in one.job.pieces]
        known = bound(kinds, [None], blocks, 0)
        least, _ = sliced(kinds, [None], blocks, 0, known)
        assert known.sheets <= least.sheets <= one.best, one.name
        if known.sheets < least.sheets == one.best:
            proven_more.append(name)
    assert ["c03_n20_7", "c05_n20_7", "c07_n40_7"] == proven_more


def test_two_at_most_side_by_side() -> None:
    """Boards 7 wide: of strips 3 wide two lie side by side, so six of 40 need a reach of 120; the area, 720, would go into 103. A board of 60
    holds one after another, one of 100 two: of both kinds one is the least (arithmetic)."""
    kinds, counts, blocks = [Bin(60, 7, 60), Bin(100, 7, 100)], [None, None], [Block(40, 3, False, 6)]
    known = bound(kinds, counts, blocks, 0)
    least, rules = sliced(kinds, counts, blocks, 0, known)
    assert 2 * rules.needs[1].sizes[0] == rules.needs[1].total == Fraction(6, 5) * rules.needs[1].sizes[1]
    assert (120, 160) == (known.cost, least.cost)


def test_a_row_has_to_go_into_the_boards_whole() -> None:
    """Lengths of 90, 90, 68, 68, wider than half a board: 120 holds one, 195 and 225 hold two (90 + 68 + 68 is 226), 160 holds 90 + 68."""
    kinds, counts = [Bin(size, 10, size) for size in (120, 160, 195, 225)], [None] * 4
    blocks = [Block(90, 6, False, 2), Block(68, 6, False, 2)]
    _, rules = sliced(kinds, counts, blocks, 0, bound(kinds, counts, blocks, 0))
    assert [False, False, True] == [rules.allow(choice) for choice in ((1, 0, 1, 0), (1, 0, 0, 1), (0, 2, 0, 0))]


def test_each_choice_of_boards_is_held_against_its_own_widths() -> None:
    """Two parts 5 wide and 40 long, and four 2 wide, of boards 4 and 6 wide and 50 long: two wide boards at least; beside a part 5 wide nothing
    fits, so the narrow parts need room elsewhere: two abreast in a narrow board, three in a wide one (arithmetic)."""
    kinds, counts, blocks = [Bin(50, 4, 30), Bin(50, 6, 50)], [None, None], [Block(40, 5, False, 2), Block(40, 2, False, 4)]
    _, rules = sliced(kinds, counts, blocks, 0, bound(kinds, counts, blocks, 0))
    assert [False, False, True, True] == [rules.allow(choice) for choice in ((6, 0), (3, 1), (2, 2), (0, 4))]
    assert not rules.allow((0, 3)) and not rules.allow((1, 2))


def test_the_relaxation_of_lengths_meets_the_proven_optimum() -> None:
    """Rounded up it is the optimum itself: the 73 rolls, and four of Falkenauer's uniform class (1996)."""
    for one in lengths():
        if one.name not in ("rolls73", "u120_00", "u120_04", "u120_08", "u120_10"):
            continue
        kinds = [Bin(one.job.stocks[0].length, 1)]
        blocks = [Block(piece.length, 1, False, piece.count) for piece in one.job.pieces]
        answer = Columns(kinds, blocks, 0).relaxed([None], [block.count for block in blocks])
        assert answer is not None
        assert one.best - 1 < proven(answer, kinds, [None], blocks, 0, [block.count for block in blocks]) <= one.best, one.name


def test_scarce_stock_is_paid_for_in_the_bound() -> None:
    """One bar of 10 at 1 and endless bars of 10 at 4 for six lengths of 5: 1 + 2 x 4 = 9 (arithmetic)."""
    kinds, counts = [Bin(10, 1, 1), Bin(10, 1, 4)], [1, None]
    blocks = [Block(5, 1, False, 6)]
    answer = Columns(kinds, blocks, 0).relaxed(counts, [6])
    assert answer is not None
    assert 9 == round(float(proven(answer, kinds, counts, blocks, 0, [6])), 4)


@given(st.lists(st.tuples(st.integers(1, 30), st.integers(1, 4), st.integers(1, 50)), min_size=1, max_size=4), st.integers(0, 3))
@settings(max_examples=150)
def test_the_knapsack_is_exact(wanted: list[tuple[int, int, int]], kerf: int) -> None:
    """Against trying every choice."""
    blocks = [Block(size, 1, False, count, float(value)) for size, count, value in wanted]
    counts = best_lengths(60, blocks, kerf)
    assert sum((block.length + kerf) * number for block, number in zip(blocks, counts, strict=True)) <= 60 + kerf
    value = sum(block.value * number for block, number in zip(blocks, counts, strict=True))
    assert _best(blocks, 60 + kerf, kerf) == value == most_value(60, blocks, [int(block.value) for block in blocks], kerf)


def _best(blocks: list[Block], room: int, kerf: int) -> float:
    if not blocks:
        return 0
    first, rest = blocks[0], blocks[1:]
    most = min(first.count, room // (first.length + kerf))
    return max(first.value * number + _best(rest, room - number * (first.length + kerf), kerf) for number in range(most + 1))
