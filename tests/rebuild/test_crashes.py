"""What happens to files when a run is killed, when the disk is full, when two run at once, when a file changes under its hands."""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from compiler import build
from compiler.backlist import Order, clashes, plans_in, run
from compiler.cli import main
from compiler.store.memo import VERSION, Store
from tests.shop import ROOT, Small

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals and limits are set another way there")
SCRIPT = """
import sys
from pathlib import Path
from compiler import build
from compiler.backlist import Order, plans_in, run
home = Path(sys.argv[1])
workshop = build.Workshop(store=home / "store", installed=False)
results = run(plans_in(home / "projects"), Order(workshop=workshop), workers=2)
sys.exit(0 if all(result.ok for result in results) else 1)
"""


def back_list(home: Path, number: int) -> Small:
    """A shop with so many plans, each of another width."""
    shop = Small(home)
    shop.lean()
    for at in range(1, number):
        other = shop.plan.with_name(f"rail-{at}")
        shutil.copytree(shop.plan, other)
        design = other / "design.yaml"
        design.write_text(design.read_text().replace("number: 7", f"number: {7 + at}").replace("{inch: 24", f"{{inch: {24 + at}"))
    return shop


def started(home: Path) -> subprocess.Popen[bytes]:
    """The whole back list in a process group of its own; what Python compiles is kept beside all tests, so that the next one starts sooner."""
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.Popen([sys.executable, "-c", SCRIPT, str(home)], cwd=ROOT, start_new_session=True, stdout=subprocess.DEVNULL,
                            stderr=subprocess.DEVNULL, env={**surroundings, "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": str(home.parents[1] / "compiled")})


def pdfs(home: Path) -> dict[str, bytes]:
    """Every PDF that is published."""
    return {path.name: path.read_bytes() for path in sorted((home / "projects").glob("*/out/*.pdf"))}


def whole(pdf: bytes) -> bool:
    """Whether a reader opens it and gets to its last page."""
    document = pypdfium2.PdfDocument(pdf)
    return bool(len(document) and document[len(document) - 1].get_textpage().get_text_bounded())


@pytest.mark.parametrize("kills", [5, pytest.param(50, marks=pytest.mark.slow)])
def test_kill_9_at_any_moment_leaves_every_pdf_whole(kills: int, tmp_path: Path) -> None:
    """With an edit each time, so that there is always something to make, and within the time that this takes; the run after the last one completes right."""
    shop = back_list(tmp_path / "home", 2 if kills < 50 else 4)
    assert 0 == started(shop.home).wait()
    shop.edit("../shop.yaml", "Pinwheel Lane Woodshop", "Woodshop -1.")
    begun = time.monotonic()
    assert 0 == started(shop.home).wait()
    long = time.monotonic() - begun
    chance, changed = random.Random(7), 0
    before = pdfs(shop.home)
    for kill in range(kills):
        shop.edit("../shop.yaml", f"Woodshop {kill - 1}.", f"Woodshop {kill}.")
        process = started(shop.home)
        time.sleep(chance.uniform(0, long))
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        after = pdfs(shop.home)
        assert set(before) == set(after)
        for name, pdf in after.items():
            if pdf != before[name]:
                assert whole(pdf)
                changed += 1
        before = after
    assert kills < 50 or changed  # some of the moments lay behind the writing of a PDF
    assert 0 == started(shop.home).wait()
    assert not list(shop.home.glob("projects/*/out/.*.part-*"))
    build.publish(shop.plan, build.Wishes(), out=tmp_path / "plain", workshop=replace(shop.workshop, store=None))
    assert (tmp_path / "plain/wall-rail.pdf").read_bytes() == pdfs(shop.home)["wall-rail.pdf"]


def test_two_runs_at_once_end_well(tmp_path: Path) -> None:
    """One store, the same plan, the same output folder."""
    shop = back_list(tmp_path / "home", 1)
    first, second = started(shop.home), started(shop.home)
    assert [0, 0] == [first.wait(), second.wait()]
    found = pdfs(shop.home)
    assert 1 == len(found) and all(whole(pdf) for pdf in found.values())
    assert all(not result.made for result in run(plans_in(shop.plan.parent), Order(workshop=shop.workshop)))


def test_a_file_that_grows_beyond_the_limit_is_like_a_full_disk(tmp_path: Path) -> None:
    """Nothing can be kept, the PDF can't be written: exit 1, the old PDF stays, nothing is left beside it."""
    shop = Small(tmp_path / "home")
    shop.lean()
    (shop.plan / "out").mkdir()
    (shop.plan / "out/wall-rail.pdf").write_bytes(b"the old one")

    def little() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    script = SCRIPT.replace("results = run(plans_in(home / \"projects\"), Order(workshop=workshop), workers=2)",
                            "from compiler.backlist import one\nresults = [one(plans_in(home / 'projects')[0], Order(workshop=workshop))]\nprint(results[0].told)")
    done = subprocess.run([sys.executable, "-c", script, str(shop.home)], cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)},
                          capture_output=True, text=True, preexec_fn=little, check=False)
    assert done.returncode == 1 and "can't be written to" in done.stdout, done.stderr[-300:]
    assert ["wall-rail.pdf"] == [path.name for path in (shop.plan / "out").iterdir()]
    assert b"the old one" == shop.pdf


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root mounts a small disk")
def test_a_full_disk(tmp_path: Path) -> None:
    """A disk of its own, too small for the PDF: an error, and the old PDF stays; a store without room costs only time."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=48k", "tmpfs", str(disk)], capture_output=True, check=False).returncode:
        pytest.skip("no disk can be mounted here")
    try:
        shop = Small(tmp_path / "home")
        shop.lean()
        (disk / "wall-rail.pdf").write_bytes(b"the old one")
        published = shop.publish(out=disk)
        assert ["cannot-write"] == [each.code for each in published.report.errors]
        assert ["wall-rail.pdf"] == [path.name for path in disk.iterdir()]
        assert b"the old one" == (disk / "wall-rail.pdf").read_bytes()
        cramped = replace(shop.workshop, store=disk / "store")
        assert build.publish(shop.plan, build.Wishes(), workshop=cramped).report.ok
    finally:
        subprocess.run(["umount", str(disk)], check=False)


def test_a_file_replaced_during_a_build_is_not_mistaken_for_the_one_that_was_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The design is saved again while the pages are set: this PDF is of the old text, the next run makes the new one."""
    from compiler.build import commands

    shop = Small(tmp_path / "home")
    shop.lean()
    sheet = commands.sheet

    def meanwhile(*given: object) -> object:
        shop.edit("design.yaml", "{inch: 24", "{inch: 30")
        monkeypatch.setattr(commands, "sheet", sheet)
        return sheet(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(commands, "sheet", meanwhile)
    assert shop.publish().report.ok
    old = shop.pdf
    shop.publish()
    new = shop.pdf
    build.publish(shop.plan, build.Wishes(), out=tmp_path / "plain", workshop=replace(shop.workshop, store=None))
    assert old != new == (tmp_path / "plain/wall-rail.pdf").read_bytes()


def test_one_failing_plan_stops_no_other_and_keeps_its_pdf(tmp_path: Path) -> None:
    """Also one whose process dies."""
    shop = back_list(tmp_path / "home", 3)
    order = Order(workshop=shop.workshop)
    folders = plans_in(shop.plan.parent)
    assert [True] * 3 == [result.ok for result in run(folders, order, workers=2)]
    before = shop.pdf
    shop.edit("design.yaml", "up: from 1", "up: from")
    for at in (1, 2):
        shop.edit(f"../rail-{at}/notes.md", "A rail", "One rail")
    results = {result.folder.name: result for result in run(folders, order, workers=2)}
    assert {"rail-1": True, "rail-2": True, "wall-rail": False} == {name: result.ok for name, result in results.items()}
    assert before == shop.pdf
    assert "design.yaml" in results["wall-rail"].told


def test_a_fault_that_all_plans_share_is_told_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A mistake in the shop's theme: one message, each plan named, exit 1."""
    shop = back_list(tmp_path / "home", 3)
    shop.edit("../themes/lean/theme.toml", "accent", "acent")
    assert 1 == main(["publish", "--all", str(shop.plan.parent), "--jobs", "2"])
    err = capsys.readouterr().err
    assert (1, 3, 2) == (err.count("error:"), err.count("not published"), err.count(f"the same reason as {shop.plan.with_name('rail-1')}"))


def test_a_dry_run_tells_what_would_change_and_replaces_nothing(tmp_path: Path) -> None:
    """Lists row by row, pages side by side; what is broken is named."""
    shop = back_list(tmp_path / "home", 2)
    dry = Order(workshop=shop.workshop, dry=True)
    assert all(each.new for result in run(plans_in(shop.plan.parent), dry) for each in result.editions)
    assert not pdfs(shop.home)
    run(plans_in(shop.plan.parent), Order(workshop=shop.workshop))
    before = pdfs(shop.home)
    shop.edit("design.yaml", "rail.back for 5", "rail.back for 5 1/2")
    changed, same = reversed(run(plans_in(shop.plan.parent), Order(workshop=shop.workshop, dry=True, compare=True)))
    assert before == pdfs(shop.home)
    assert "cut list, B shelf: width 5 → 5 1/2" in " ".join(changed.sentences)
    assert "<img" in changed.section and changed.how_much > 0
    assert ("", 0.0, ()) == (same.section, same.how_much, same.sentences)


def test_two_plans_with_one_number_clash(tmp_path: Path) -> None:
    """Before anything is made."""
    shop = back_list(tmp_path / "home", 2)
    shop.edit("../rail-1/design.yaml", "number: 8", "number: 7")
    assert ["number-taken"] == [each.code for each in clashes(plans_in(shop.plan.parent), None)]


def test_a_store_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    """Each version has a folder of its own."""
    newer = tmp_path / f"v{VERSION + 1}" / "ab"
    newer.mkdir(parents=True)
    (newer / "entry").write_bytes(b"of the future")
    store = Store(tmp_path)
    store.put("0123", ("a",))
    store.prune(most=0)
    assert b"of the future" == (newer / "entry").read_bytes()
