"""Labels: one a piece, in their places on the sheet (sizes of sheets: common practice, no source)."""

from __future__ import annotations

import io

import pikepdf
import pypdfium2
import pytest

from compiler.testing import Plan, plan

TEXT = """
materials: {ply: birch plywood 3/4}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 10, up: 0 to 30, grain: up, copies: mirror across}
  shelf: {stock: ply, across: between left side and right side, deep: 0 to 10, up: from 2, copies: 30 up every 3/4}
middle: {across: 12}
joints:
  - {butt: shelf, to: side}
"""


def made(settings: str, units: str = "inch") -> Plan:
    return plan(TEXT, settings=f"shop: A\nsettings: {{part labels: {{{settings}}}}}\n", units=units)  # type: ignore[arg-type]


def texts(raw: bytes) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(raw)]


def test_no_labels_unless_asked() -> None:
    """None by default."""
    with pytest.raises(AssertionError, match="no export"):
        plan(TEXT).export(".labels.pdf")


def test_one_label_a_piece() -> None:
    """32 pieces on sheets of 30: two pages, every piece by its name and number; read back by another library."""
    pages = texts(made("sheet: letter").export(".labels.pdf"))
    assert 2 == len(pages)
    words = "\n".join(pages)
    assert all(f"shelf {number}" in words for number in range(1, 31))
    assert "left side" in words and "1 of 2" in words


@pytest.mark.parametrize(("sheet", "box"), [("letter", (612.0, 792.0)), ("a4", (595.28, 841.89))])
def test_the_paper(sheet: str, box: tuple[float, float]) -> None:
    """US Letter 8 1/2 x 11 in (ANSI A), A4 210 x 297 mm (ISO 216), in points."""
    with pikepdf.open(io.BytesIO(made(f"sheet: {sheet}").export(".labels.pdf"))) as found:
        assert pytest.approx(box, abs=0.01) == tuple(float(value) for value in found.pages[0].MediaBox)[2:]


def test_used_labels_stay_empty() -> None:
    """Beginning on the 30th label of a sheet of 30 leaves one on the first page."""
    pages = texts(made("sheet: letter, first: 30").export(".labels.pdf"))
    assert "left side" in pages[0] and "right side" not in pages[0]


def test_a_label_stays_in_its_place() -> None:
    """The first label's words lie in the 2 5/8 x 1 in that begin 3/16 in from the left and 1/2 in from the top."""
    page = pypdfium2.PdfDocument(made("sheet: letter").export(".labels.pdf"))[0].get_textpage()
    inside = page.get_text_bounded(left=0.1875 * 72, right=(0.1875 + 2.625) * 72, top=792 - 36, bottom=792 - 36 - 72)
    assert "left side" in inside and "plan 1" in inside and "right side" not in inside


def test_its_letters_are_in_the_file() -> None:
    """Every font is embedded (ISO 32000-1, 9.9), so that it prints alike everywhere; read by another library."""
    with pikepdf.open(io.BytesIO(made("sheet: letter").export(".labels.pdf"))) as found:
        fonts = [font for page in found.pages for font in page.Resources.Font.values()]
        inside = [inner.FontDescriptor for font in fonts for inner in font.DescendantFonts]
        assert fonts and all(any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3")) for descriptor in inside)
