"""The record inside an environment that says what it was completely set up for.

It is written last, so an environment without one was interrupted. Standard library only, light to import.
"""

from __future__ import annotations

import hashlib
import os
import sys

NAME = "set-up.txt"


class Stamp:
    """What an environment holds: its folder, its Python ("3.13") and the digest of each pin file."""

    def __init__(self, folder: str, python: str, digests: dict[str, str]) -> None:
        self.folder = folder
        self.python = python
        self.digests = digests

    def covers(self, wanted: Stamp) -> bool:
        """Whether everything that `wanted` asks for was installed in that same folder."""
        return self.folder == wanted.folder and all(
            self.digests.get(name) == digest for name, digest in wanted.digests.items()
        )

    def text(self) -> str:
        """The stamp as it is written: one fact a line."""
        lines = [f"folder {self.folder}", f"python {self.python}"]
        lines += [f"pins {name} {digest}" for name, digest in sorted(self.digests.items())]
        return "\n".join(lines) + "\n"


def parse_stamp(text: str) -> Stamp | None:
    """The stamp that `text` records, or None when it is cut short or not one."""
    facts: dict[str, str] = {}
    digests: dict[str, str] = {}
    for line in text.splitlines():
        key, _, value = line.partition(" ")
        if key == "pins":
            name, _, digest = value.partition(" ")
            digests[name] = digest
        else:
            facts[key] = value
    if not text.endswith("\n") or "folder" not in facts or "python" not in facts or not digests:
        return None
    return Stamp(facts["folder"], facts["python"], digests)


def read_stamp(environment: str) -> Stamp | None:
    """The stamp of an environment, or None when its set-up was never finished."""
    try:
        with open(os.path.join(environment, NAME), encoding="utf-8") as file:
            return parse_stamp(file.read())
    except (OSError, UnicodeDecodeError):
        return None


def write_stamp(environment: str, stamp: Stamp) -> None:
    """Record that an environment is complete. Raises OSError when the folder cannot be written."""
    path = os.path.join(environment, NAME)
    with open(path + ".new", "w", encoding="utf-8") as file:
        file.write(stamp.text())
    os.replace(path + ".new", path)


def remove_stamp(environment: str) -> None:
    """Record that an environment is about to change, so that an interruption shows."""
    try:
        os.remove(os.path.join(environment, NAME))
    except FileNotFoundError:
        return


def pin_file(root: str, name: str) -> str:
    """The path of a pin file."""
    return os.path.join(root, "compiler", "bootstrap", "pins", name + ".txt")


def wanted_stamp(root: str, pins: tuple[str, ...]) -> Stamp:
    """The stamp that an environment needs for `pins`, as the files stand now (its Python left open)."""
    digests = {}
    for name in pins:
        with open(pin_file(root, name), "rb") as file:
            # Line ends differ between checkouts of one commit.
            digests[name] = hashlib.sha256(file.read().replace(b"\r\n", b"\n")).hexdigest()
    return Stamp(os.path.join(root, ".venv"), "", digests)


def environment_python(environment: str) -> str:
    """Where an environment keeps its Python on this system."""
    if sys.platform == "win32":
        return os.path.join(environment, "Scripts", "python.exe")
    return os.path.join(environment, "bin", "python")
