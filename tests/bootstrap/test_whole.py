"""The set-up from end to end, on a small project of its own with one small package and no network."""

import base64
import hashlib
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from compiler.bootstrap import ROOT, systems

pytestmark = pytest.mark.skipif(systems.lacks_pango(), reason="would install Pango")

# Stands in for the project's build backend: the same editable install, with nothing to fetch.
BACKEND = """
import zipfile

def get_requires_for_build_editable(config_settings=None):
    return []

def build_editable(wheel_directory, config_settings=None, metadata_directory=None):
    name = "kerfolio-0-py3-none-any.whl"
    with zipfile.ZipFile(wheel_directory + "/" + name, "w") as wheel:
        wheel.writestr("kerfolio-0.dist-info/METADATA", "Metadata-Version: 2.1\\nName: kerfolio\\nVersion: 0\\n")
        wheel.writestr("kerfolio-0.dist-info/WHEEL", "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\nTag: py3-none-any\\n")
        wheel.writestr("kerfolio-0.dist-info/RECORD", "kerfolio-0.dist-info/RECORD,,\\n")
    return name
"""


def wheel(folder: Path, version: str) -> str:
    """Put a package that stands in for the renderer into `folder`; its line in a pin file."""
    path = folder / f"weasyprint-{version}-py3-none-any.whl"
    about = f"weasyprint-{version}.dist-info"
    texts = {
        "weasyprint/__init__.py": f"version = '{version}'\n",
        "weasyprint/text/__init__.py": "",
        "weasyprint/text/ffi.py": "",
        f"{about}/METADATA": f"Metadata-Version: 2.1\nName: weasyprint\nVersion: {version}\n",
        f"{about}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = ""
    with zipfile.ZipFile(path, "w") as packed:
        for name, text in texts.items():
            packed.writestr(name, text)
            digest = base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).rstrip(b"=").decode()
            record += f"{name},sha256={digest},{len(text)}\n"
        packed.writestr(f"{about}/RECORD", record + f"{about}/RECORD,,\n")
    return f"weasyprint=={version} \\\n    --hash=sha256:{hashlib.sha256(path.read_bytes()).hexdigest()}\n"


def project(folder: Path) -> Path:
    """A project that has this project's set-up and little else."""
    for name in ("compiler/__init__.py", "compiler/__main__.py"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(Path(ROOT, name), folder / name)
    shutil.copytree(
        Path(ROOT, "compiler", "bootstrap"),
        folder / "compiler" / "bootstrap",
        ignore=shutil.ignore_patterns("__pycache__", "tests.txt", "uv.txt"),
    )
    (folder / "compiler" / "cli.py").write_text(
        "import sys, weasyprint\ndef main():\n    print(weasyprint.version, *sys.argv[1:])\n    return 0\n"
    )
    (folder / "backend.py").write_text(BACKEND)
    (folder / "pyproject.toml").write_text(
        '[build-system]\nrequires = []\nbuild-backend = "backend"\nbackend-path = ["."]\n'
        '[project]\nname = "kerfolio"\nversion = "0"\n'
    )
    (folder / "wheels").mkdir()
    (folder / "compiler" / "bootstrap" / "pins" / "run.txt").write_text(wheel(folder / "wheels", "1"))
    return folder


def start(folder: Path, *words: str, links: str = "wheels") -> subprocess.CompletedProcess[str]:
    """`python3 -m compiler …` with a Python outside any environment, and packages from `links` alone."""
    surroundings = {name: value for name, value in os.environ.items() if not name.startswith(("PIP_", "UV_"))}
    surroundings |= {
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(folder / links),
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_CACHE_DIR": str(folder / "cache"),
    }
    python = getattr(sys, "_base_executable", None) or sys.executable
    command = [python, "-m", "compiler", *words]
    return subprocess.run(command, cwd=folder, env=surroundings, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project that was set up once."""
    folder = project(tmp_path_factory.mktemp("shop"))
    first = start(folder, "publish", "a plan")
    (folder / "first.txt").write_text(first.stdout + first.stderr)
    return folder


def test_first_run_sets_up_and_then_does_what_was_asked(shop: Path) -> None:
    """One command: the environment is made and the command gets its arguments, spaces and all."""
    said = (shop / "first.txt").read_text()
    assert "1 publish a plan\n" in said
    assert "Setting up in this folder; this happens once.\n" in said
    assert "installing 1 pinned packages: done" in said


def test_second_run_has_nothing_to_say(shop: Path) -> None:
    """No set-up work is left, so nothing is printed but what the command prints."""
    again = start(shop, "check")
    assert (0, "1 check\n", "") == (again.returncode, again.stdout, again.stderr)


def test_a_failed_update_leaves_what_stood(shop: Path) -> None:
    """Offline, newer pins cannot come; with the older pins back, the environment is as good as before."""
    before = (shop / "compiler" / "bootstrap" / "pins" / "run.txt").read_text()
    (shop / "compiler" / "bootstrap" / "pins" / "run.txt").write_text(before.replace("==1", "==3"))
    failed = start(shop)
    (shop / "compiler" / "bootstrap" / "pins" / "run.txt").write_text(before)
    back = start(shop)
    assert (1, 0, "") == (failed.returncode, back.returncode, back.stderr)


def test_new_pins_are_brought_in_without_starting_over(tmp_path: Path) -> None:
    """A newer version replaces the older one, and what else stands in the environment stays.

    An environment without a stamp was interrupted, and nothing in it is trusted: it is made again.
    """
    folder = project(tmp_path)
    first = start(folder)
    kept = folder / ".venv" / "kept.txt"
    kept.touch()
    (folder / "compiler" / "bootstrap" / "pins" / "run.txt").write_text(wheel(folder / "wheels", "2"))
    updated = start(folder)
    assert ("1\n", "2\n") == (first.stdout, updated.stdout), first.stderr + updated.stderr
    assert kept.exists()
    (folder / ".venv" / "set-up.txt").unlink()
    (half,) = folder.glob(".venv/[Ll]ib/**/weasyprint/__init__.py")
    half.write_text("def half(")
    repaired = start(folder)
    assert "2\n" == repaired.stdout, repaired.stderr
    assert "making .venv again" in repaired.stderr
    assert not kept.exists()


def test_a_file_with_another_hash_is_refused(tmp_path: Path) -> None:
    """Exit code 1 and one sentence; nothing of the file is installed."""
    folder = project(tmp_path)
    pin = folder / "compiler" / "bootstrap" / "pins" / "run.txt"
    pin.write_text(pin.read_text()[:-5] + "0000\n")
    refused = start(folder)
    assert 1 == refused.returncode
    assert "error: The pinned packages could not be installed: a downloaded file is not" in refused.stderr
    assert "Traceback" not in refused.stderr
    assert [] == list(folder.glob(".venv/[Ll]ib/**/weasyprint"))


def test_a_package_that_cannot_be_had_is_one_sentence(tmp_path: Path) -> None:
    """Exit code 1, the reason, and where all that pip said is kept."""
    folder = project(tmp_path)
    failed = start(folder, links="nothing-here")
    assert 1 == failed.returncode
    assert "error: The pinned packages could not be installed: No matching distribution" in failed.stderr
    assert "Traceback" not in failed.stderr
    assert "No matching distribution" in (folder / "set-up.log").read_text()


def test_a_missing_pin_file_is_one_sentence(tmp_path: Path) -> None:
    """A copy of the project with files left out says so."""
    folder = project(tmp_path)
    (folder / "compiler" / "bootstrap" / "pins" / "run.txt").unlink()
    failed = start(folder)
    assert 1 == failed.returncode
    assert failed.stderr.startswith("error: this copy of the project is not whole")
    assert 1 == len(failed.stderr.splitlines())


def test_a_folder_that_cannot_be_written_is_one_sentence(tmp_path: Path) -> None:
    """A file where the environment should stand cannot be replaced; nothing of it is touched."""
    folder = project(tmp_path)
    (folder / ".venv.lock").mkdir()
    failed = start(folder)
    assert 1 == failed.returncode
    assert failed.stderr.startswith("error: the set-up could not write")
    assert "Traceback" not in failed.stderr


def test_every_run_imports_next_to_nothing() -> None:
    """All runs pass through the set-up's front door, so it must not load what only a set-up needs."""
    question = (
        "import sys; before = set(sys.modules); import compiler.bootstrap; print(*set(sys.modules) - before)"
    )
    python = getattr(sys, "_base_executable", None) or sys.executable
    loaded = subprocess.run([python, "-c", question], cwd=ROOT, capture_output=True, text=True, check=True)
    heavy = {"subprocess", "json", "shutil", "ctypes", "pathlib", "re", "typing", "compiler.bootstrap.set_up"}
    assert set() == heavy & set(loaded.stdout.split())
