"""Buyers' copies, read by three readers that we did not write: qpdf (in pikepdf), pdfium, and the command line tools where they are."""

from __future__ import annotations

import io
import shutil
import subprocess
import unicodedata
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from fontTools.ttLib import TTFont

from compiler.cli import main
from compiler.stamping import NoPlace, line_of, stamped
from tests.shop import Small

NAME = "Zoë (Ångström) d’Été \\ 7"


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Small:
    """A published plan."""
    shop = Small(tmp_path_factory.mktemp("shop") / "home")
    assert shop.publish().report.ok
    return shop


def texts(pdf: bytes) -> list[str]:
    """The words of every page, as pdfium reads them."""
    document = pypdfium2.PdfDocument(pdf)
    return [document[number].get_textpage().get_text_bounded() for number in range(len(document))]


def test_the_line_stands_on_every_page(plan: Small) -> None:
    """Brackets, accents and a backslash included; nothing else of the text differs."""
    before, after = texts(plan.pdf), texts(stamped(plan.pdf, line_of(17, NAME)))
    assert len(before) == len(after)
    for old, new in zip(before, after, strict=True):
        assert f"Copy 17, made for {NAME}" in new
        assert sorted(old.split()) == sorted(new.replace(f"Copy 17, made for {NAME}", "").split())


def test_the_original_is_whole_inside_the_copy(plan: Small) -> None:
    """An incremental update adds, and changes nothing (ISO 32000-1, 7.5.6)."""
    copy = stamped(plan.pdf, line_of(1, "A. Buyer"))
    assert copy.startswith(plan.pdf)
    assert len(copy) - len(plan.pdf) < 6000


def test_qpdf_finds_no_fault_in_a_copy(plan: Small) -> None:
    """Nor in the original with its empty form."""
    for content in (plan.pdf, stamped(plan.pdf, line_of(2, NAME))):
        with pikepdf.open(io.BytesIO(content)) as document:
            assert [] == document.check_pdf_syntax()


@pytest.mark.parametrize("name", ["Łukasz Żółć", "Nguyễn Thị Ánh", "Ольга Щукина", "Νίκος Ξανθός", "Čeněk (O\u0308zgür)"])
def test_other_letters_are_printed_and_found(name: str, plan: Small) -> None:
    """Polish, Vietnamese, Russian, Greek, and a letter with its accent behind it; each reader gives the very name back."""
    copy = stamped(plan.pdf, line_of(8, name))
    assert f"made for {unicodedata.normalize('NFC', name)}" in texts(copy)[0]
    with pikepdf.open(io.BytesIO(copy)) as document:
        assert [] == document.check_pdf_syntax()


def test_every_font_of_a_copy_is_embedded(plan: Small) -> None:
    """As PDF/UA-1 asks; the stamp's own too. Widths in the PDF are those of the file (ISO 32000-1, 9.7.4.3), read by fontTools."""
    with pikepdf.open(io.BytesIO(stamped(plan.pdf, line_of(3, NAME)))) as document:
        font = document.pages[0].Resources.XObject["/KERF_Stamp"].Resources.Font["/F"]
        below = font.DescendantFonts[0]
        content = below.FontDescriptor.FontFile2.read_bytes()
        assert len(content) == int(below.FontDescriptor.FontFile2.Length1)
        inside = TTFont(io.BytesIO(content))
        widths = {int(below.W[at]): int(below.W[at + 1][0]) for at in range(0, len(below.W), 2)}
        order = inside.getGlyphOrder()
        assert widths == {code: round(inside["hmtx"][order[code]][0] * 1000 / inside["head"].unitsPerEm) for code in widths}
        assert len(set(line_of(3, NAME))) == len(widths)


def test_a_line_that_does_not_fit_is_told(plan: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """It would be cut off at the edge."""
    assert 1 == main(["stamp", str(plan.plan), "--name", "A very long name " * 12])
    assert "too long for the line" in capsys.readouterr().err


@pytest.mark.skipif(shutil.which("qpdf") is None or shutil.which("pdftotext") is None, reason="the tools are not on this machine")
def test_command_line_tools_agree(plan: Small, tmp_path: Path) -> None:
    """qpdf --check and Poppler."""
    path = tmp_path / "copy.pdf"
    path.write_bytes(stamped(plan.pdf, line_of(4, "A. Buyer")))
    assert subprocess.run(["qpdf", "--check", path], capture_output=True, check=False).returncode == 0
    assert "Copy 4, made for A. Buyer" in subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True).stdout


def test_a_copy_is_not_stamped_again_and_a_strange_pdf_not_at_all(plan: Small) -> None:
    """The reason is told."""
    with pytest.raises(NoPlace, match="already"):
        stamped(stamped(plan.pdf, "one"), "two")
    document = pikepdf.new()
    document.add_blank_page()
    out = io.BytesIO()
    document.save(out)
    with pytest.raises(NoPlace, match="not published"):
        stamped(out.getvalue(), "one")


def test_the_command_numbers_on(plan: Small, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A list of buyers, then one more."""
    (tmp_path / "buyers.txt").write_text("A. Buyer\n\nB. Buyer\n", encoding="utf-8")
    assert 0 == main(["stamp", str(plan.plan), "--buyers", str(tmp_path / "buyers.txt")])
    assert 0 == main(["stamp", str(plan.plan), "--name", "C. Buyer"])
    copies = sorted((plan.plan / "out/copies").glob("*.pdf"))
    assert ["wall-rail.copy-0001.pdf", "wall-rail.copy-0002.pdf", "wall-rail.copy-0003.pdf"] == [path.name for path in copies]
    assert "Copy 3, made for C. Buyer" in texts(copies[2].read_bytes())[0]
    assert capsys.readouterr().out.count("copies/wall-rail.copy-") == 3


def test_a_letter_that_the_font_lacks_is_told(plan: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """And no copy is written, not even of the others."""
    before = sorted((plan.plan / "out").rglob("*"))
    assert 1 == main(["stamp", str(plan.plan), "--name", "D. Buyer", "--name", "山田"])
    assert "“山”" in capsys.readouterr().err
    assert before == sorted((plan.plan / "out").rglob("*"))
    assert 1 == main(["stamp", str(plan.plan / "nothing.pdf"), "--name", "E"])
    assert 2 == main(["stamp", str(plan.plan)])
