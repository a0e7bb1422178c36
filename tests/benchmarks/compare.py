"""How fast two issues of a plan are held against each other, and how fast copies are stamped, in this process.

The two are low-bookcase and the same with a stile 1/4 in wider.
"""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

from compiler import build
from compiler.build.comparing import Printed, compared
from compiler.stamping import line_of, stamped
from tests.benchmarks._runs import shop

COPIES = 200


def run() -> dict[str, object]:
    """`pages_per_s` counts the pages of both PDFs; pictures for the report are in it. `stamp_ms` is one copy in memory."""
    with tempfile.TemporaryDirectory() as place:
        home = Path(place)
        plan = shop(home, "low-bookcase") / "low-bookcase"
        workshop = build.Workshop(store=home / "store", installed=False)
        _, before = build.make(plan, build.Wishes(), workshop)
        design = plan / "design.yaml"
        text = design.read_text(encoding="utf-8")
        assert "stile width: {inch: 1 3/4," in text
        design.write_text(text.replace("stile width: {inch: 1 3/4,", "stile width: {inch: 2,"), encoding="utf-8")
        _, after = build.make(plan, build.Wishes(), workshop)
    old, new = (Printed(name, each.contents[0], each.sheets[0].record) for name, each in (("old", before), ("new", after)))
    started = time.perf_counter()
    outcome = compared("low-bookcase", old, new)
    seconds = time.perf_counter() - started
    assert outcome.value is not None
    pages = before.sheets[0].pages + after.sheets[0].pages
    started = time.perf_counter()
    for number in range(COPIES):
        stamped(new.pdf or b"", line_of(number, "A. Buyer"))
    stamping = time.perf_counter() - started
    kinds = [change.kind for change in outcome.value.pages]
    return {"pages": pages, "compare_s": round(seconds, 2), "pages_per_s": round(pages / seconds, 1), "rows_changed": len(outcome.value.rows),
            "pages_changed": kinds.count("changed"), "stamp_ms": round(stamping / COPIES * 1000, 3)}
