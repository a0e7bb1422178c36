"""What 40 plugins cost before any of them runs, and what the engineering checks cost on a case of 120 parts.

Each of the 40 is a folder with a joint, a product, a task, a check and a section, in a plan's plugins folder. Times are of a new
process each, with the compiler imported before: the best of several, as of a machine that does nothing else. The case is checked whole, in
new processes: with nothing kept from before, and again after its depth was changed; `…_engineering_ms` is what the bundled engineering
plugins work in it, `…_layouts_ms` what the cutting layouts do.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks._cabinet import design

PLUGINS = 40
LAYOUTS = "cutting_layouts"
ENGINEERING = ("shelf_sag", "seasonal_movement", "standing", "racking", "fastening", "clearances", "assembly_order")
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

CHECKED = '''
import sys, time
from pathlib import Path
from compiler.build import Wishes, check
from compiler.build.surroundings import Workshop
from compiler.stages.derive import running
from compiler import guard
engineering, layouts = sys.argv[2].split(), sys.argv[4]
spent = dict.fromkeys((*engineering, layouts), 0.0)
def call(author, name, run, **more):
    start = time.process_time()
    outcome = guard.call(author, name, run, **more)
    if author.plugin in spent:
        spent[author.plugin] += time.process_time() - start
    return outcome
running.call = call
start, busy = time.perf_counter(), time.process_time()
found = check(Path(sys.argv[1]), Wishes(), Workshop(store=Path(sys.argv[3])))
whole, busy = time.perf_counter() - start, time.process_time() - busy
assert found.report.ok, found.report
print(whole * 1000, busy * 1000, sum(spent[name] for name in engineering) * 1000, spent[layouts] * 1000)
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
        fresh, changed = zip(*(_checked(Path(folder) / f"case {number}") for number in range(3)), strict=True)
        return {**_best("check_120", fresh), **_best("check_120_changed", changed), "check_120_target_ms": 1500,
                "plugins": PLUGINS, "load_ms": round(min(wall for wall, _ in again), 1), "load_cpu_ms": round(min(busy for _, busy in again), 1),
                "first_load_ms": round(first, 1), "api_ms": round(min(_api() for _ in range(5)), 1), "target_ms": 60}


def _load(plan: Path) -> tuple[float, float]:
    wall, busy = _python(TIMED.format(plugins=PLUGINS), str(plan)).split()
    return float(wall), float(busy)


Figures = tuple[float, float, float, float]


def _checked(plan: Path) -> tuple[Figures, Figures]:
    """The whole check, its work, the work of the engineering plugins and of the layouts: first, and after a change."""
    plan.mkdir()
    found = []
    for text in (design(), design().replace("depth: 18", "depth: 18 1/2")):
        (plan / "design.yaml").write_text(text, encoding="utf-8")
        whole, busy, part, layouts = map(float, _python(CHECKED, str(plan), " ".join(ENGINEERING), str(plan / "store"), LAYOUTS).split())
        found.append((whole, busy, part, layouts))
    return found[0], found[1]


def _best(name: str, runs: tuple[Figures, ...]) -> dict[str, float]:
    whole, busy, part, layouts = (round(min(figures), 1) for figures in zip(*runs, strict=True))
    return {f"{name}_ms": whole, f"{name}_cpu_ms": busy, f"{name}_engineering_ms": part, f"{name}_layouts_ms": layouts}


def _api() -> float:
    return float(_python("import time\nstart = time.perf_counter()\nimport compiler.api\nprint((time.perf_counter() - start) * 1000)"))


def _python(code: str, *arguments: str) -> str:
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.run([sys.executable, "-c", code, *arguments], cwd=HOME, env=surroundings, capture_output=True, text=True,
                          check=True).stdout


if __name__ == "__main__":
    print(json.dumps(run()))
