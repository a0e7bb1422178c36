"""Against the exact least cost of small jobs."""

from __future__ import annotations

from plugins.cutting_layouts.solving import lay_out
from tests.plugins.cutting_layouts.oracle import least, small_jobs


def test_small_jobs_are_laid_out_at_the_least_cost() -> None:
    """Equal to an enumeration of its own in at least 98 of 100 jobs, never below it; no bound is above it, and best possible is the best."""
    results = [(lay_out(job), least(job)) for job in small_jobs(200)]
    assert all(exact is not None and layout.cost >= exact >= layout.bound.cost for layout, exact in results)
    assert all(layout.cost == exact for layout, exact in results if layout.best_possible)
    assert sum(1 for layout, exact in results if layout.cost == exact) >= 0.98 * len(results)
