"""`compare`: plans against what is published, or one PDF against another; nothing is replaced."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from compiler.cli import main
from tests.shop import Small


@pytest.fixture(scope="module")
def issues(tmp_path_factory: pytest.TempPathFactory) -> tuple[Small, Path]:
    """A published plan whose shelf then grew half an inch, and the PDF of the first."""
    shop = Small(tmp_path_factory.mktemp("shop") / "home")
    assert shop.publish().report.ok
    old = shop.home / "old" / "wall-rail.pdf"
    shop.publish(out=old.parent)
    shop.edit("design.yaml", "rail.back for 5", "rail.back for 5 1/2")
    return shop, old


def test_a_plan_against_what_is_published(issues: tuple[Small, Path], capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The list is loud, the pages are pictured, the PDF is the old one still."""
    shop, _ = issues
    before, report = shop.pdf, tmp_path / "changes.html"
    assert 0 == main(["compare", str(shop.plan), "--report", str(report)])
    out = capsys.readouterr().out
    assert "CHANGED cut list, B shelf: width 5 → 5 1/2" in out
    assert "would change" in out
    html = report.read_text(encoding="utf-8")
    assert "B shelf" in html and html.count("<img") >= 4
    assert before == shop.pdf


def test_two_pdfs(issues: tuple[Small, Path], capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Their records, which lie beside them, tell the rows; equal ones have no difference."""
    shop, old = issues
    new = tmp_path / "new"
    assert shop.publish(out=new).report.ok
    assert 0 == main(["compare", str(old), str(new / "wall-rail.pdf"), "--report", str(tmp_path / "c.html")])
    assert "cut list, B shelf: width 5 → 5 1/2" in capsys.readouterr().out
    assert 0 == main(["compare", str(old), str(old), "--report", str(tmp_path / "c.html")])
    assert "nothing changed" in capsys.readouterr().out


def test_an_unreadable_old_pdf_is_an_error_and_stays(issues: tuple[Small, Path], capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """One sentence with its name."""
    _, old = issues
    spoilt = tmp_path / "wall-rail.pdf"
    spoilt.write_bytes(b"%PDF-1.7 and no more")
    assert 1 == main(["compare", str(spoilt), str(old), "--report", str(tmp_path / "c.html")])
    assert "can't be read as a PDF" in capsys.readouterr().err
    assert b"%PDF-1.7 and no more" == spoilt.read_bytes()
    assert 1 == main(["compare", str(tmp_path / "none.pdf"), str(old)])
    assert 2 == main(["compare", str(old)])


def test_a_record_of_a_newer_version_is_an_error(issues: tuple[Small, Path], capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Its lists may mean something else."""
    _, old = issues
    copy = tmp_path / "wall-rail.pdf"
    copy.write_bytes(old.read_bytes())
    copy.with_name("wall-rail.edition.json").write_text(json.dumps({"format": 999}))
    assert 1 == main(["compare", str(copy), str(old), "--report", str(tmp_path / "c.html")])
    assert "newer version" in capsys.readouterr().err
