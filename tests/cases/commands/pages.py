"""What commands say of a changed folder: a shop with one small plan, files changed or put there, one command typed.

A case has any number of blocks ```diff FILE (lines that a file has, and those it gets; a file that isn't there gets the lines with +),
one block ```run, and the text that is said. Lines of the run that begin with a dot prepare what a diff can't write.
"""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from compiler import cli, guard
from compiler.build.commands import BUNDLED
from tests.cases.pages import changed
from tests.made import ROOT

HERE = ROOT / "tests" / "cases" / "commands"
_CASE = re.compile(r"^## (?P<title>.+?)\n(?P<before>(?:(?!^## ).)*?)```run\n(?P<run>.*?)```\n+```text\n(?P<said>.*?)```\n", re.M | re.S)
_DIFF = re.compile(r"```diff (?P<file>[^\n]+)\n(?P<diff>.*?)```", re.S)


@dataclass(frozen=True)
class Case:
    """One case: files and their changes, the lines to run, what should be said."""

    page: str
    title: str
    diffs: tuple[tuple[str, str], ...]
    run: tuple[str, ...]
    said: str
    span: tuple[int, int]


def cases(page: Path) -> tuple[Case, ...]:
    """The cases of a page."""
    text = page.read_text(encoding="utf-8")
    return tuple(
        Case(page.stem, found["title"], tuple((each["file"], each["diff"]) for each in _DIFF.finditer(found["before"])),
             tuple(found["run"].strip().splitlines()), found["said"], found.span("said"))
        for found in _CASE.finditer(text))


def said(case: Case, place: Path, store: Path) -> str:
    """What is told on standard error; `place` is an empty folder for the shop, `store` is shared by all cases."""
    shutil.copytree(ROOT / "tests" / "cases" / "folders" / "plan", place / "plan", ignore=shutil.ignore_patterns("__pycache__", "shop.yaml"))
    shutil.copy(ROOT / "tests" / "cases" / "folders" / "plan" / "shop.yaml", place)
    for name, diff in case.diffs:
        path = place / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists():
            path.write_text(changed(path.read_text(encoding="utf-8"), diff), encoding="utf-8")
        else:
            path.write_text("".join(line[1:] + "\n" for line in diff.splitlines()), encoding="utf-8")
    heard = io.StringIO()
    with _workshop(place, store), redirect_stderr(heard), redirect_stdout(io.StringIO()):
        for line in case.run:
            if line.startswith("."):
                _prepare(line[1:].split(), place)
            else:
                cli.main([_word(word, place) for word in line.split()])
    return heard.getvalue().replace(f"{place.as_posix()}/", "").strip("\n") + "\n"


def _word(word: str, place: Path) -> str:
    """A word of the command; what lies in the case's folder is named by its whole path. `_` stands for a space."""
    word = word.replace("_", " ")
    return str(place / word[2:]) if word.startswith("./") else word


@contextmanager
def _workshop(place: Path, store: Path) -> Iterator[None]:
    """The compiler's own folders, with a store of the tests' own; a folder `shared` in the case stands for the library."""
    own = {"store": store, "installed": False} | ({"library": place / "shared"} if (place / "shared").is_dir() else {})
    before = {name: getattr(BUNDLED, name) for name in own}
    patience = guard.LONGEST
    try:
        for name, value in own.items():
            object.__setattr__(BUNDLED, name, value)
        yield
    finally:
        guard.LONGEST = patience
        for name, value in before.items():
            object.__setattr__(BUNDLED, name, value)


def _prepare(words: list[str], place: Path) -> None:
    """What a diff can't write."""
    match words:
        case ["remove", name]:
            (place / name).unlink() if (place / name).is_file() else shutil.rmtree(place / name)
        case ["folder", name]:
            (place / name).mkdir(parents=True, exist_ok=True)
        case ["copy", name, other]:
            shutil.copytree(place / name, place / other)
        case ["picture", name, width, height]:
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            Image.new("RGB", (int(width), int(height)), "tan").save(place / name)
        case ["fill", name, megabytes]:
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            (place / name).write_bytes(b"a" * int(megabytes) * 1_000_000)
        case ["utf-16", name]:
            (place / name).write_text((place / name).read_text(encoding="utf-8"), encoding="utf-16")
        case ["bytes", name, *numbers]:
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            (place / name).write_bytes(bytes(int(number, 16) for number in numbers))
        case ["patience", seconds]:
            guard.LONGEST = float(seconds)
        case _:
            raise ValueError(f"no such preparation: {' '.join(words)}")
