"""Rectangles into rectangles by edge-to-edge cuts: with bars.py the only module that calls the solver.

In: bins (stock less its trims), blocks (sizes with a count), the kerf and how much work to do. Out: patterns, one per bin
used, that respect kerf, grain and count. The work is bounded by queue sizes and numbers of iterations, never by a clock,
so the same question has the same answer on every machine; the time limit is a safety net, and who meets it is told.
Knows nothing of pieces, prices per sheet kept or cuts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

try:
    import packingsolver.rectangleguillotine as solver
except ImportError:  # no wheel for this system: the layouts say so and the rest of the plan is made
    solver = None

AVAILABLE = solver is not None

SOLVER = "packingsolver 0.1.1233"
STAGES = 3
"""Rounds of cuts: breakdown, rip, crosscut. A fourth only trims a strip to its piece."""

LONGEST = 60.0
"""Seconds after which one call gives up, whatever it has."""


class First(StrEnum):
    """Which way the saw travels in the first round."""

    ALONG = "Horizontal"
    ACROSS = "Vertical"
    EITHER = "Any"


class Aim(StrEnum):
    """What the solver minimises."""

    COST = "VariableSizedBinPacking"
    BINS = "BinPacking"
    CUTS = "BinPackingCuttingCost"


@dataclass(frozen=True, slots=True)
class Effort:
    """One of the solver's methods and the size of its search."""

    method: str
    queue: int
    rounds: int = 0


TREE_256 = Effort("tree", 256)
VALUES = Effort("values", 32, 8)


@dataclass(frozen=True, slots=True, order=True)
class Block:
    """A rectangle to place `count` times; `turnable` when it may lie either way; `value` is for `fill` alone."""

    length: int
    width: int
    turnable: bool = False
    count: int = 1
    value: float = 0.0


@dataclass(frozen=True, slots=True, order=True)
class Bin:
    """A rectangle to place blocks in, of which there are `count`."""

    length: int
    width: int
    cost: int = 1
    count: int = 1


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    """Block number `block`, with its low corner at (x, y), as long and wide as it lies."""

    block: int
    x: int
    y: int
    length: int
    width: int


@dataclass(frozen=True, slots=True, order=True)
class Pattern:
    """What lies in one bin of kind `bin`."""

    bin: int
    spots: tuple[Spot, ...]


@dataclass(slots=True)
class Tally:
    """The work done so far, and whether the time limit was ever met."""

    calls: int = 0
    timed_out: bool = False


def pack(
    bins: Sequence[Bin], blocks: Sequence[Block], kerf: int, *, aim: Aim, effort: Effort, first: First, tally: Tally
) -> tuple[Pattern, ...] | None:
    """All blocks in as cheap a choice of bins as the effort finds; None when it finds no place for some."""
    builder = _builder(bins, kerf, getattr(solver.Objective, aim.value), first)
    for block in blocks:
        builder.add_item_type(block.length, block.width, copies=block.count, oriented=not block.turnable)
    if aim is Aim.CUTS:
        _count_cuts(builder)
    solution = _solve(builder, effort, tally)
    return _patterns(solution) if solution.full() else None


def fill(
    bins: Sequence[Bin], blocks: Sequence[Block], kerf: int, *, queue: int, first: First, tally: Tally
) -> tuple[Pattern, ...]:
    """Blocks of as much value as the effort can place in the bins given."""
    builder = _builder(bins, kerf, solver.Objective.Knapsack, first)
    for block in blocks:
        builder.add_item_type(
            block.length, block.width, copies=block.count, oriented=not block.turnable, profit=block.value
        )
    return _patterns(_solve(builder, Effort("tree", queue), tally))


def _builder(bins: Sequence[Bin], kerf: int, objective: Any, first: First) -> Any:
    builder = solver.InstanceBuilder()
    builder.set_objective(objective)
    for one in bins:
        builder.add_bin_type(one.length, one.width, cost=one.cost, copies=one.count)
    builder.set_cut_thickness(kerf)
    builder.set_number_of_stages(STAGES)
    builder.set_cut_type(solver.CutType.NonExact)
    builder.set_first_stage_orientation(getattr(solver.CutOrientation, first.value))
    return builder


def _count_cuts(builder: Any) -> None:
    """A sheet costs more than all cuts together, a cut costs one."""
    builder.set_fixed_cutting_cost(0, 10000)
    for stage in range(1, STAGES + 2):
        builder.set_fixed_cutting_cost(stage, 1)


def _solve(builder: Any, effort: Effort, tally: Tally) -> Any:
    search = solver.OptimizeParameters()
    search.verbosity_level = 0
    search.messages_to_stdout = False
    search.optimization_mode = solver.OptimizationMode.NotAnytimeSequential
    search.time_limit = LONGEST
    match effort.method:
        case "tree":
            search.use_tree_search = True
            search.not_anytime_tree_search_queue_size = effort.queue
        case _:
            search.use_sequential_value_correction = True
            search.not_anytime_sequential_value_correction_number_of_iterations = effort.rounds
            search.sequential_value_correction_subproblem_tree_search_queue_size = effort.queue
    output = solver.optimize(builder.build(), search)
    tally.calls += 1
    tally.timed_out = tally.timed_out or output.time >= LONGEST
    return output.solution


def _patterns(solution: Any) -> tuple[Pattern, ...]:
    patterns: list[Pattern] = []
    for kind in range(solution.number_of_different_bins()):
        sawn = solution.bin(kind)
        spots = tuple(
            sorted(
                Spot(node.item_type_id, node.l, node.b, node.r - node.l, node.t - node.b)
                for node in sawn.nodes
                if node.item_type_id >= 0 and not node.children and node.d > 0
            )
        )
        patterns.extend([Pattern(sawn.bin_type_id, spots)] * sawn.copies)
    return tuple(patterns)
