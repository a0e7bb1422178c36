"""Finds a Python that the rest can run on.

In: the search path, the home folder, the platform. Out: an `Interpreter` that was started once and
answered. Standard library only; it does not make environments.
"""

from __future__ import annotations

import glob
import json
import os
import sys
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from compiler.bootstrap.running import run

OLDEST, NEWEST = (3, 12), (3, 14)
VERSIONS = tuple(f"3.{minor}" for minor in range(NEWEST[1], OLDEST[1] - 1, -1))

# Asked of each candidate. The modules are those that a home-built Python may lack and the set-up needs;
# pip's own wheel is what Python or its distribution keeps for new environments.
_QUESTION = """
import glob, importlib.util, json, os, sys, sysconfig
import ctypes, ssl, venv, zlib
folders = [sysconfig.get_config_var("WHEEL_PKG_DIR") or "", "/usr/share/python-wheels"]
bundle = importlib.util.find_spec("ensurepip")
if bundle and bundle.origin:
    folders.insert(0, os.path.join(os.path.dirname(bundle.origin), "_bundled"))
pips = [pip for folder in folders if folder for pip in sorted(glob.glob(os.path.join(folder, "pip-*.whl")))]
pips = [os.path.join(pip, "pip") for pip in pips]
installed = importlib.util.find_spec("pip")
if installed and installed.origin:
    pips.append(os.path.dirname(installed.origin))
print(json.dumps({
    "path": getattr(sys, "_base_executable", None) or sys.executable,
    "version": list(sys.version_info[:3]),
    "implementation": sys.implementation.name,
    "free_threaded": bool(sysconfig.get_config_var("Py_GIL_DISABLED")),
    "musl": "musl" in (sysconfig.get_config_var("HOST_GNU_TYPE") or ""),
    "pip": pips[0] if pips else "",
}))
"""


class Interpreter(NamedTuple):
    """A Python that answered: where it is, its version, and the pip that comes with it ("" for none)."""

    path: str
    version: tuple[int, int, int]
    pip: str
    implementation: str = "cpython"
    free_threaded: bool = False
    musl: bool = False

    def suits(self) -> bool:
        """Whether the pinned packages have builds for it."""
        return (
            OLDEST <= self.version[:2] <= NEWEST
            and self.implementation == "cpython"
            and not self.free_threaded
        )

    def short(self) -> str:
        """The version without its patch number: "3.13"."""
        return f"{self.version[0]}.{self.version[1]}"

    def named(self) -> str:
        """The version as people write it, with the path."""
        return f"Python {'.'.join(map(str, self.version))} ({self.path})"


def parse_answer(text: str) -> Interpreter | None:
    """The interpreter that an answer to the question describes; None when it is not an answer."""
    try:
        answer = json.loads(text)
        major, minor, patch = answer["version"]
        return Interpreter(
            path=answer["path"],
            version=(int(major), int(minor), int(patch)),
            pip=answer["pip"],
            implementation=answer["implementation"],
            free_threaded=answer["free_threaded"],
            musl=answer["musl"],
        )
    except (ValueError, KeyError, TypeError):
        return None


def ask(command: list[str]) -> Interpreter | None:
    """Start a candidate and ask what it is; None when it does not run, as a shim without a version."""
    code, lines = run([*command, "-I", "-c", _QUESTION])
    return parse_answer(lines[-1]) if code == 0 and lines else None


def find(root: str) -> Interpreter | None:
    """The running Python if it suits, else the first on this machine that does."""
    for command in [[sys.executable], *candidates(os.environ, sys.platform, os.path.expanduser("~"), root)]:
        interpreter = ask(command)
        if interpreter is not None and interpreter.suits():
            return interpreter
    return None


def candidates(environ: Mapping[str, str], platform: str, home: str, root: str) -> Iterator[list[str]]:
    """Commands that may start a Python that suits, likeliest first, each once."""
    seen: set[str] = set()
    for command in _places(environ, platform, home, root):
        known = " ".join(command)
        if known not in seen:
            seen.add(known)
            yield command


def _places(environ: Mapping[str, str], platform: str, home: str, root: str) -> Iterator[list[str]]:
    windows = platform == "win32"
    suffix = ".exe" if windows else ""
    for name in [*(f"python{version}" for version in VERSIONS), "python3", "python"]:
        for folder in environ.get("PATH", "").split(";" if windows else ":"):
            path = os.path.join(folder, name + suffix)
            if folder and os.path.isfile(path):
                yield [path]
    if windows:
        yield from (["py", "-" + version] for version in VERSIONS)
    patterns = []
    pyenv = environ.get("PYENV_ROOT") or os.path.join(home, ".pyenv")
    local = environ.get("LOCALAPPDATA") or os.path.join(home, "AppData", "Local")
    for version in VERSIONS:
        plain = version.replace(".", "")
        if windows:
            patterns += [
                os.path.join(local, "Programs", "Python", "Python" + plain, "python.exe"),
                os.path.join(pyenv, "pyenv-win", "versions", version + ".*", "python.exe"),
                os.path.join(root, ".python", f"cpython-{version}*", "python.exe"),
            ]
            continue
        program = "python" + version
        patterns += [
            os.path.join("/opt/homebrew/bin", program),
            os.path.join("/opt/homebrew/opt", "python@" + version, "bin", program),
            os.path.join("/usr/local/bin", program),
            os.path.join("/usr/local/opt", "python@" + version, "bin", program),
            os.path.join("/home/linuxbrew/.linuxbrew/bin", program),
            os.path.join("/Library/Frameworks/Python.framework/Versions", version, "bin", program),
            os.path.join(pyenv, "versions", version + ".*", "bin", program),
            os.path.join(home, ".local/share/uv/python", f"cpython-{version}*", "bin", program),
            os.path.join(root, ".python", f"cpython-{version}*", "bin", program),
        ]
    for pattern in patterns:
        yield from ([path] for path in sorted(glob.glob(pattern), reverse=True))
