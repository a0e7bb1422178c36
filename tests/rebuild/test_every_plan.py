"""Cold, parallel and used again, in other surroundings and another folder: every demo plan and edition has the same bytes."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.shop import ROOT

PUBLISH = """
import sys
from pathlib import Path
from compiler import build
from compiler.backlist import Order, plans_in, run
home, out, store, workers = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3], int(sys.argv[4])
workshop = build.Workshop(store=Path(store) if store else None, installed=False)
for units in ("inch", "mm"):
    folders = tuple(each for each in plans_in(home) if ("inch" if units == "inch" else "metric") in (each / "design.yaml").read_text().split("editions:")[1].split("]")[0])
    results = run(folders, Order(wishes=build.Wishes(units=units), out=out / units, workshop=workshop), workers=workers)
    bad = [result.told for result in results if not result.ok]
    if bad:
        sys.exit("; ".join(bad))
"""


def published(home: Path, out: Path, store: Path | None, workers: int, **surroundings: str) -> dict[str, str]:
    """Digests of everything that a process of its own writes."""
    subprocess.run([sys.executable, "-c", PUBLISH, str(home), str(out), str(store or ""), str(workers)], cwd=out.parent, check=True,
                   env={**os.environ, "PYTHONPATH": str(ROOT), **surroundings})
    return {path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(out.rglob("*.*"))}


def copied(to: Path) -> Path:
    """The demo plans in another folder."""
    shutil.copytree(ROOT / "projects", to, ignore=shutil.ignore_patterns("out", "issues", "__pycache__"))
    return to


@pytest.mark.slow
def test_same_bytes_whatever_the_way(tmp_path: Path) -> None:
    """Without a store on one worker; with one on two workers; again after an edit that was taken back; PDF, record and exports."""
    here, there = copied(tmp_path / "here" / "projects"), copied(tmp_path / "another place" / "projects")
    cold = published(here, tmp_path / "cold", None, 1, PYTHONHASHSEED="1", TZ="Asia/Tokyo", LC_ALL="de_DE.UTF-8")
    store = tmp_path / "store"
    parallel = published(there, tmp_path / "parallel", store, 2, PYTHONHASHSEED="99", TZ="America/Lima", LC_ALL="C")
    assert cold == parallel
    assert 8 <= len(cold)
    for notes in there.glob("*/notes.md"):
        text = notes.read_text(encoding="utf-8")
        notes.write_text(text + "\nOne line more.\n", encoding="utf-8")
    published(there, tmp_path / "edited", store, 2)
    for notes in there.glob("*/notes.md"):
        notes.write_text((here / notes.parent.name / "notes.md").read_text(encoding="utf-8"), encoding="utf-8")
    assert cold == published(there, tmp_path / "again", store, 2)
