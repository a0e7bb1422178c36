"""What 40 plugins cost before any of them runs: found, digested, trusted, imported, judged.

Each is a folder with a joint, a product, a task, a check and a section, in a plan's plugins folder. Times are of a new
process each, with the compiler imported before: the best of several, as of a machine that does nothing else.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

PLUGINS = 40
HOME = Path(__file__).resolve().parents[2]
CODE = '''"""Plugin number {number}."""

from dataclasses import dataclass

from compiler.api import (
    Blocks, Contact, Cut, Findings, Grow, Joint, Length, Model, Plugin, Table, Work, advice, ask, check, hook, section, task,
)


class Spline{number}(Joint):
    """A spline."""

    kind, how = "spline {word}", "into"
    depth: Length = ask.size("receiver.thickness / 3 rounded to 1/16", "depth", least="1/16", most="receiver.thickness - 1/8")
    wide: Length = ask.size("acting.thickness / 3", "width", least="1/16")

    def make(self, c: Contact) -> Work:
        block = c.block(into=self.depth)
        return Work(on_acting=(Grow(block),), on_receiver=(Cut("slot", block),))


@dataclass(frozen=True)
class Tally{number}:
    """How many."""

    number: int


@task
def tally{number}(model: Model) -> Tally{number}:
    """How many parts."""
    return Tally{number}(len(model.parts))


@check
def many{number}(tally: Tally{number}) -> Findings:
    """Too many."""
    if tally.number > 1000:
        yield advice("many parts")


@section("Tally {number}", after="cut list")
def pages{number}(tally: Tally{number}) -> Blocks:
    """The tally."""
    yield Table("Tally", ("Parts",), ((tally.number,),))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(Spline{number},), tasks=(tally{number},), checks=(many{number},), sections=(pages{number},))
'''
TIMED = '''
import sys, time
from pathlib import Path
import compiler.api
from compiler.plug import load
start, busy = time.perf_counter(), time.process_time()
outcome = load(bundled=None, installed=False, plan=Path(sys.argv[1]), trusted=("bench",))
spent, busy = time.perf_counter() - start, time.process_time() - busy
assert len(outcome.value.tasks) == {plugins} and not outcome.report, outcome.report
print(spent * 1000, busy * 1000)
'''


def run() -> dict[str, float]:
    """Milliseconds: `load_ms` with byte code at hand (`load_cpu_ms`: of them at work), `first_load_ms` when it has to be made, `api_ms` for importing the surface."""
    with tempfile.TemporaryDirectory() as folder:
        plan = Path(folder) / "bench"
        for number in range(PLUGINS):
            home = plan / "plugins" / f"plugin_{number:02}"
            home.mkdir(parents=True)
            word = "".join("abcdefghij"[int(digit)] for digit in f"{number:02}")
            (home / "__init__.py").write_text(CODE.format(number=number, word=word), encoding="utf-8")
        first, _ = _load(plan)
        again = [_load(plan) for _ in range(9)]
        return {"plugins": PLUGINS, "load_ms": round(min(wall for wall, _ in again), 1), "load_cpu_ms": round(min(busy for _, busy in again), 1),
                "first_load_ms": round(first, 1), "api_ms": round(min(_api() for _ in range(5)), 1), "target_ms": 60}


def _load(plan: Path) -> tuple[float, float]:
    wall, busy = _python(TIMED.format(plugins=PLUGINS), str(plan)).split()
    return float(wall), float(busy)


def _api() -> float:
    return float(_python("import time\nstart = time.perf_counter()\nimport compiler.api\nprint((time.perf_counter() - start) * 1000)"))


def _python(code: str, *arguments: str) -> str:
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.run([sys.executable, "-c", code, *arguments], cwd=HOME, env=surroundings, capture_output=True, text=True,
                          check=True).stdout


if __name__ == "__main__":
    print(json.dumps(run()))
