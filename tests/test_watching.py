"""Rebuilding on save: a burst is one build, errors leave the last good PDF, the first word comes soon."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from compiler import build, watching
from compiler.build import working
from tests.shop import ROOT, Small


def test_what_publishing_writes_is_not_watched(tmp_path: Path) -> None:
    """Else every build would start another one."""
    shop = Small(tmp_path)
    before = watching.look(shop.plan)
    for name in ("out/wall-rail.pdf", "issues/1.inch-letter.json", "letters.yaml", ".design.yaml.swp"):
        (shop.plan / name).parent.mkdir(exist_ok=True)
        (shop.plan / name).write_text("x")
    assert before == watching.look(shop.plan)


@pytest.mark.parametrize("name", ["design.yaml", "notes.md", "../shop.yaml", "photos/new.jpg", "../themes/own/theme.toml", "../mark.svg"])
def test_what_a_plan_is_made_from_is_watched(name: str, tmp_path: Path) -> None:
    """A file that changes, and one that comes."""
    shop = Small(tmp_path)
    before = watching.look(shop.plan)
    path = shop.plan / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("another text")
    assert before != watching.look(shop.plan)


def test_a_burst_of_saves_is_one_build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Five saves within a moment; then one more."""
    shop = Small(tmp_path)
    monkeypatch.setattr(watching, "prepare", lambda plugins, themes: None)
    monkeypatch.setattr(watching, "_apart", lambda work: work())
    seen: list[str] = []

    def work() -> None:
        seen.append((shop.plan / "notes.md").read_text()[-2:])

    def saves() -> None:
        while not seen:
            time.sleep(0.02)
        for number in range(5):
            (shop.plan / "notes.md").write_text(f"burst {number}\n")
            time.sleep(0.03)
        while len(seen) < 2:
            time.sleep(0.02)
        time.sleep(0.3)
        (shop.plan / "notes.md").write_text("the last: 9\n")

    writer = threading.Thread(target=saves, daemon=True)  # a fault before the first round must not wait for it
    writer.start()
    watching.watch(shop.plan, work, rounds=3)
    writer.join()
    assert ["4\n", "9\n"] == seen[1:]


@pytest.mark.skipif(os.name != "posix", reason="signals are sent another way there")
def test_an_error_is_told_and_the_last_good_pdf_stays(tmp_path: Path) -> None:
    """The command itself: a mistake is saved, then mended; Ctrl-C ends it without a traceback."""
    shop = Small(tmp_path)
    process = subprocess.Popen([sys.executable, "-m", "compiler", "watch", str(shop.plan)], cwd=ROOT, stdout=subprocess.PIPE,
                               stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    heard: list[tuple[float, str]] = []
    ear = threading.Thread(target=lambda: heard.extend((time.monotonic(), line) for line in process.stdout or ()))
    ear.start()

    def hears(words: str, after: int = 0) -> int:
        until = time.monotonic() + 90
        while time.monotonic() < until:
            for at, (_, line) in enumerate(heard):
                if at >= after and words in line:
                    return at + 1
            time.sleep(0.05)
        raise AssertionError(f"never heard {words!r}: {heard}")

    try:
        at = hears("wall-rail.pdf  ")
        good = shop.pdf
        shop.edit("design.yaml", "up: from 1", "up: from")
        at = hears("the last good PDF stays", at)
        assert any("design.yaml:" in line for _, line in heard)
        assert good == shop.pdf
        shop.edit("design.yaml", "up: from", "up: from 2")
        hears("wall-rail.pdf  ", at)
        assert good != shop.pdf
    finally:
        process.send_signal(signal.SIGINT)
        process.wait(30)
        ear.join(10)
    assert not any("Traceback" in line for _, line in heard)


def test_faults_of_the_notes_are_told_before_the_solids_are_looked_at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And again in the whole report, which holds everything."""
    shop = Small(tmp_path)
    shop.edit("notes.md", 'part("rail")', 'part("rial")')
    order: list[str] = []
    inspect = working._inspect
    monkeypatch.setattr(working, "_inspect", lambda model: order.append("solids") or inspect(model))
    checked = build.check(shop.plan, build.Wishes(), shop.workshop, early=lambda report, place: order.extend(each.code for each in report.errors))
    assert ["unknown-part", "solids"] == order[:2]
    assert "unknown-part" in [each.code for each in checked.report.errors]


def test_bundled_plugins_and_themes_are_read_before_the_first_round_and_anew_when_their_code_changes() -> None:
    """In a process of its own: what it forgets would be missed here. Nothing that makes threads is read, since it is forked."""
    script = """
import sys
from compiler import build
from compiler.preparing import forget, prepare
prepare(build.BUNDLED.plugins, build.BUNDLED.themes)
from compiler.stages.dress.templates import _CODE
assert "step.html" in {name for _, name in _CODE}
assert "plugins.cut_list" in sys.modules and "compiler.stages.publish" in sys.modules
forget()
assert not [name for name in sys.modules if name.startswith("plugins.")]
if sys.platform == "linux":
    assert "Threads:\\t1\\n" in open("/proc/self/status").read()
"""
    subprocess.run([sys.executable, "-c", script], cwd=ROOT, check=True, env={**os.environ, "PYTHONPATH": str(ROOT)})
