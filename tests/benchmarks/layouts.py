"""How good and how quick cutting layouts are, on public instances and on the workshop's own jobs.

Times are processor seconds of one whole layout, second pass and cuts included. `invalid` counts layouts with a fault by the tests'
own verifier. Instances and the best values known: tests/data/nesting/README.md. One family alone: `layouts:lengths`.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from time import process_time

from plugins.cutting_layouts.layout import Layout
from plugins.cutting_layouts.solving import lay_out
from tests.benchmarks._greedy import greedy
from tests.plugins.cutting_layouts.instances import Instance, bins, lengths, workshop
from tests.plugins.cutting_layouts.oracle import least, small_jobs
from tests.plugins.cutting_layouts.verifier import faults

type Measured = tuple[Instance, Layout, float]


def run(*families: str) -> dict[str, object]:
    """The figures by name, of all families or of those named; costs in the workshop jobs' own money."""
    asked = families or tuple(FAMILIES)
    figures: dict[str, object] = {}
    invalid = 0
    for family in asked:
        found, wrong = FAMILIES[family]()
        figures.update(found)
        invalid += wrong
    return {**figures, "invalid": invalid}


def _bins() -> tuple[dict[str, object], int]:
    """The 100 public instances in two dimensions, oriented and turned."""
    flat = [_measured(one) for turned in (False, True) for one in bins(turned)]
    seconds = [spent for _, _, spent in flat]
    return {
        "bins": sum(layout.sheet_count for _, layout, _ in flat),
        "best_known": sum(one.best for one, _, _ in flat),
        "bins_ratio": _ratio([layout.sheet_count for _, layout, _ in flat], [one.best for one, _, _ in flat]),
        "seconds_median": round(median(seconds), 3),
        "seconds_worst": round(max(seconds), 2),
        "greedy_bins": sum(len(greedy(one.job)) for one, _, _ in flat),
    }, _invalid(flat)


def _lengths() -> tuple[dict[str, object], int]:
    """Public instances in one dimension."""
    rows = [_measured(one) for one in lengths()]
    return {
        "lengths": sum(layout.sheet_count for _, layout, _ in rows),
        "lengths_best": sum(one.best for one, _, _ in rows),
        "lengths_ratio": _ratio([layout.sheet_count for _, layout, _ in rows], [one.best for one, _, _ in rows]),
        "lengths_seconds_worst": round(max(spent for _, _, spent in rows), 2),
    }, _invalid(rows)


def _workshop() -> tuple[dict[str, object], int]:
    """The eight jobs of a workshop."""
    jobs = [_measured(one) for one in workshop()]
    return {
        "cost": sum(layout.cost for _, layout, _ in jobs) / 100,
        "cost_best": sum(one.best for one, _, _ in jobs) / 100,
        "cost_ratio": _ratio([layout.cost for _, layout, _ in jobs], [one.best for one, _, _ in jobs]),
        "cost_ratio_worst": max(_ratio([layout.cost], [one.best]) for one, layout, _ in jobs),
        "cuts": sum(layout.cut_count for _, layout, _ in jobs),
        "cuts_best": sum(one.cuts for one, _, _ in jobs),
        "cuts_ratio": _ratio([layout.cut_count for _, layout, _ in jobs], [one.cuts for one, _, _ in jobs]),
        "workshop_seconds_worst": round(max(spent for _, _, spent in jobs), 2),
        "workshop_seconds_worst_to_40_parts": round(max(spent for one, _, spent in jobs if one.parts <= 40), 2),
        "greedy_cost": sum(stock.cost or 0 for one, _, _ in jobs for stock in greedy(one.job)) / 100,
    }, _invalid(jobs)


def _exact() -> tuple[dict[str, object], int]:
    """Random jobs of up to eight parts, beside the exact optimum."""
    small = small_jobs(200)
    return {"exact_jobs": len(small), "exact_equal": sum(1 for job in small if lay_out(job).cost == least(job))}, 0


FAMILIES = {"bins": _bins, "lengths": _lengths, "workshop": _workshop, "exact": _exact}


def _measured(instance: Instance) -> Measured:
    start = process_time()
    layout = lay_out(instance.job, linear=instance.linear)
    return instance, layout, process_time() - start


def _invalid(measured: Sequence[Measured]) -> int:
    return sum(1 for one, layout, _ in measured if not layout.sheets or faults(one.job, layout))


def _ratio(ours: Sequence[int], best: Sequence[int]) -> float:
    return round(sum(ours) / sum(best), 4)
