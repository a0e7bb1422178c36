"""The record of a finished set-up."""

from pathlib import Path

import pytest

from compiler.bootstrap.stamp import (
    Stamp,
    parse_stamp,
    read_stamp,
    remove_stamp,
    wanted_stamp,
    write_stamp,
)

RUN = Stamp("/shop/.venv", "3.13", {"run": "aa"})
BOTH = Stamp("/shop/.venv", "3.13", {"run": "aa", "tests": "bb"})


def test_a_stamp_reads_back_as_written() -> None:
    """Folder, Python and digests survive the text."""
    read = parse_stamp(BOTH.text())
    assert read is not None
    assert ("/shop/.venv", "3.13", {"run": "aa", "tests": "bb"}) == (read.folder, read.python, read.digests)


@pytest.mark.parametrize("length", range(len(BOTH.text())))
def test_a_stamp_cut_short_never_covers_all(length: int) -> None:
    """A file that was cut off anywhere is not taken for a finished set-up of both pin files."""
    read = parse_stamp(BOTH.text()[:length])
    assert read is None or not read.covers(BOTH)


def test_an_environment_for_tests_serves_publishing() -> None:
    """More pins than are asked for do no harm."""
    assert BOTH.covers(RUN)


def test_an_environment_for_publishing_lacks_the_test_tools() -> None:
    """Pins that were never installed are missed."""
    assert not RUN.covers(BOTH)


def test_another_folder_is_another_environment() -> None:
    """A moved or copied checkout is set up again: its programs still point at the old place."""
    assert not Stamp("/elsewhere/.venv", "3.13", {"run": "aa"}).covers(RUN)


def test_a_changed_pin_shows(tmp_path: Path) -> None:
    """One different hash in a pin file asks for another environment."""
    (tmp_path / "compiler" / "bootstrap" / "pins").mkdir(parents=True)
    pins = tmp_path / "compiler" / "bootstrap" / "pins" / "run.txt"
    pins.write_text("segno==1.6.6 --hash=sha256:00\n")
    before = wanted_stamp(str(tmp_path), ("run",))
    pins.write_text("segno==1.6.6 --hash=sha256:01\n")
    assert not before.covers(wanted_stamp(str(tmp_path), ("run",)))


def test_line_ends_do_not_matter(tmp_path: Path) -> None:
    """A checkout with Windows line ends has the same pins."""
    (tmp_path / "compiler" / "bootstrap" / "pins").mkdir(parents=True)
    pins = tmp_path / "compiler" / "bootstrap" / "pins" / "run.txt"
    pins.write_bytes(b"a==1\nb==2\n")
    unix = wanted_stamp(str(tmp_path), ("run",))
    pins.write_bytes(b"a==1\r\nb==2\r\n")
    assert unix.covers(wanted_stamp(str(tmp_path), ("run",)))


def test_an_interrupted_environment_has_no_stamp(tmp_path: Path) -> None:
    """The stamp goes first and comes back last."""
    write_stamp(str(tmp_path), RUN)
    remove_stamp(str(tmp_path))
    assert read_stamp(str(tmp_path)) is None
    assert [] == list(tmp_path.iterdir())


def test_no_environment_has_no_stamp(tmp_path: Path) -> None:
    """A missing folder is an unfinished set-up, not an error; so is bringing it to that state."""
    remove_stamp(str(tmp_path / ".venv"))
    assert read_stamp(str(tmp_path / ".venv")) is None
