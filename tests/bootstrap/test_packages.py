"""The pin files, and what is made of pip's words when it gives up."""

import re
import tomllib
from pathlib import Path

import pytest

from compiler.bootstrap import ROOT
from compiler.bootstrap.packages import changed_anything, fault, pinned_names

PROJECT = tomllib.loads(Path(ROOT, "pyproject.toml").read_text(encoding="utf-8"))
NEEDS = {
    "run": [*PROJECT["project"]["dependencies"], *PROJECT["dependency-groups"]["set-up"]],
    "tests": PROJECT["dependency-groups"]["tests"],
    "uv": PROJECT["dependency-groups"]["uv"],
}


def pins(name: str) -> str:
    """The text of a pin file."""
    return Path(ROOT, "compiler", "bootstrap", "pins", f"{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", NEEDS)
def test_every_dependency_is_pinned(name: str) -> None:
    """What pyproject.toml asks for stands in the pin file."""
    asked = {re.split(r"[=;<> ]", need)[0].replace(".", "-") for need in NEEDS[name]}
    assert set() == asked - set(pinned_names(str(Path(ROOT, "compiler", "bootstrap", "pins", f"{name}.txt"))))


@pytest.mark.parametrize("name", NEEDS)
def test_every_pin_has_a_hash(name: str) -> None:
    """Each entry is one exact version followed by the hashes of its files."""
    entries = [entry for entry in re.split(r"\n(?=[a-z])", pins(name)) if not entry.startswith("#")]
    assert entries
    assert [] == [
        entry for entry in entries if not re.match(r"[a-z0-9-]+==\S+[^\n]*\\\n +--hash=sha256:", entry)
    ]


@pytest.mark.parametrize("name", NEEDS)
def test_no_pin_file_names_an_index(name: str) -> None:
    """Where packages come from is the user's own setting."""
    assert "://" not in pins(name)
    assert "index" not in pins(name)


def test_test_pins_agree_with_the_others() -> None:
    """A package in both files has one version."""
    versions: dict[str, set[str]] = {}
    for name in ("run", "tests"):
        for package, version in re.findall(r"^([a-z0-9-]+)==(\S+)", pins(name), re.MULTILINE):
            versions.setdefault(package, set()).add(version)
    assert {} == {package: found for package, found in versions.items() if len(found) > 1}


def test_a_lost_connection_is_named() -> None:
    """pip's own last line speaks of a missing version, which misleads."""
    said = (
        "WARNING: Retrying (Retry(total=1, connect=None)) after connection broken by 'NewConnectionError(...)'",
        "ERROR: Could not find a version that satisfies the requirement brotli==1.2.1 (from versions: none)",
        "ERROR: No matching distribution found for brotli==1.2.1",
    )
    assert fault(said).startswith("the download cannot be reached")


def test_a_wrong_hash_is_named() -> None:
    """A file that is not the pinned one is said to be so."""
    said = ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.", "    segno==1.6.6")
    assert "a downloaded file is not the pinned one (its hash differs)" == fault(said)


def test_a_full_disk_is_named() -> None:
    """The system's number for it is left out."""
    said = ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device",)
    assert "the disk is full" == fault(said)


def test_any_other_reason_is_in_pips_own_words() -> None:
    """The last error, without its label and full stop."""
    said = ("Collecting lxml", "ERROR: No matching distribution found for lxml==6.1.3.", "hint: look above")
    assert "No matching distribution found for lxml==6.1.3" == fault(said)


def test_silence_is_named_too() -> None:
    """A program that ends without a word still leaves a sentence."""
    assert "no reason was given" == fault(())


def test_fetching_alone_changes_nothing() -> None:
    """Until pip unpacks, the environment is what it was, and its stamp may stand."""
    assert not changed_anything(("Collecting lxml", "  Downloading lxml-6.1.3.whl (5.1 MB)"))
    assert changed_anything(("Collecting lxml", "Installing collected packages: lxml"))
