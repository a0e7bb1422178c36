"""A back list of 60 different plans, made from the demo plans by varied sizes: cold on one worker and on two, unchanged, another theme, one edit.

Every step is a whole process. KERFOLIO_PLANS in the environment makes the list shorter; the figures then say so.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
from pathlib import Path

from tests.benchmarks._runs import ROOT, Run, dress, shop, timed

PLANS = int(os.environ.get("KERFOLIO_PLANS", "60"))
VARIED = (("low-bookcase", "width"), ("tool-wall-cabinet", "height"), ("trestle-bench", "length"), ("knock-down-shelf", "length"))
"""A demo plan, and the size that is varied from one plan to the next."""
MORE = {"inch": "1/4", "mm": "6"}
SCRIPT = """
import sys
from pathlib import Path
from compiler import build
from compiler.backlist import Order, plans_in, run
home = Path(sys.argv[1])
workshop = build.Workshop(store=Path(sys.argv[2]), installed=False)
results = run(plans_in(home / "projects"), Order(workshop=workshop), workers=int(sys.argv[3]))
failed = [result for result in results if not result.ok]
made = sum(result.made for result in results)
(home / "made.txt").write_text(str(made))
sys.exit("; ".join(result.told[:300] for result in failed) or 0)
"""


def run() -> dict[str, object]:
    """The keys of the mark: `plans`, `unchanged_s`, `theme_change_ratio`, `one_plan_edit_s`, `two_workers_ratio`, `peak_mb`; what they come from behind."""
    with tempfile.TemporaryDirectory() as place:
        home = Path(place)
        projects = shop(home, *(name for name, _ in VARIED))
        _generate(projects)
        one = _publish(home, "one", 1)
        first = _pdfs(projects)
        for path in projects.glob("*/out"):
            shutil.rmtree(path)
        two = _publish(home, "two", 2)
        assert first == _pdfs(projects), "two workers made other bytes than one"
        _publish(home, "two", 2)
        same = _publish(home, "two", 2)
        assert first == _pdfs(projects)
        notes = projects / "trestle-bench" / "notes.md"
        notes.write_text(notes.read_text(encoding="utf-8").replace("the", "the very", 1), encoding="utf-8")
        edit = _publish(home, "two", 2)
        edited = int((home / "made.txt").read_text())
        dress(projects, "#7c1d1d")
        theme = _publish(home, "two", 2)
        return {
            "plans": PLANS, "unchanged_s": round(same.wall, 2), "theme_change_ratio": round(theme.cpu / two.cpu, 3), "one_plan_edit_s": round(edit.wall, 2),
            "two_workers_ratio": round(two.wall / one.wall, 3), "peak_mb": round(max(one.peak_mb, two.peak_mb)), "made_by_edit": edited,
            "cold_one_s": round(one.wall, 1), "cold_two_s": round(two.wall, 1), "theme_s": round(theme.wall, 1), "cold_cpu": round(two.cpu, 1),
            "unchanged_cpu": round(same.cpu, 2), "edit_cpu": round(edit.cpu, 2),
        }


def _publish(home: Path, store: str, workers: int) -> Run:
    return timed(SCRIPT, home, home / f"store-{store}", workers, home=home)


def _pdfs(projects: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(projects.glob("*/out/*.pdf"))}


def _generate(projects: Path) -> None:
    """The demo plans, and variations of them until there are enough."""
    for at in range(PLANS - len(VARIED)):
        name, size = VARIED[at % len(VARIED)]
        step = at // len(VARIED) + 1
        folder = projects / f"{name}-{step}"
        shutil.copytree(ROOT / "projects" / name, folder, ignore=shutil.ignore_patterns("out", "issues", "letters.yaml"))
        design = folder / "design.yaml"
        text = re.sub(r"(?m)^number:.*$", f"number: {1000 + at}", design.read_text(encoding="utf-8"))
        written = re.search(rf"(?m)^  {size}: (.+?)(?: *#.*)?$", text)
        assert written is not None, f"{name} has no size {size} on a line of its own"
        text = text[: written.start(1)] + _longer(written[1], step) + text[written.end(1) :]
        design.write_text(text, encoding="utf-8")
    settings = projects / "shop.yaml"
    trusted = ", ".join(sorted(path.parent.name for path in projects.glob("*/plugins")))
    settings.write_text(re.sub(r"(?m)^trusted:.*$", f"trusted: [{trusted}]", settings.read_text(encoding="utf-8")), encoding="utf-8")


def _longer(written: str, step: int) -> str:
    """The size, written for both units, with so many steps added to each side."""
    sides = re.findall(r"(inch|mm): ([^,}]+)", written)
    assert {unit for unit, _ in sides} == set(MORE), f"{written} is not written for both units"
    return "{" + ", ".join(f"{unit}: {value} + {step} * {MORE[unit]}" for unit, value in sides) + "}"
