"""What a system is told to type.

Sources of the package names: Debian trixie, packages libpango-1.0-0, libpangoft2-1.0-0,
libharfbuzz-subset0, python3-pip-whl (installed from there on a machine with nothing else); the others
from the renderer's installation page and from memory.
"""

import pytest

from compiler.bootstrap import systems
from compiler.bootstrap.running import Progress, SetUpFailed
from compiler.bootstrap.systems import PANGO, PIP, PYTHON, archive_has_python, family, get, line_to_type

DEBIAN = 'PRETTY_NAME="Debian GNU/Linux 13 (trixie)"\nID=debian\nVERSION_ID="13"\n'


@pytest.mark.parametrize(
    ("os_release", "expected"),
    [
        (DEBIAN, "debian"),
        ('ID=linuxmint\nID_LIKE="ubuntu debian"\n', "debian"),
        ("ID=fedora\n", "fedora"),
        ('ID="rocky"\nID_LIKE="rhel centos fedora"\n', "fedora"),
        ('ID="opensuse-tumbleweed"\nID_LIKE="opensuse suse"\n', "suse"),
        ("ID=arch\n", "arch"),
        ("ID=nixos\n", "other"),
        ("", "other"),
    ],
)
def test_linux_is_known_by_its_own_words(os_release: str, expected: str) -> None:
    """The id, or one that the system says it is like, decides the package tool."""
    assert expected == family("linux", os_release)


def test_other_platforms_need_no_file() -> None:
    """Windows and macOS are told by Python."""
    assert ("windows", "macos") == (family("win32", ""), family("darwin", ""))


def test_debian_gets_everything_in_one_line() -> None:
    """A fresh Debian lacks Pango, pip and its package lists; one line brings all three."""
    assert (
        "sudo apt-get update && sudo apt-get install -y --no-install-recommends"
        " libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 python3-pip-whl"
    ) == line_to_type("debian", (PANGO, PIP))


@pytest.mark.parametrize(
    ("system", "need", "expected"),
    [
        ("fedora", PANGO, "sudo dnf install -y pango"),
        ("suse", PANGO, "sudo zypper install -y libpango-1_0-0 libharfbuzz-subset0"),
        ("arch", PANGO, "sudo pacman -S --needed pango"),
        ("macos", PANGO, "brew install pango"),
        ("macos", PYTHON, "brew install python@3.13"),
        ("fedora", PYTHON, "sudo dnf install -y python3.13"),
        ("windows", PYTHON, "winget install -e --id Python.Python.3.13"),
        (
            "windows",
            PANGO,
            "winget install -e --id MSYS2.MSYS2; "
            "C:\\msys64\\usr\\bin\\pacman.exe -S --noconfirm mingw-w64-ucrt-x86_64-pango",
        ),
    ],
)
def test_each_system_gets_its_own_line(system: str, need: str, expected: str) -> None:
    """The line is whole: it can be pasted."""
    assert expected == line_to_type(system, (need,))


def test_an_unknown_system_gets_no_invented_line() -> None:
    """Where the package tool is not known, no line is made up."""
    assert "" == line_to_type("other", (PANGO,))


def test_an_unknown_system_is_told_what_to_look_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Then the message names the libraries themselves."""
    monkeypatch.setattr(systems, "this_family", lambda: "other")
    failure = systems.lacking("Missing on this system: Pango.", (PANGO,))
    assert "libpangoft2-1.0" in failure.sentence
    assert "" == failure.line


@pytest.mark.parametrize(
    ("version", "expected"), [("3.13.5-1", True), ("3.12.3-0ubuntu2", True), ("", False)]
)
def test_debian_python_is_offered_where_it_is_new_enough(version: str, expected: bool) -> None:
    """Debian 13 and Ubuntu 24.04 have a Python that suits."""
    assert expected == archive_has_python(version)


def test_debian_12_is_not_sent_to_its_archive_for_python() -> None:
    """Its python3 is 3.11, and installing it would change nothing."""
    assert not archive_has_python("3.11.2-1+b1")


def test_a_user_without_root_is_told_and_nothing_is_run(monkeypatch: pytest.MonkeyPatch) -> None:
    """The system is never changed by anyone but root; the line is named instead."""
    monkeypatch.setattr(systems, "this_family", lambda: "debian")
    monkeypatch.setattr(systems.os, "geteuid", lambda: 1000, raising=False)
    monkeypatch.setattr(systems, "run", lambda *words: pytest.fail(f"ran {words}"))
    with pytest.raises(SetUpFailed) as caught:
        get((PANGO,), Progress())
    assert "Missing on this system: Pango. Type:" == caught.value.sentence
    assert caught.value.line.startswith("sudo apt-get update")


def test_root_is_not_told_to_use_sudo(monkeypatch: pytest.MonkeyPatch) -> None:
    """A bare machine has no sudo, and root needs none."""
    monkeypatch.setattr(systems, "this_family", lambda: "arch")
    monkeypatch.setattr(systems.os, "geteuid", lambda: 0, raising=False)
    assert "pacman -S --needed pango" == systems.lacking("Missing.", (PANGO,)).line
