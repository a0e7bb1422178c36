"""What the README shows is true: its design checks cleanly, and its commands exist."""

import re
import shutil
from pathlib import Path

import pytest

from compiler import build, cli
from compiler.base.report import Severity
from compiler.build import Wishes, Workshop

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "README.md").read_text(encoding="utf-8")


def shown(language: str) -> str:
    """The first block of a language."""
    found = re.search(rf"```{language}\n(.*?)```", TEXT, re.DOTALL)
    assert found is not None
    return found.group(1)


@pytest.fixture
def hall_table(tmp_path: Path) -> Path:
    """The plan of the README, beside the shop's own settings."""
    folder = tmp_path / "projects" / "hall-table"
    folder.mkdir(parents=True)
    (folder / "design.yaml").write_text(shown("yaml"), encoding="utf-8")
    (folder / "notes.md").write_text("# Hall table\n\n" + shown("markdown"), encoding="utf-8")
    shutil.copy(ROOT / "projects" / "shop.yaml", folder.parent / "shop.yaml")
    return folder


def test_the_design_of_the_readme_has_no_fault(hall_table: Path) -> None:
    """Not even a warning, in inches and in millimetres; the anchor that every tall piece is offered is only advice."""
    report = build.check(hall_table, Wishes(), workshop=Workshop(store=None)).report
    assert [] == [(each.code, each.says) for each in report if each.severity is not Severity.ADVICE]


def test_why_of_the_readme_has_an_answer(hall_table: Path) -> None:
    """The apron is 32 1/2 between the legs and 3/4 longer at each end."""
    told = build.why(hall_table, "long apron.length", Wishes(), workshop=Workshop(store=None))
    assert told.lines[0].startswith("long apron.length = 34")


@pytest.mark.parametrize("command", sorted(set(re.findall(r"`?(?:kerfolio|-m compiler) ([a-z]+) ", TEXT))))
def test_every_command_of_the_readme_exists(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    """With help of its own."""
    with pytest.raises(SystemExit) as stopped:
        cli.main([command, "--help"])
    assert 0 == stopped.value.code
    assert command in capsys.readouterr().out
