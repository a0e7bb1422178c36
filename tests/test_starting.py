"""New plans and new themes: whole or not there at all."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from compiler.stages.dress import load_theme
from compiler.starting import new_plan, new_theme
from tests.shop import ROOT


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A checkout with starters and themes, and no plan yet."""
    shutil.copytree(ROOT / "shared/starters", tmp_path / "shared/starters")
    shutil.copytree(ROOT / "themes", tmp_path / "themes")
    (tmp_path / "projects").mkdir()
    return tmp_path


def test_a_new_theme_is_the_standard_one_until_it_says_otherwise(root: Path) -> None:
    """The same pages: every style, template and font is its parent's."""
    assert root / "projects/themes/our-shop" == new_theme("our-shop", root).value
    folders = (root / "projects/themes", root / "themes")
    child, parent = load_theme("our-shop", folders).value, load_theme("standard", folders).value
    assert child is not None and parent is not None
    assert ("standard", "our-shop") == child.chain
    assert (parent.styles, parent.templates, parent.files, parent.options) == (child.styles, child.templates, child.files, child.options)


def test_every_option_of_a_new_theme_may_be_uncommented(root: Path) -> None:
    """Its lines are right as they stand."""
    new_theme("our-shop", root)
    path = root / "projects/themes/our-shop/theme.toml"
    head, options = path.read_text().split("[set]\n")
    assert options.count("\n# ") >= 4
    path.write_text(head + "[set]\n" + options.replace("# ", "", 1).replace("\n# ", "\n"))
    assert load_theme("our-shop", (root / "projects/themes", root / "themes")).report.ok


@pytest.mark.parametrize(("name", "code"), [("Our Shop", "bad-name"), ("../x", "bad-name"), ("standard", "theme-exists")])
def test_a_theme_needs_a_name_of_its_own(name: str, code: str, root: Path) -> None:
    """Nothing is made."""
    assert [code] == [each.code for each in new_theme(name, root).report]
    assert not (root / "projects/themes").exists()


def test_a_new_plan_has_a_title_a_number_and_no_letters_of_another(root: Path) -> None:
    """The next number; the starter's own files, nothing of its output."""
    new_plan("hall-table", "table", root)
    (root / "projects/hall-table/letters.yaml").write_text("A: leg\n")
    new_plan("side-table", "hall-table", root)
    text = (root / "projects/side-table/design.yaml").read_text()
    assert "plan: Side table\nnumber: 2\n" in text
    assert not (root / "projects/side-table/letters.yaml").exists()
    assert ["unknown-starter"] == [each.code for each in new_plan("other", "tabel", root).report]
    assert ["plan-exists"] == [each.code for each in new_plan("side-table", "table", root).report]


def test_a_new_plan_is_named_as_it_is_typed_from_here(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the project's folder, from inside projects/, and by its whole path from anywhere else."""
    for here, typed in ((root, "projects/one"), (root / "projects", "two"), (root / "shared", str(root / "projects/three"))):
        monkeypatch.chdir(here)
        made = new_plan(Path(typed).name, "table", root).value
        assert made is not None
        assert (typed, True) == (str(made), (made / "design.yaml").is_file())
