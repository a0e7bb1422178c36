"""Lengths out of bars by the solver: the only other module that calls it, here in one dimension.

In: bins and blocks of which only the lengths matter, the kerf. Out: a plan, one pattern a bar. A kerf more on every block and on every
bar makes the sum come out, since n pieces need n - 1 kerfs. The work is bounded by queue sizes and rounds, as in two dimensions.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

try:
    import packingsolver.onedimensional as solver
except ImportError:  # no wheel for this system: the layouts say so
    solver = None

from .layout import Bound
from .packing import LONGEST, Block, Effort, Pattern, Spot, Tally
from .task import Plan, Task, done

_COLUMNS = Effort("columns", 32)
_EFFORTS = ((Effort("values", 32, 8), False), (Effort("values", 128, 32), False), (_COLUMNS, False), (_COLUMNS, True))
"""Methods, and whether the blocks are told the other way round: the relaxation of columns is then rounded otherwise."""


def bars(task: Task, bound: Bound, tally: Tally) -> Plan | None:
    """The cheapest plan that a few methods find, the quick ones first; None when there are too few bars."""
    best: Plan | None = None
    for effort, backwards in _EFFORTS:
        plan = _plan(task, effort, backwards, tally)
        if plan is not None and (best is None or task.rank(plan) < task.rank(best)):
            best = plan
        if best is not None and done(task, best, bound):
            break
    return best


def _plan(task: Task, effort: Effort, backwards: bool, tally: Tally) -> Plan | None:
    order = tuple(reversed(range(len(task.blocks)))) if backwards else tuple(range(len(task.blocks)))
    builder = solver.InstanceBuilder()
    several = len(task.bins) > 1 or task.counts[0] is not None
    builder.set_objective(solver.Objective.VariableSizedBinPacking if several else solver.Objective.BinPacking)
    for one in task.bins:
        builder.add_bin_type(one.length + task.kerf, cost=one.cost, copies=one.count)
    for number in order:
        builder.add_item_type(task.blocks[number].length + task.kerf, copies=task.blocks[number].count)
    search = solver.OptimizeParameters()
    search.verbosity_level = 0
    search.messages_to_stdout = False
    search.optimization_mode = solver.OptimizationMode.NotAnytimeSequential
    search.time_limit = LONGEST
    if effort.method == "values":
        search.use_sequential_value_correction = True
        search.not_anytime_sequential_value_correction_number_of_iterations = effort.rounds
        search.sequential_value_correction_subproblem_tree_search_queue_size = effort.queue
    else:
        search.use_column_generation = True
        search.column_generation_subproblem_tree_search_queue_size = effort.queue
    output = solver.optimize(builder.build(), search)
    tally.calls += 1
    tally.timed_out = tally.timed_out or output.time >= LONGEST
    return _patterns(output.solution, task.blocks, order) if output.solution.full() else None


def _patterns(solution: Any, blocks: Sequence[Block], order: Sequence[int]) -> tuple[Pattern, ...]:
    patterns: list[Pattern] = []
    for kind in range(solution.number_of_different_bins()):
        bar = solution.bin(kind)
        laid = [(order[item.item_type_id], item.start) for item in bar.items]
        spots = tuple(sorted(Spot(block, start, 0, blocks[block].length, blocks[block].width) for block, start in laid))
        patterns.extend([Pattern(bar.bin_type_id, spots)] * bar.copies)
    return tuple(sorted(patterns))


