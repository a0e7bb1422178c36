"""The tutorial in DEVELOPERS.md is the plugin itself: its pieces, put together, are the tested file, and work."""

from __future__ import annotations

import re
from pathlib import Path

from compiler.plug.importing import module_in
from compiler.testing import plan
from tests.made import ROOT

TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("### A joint, line by line\n")[2].partition("\n## ")[0]
SHELF = ROOT / "projects" / "knock-down-shelf"
PIECES = re.findall(r"```python\n(.*?)```", TEXT, re.DOTALL)

CASE = """
materials: {ash: ash 4/4}
parts:
  side: {stock: ash, across: from 0, deep: 0 to 8, up: 0 to 20, grain: up}
  shelf: {stock: ash, across: side.right to 24, deep: 0 to 8, up: from 6, grain: across}
joints:
  - {loose key: shelf, into: side, width: 2, reach: 1 1/4}
"""


def test_no_line_is_left_out() -> None:
    """Put together they are the plugin of the knock-down shelf, blank lines aside."""
    whole = (SHELF / "plugins" / "loose_key" / "__init__.py").read_text(encoding="utf-8")
    assert [line for line in whole.splitlines() if line] == [line for piece in PIECES for line in piece.splitlines() if line]


def test_the_pieces_work(tmp_path: Path) -> None:
    """Read from the page into a folder: 3/4 through the side and 1 1/4 beyond it."""
    home = tmp_path / "loose_key"
    home.mkdir()
    (home / "__init__.py").write_text("\n\n".join(PIECES), encoding="utf-8")
    assert "1 shelf 25 1/4 x 8 x 3/4 ash 4/4" == plan(CASE, module_in(home)).cut("shelf")


def test_the_lines_of_the_design_stand_there() -> None:
    """As the page shows them."""
    shown = re.search(r"```yaml\n(.*?)```", TEXT, re.DOTALL)
    assert shown is not None and shown[1] in (SHELF / "design.yaml").read_text(encoding="utf-8")
    trusted = re.search(r"`(trusted: \[.*?\])`\):", TEXT)
    assert trusted is not None and trusted[1] in (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")


def test_the_readme_names_the_command_as_it_is() -> None:
    """And what it writes."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "new --plugin fox-tenon --at projects/hall-table" in readme and "projects/hall-table/plugins/fox_tenon/__init__.py" in readme
