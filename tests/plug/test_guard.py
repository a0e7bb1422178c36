"""The guard itself: what it lets through, and that it leaves nothing behind."""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import pytest

from compiler import guard
from compiler.base.measures import inch, mm
from compiler.values.contributions import Author
from compiler.values.shapes import Block

AUTHOR = Author(plugin="labels", folder="/no/such/folder")


def test_a_value_comes_through_with_an_empty_report() -> None:
    """The usual case."""
    outcome = guard.call(AUTHOR, "labels", lambda: 7)
    assert (7, ()) == (outcome.value, outcome.report.diagnostics)


def test_the_makers_own_interruption_goes_through() -> None:
    """Ctrl-C is not the plugin's fault."""

    def interrupted() -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        guard.call(AUTHOR, "labels", interrupted)
    assert 7 == guard.call(AUTHOR, "labels", lambda: 7).value


def test_calls_stopped_in_the_moment_of_their_end_leave_nothing_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hundred calls that end about when they are stopped: output and state are as before each time."""
    monkeypatch.setattr(guard, "_POLL", 0.001)
    out = sys.stdout
    for number in range(100):
        until = time.perf_counter() + 0.003 + number * 0.00004

        def busy(until: float = until) -> int:
            while time.perf_counter() < until:
                pass
            return 1

        outcome = guard.call(AUTHOR, "labels", busy, longest=0.005)
        assert (outcome.value == 1) is outcome.report.ok
        assert sys.stdout is out
        assert {} == guard._calls


@pytest.mark.parametrize(("units", "says"), [
    ("inch", "Joint `spline`: a block of negative size into, from 0 to -1/4."),
    ("mm", "Joint `spline`: a block of negative size into, from 0 mm to -6.35 mm."),
])
def test_a_shape_that_cannot_be_is_told_in_the_editions_units(units: str, says: str) -> None:
    """The author's sum went below nothing."""
    block = Block((inch(0), inch(1)), (inch(0), inch(1)), (inch(0), inch(1)))
    outcome = guard.call(AUTHOR, "make", lambda: block.at("into", inch(0), mm("-6.35")), what="Joint `spline`", units=units)  # type: ignore[arg-type]
    assert [says] == [entry.says for entry in outcome.report]


class Remembers:
    """A thing of an earlier run that holds a folder, in a circle that only the sweeper breaks."""

    def __init__(self) -> None:
        self.own, self.folder = self, tempfile.TemporaryDirectory()


@pytest.mark.filterwarnings("ignore::ResourceWarning")
def test_what_is_swept_away_meanwhile_is_not_the_authors_doing(tmp_path: Path) -> None:
    """Fonts of an earlier layout, say: their folder goes, and nobody is blamed."""
    (tmp_path / "labels.py").write_text("import gc\n\ndef labels():\n    gc.collect()\n    return 1\n", encoding="utf-8")
    names: dict[str, Any] = {}
    exec(compile((tmp_path / "labels.py").read_text(), str(tmp_path / "labels.py"), "exec"), names)
    folder = Path(Remembers().folder.name)
    assert folder.is_dir()
    outcome = guard.call(Author(plugin="labels", folder=str(tmp_path)), "labels", names["labels"])
    assert (1, ()) == (outcome.value, outcome.report.diagnostics)
    assert not folder.exists()
