"""Finding a Python that the pinned packages have builds for."""

import json
import sys
from pathlib import Path

import pytest

from compiler.bootstrap import pythons
from compiler.bootstrap.pythons import Interpreter, ask, candidates, parse_answer


def answer(version: tuple[int, int, int], **facts: object) -> str:
    """What a Python of that version answers."""
    plain = {
        "path": "/usr/bin/python3",
        "version": list(version),
        "implementation": "cpython",
        "free_threaded": False,
        "musl": False,
        "pip": "",
    }
    return json.dumps({**plain, **facts})


def suits(version: tuple[int, int, int], **facts: object) -> bool:
    """Whether a Python that answers so would be used."""
    interpreter = parse_answer(answer(version, **facts))
    assert interpreter is not None
    return interpreter.suits()


@pytest.mark.parametrize(
    ("version", "expected"),
    [((3, 9, 18), False), ((3, 11, 9), False), ((3, 12, 0), True), ((3, 13, 5), True), ((3, 14, 2), True)],
)
def test_versions_with_pinned_builds_suit(version: tuple[int, int, int], expected: bool) -> None:
    """3.12 to 3.14 are used."""
    assert expected == suits(version)


def test_a_version_newer_than_the_pins_does_not_suit() -> None:
    """The pins name no builds for 3.15."""
    assert not suits((3, 15, 0))


def test_other_builds_of_python_do_not_suit() -> None:
    """Neither PyPy nor a build without the global lock has builds of every package."""
    assert not suits((3, 13, 0), implementation="pypy")
    assert not suits((3, 13, 0), free_threaded=True)


@pytest.mark.parametrize(
    "said",
    ["", "pyenv: version `3.13' is not installed", "[]", "{}", '{"version": "3.13"}', "null", "3"],
)
def test_what_is_no_answer_is_no_interpreter(said: str) -> None:
    """A program that says something else is passed over."""
    assert parse_answer(said) is None


def test_the_running_python_answers() -> None:
    """The question, asked of this very Python, gives its version."""
    interpreter = ask([sys.executable])
    assert interpreter is not None
    assert sys.version_info[:3] == interpreter.version


@pytest.mark.skipif(sys.platform == "win32", reason="needs a script that the system starts by its first line")
def test_a_shim_that_fails_is_passed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first python3.13 on the path may be a shim without a version behind it; the next one counts."""
    for folder, text in (("shims", "exit 127"), ("bin", f"exec '{sys.executable}' \"$@\"")):
        (tmp_path / folder).mkdir()
        program = tmp_path / folder / "python3.14"
        program.write_text(f"#!/bin/sh\n{text}\n")
        program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}/shims:{tmp_path}/bin")
    monkeypatch.setattr(sys, "executable", str(tmp_path / "shims" / "python3.14"))
    found = pythons.find(str(tmp_path))
    assert found is not None
    assert sys.version_info[:3] == found.version


def test_a_program_that_is_not_there_is_no_interpreter(tmp_path: Path) -> None:
    """A path that leads nowhere does not end the search."""
    assert ask([str(tmp_path / "python3.13")]) is None


def test_newest_version_on_the_path_comes_first(tmp_path: Path) -> None:
    """Names with a version go before bare python3, whatever the order of the folders."""
    for name in ("python3", "python3.12", "python3.14"):
        (tmp_path / name).touch()
    commands = list(candidates({"PATH": str(tmp_path)}, "linux", "/nobody", "/project"))
    names = [Path(command[0]).name for command in commands if command[0].startswith(str(tmp_path))]
    assert ["python3.14", "python3.12", "python3"] == names


def test_pyenv_and_earlier_fetched_pythons_are_looked_at(tmp_path: Path) -> None:
    """Neither is on the path of a shell that was not told so."""
    own = tmp_path / "project" / ".python" / "cpython-3.13.7-linux-x86_64-gnu" / "bin" / "python3.13"
    versions = tmp_path / "home" / ".pyenv" / "versions"
    kept = versions / "3.12.4" / "bin" / "python3.12"
    old = versions / "3.11.9" / "bin" / "python3.11"
    for program in (own, kept, old):
        program.parent.mkdir(parents=True)
        program.touch()
    found = list(candidates({}, "linux", str(tmp_path / "home"), str(tmp_path / "project")))
    assert [str(own)] in found
    assert [str(kept)] in found
    assert [str(old)] not in found


def test_windows_asks_the_launcher() -> None:
    """On Windows the py launcher knows every installed version."""
    found = list(candidates({}, "win32", "C:/nobody", "C:/project"))
    assert [["py", "-3.14"], ["py", "-3.13"], ["py", "-3.12"]] == found[:3]


def test_an_interpreter_is_named_with_its_place() -> None:
    """What is used is said so that a person can check it."""
    assert "Python 3.13.5 (/usr/bin/python3)" == Interpreter("/usr/bin/python3", (3, 13, 5), "").named()
