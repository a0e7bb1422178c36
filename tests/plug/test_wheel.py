"""Plugins from wheels: built, installed into a folder that the project does not know, found by their entry points, at work in a plan."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from compiler import scaffold
from tests.made import ROOT

BUILD = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"

SECTION = """
from dataclasses import replace
from pathlib import Path
from compiler.build import Workshop
from compiler.build.reading import read_plan
from compiler.build.surroundings import surroundings
from compiler.build.wishes import Wishes
from compiler.build.working import model_of
from compiler.stages.derive import derive
from compiler.values.model import Edition

edition = Edition(units="inch", paper="letter")
plan = read_plan(Path("projects/low-bookcase"), surroundings(Workshop(store=None)))
modelled, _ = model_of(plan, edition, Wishes())
model, shop, all_of_them = modelled.value
mine = tuple(task for task in all_of_them.tasks if task.name in ("cut_list", "running_lengths"))
pages = tuple(section for section in all_of_them.sections if section.author.found == "installed")
derived = derive(replace(all_of_them, tasks=mine, sections=pages, checks=(), exports=(), safety_rules=()), (model, edition, shop))
for _, section in derived.value.sections:
    for table in section.blocks:
        print(f"{section.name}: {table.caption}", [row[0] for group in table.groups for row in group.rows])
"""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder on Python's path with two installed plugins: one brings a joint, the other a list and a section."""
    home = tmp_path_factory.mktemp("wheels")
    wheels = home / "dist"
    wheels.mkdir()
    for name, kind in (("blind-tenon", "joint"), ("running-lengths", "task")):
        made = scaffold.new_plugin(name, kind, at=home, package=True).value
        assert made is not None
        run(sys.executable, "-c", BUILD, str(wheels), at=home / f"kerfolio-{name}")
    run(sys.executable, "-m", "pip", "install", "--quiet", "--no-index", "--no-deps", "--target", str(home / "site"),
        *sorted(map(str, wheels.glob("*.whl"))), at=home)
    return home / "site"


def run(*words: str, at: Path, path: str = "") -> str:
    done = subprocess.run(words, cwd=at, env={**os.environ, "PYTHONPATH": path}, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout + done.stderr


def kerfolio(place: Path | None, *words: str) -> str:
    """The command line in a process of its own, with or without the installed plugins."""
    call = "import sys; from compiler.cli import main; sys.exit(main(sys.argv[1:]))"
    return run(sys.executable, "-c", call, *words, at=ROOT, path=os.pathsep.join(map(str, (*([place] if place else ()), ROOT))))


def test_the_wheel_holds_the_plugin_and_not_its_tests(place: Path) -> None:
    """What others install is code and nothing else."""
    assert (place / "kerfolio_blind_tenon" / "__init__.py").is_file()
    assert not list(place.rglob("test_*"))


def test_installed_plugins_are_listed_with_what_they_bring(place: Path) -> None:
    """By name, as installed; without the folder on the path they are gone."""
    listed = [line.split() for line in kerfolio(place, "plugins").splitlines()]
    assert ["blind_tenon", "installed", "joints:", "blind", "tenon"] in listed
    assert any(line[:4] == ["running_lengths", "installed", "tasks:", "running_lengths;"] for line in listed)
    assert "blind_tenon" not in kerfolio(None, "plugins")


def test_the_low_bookcase_takes_the_list_and_the_section(place: Path) -> None:
    """Nothing of the project is touched: the section stands behind the cut list, with a row for each of its stocks."""
    said = run(sys.executable, "-c", SECTION, at=ROOT, path=os.pathsep.join((str(place), str(ROOT))))
    assert "running lengths: Length of the parts" in said
    assert "birch plywood 3/4" in said and "poplar 4/4" in said


def test_a_plan_uses_the_joint(place: Path, tmp_path: Path) -> None:
    """In a copy of the bookcase the divider stands on the installed joint, and its length follows."""
    folder = tmp_path / "low-bookcase"
    shutil.copytree(ROOT / "projects" / "low-bookcase", folder, ignore=shutil.ignore_patterns("out"))
    design = folder / "design.yaml"
    text = design.read_text(encoding="utf-8")
    assert 1 == text.count("{dado: divider, into: deck, depth: housing}")
    design.write_text(text.replace("{dado: divider, into: deck, depth: housing}", "{blind tenon: divider, into: deck, depth: 3/8}"),
                      encoding="utf-8")
    assert "divider.blind tenon at bottom = 3/8" in kerfolio(place, "why", str(folder), "divider.length")
