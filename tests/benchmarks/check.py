"""`check` of low-bookcase as a whole process, in seconds: after an edit of its notes, after an edit of its design, and when nothing changed.

`*_cpu` is processor time, which other work on the machine changes less.
"""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path

from tests.benchmarks._runs import CHECK, Run, shop, timed

TIMES = 5


def run() -> dict[str, object]:
    """`first_s` with an empty store, `check_s` when nothing changed, `notes_s` and `design_s` after an edit; medians."""
    with tempfile.TemporaryDirectory() as place:
        home = Path(place)
        plan = shop(home, "low-bookcase") / "low-bookcase"
        first = timed(CHECK, home, "low-bookcase", home=home)
        same = [timed(CHECK, home, "low-bookcase", home=home) for _ in range(TIMES)]
        notes = [_edited(plan / "notes.md", f"\nMore {number}.\n", home) for number in range(TIMES)]
        design = [_edited(plan / "design.yaml", f"# more {number}\n", home) for number in range(TIMES)]
        return {"first_s": round(first.wall, 3), **_medians("check", same), **_medians("notes", notes), **_medians("design", design)}


def _edited(path: Path, more: str, home: Path) -> Run:
    path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    return timed(CHECK, home, "low-bookcase", home=home)


def _medians(name: str, runs: list[Run]) -> dict[str, float]:
    return {f"{name}_s": round(statistics.median(each.wall for each in runs), 3), f"{name}_cpu": round(statistics.median(each.cpu for each in runs), 3)}
