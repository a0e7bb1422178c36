"""What the system under Python is, what it lacks for a plan, and the line that gets it.

In: the platform's name and its os-release text. Out: lines to type, and on Debian and its kin, for
root, the packages themselves. Standard library only; it knows nothing of Python environments.
"""

from __future__ import annotations

import ctypes
import glob
import os
import re
import sys

from compiler.bootstrap.running import Progress, SetUpFailed, run

PANGO, PIP, PYTHON = "Pango", "pip", "Python"

# The libraries that WeasyPrint opens on Linux.
_PANGO_LIBRARIES = (
    "libgobject-2.0.so.0",
    "libpango-1.0.so.0",
    "libharfbuzz.so.0",
    "libharfbuzz-subset.so.0",
    "libfontconfig.so.1",
    "libpangoft2-1.0.so.0",
)

_PACKAGES: dict[str, dict[str, tuple[str, ...]]] = {
    "debian": {
        PANGO: ("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"),
        PIP: ("python3-pip-whl",),
        PYTHON: ("python3",),
    },
    "fedora": {PANGO: ("pango",), PIP: ("python3-pip",), PYTHON: ("python3.13",)},
    "suse": {
        PANGO: ("libpango-1_0-0", "libharfbuzz-subset0"),
        PIP: ("python313-pip",),
        PYTHON: ("python313",),
    },
    "arch": {PANGO: ("pango",), PIP: ("python-pip",), PYTHON: ("python",)},
    "macos": {PANGO: ("pango",), PIP: ("python@3.13",), PYTHON: ("python@3.13",)},
}

_INSTALL = {
    "debian": "sudo apt-get update && sudo apt-get install -y --no-install-recommends {}",
    "fedora": "sudo dnf install -y {}",
    "suse": "sudo zypper install -y {}",
    "arch": "sudo pacman -S --needed {}",
    "macos": "brew install {}",
}

_WINDOWS = {
    PANGO: "winget install -e --id MSYS2.MSYS2; "
    "C:\\msys64\\usr\\bin\\pacman.exe -S --noconfirm mingw-w64-ucrt-x86_64-pango",
    PIP: "winget install -e --id Python.Python.3.13",
    PYTHON: "winget install -e --id Python.Python.3.13",
}

_DESCRIBED = {
    PANGO: "Pango 1.44 or newer with HarfBuzz (libpango-1.0, libpangoft2-1.0, libharfbuzz-subset)",
    PIP: "pip for this Python",
    PYTHON: "Python 3.12, 3.13 or 3.14",
}

_KIN = {
    "debian": "debian",
    "ubuntu": "debian",
    "fedora": "fedora",
    "rhel": "fedora",
    "centos": "fedora",
    "suse": "suse",
    "opensuse": "suse",
    "arch": "arch",
}


def family(platform: str, os_release: str) -> str:
    """The family whose package tool serves this system: "debian", "macos"…, or "other"."""
    if platform == "win32":
        return "windows"
    if platform == "darwin":
        return "macos"
    facts = dict(line.partition("=")[::2] for line in os_release.splitlines())
    names = [facts.get("ID", "").strip("\"'"), *facts.get("ID_LIKE", "").strip("\"'").split()]
    for name in names:
        if name in _KIN:
            return _KIN[name]
    return "other"


def this_family() -> str:
    """The family of the system this runs on."""
    for path in ("/etc/os-release", "/usr/lib/os-release"):
        try:
            with open(path, encoding="utf-8") as file:
                return family(sys.platform, file.read())
        except OSError:
            continue
    return family(sys.platform, "")


def line_to_type(system: str, needs: tuple[str, ...]) -> str:
    """The exact line that gets `needs` (of PANGO, PIP, PYTHON) on a system; "" where none is known."""
    if system == "windows":
        return "; ".join(dict.fromkeys(_WINDOWS[need] for need in needs))
    if system not in _INSTALL:
        return ""
    packages = [package for need in needs for package in _PACKAGES[system][need]]
    return _INSTALL[system].format(" ".join(dict.fromkeys(packages)))


def lacking(sentence: str, needs: tuple[str, ...], log: tuple[str, ...] = ()) -> SetUpFailed:
    """The failure that `sentence` tells, with the line that gets `needs` here, or what to look for."""
    system = this_family()
    line = line_to_type(system, needs)
    if system == "debian" and PYTHON in needs and not archive_has_python(_candidate("python3")):
        line = ""
    if sys.platform != "win32" and os.geteuid() == 0:
        line = line.replace("sudo ", "")
    if line:
        return SetUpFailed(f"{sentence} Type:", line, log)
    named = " and ".join(_DESCRIBED[need] for need in needs)
    return SetUpFailed(f"{sentence} With this system's package tool, install {named}.", "", log)


def archive_has_python(version: str) -> bool:
    """Whether Debian's archive holds a Python that suits, by the version of its python3 ("3.13.5-1")."""
    match = re.match(r"3\.(\d+)", version)
    return match is not None and int(match.group(1)) >= 12


def _candidate(package: str) -> str:
    _, lines = run(["apt-cache", "policy", package], _apt_surroundings())
    found = [line.partition(": ")[2] for line in lines if line.strip().startswith("Candidate: ")]
    return found[0] if found else ""


def lacks_pango() -> bool:
    """Whether a library that WeasyPrint needs is missing. Only Linux can tell before WeasyPrint is there."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        for library in _PANGO_LIBRARIES:
            ctypes.CDLL(library)
    except OSError:
        return True
    return False


def get(needs: tuple[str, ...], progress: Progress) -> None:
    """Get `needs` with apt where this is Debian or its kin and the user is root.

    Raises SetUpFailed, with the line to type, everywhere else and when apt fails.
    """
    named = " and ".join(needs)
    if this_family() != "debian" or sys.platform == "win32" or os.geteuid() != 0:
        raise lacking(f"Missing on this system: {named}.", needs)
    packages = [package for need in needs for package in _PACKAGES["debian"][need]]
    progress.begin(f"getting {named} with apt-get")
    updated: tuple[str, ...] = ()
    if not glob.glob("/var/lib/apt/lists/*_Packages*"):
        _, updated = _apt(["update"], progress)
    install = ["install", "-y", "--no-install-recommends", *packages]
    code, lines = _apt(install, progress)
    if code:
        # Lists out of date, or an earlier run cut off half way: put both right once.
        run(["dpkg", "--configure", "-a"], _apt_surroundings())
        _, updated = _apt(["update"], progress)
        code, lines = _apt(install, progress)
    if code:
        said = _apt_fault((*updated, *lines))
        raise lacking(f"apt-get could not install {named} ({said}).", needs, lines)
    progress.end()


def _apt(words: list[str], progress: Progress) -> tuple[int, tuple[str, ...]]:
    command = ["apt-get", "-q", "-o", "Dpkg::Use-Pty=0", "-o", "DPkg::Lock::Timeout=120", *words]
    return run(command, _apt_surroundings(), progress.detail)


def _apt_fault(lines: tuple[str, ...]) -> str:
    if any("Failed to fetch" in line or "Temporary failure resolving" in line for line in lines):
        return "the package archive cannot be reached"
    faults = [line for line in lines if line.startswith("E: ")]
    return faults[-1][3:].rstrip(".") if faults else "it did not say why"


def _apt_surroundings() -> dict[str, str]:
    return {**os.environ, "DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C.UTF-8"}
