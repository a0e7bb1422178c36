"""Solids and views of a case piece of 120 parts and some 370 workings, on one core.

Times are of this process's clock, so other work on the machine shows in them; `*_cpu` are of its processor time. The
25 views look from all sides, above and below, every one oblique. `ratio_to_cad` compares lines alone with a general
CAD kernel's exact hidden-line removal of the same parts, where that is installed (in a process of its own).
"""

from __future__ import annotations

import json
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from math import cos, radians, sin
from pathlib import Path

from compiler.draw import views
from compiler.solid import building, collisions, contacts
from tests.draw.oracle import Oracle, judge
from tests.solid.sideboard import sideboard

HOME = Path(__file__).resolve().parents[2]
COMPARED = 5


def _cameras() -> list[views.Camera]:
    """25 oblique directions: every 14.4 degrees round, at four heights, the true isometric corner among them."""
    cameras = [views.camera("isometric"), views.camera("front left top")]
    heights = (0.6, 0.35, 0.9, -0.4)
    for number in range(23):
        angle = radians(7 + 14.4 * number)
        cameras.append(views.look_from((cos(angle), sin(angle), heights[number % 4])))
    return cameras


def _timed(work: Callable[[], object]) -> tuple[float, float]:
    wall, cpu = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - wall, time.process_time() - cpu


def _built() -> None:
    building.body.cache_clear()
    building.build(parts=sideboard(), quality="coarse")


def run() -> dict[str, object]:
    """The figures of the piece."""
    parts = sideboard()
    solids_s, solids_cpu = min(_timed(_built) for _ in range(3))
    coarse, fine = building.build(parts, quality="coarse"), building.build(parts, quality="fine")
    if fine.problems:
        raise AssertionError(f"the piece has problems: {fine.problems[0].says}")
    collisions_s, _ = min(_timed(lambda: collisions(fine)) for _ in range(3))
    # Contacts keep what they found of each solid: only the first time counts.
    contacts_s, _ = _timed(lambda: contacts(coarse))
    cameras = _cameras()
    lines = [_timed(lambda: views.look(coarse, camera, fills=False)) for camera in cameras]  # noqa: B023
    both = [_timed(lambda: views.look(coarse, camera)) for camera in cameras]  # noqa: B023
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    verdicts = [judge(views.look(coarse, camera), Oracle(parts, camera), samples=1500, scans=15)
                for camera in (*cameras[:2], views.camera("front"))]
    samples = sum(verdict.line_samples for verdict in verdicts)
    crossings = sum(verdict.crossings for verdict in verdicts)
    ours = statistics.median(wall for wall, _ in lines[:COMPARED]) * 1000
    theirs = _cad_ms(cameras[:COMPARED])
    return {
        "parts": len(parts),
        "workings": sum(len(part.features) for part in parts),
        "solids_s": round(solids_s, 3),
        "solids_cpu_s": round(solids_cpu, 3),
        "lines_ms_median": round(statistics.median(wall for wall, _ in lines) * 1000, 1),
        "lines_ms_cpu_median": round(statistics.median(cpu for _, cpu in lines) * 1000, 1),
        "view_ms_median": round(statistics.median(wall for wall, _ in both) * 1000, 1),
        "view_ms_cpu_median": round(statistics.median(cpu for _, cpu in both) * 1000, 1),
        "views25_s": round(sum(wall for wall, _ in both), 2),
        "collisions_s": round(collisions_s, 3),
        "contacts_s": round(contacts_s, 3),
        "peak_mb": round(peak),
        "false_percent": round(100 * sum(v.false * v.line_samples for v in verdicts) / samples, 3),
        "missing_percent": round(100 * sum(v.missing * v.crossings for v in verdicts) / crossings, 3),
        "cad_ms_median": theirs if isinstance(theirs, str) else round(theirs, 1),
        "ratio_to_cad": None if isinstance(theirs, str) else round(ours / theirs, 3),
    }


def _cad_ms(cameras: list[views.Camera]) -> float | str:
    """The CAD kernel's median for some views in milliseconds, or why there is none."""
    asked = json.dumps([(camera.toward, camera.right) for camera in cameras])
    done = subprocess.run([sys.executable, "-m", "tests.benchmarks._cad_kernel", asked], cwd=HOME, capture_output=True,
                          text=True, check=True)
    answer: list[float] | str = json.loads(done.stdout)
    return answer if isinstance(answer, str) else statistics.median(answer)
