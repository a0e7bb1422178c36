"""Whole processes, timed: wall, processor time of the process and its children, peak memory."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_TIMED = """
import json, os, resource, subprocess, sys, time
started = time.perf_counter()
done = subprocess.run(sys.argv[2:], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
wall = time.perf_counter() - started
used = resource.getrusage(resource.RUSAGE_CHILDREN)
with open(sys.argv[1], "w") as file:
    json.dump([done.returncode, wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, done.stderr.decode()[-2000:]], file)
"""


@dataclass(frozen=True, slots=True)
class Run:
    """One process: seconds of the clock and of the processor, and the most memory that it or any child of it held."""

    wall: float
    cpu: float
    peak_mb: float


def timed(script: str, *words: object, home: Path) -> Run:
    """Run a Python script with these words; raises when it fails. What Python compiles is kept, as on a maker's machine."""
    told = home / "timed.json"
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, "-c", _TIMED, str(told), sys.executable, "-c", script, *map(str, words)]
    subprocess.run(command, cwd=ROOT, env={**surroundings, "PYTHONPATH": str(ROOT)}, check=True)
    code, wall, cpu, peak, error = json.loads(told.read_text())
    if code:
        raise AssertionError(error)
    return Run(wall, cpu, peak)


def shop(home: Path, *plans: str) -> Path:
    """A shop of its own with some of the demo plans, dressed in a child of the standard theme; its folder of plans."""
    projects = home / "projects"
    projects.mkdir(parents=True)
    for name in plans:
        shutil.copytree(ROOT / "projects" / name, projects / name, ignore=shutil.ignore_patterns("out", "issues"))
    text = (ROOT / "projects/shop.yaml").read_text(encoding="utf-8")
    (projects / "shop.yaml").write_text(text.replace("theme: standard", "theme: own"), encoding="utf-8")
    dress(projects, "#1d4f7c")
    return projects


def dress(projects: Path, accent: str) -> None:
    """Give the shop's theme another colour."""
    theme = projects / "themes" / "own"
    theme.mkdir(parents=True, exist_ok=True)
    (theme / "theme.toml").write_text(
        f'name = "own"\ncontract = 1\nsays = "The shop\'s"\nparent = "standard"\n\n[set]\naccent = "{accent}"\n', encoding="utf-8")


PUBLISH = """
import sys
from pathlib import Path
from compiler import build
home = Path(sys.argv[1])
workshop = build.Workshop(store=home / "store", installed=False)
published = build.publish(home / "projects" / sys.argv[2], build.Wishes(), workshop=workshop)
sys.exit("; ".join(each.says for each in published.report.errors) or 0)
"""
CHECK = """
import sys
from pathlib import Path
from compiler import build
home = Path(sys.argv[1])
workshop = build.Workshop(store=home / "store", installed=False)
sys.exit(0 if build.check(home / "projects" / sys.argv[2], build.Wishes(), workshop).report.ok else 1)
"""
