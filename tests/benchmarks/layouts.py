"""How good and how quick cutting layouts are, on public instances and on the workshop's own jobs.

Times are processor seconds of one whole layout, second pass and cuts included. `invalid` counts layouts with a fault by the tests'
own verifier. Instances and the best values known: tests/data/nesting/README.md.
"""

from __future__ import annotations

import json
from statistics import median
from time import process_time

from plugins.cutting_layouts.layout import Layout
from plugins.cutting_layouts.solving import lay_out
from tests.benchmarks._greedy import greedy
from tests.plugins.cutting_layouts.instances import Instance, bins, lengths, workshop
from tests.plugins.cutting_layouts.oracle import least, small_jobs
from tests.plugins.cutting_layouts.verifier import faults


def run() -> dict[str, object]:
    """The figures by name; costs in the workshop jobs' own money."""
    flat = [_measured(one) for turned in (False, True) for one in bins(turned)]
    rows = [_measured(one) for one in lengths()]
    jobs = [_measured(one) for one in workshop()]
    seconds = [spent for _, _, spent in flat]
    small = small_jobs(200)
    return {
        "bins": sum(layout.sheet_count for _, layout, _ in flat),
        "best_known": sum(one.best for one, _, _ in flat),
        "bins_ratio": _ratio([layout.sheet_count for _, layout, _ in flat], [one.best for one, _, _ in flat]),
        "seconds_median": round(median(seconds), 3),
        "seconds_worst": round(max(seconds), 2),
        "lengths": sum(layout.sheet_count for _, layout, _ in rows),
        "lengths_best": sum(one.best for one, _, _ in rows),
        "lengths_ratio": _ratio([layout.sheet_count for _, layout, _ in rows], [one.best for one, _, _ in rows]),
        "lengths_seconds_worst": round(max(spent for _, _, spent in rows), 2),
        "cost": sum(layout.cost for _, layout, _ in jobs) / 100,
        "cost_best": sum(one.best for one, _, _ in jobs) / 100,
        "cost_ratio": _ratio([layout.cost for _, layout, _ in jobs], [one.best for one, _, _ in jobs]),
        "cost_ratio_worst": max(_ratio([layout.cost], [one.best]) for one, layout, _ in jobs),
        "cuts": sum(layout.cut_count for _, layout, _ in jobs),
        "cuts_best": sum(one.cuts for one, _, _ in jobs),
        "cuts_ratio": _ratio([layout.cut_count for _, layout, _ in jobs], [one.cuts for one, _, _ in jobs]),
        "workshop_seconds_worst": round(max(spent for _, _, spent in jobs), 2),
        "workshop_seconds_worst_to_40_parts": round(max(spent for one, _, spent in jobs if one.parts <= 40), 2),
        "invalid": sum(1 for one, layout, _ in (*flat, *rows, *jobs) if not layout.sheets or faults(one.job, layout)),
        "greedy_bins": sum(len(greedy(one.job)) for one, _, _ in flat),
        "greedy_cost": sum(stock.cost or 0 for one, _, _ in jobs for stock in greedy(one.job)) / 100,
        "exact_jobs": len(small),
        "exact_equal": sum(1 for job in small if lay_out(job).cost == least(job)),
    }


def _measured(instance: Instance) -> tuple[Instance, Layout, float]:
    start = process_time()
    layout = lay_out(instance.job, linear=instance.linear)
    return instance, layout, process_time() - start


def _ratio(ours: list[int], best: list[int]) -> float:
    return round(sum(ours) / sum(best), 4)


if __name__ == "__main__":
    print(json.dumps(run()))
