"""Joints that one plan brings for itself: nobody else has them, their own tests pass, and in the piece everything fits."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from compiler import build, solid
from compiler.plug import load
from compiler.solid.checking import collisions, gap
from tests.made import ROOT, project

PLANS = {"trestle-bench": "wedged tenon", "knock-down-shelf": "loose key"}
HOMES = sorted({test.parent for test in (ROOT / "projects").glob("*/plugins/*/test_*.py")})


@pytest.mark.parametrize(("plan", "word"), PLANS.items())
def test_it_is_the_plans_own(plan: str, word: str) -> None:
    """No bundled plugin knows the word; with the plan's plugins it is there."""
    bundled = load(installed=False).value
    own = load(installed=False, plan=ROOT / "projects" / plan, trusted=(plan,)).value
    assert bundled is not None and word not in bundled.joint_words
    assert own is not None and word in own.joint_words
    assert any(joint.kind == word for joint in project(plan).joints)


def test_their_own_tests_pass() -> None:
    """As their author runs them."""
    assert HOMES
    run = subprocess.run([sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *map(str, HOMES)], cwd=ROOT,
                         capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("home", [home for plan in PLANS for home in sorted((ROOT / "projects" / plan / "plugins").iterdir())],
                         ids=lambda home: home.name)
def test_its_readme_names_every_key(home: Path) -> None:
    """What a maker may write, each with a row."""
    own = load(installed=False, bundled=None, plan=home.parent.parent, trust_all=True).value
    assert own is not None
    text = (home / "README.md").read_text(encoding="utf-8")
    keys = [asked.key for kind in own.joint_kinds if kind.author.plugin == home.name for asked in kind.thing.asks]
    assert keys and [] == [key for key in keys if f"\n| {key} |" not in text]


@pytest.mark.parametrize("plan", ["knock-down-shelf"])
def test_nothing_runs_into_anything(plan: str) -> None:
    """Tenons in mortises, keys in slots: no two solids share space, and each key touches a side."""
    model = project(plan)
    solids = solid.build((*model.parts, *model.pieces), quality="fine")
    assert () == collisions(solids)
    assert 12 == len(model.pieces)
    for piece in model.pieces:
        assert min(gap(solids, piece.name, side) for side in ("left side", "right side")) < 1e-6


@pytest.mark.parametrize("plan", PLANS)
def test_the_plan_has_no_errors(plan: str, tmp_path: Path) -> None:
    """With what shop.yaml trusts, and nothing more."""
    told = build.check(ROOT / "projects" / plan, build.Wishes(), build.Workshop(store=tmp_path, installed=False)).report
    assert [] == [fault.says for fault in told.errors]
