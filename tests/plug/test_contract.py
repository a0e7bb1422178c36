"""What any plugin can test of itself, tried on all that are bundled and on those of the demo plans; and that it finds what is wrong."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

from compiler.plug.importing import module_in
from compiler.testing import differences, faults
from tests.made import ROOT

# An open case on a rail: boards and sheets, joints, a working, edge tape, fasteners, hardware, a finish.
CASE = """
sizes: {width: {inch: 30, mm: 760}, height: {inch: 36, mm: 915}, depth: {inch: 12, mm: 305}}
middle: {across: width / 2}
materials: {ply: birch plywood 3/4, thin: birch plywood 1/4, oak: white oak 4/4}
assemblies:
  case:
    stock: ply
    parts:
      side: {across: from 0, deep: 0 to depth, up: 0 to height, copies: mirror across, edge band: {birch edge tape: [front]}}
      bottom: {across: between left side and right side, deep: 0 to back.front, up: from 3}
      top: {across: between left side and right side, deep: 0 to back.front, up: to height}
      shelf: {across: between left side and right side, deep: 0 to back.front, up: from 18}
      back: {stock: thin, across: between left side and right side, deep: to depth, up: bottom.bottom to height, grain: up}
parts:
  rail: {stock: oak, across: between left side and right side, deep: from 0, up: to bottom.bottom for 2, workings: [{arc: bottom, rise: 1/2, from: 2 from left, to: 2 from right}]}
joints:
  - {dado: [bottom, shelf], into: side, depth: 1/4}
  - {rabbet: [top, back], into: side, depth: 1/4}
  - {butt: back, to: [bottom, top, shelf], brads: 3/4, every: 4}
  - {pocket screws: rail, to: side, count: 2}
hardware:
  - {item: wall anchor, count: 2, on: back}
finish:
  - {oil: all, coats: 2}
"""
BUNDLED = tuple(import_module(f"plugins.{home.parent.name}") for home in sorted((ROOT / "plugins").glob("*/__init__.py")))


def test_every_bundled_plugin_keeps_the_contract() -> None:
    """Twice the same, exact, unchangeable, keepable, nothing of this machine, no clock and no chance; in both editions."""
    assert () == faults(CASE, *BUNDLED)


def test_bundled_plugins_make_the_same_elsewhere() -> None:
    """Other hash seeds, time zones, languages and folders."""
    assert () == differences(CASE, *BUNDLED)


UNSTEADY = '''
from dataclasses import dataclass
from compiler.api import Model, Plugin, hook, task


@dataclass(frozen=True)
class Names:
    """All words."""

    words: tuple[str, ...]


@task
def names(model: Model) -> Names:
    """In the order of a set."""
    return Names(tuple({part.name for part in model.parts}))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(names,))
'''


def plugin(folder: Path, code: str) -> ModuleType:
    home = folder / "names"
    home.mkdir()
    (home / "__init__.py").write_text(code, encoding="utf-8")
    return module_in(home)


def test_the_order_of_a_set_is_found(tmp_path: Path) -> None:
    """In one process it is always the same; in two it is not."""
    mine = plugin(tmp_path, UNSTEADY)
    assert () == faults(CASE, mine)
    assert ("in the inch edition: Names differs from machine to machine", "in the mm edition: Names differs from machine to machine") == (
        differences(CASE, mine))


@pytest.mark.parametrize(("old", "new", "expected"), [
    ("tuple({part.name for part in model.parts})", "(__file__,)", "names a folder of this machine"),
    ("tuple({part.name for part in model.parts})", "(float(len(model.parts)),)", "is a float"),
    ("from dataclasses", "import time\nfrom dataclasses", "imports time"),
    ("tuple({part.name for part in model.parts})", "[part.name for part in model.parts]", "is a list, which can be changed"),
    ("tuple({part.name for part in model.parts})", "(lambda: 1,)", "can't be"),
])
def test_what_it_finds_in_one_process(old: str, new: str, expected: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence names the field."""
    monkeypatch.setenv("HOME", str(tmp_path))
    found = faults(CASE, plugin(tmp_path, UNSTEADY.replace(old, new)))
    assert any(expected in sentence for sentence in found), found
