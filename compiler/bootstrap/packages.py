"""Installs the pinned packages, and the project's own command, with pip.

In: the interpreter that brings pip, the environment's Python, the pin files. Out: an environment that
holds them, or SetUpFailed with the reason in words. Standard library only.

pip is not fetched but run from the wheel that Python (or Debian, in python3-pip-whl) keeps for new
environments: nothing has to be downloaded by hand, and the index, certificates and proxy that the
user has set for pip hold here too.
"""

from __future__ import annotations

import os
import re
import sys
import zipfile

from compiler.bootstrap.pythons import Interpreter
from compiler.bootstrap.running import Progress, SetUpFailed, python_surroundings, run
from compiler.bootstrap.stamp import environment_python, pin_file

# No build from source and nothing but what the pins name, so that every machine gets the same files.
_PIP_OPTIONS = [
    "--require-hashes",
    "--only-binary=:all:",
    "--no-deps",
    "--no-compile",
    "--no-input",
    "--retries=2",
    "--progress-bar=off",
    "--disable-pip-version-check",
    "--no-warn-script-location",
]


def unpack_pip(interpreter: Interpreter, environment: str) -> list[str]:
    """Put the interpreter's own pip into a new environment; the command that starts it there.

    Unpacked it starts in half the time that it takes inside its wheel.
    """
    if sys.platform == "win32":
        packages = os.path.join(environment, "Lib", "site-packages")
    else:
        packages = os.path.join(environment, "lib", f"python{interpreter.short()}", "site-packages")
    program = os.path.join(packages, "pip")
    wheel = os.path.dirname(interpreter.pip)
    if not os.path.isdir(program):
        if not wheel.endswith(".whl"):
            program = interpreter.pip
        else:
            with zipfile.ZipFile(wheel) as packed:
                packed.extractall(packages)
    return [environment_python(environment), program]


def install_pins(pip: list[str], root: str, pins: tuple[str, ...], progress: Progress) -> None:
    """Install every package of the pin files, each checked against its hash. Raises SetUpFailed."""
    total = len({name for pin in pins for name in pinned_names(pin_file(root, pin))})
    progress.begin(f"installing {total} pinned packages")
    done: set[str] = set()

    def show(line: str) -> None:
        match = re.match(r"(?:Collecting|Ignoring|Requirement already satisfied:) ([A-Za-z0-9._-]+)", line)
        if match:
            done.add(match.group(1).rstrip(":"))
            progress.detail(f"{len(done)} of {total}  {match.group(1)}")
        elif line.startswith("Installing collected"):
            progress.detail("unpacking")

    files = [word for pin in pins for word in ("-r", pin_file(root, pin))]
    command = [*pip, "install", *_PIP_OPTIONS, *files]
    code, lines = run(command, _pip_surroundings(), show)
    if code:
        raise SetUpFailed(f"The pinned packages could not be installed: {fault(lines)}.", log=lines)
    progress.end()


def install_project(pip: list[str], root: str) -> None:
    """Give the environment the command `kerfolio`, run from this folder."""
    options = [
        "--no-deps",
        "--no-build-isolation",
        "--no-input",
        "--disable-pip-version-check",
        "--no-compile",
    ]
    code, lines = run([*pip, "install", *options, "-e", root], _pip_surroundings())
    if code:
        raise SetUpFailed(f"The command kerfolio could not be installed: {fault(lines)}.", log=lines)


def changed_anything(lines: tuple[str, ...]) -> bool:
    """Whether pip got as far as changing the environment, by what it said: it fetches everything first."""
    return any(line.startswith("Installing collected packages") for line in lines)


def _pip_surroundings() -> dict[str, str]:
    """The process environment for pip: the user's settings, less those that lead out of an environment.

    An index that is set for uv alone serves pip as well.
    """
    surroundings = python_surroundings()
    surroundings["PIP_USER"] = "0"
    index = surroundings.get("UV_DEFAULT_INDEX") or surroundings.get("UV_INDEX_URL")
    if index:
        surroundings.setdefault("PIP_INDEX_URL", index)
    return surroundings


def pinned_names(path: str) -> list[str]:
    """The names of the packages that a pin file pins, in its order."""
    with open(path, encoding="utf-8") as file:
        return re.findall(r"^([a-z0-9-]+)==", file.read(), re.MULTILINE)


def install_uv(
    interpreter: Interpreter, folder: str, root: str, progress: Progress
) -> tuple[int, tuple[str, ...]]:
    """Install uv alone into `folder`, for its skill at fetching a Python: pip's exit code and lines."""
    command = [interpreter.path, interpreter.pip, "install", "--target", folder, "--upgrade", *_PIP_OPTIONS]
    return run([*command, "-r", pin_file(root, "uv")], _pip_surroundings(), progress.detail)


def python_fetcher(folder: str) -> list[str]:
    """The command with which the uv in `folder` fetches a Python into the folder that is put after it."""
    uv = os.path.join(folder, "bin", "uv.exe" if sys.platform == "win32" else "uv")
    return [uv, "python", "install", "3.13", "--no-bin", "--install-dir"]


def fault(lines: tuple[str, ...]) -> str:
    """Why pip or uv gave up, in words; its own last error where it is none of the usual causes."""
    text = "\n".join(lines)
    if "DO NOT MATCH THE HASHES" in text:
        return "a downloaded file is not the pinned one (its hash differs)"
    if "No space left" in text:
        return "the disk is full"
    unreached = r"Retrying \(|NewConnectionError|ConnectTimeout|ReadTimeout|ProxyError|SSLError|client error \(Connect\)"
    if re.search(unreached, text):
        return "the download cannot be reached (check the connection, then run the same command again)"
    faults = [line.partition(": ")[2] for line in lines if line.lower().startswith("error: ")]
    return faults[-1].rstrip(".") if faults else (lines[-1] if lines else "no reason was given")
