"""What `check` says when one file of a plan's folder is changed: the notes, the shop's settings, the letters, a plugin's code."""

from __future__ import annotations

import shutil
from pathlib import Path

from compiler import build
from compiler.showing import text_of
from tests.cases.pages import Case, changed
from tests.cases.pages import cases as cases_of
from tests.made import ROOT

HERE = ROOT / "tests" / "cases" / "folders"
HOMES = {"plugin": "plan/plugins/pegs/__init__.py", "shop.yaml": "shop.yaml"}
"""Where a file stands, by the word behind `diff`; others stand in the plan's folder."""


def cases() -> tuple[Case, ...]:
    """All cases of this folder. Their `edition` is the file that is changed."""
    return tuple(case for page in sorted(HERE.glob("*.md")) for case in cases_of(page))


def said(case: Case, place: Path) -> str:
    """What is said of a case; `place` is an empty folder to put the plan in."""
    shutil.copytree(HERE / "plan", place / "plan", ignore=shutil.ignore_patterns("__pycache__", "shop.yaml"))
    shutil.copy(HERE / "plan" / "shop.yaml", place)
    if case.edition != "inch":
        path = place / HOMES.get(case.edition, f"plan/{case.edition}")
        path.write_text(changed(path.read_text(encoding="utf-8"), case.diff), encoding="utf-8")
    checked = build.check(place / "plan", build.Wishes(), build.Workshop(store=None, installed=False))
    return text_of(checked.report, checked.place).replace(f"{place.as_posix()}/", "") + "\n"
