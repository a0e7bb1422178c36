"""Where plugins are found, in which order, and whose code may run."""

from __future__ import annotations

import sys
from importlib import metadata
from pathlib import Path

import pytest

from compiler.plug import find, folder_digest, load
from tests.plug.plugins_at_hand import said, write

CODE = '''
import sys
from compiler.api import *

sys.imported_for_test = True

@hook
def plugin() -> Plugin:
    return Plugin(contract=1)
'''


@pytest.fixture(autouse=True)
def nothing_imported(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "imported_for_test", False, raising=False)


def bench(folder: Path) -> Path:
    """A plan's folder with one plugin, not imported before."""
    plan = folder / "trestle-bench"
    write(plan, "loose_key", CODE)
    return plan


def errors(plan: Path, *trusted: str, trust_all: bool = False) -> list[str]:
    return [said(entry) for entry in load(bundled=None, installed=False, plan=plan, trusted=trusted, trust_all=trust_all).report]


def test_an_untrusted_plugin_is_not_even_imported(tmp_path: Path) -> None:
    """The message says what to write, with the digest of what was seen."""
    plan = bench(tmp_path)
    digest = folder_digest(plan / "plugins" / "loose_key")[:12]
    assert ["loose_key `loose_key` is a plugin in the folder of the plan trestle-bench, and its code runs only if you trust it."
            f" · Read its code; then add trestle-bench/loose_key to trusted in shop.yaml, or trestle-bench/loose_key at {digest} to trust this code alone."] == errors(plan)
    assert not sys.imported_for_test  # type: ignore[attr-defined]


@pytest.mark.parametrize("entry", ["trestle-bench", "trestle-bench/loose_key", "trestle-bench at {}", "trestle-bench/loose_key at {}"])
def test_trust_is_by_folder_or_plugin_with_or_without_digest(entry: str, tmp_path: Path) -> None:
    """Four ways to write it."""
    plan = bench(tmp_path)
    assert [] == errors(plan, entry.format(folder_digest(plan / "plugins" / "loose_key")[:12]))
    assert sys.imported_for_test  # type: ignore[attr-defined]


def test_a_flag_trusts_everything(tmp_path: Path) -> None:
    """For one run."""
    assert [] == errors(bench(tmp_path), trust_all=True)


@pytest.mark.parametrize("entry", ["trestle", "trestle-bench/other", "bench at", "trestle-bench/loose_key at 3f"])
def test_trust_in_something_else_is_no_trust(entry: str, tmp_path: Path) -> None:
    """A part of a name is not the name; two letters are no digest."""
    assert 1 == len(errors(bench(tmp_path), entry))


def test_code_that_changed_after_it_was_trusted_is_refused(tmp_path: Path) -> None:
    """Both digests are shown, at shop.yaml's list."""
    plan = bench(tmp_path)
    before = folder_digest(plan / "plugins" / "loose_key")[:12]
    (plan / "plugins" / "loose_key" / "sizes.py").write_text("WIDE = 3\n")
    after = folder_digest(plan / "plugins" / "loose_key")[:12]
    (message,) = errors(plan, f"trestle-bench/loose_key at {before}")
    assert f"has changed since it was trusted: its code was {before}, it is {after}" in message


def test_the_digest_is_of_names_and_bytes_only(tmp_path: Path) -> None:
    """Caches, hidden files and the folder's own place don't count; a renamed file does."""
    one, two = write(tmp_path / "a", "labels", CODE), write(tmp_path / "b" / "c", "labels", CODE)
    (two / "__pycache__").mkdir()
    (two / "__pycache__" / "x.pyc").write_bytes(b"x")
    (two / ".hidden").write_text("x")
    assert folder_digest(one) == folder_digest(two)
    (two / "__init__.py").rename(two / "other.py")
    assert folder_digest(one) != folder_digest(two)


def test_the_order_is_bundled_installed_shop_plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By name within each."""
    write(tmp_path, "b_bundled", CODE)
    write(tmp_path, "a_bundled", CODE)
    write(tmp_path / "shop", "shop_one", CODE)
    write(tmp_path / "shop" / "plan", "plan_one", CODE)
    entry = metadata.EntryPoint(name="installed_one", value="no_such_package_here", group="kerfolio.plugins")
    monkeypatch.setattr("importlib.metadata.entry_points", lambda group: metadata.EntryPoints([entry]) if group == "kerfolio.plugins" else ())
    found = find(bundled=tmp_path / "plugins", shop=tmp_path / "shop", plan=tmp_path / "shop" / "plan")
    assert [("bundled", "a_bundled"), ("bundled", "b_bundled"), ("installed", "installed_one"), ("shop", "shop_one"),
            ("plan", "plan_one")] == [(candidate.found, candidate.name) for candidate in found]


def test_an_installed_package_is_found_by_its_entry_point(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As pip leaves it: a package and its .dist-info. It was trusted when it was installed; its code has a digest, too."""
    (tmp_path / "spline_shop").mkdir()
    (tmp_path / "spline_shop" / "__init__.py").write_text(CODE.lstrip())
    info = tmp_path / "spline_shop-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: spline-shop\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[kerfolio.plugins]\nsplines = spline_shop\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    outcome = load(bundled=None, installed=True)
    assert [] == [said(entry) for entry in outcome.report]
    assert outcome.value is not None
    assert [("splines", "installed", folder_digest(tmp_path / "spline_shop"))] == [
        (author.plugin, author.found, author.digest) for author in outcome.value.plugins]
    assert sys.imported_for_test  # type: ignore[attr-defined]


def test_a_folder_without_an_init_is_no_plugin(tmp_path: Path) -> None:
    """Notes and pictures may lie beside plugins."""
    (tmp_path / "plugins" / "notes").mkdir(parents=True)
    assert () == find(installed=False, shop=tmp_path)
    assert () == find(installed=False, shop=tmp_path / "no such folder")


def test_a_plugin_of_several_files_imports_its_own(tmp_path: Path) -> None:
    """With a relative import; two plans may each have a plugin of the same name."""
    for plan, wide in (("one", 1), ("two", 2)):
        home = write(tmp_path / plan, "labels", CODE.replace("sys.imported_for_test = True", "from .sizes import WIDE\nsys.imported_for_test = WIDE"))
        (home / "sizes.py").write_text(f"WIDE = {wide}\n")
        assert [] == errors(tmp_path / plan, plan)
        assert wide == sys.imported_for_test  # type: ignore[attr-defined]


def test_bundled_plugins_load_without_a_word() -> None:
    """Every plugin beside the compiler, by the same door as anyone's."""
    outcome = load(installed=False)
    assert [] == [said(entry) for entry in outcome.report]
    assert outcome.value is not None
    assert {"board_feet", "cut_list", "hardware_list", "materials"} <= {author.plugin for author in outcome.value.plugins}
