"""What the set-up adds to a run that has nothing to set up, in seconds.

The same command is started by a Python outside the environment, which passes through the set-up's front
door and starts again inside, and by the environment's own Python without it. Medians of several runs.
"""

import statistics
import subprocess
import sys
import time

from compiler.bootstrap import ROOT

RUNS = 15
QUESTION = "import sys; sys.argv[1:] = ['--version']; from compiler.cli import main; main()"


def run() -> dict[str, object]:
    """`through_s` by way of the front door, `direct_s` without, `overhead_s` the difference."""
    outside = getattr(sys, "_base_executable", None) or sys.executable
    through, direct = [], []
    for _ in range(RUNS):
        through.append(_seconds([outside, "-m", "compiler", "--version"]))
        direct.append(_seconds([sys.executable, "-c", QUESTION]))
    figures = {"through_s": statistics.median(through), "direct_s": statistics.median(direct)}
    figures["overhead_s"] = figures["through_s"] - figures["direct_s"]
    return {name: round(value, 4) for name, value in figures.items()}


def _seconds(command: list[str]) -> float:
    started = time.perf_counter()
    subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return time.perf_counter() - started
