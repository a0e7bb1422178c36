"""What a terminal shows while a back list is made."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from compiler import showing


class Terminal(io.StringIO):
    """Says that it is one."""

    def isatty(self) -> bool:
        return True


def test_a_terminal_shows_every_plan_at_work_and_how_many_are_done(monkeypatch: pytest.MonkeyPatch) -> None:
    """A line for each, which goes when the plan is done; failures are counted."""
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    monkeypatch.setenv("TERM", "xterm")
    with showing.table(3) as show:
        for name, text in (("bench", "begun"), ("shelf", "begun"), ("bench", "inch letter: setting the pages")):
            show(Path(name), text)
        at_work = terminal.getvalue()
        show(Path("table"), "as it was")
        show(Path("bench"), "failed")
        terminal.seek(0)
        terminal.truncate()
        show(Path("shelf"), "inch letter: comparing")
        later = terminal.getvalue()
    assert "0 of 3 plans" in at_work and "bench: inch letter: setting the pages" in at_work and "shelf: begun" in at_work
    assert "2 of 3 plans, 1 failed" in later and "shelf: inch letter: comparing" in later and "bench" not in later


def test_elsewhere_a_line_is_written_for_each_plan_that_is_done(capsys: pytest.CaptureFixture[str]) -> None:
    """Into a file, say; nothing of what is still at work."""
    with showing.table(2) as show:
        for text in ("begun", "done"):
            show(Path("bench"), text)
        show(Path("shelf"), "failed")
    assert capsys.readouterr().err == "bench: done\nshelf: failed\n"
