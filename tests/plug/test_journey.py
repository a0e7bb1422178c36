"""A maker's own joint, as a maker goes about it: scaffolded, changed, used between two parts, seen in the plan, broken and mended."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler import cli
from compiler.plug.importing import module_in
from compiler.testing import plan as plan_of
from tests.plug.test_trust import NOTES

DESIGN = """plan: Rail and post
number: 1
issue: 1
date: 2026-11-02
units: inch
editions: [inch letter]
materials: {pine: white pine 4/4}
parts:
  post: {stock: pine, across: from 0, deep: 0 to 3, up: 0 to 20, grain: up}
  rail: {stock: pine, across: post.right to 24, deep: 0 to 3, up: from 6, grain: across}
joints:
  - {fox tenon: rail, into: post}
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A plan whose shop trusts it, with a joint of its own as `new` writes it, and two things changed in that."""
    folder = tmp_path / "rail-and-post"
    folder.mkdir()
    (folder / "design.yaml").write_text(DESIGN, encoding="utf-8")
    (folder / "notes.md").write_text(NOTES, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text("shop: Pinwheel Lane Woodshop\ntrusted: [rail-and-post]\n", encoding="utf-8")
    assert 0 == cli.main(["new", "--plugin", "fox-tenon", "--at", str(folder)])
    change(folder, '"receiver.depth / 2"', '"receiver.depth / 3"')
    change(folder, '"mortise with router"', '"mortise with drill and chisel"')
    return folder


def code_of(plan: Path) -> Path:
    return plan / "plugins" / "fox_tenon" / "__init__.py"


def change(plan: Path, old: str, new: str) -> int:
    """Change one thing in the plugin; the number of the line it stands in."""
    text = code_of(plan).read_text(encoding="utf-8")
    assert 1 == text.count(old), old
    code_of(plan).write_text(text.replace(old, new), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


def said(plan: Path, capsys: pytest.CaptureFixture[str]) -> str:
    cli.main(["check", str(plan)])
    return capsys.readouterr().err


def test_the_plan_shows_it(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Lists (24 - 3/4 + 1/4), solids, the detail drawing, the tools and their cautions all know it."""
    assert "" == said(plan, capsys)
    made = plan_of(DESIGN, module_in(code_of(plan).parent))
    assert "1 rail 23 1/2 x 3 x 3/4 white pine 4/4" == made.cut("rail")
    tenon = 0.25 * 0.25 * 2.5
    assert made.volume("post") == pytest.approx(20 * 3 * 0.75 - tenon)
    assert "fox tenon" in repr(made.section("Joint details")).lower()
    assert {"mortise with drill and chisel", "tenon"} <= {operation.does for operation in made.model.operations}
    assert "chisel" in repr(made.section("Work safely")).lower()


@pytest.mark.parametrize(("old", "new", "expected"), [
    ("return Work(", "Work(", "Joint `fox tenon`: make gave a NoneType; it gives a Work(…)."),
    ("return Work(", "return dict(", "Joint `fox tenon`: make gave a dict; it gives a Work(…)."),
    ("whole = c.block(into=self.depth)", "whole = c.block(into=self.depth)[1]",
     "Joint `fox tenon` stopped: TypeError: 'Block' object is not subscriptable"),
    ("whole = c.block(into=self.depth)", "whole = c.block(into=-self.depth)", "Joint `fox tenon`: a block of negative size into, from 0 to -1/4"),
    ("whole = c.block(into=self.depth)", "whole = c.block(into=0.25)", "0.25 is no Length; write inch(...) or mm(...)"),
    ("on_acting=(", "on_acting=[", "`fox_tenon` can't be read: closing parenthesis ')' does not match opening parenthesis '['"),
    ('kind, how = "fox tenon", "into"', 'kind, how = "fox tenon", "onto"', "Joint `FoxTenon`: `how` is 'onto'; it is one of into, to, with, on"),
    ('"receiver.depth / 3"', '"reciever.depth / 3"', "The `default` of `FoxTenon.depth` names `reciever.depth`, which is nothing."),
    ("return Plugin(contract=1", "return Plugin(contract=7", "made for contract 7; this compiler speaks 1"),
])
def test_a_broken_joint_names_plugin_and_line(old: str, new: str, expected: str, plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One sentence, the plugin, and the file's place as an editor opens it; mended, the plan is well again."""
    line = change(plan, old, new)
    told = said(plan, capsys)
    first = told.split("\n\n")[0]
    assert expected in first and "(fox_tenon)" in first, told
    if "contract" not in new:
        lines = [line, next(at for at, text in enumerate(code_of(plan).read_text(encoding="utf-8").splitlines(), 1) if "def make" in text)]
        classes = [at for at, text in enumerate(code_of(plan).read_text(encoding="utf-8").splitlines(), 1) if text.startswith("class")]
        assert any(f"{code_of(plan)}:{at}" in first for at in (*lines, *classes)), first


def test_a_joint_of_a_plugin_left_out_is_not_called_misspelt(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The second message follows from the first and says so."""
    change(plan, '"receiver.depth / 3"', '"reciever.depth / 3"')
    told = said(plan, capsys)
    assert "It may be one of fox_tenon, which was left out: mend that first." in told and "Did you mean tenon?" not in told


def test_a_test_of_a_broken_plugin_shows_its_message(plan: Path) -> None:
    """Not a size that is a little off."""
    line = change(plan, "whole = c.block(into=self.depth)", "whole = c.block(into=-self.depth)")
    made = plan_of(DESIGN, module_in(code_of(plan).parent))
    with pytest.raises(AssertionError, match=rf"a block of negative size into.*\(__init__.py:{line}\)"):
        made.cut("rail")
