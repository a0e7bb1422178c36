"""`new --plugin`: a plugin of every kind works as it comes, stands where it is found, and is whole or not there."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from compiler import cli, scaffold
from compiler.plug import load
from tests.made import ROOT

SHOP = "shop: Pinwheel Lane Woodshop\ntrusted: [trestle-bench, hall-table]\n"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop's folder with two plans, one of them trusted."""
    for plan in ("hall-table", "night-stand"):
        (tmp_path / plan).mkdir()
        (tmp_path / plan / "design.yaml").write_text("plan: A plan\n", encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    return tmp_path


def said(typed: str, kind: str = "joint", at: Path | None = None) -> list[str]:
    return [f"{entry.says} {entry.hint}" for entry in scaffold.new_plugin(typed, kind, at=at).report]


@pytest.mark.parametrize("package", [False, True], ids=["folder", "package"])
def test_every_kind_passes_its_own_tests_as_it_comes(package: bool, shop: Path) -> None:
    """All four in one run, each in less than five seconds of the processor, however busy the machine is."""
    for kind in scaffold.KINDS:
        made = scaffold.new_plugin(f"my-{kind}", kind, at=shop, package=package).value
        assert made is not None
    before = os.times()
    folders = sorted(shop.glob("kerfolio-*")) if package else [shop / "plugins"]
    run = subprocess.run([sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--import-mode=importlib", *map(str, folders)],
                         cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0 and "12 passed" in run.stdout, run.stdout + run.stderr
    spent = os.times()
    assert spent.children_user + spent.children_system - before.children_user - before.children_system < 5 * len(scaffold.KINDS)


def test_what_it_writes_is_loaded(shop: Path) -> None:
    """The joint of a plan's folder and the export of the shop's, beside the bundled ones."""
    assert scaffold.new_plugin("loose-key", "joint", at=shop / "hall-table").value is not None
    assert scaffold.new_plugin("price tags", "export", at=shop / "plugins").value is not None
    loaded = load(installed=False, shop=shop, plan=shop / "hall-table", trust_all=True)
    assert loaded.report.ok and loaded.value is not None
    assert "loose key" in loaded.value.joint_words
    assert ".price-tags.csv" in [entry.thing.suffix for entry in loaded.value.exports]


def test_nothing_of_the_sample_is_left(shop: Path) -> None:
    """Every name is the plugin's own, in code, test and README."""
    for kind in scaffold.KINDS:
        scaffold.new_plugin(f"my-{kind}", kind, at=shop)
    texts = [path.read_text(encoding="utf-8") for path in shop.rglob("plugins/*/*") if path.is_file()]
    assert len(texts) == 12 and not [text for text in texts if "sample" in text.lower()]


@pytest.mark.parametrize(("at", "line"), [
    ("", "trusted: [trestle-bench, hall-table, plugins/loose_key]"),
    ("night-stand", "trusted: [trestle-bench, hall-table, night-stand/loose_key]"),
    ("hall-table", ""),
])
def test_the_line_that_lets_it_run(at: str, line: str, shop: Path) -> None:
    """Written into shop.yaml as printed, it is all that is needed; a trusted folder needs none."""
    made = scaffold.new_plugin("loose-key", "joint", at=shop / at).value
    assert made is not None and made.trust == line
    trusted = tuple(word.strip() for word in (line or SHOP.splitlines()[1]).partition("[")[2].rstrip("]").split(","))
    loaded = load(installed=False, bundled=None, shop=shop, plan=shop / (at or "night-stand"), trusted=trusted)
    assert loaded.report.ok and loaded.value is not None and loaded.value.joint_words == ("loose key",)


@pytest.mark.parametrize(("typed", "kind", "expected"), [
    ("Loose Key", "joint", "`Loose Key` can't be a plugin's name. Use lower-case words with hyphens: loose-key."),
    ("../loose", "joint", "`../loose` can't be a plugin's name. Use lower-case words with hyphens: loose-key."),
    ("", "task", "`` can't be a plugin's name. Use lower-case words with hyphens: loose-key."),
    ("class", "task", "`class` is a word of the Python language. Add a word: class-task."),
    ("key-2", "joint", "`key-2` has a digit, and the word for a joint has letters only. Spell it out."),
    ("cut-list", "task", "There is a plugin called cut_list already. Choose another name."),
    ("lap-dovetail", "joint", "`lap dovetail` is a joint already. Choose another word: our-lap-dovetail."),
    ("long-" * 10 + "name", "task", f"`{'long-' * 10}name` is longer than 40 characters. Use lower-case words with hyphens: loose-key."),
])
def test_a_bad_name_is_answered(typed: str, kind: str, expected: str, shop: Path) -> None:
    """One sentence, and nothing is written."""
    assert [expected] == said(typed, kind, shop)
    assert not (shop / "plugins").exists()


def test_a_folder_that_is_there_is_left_alone(shop: Path) -> None:
    """Nobody's work is written over."""
    scaffold.new_plugin("loose-key", "joint", at=shop)
    code = shop / "plugins" / "loose_key" / "__init__.py"
    code.write_text("mine", encoding="utf-8")
    assert "is there already" in said("loose-key", "joint", shop)[0]
    assert "mine" == code.read_text(encoding="utf-8")


def test_a_folder_where_no_plugin_is_found_is_refused(tmp_path: Path) -> None:
    """It would be written and never loaded."""
    assert "neither a plan's folder nor the shop's" in said("loose-key", "joint", tmp_path)[0]
    assert f"There is no folder {tmp_path / 'nowhere'}." in said("loose-key", "joint", tmp_path / "nowhere")[0]


def test_half_a_plugin_is_never_there(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk leaves nothing behind."""
    def full(self: Path, *given: object, **more: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full)
    assert "can't be made: No space left on device." in said("loose-key", "joint", shop)[0]
    assert ["hall-table", "night-stand", "shop.yaml"] == sorted(path.name for path in shop.iterdir())


def test_a_package_names_its_entry(shop: Path) -> None:
    """The group that installed plugins are found by."""
    scaffold.new_plugin("loose-key", "joint", at=shop, package=True)
    project = tomllib.loads((shop / "kerfolio-loose-key" / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert {"loose_key": "kerfolio_loose_key"} == project["entry-points"]["kerfolio.plugins"]


def test_the_command_says_what_to_do_next(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """How to test it, how to trust it, how to write it."""
    assert 0 == cli.main(["new", "--plugin", "loose-key", "--at", str(shop)])
    told = capsys.readouterr().out
    for words in ("python3 -m tests", "plugins/loose_key]", "{loose key: rail, into: post}"):
        assert words in told


@pytest.mark.parametrize("words", [["new"], ["new", "hall-table", "--plugin", "loose-key"]])
def test_a_plan_or_a_plugin(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """Neither, or both, is mistyped."""
    assert 2 == cli.main(words)
    assert "Say what is new" in capsys.readouterr().err
