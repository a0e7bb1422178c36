"""Paper sizes and signal words against the standards they come from (sources beside each; rows of the check values)."""

from __future__ import annotations

from io import BytesIO
from typing import Literal, get_args, get_type_hints

import pikepdf
import pytest

from compiler.values.document import Signal
from tests.pages.printed import dressed, printed, texts


@pytest.mark.parametrize(("paper", "width", "height", "source"), [
    ("a4", 595.276, 841.890, "ISO 216: A4 is 210 × 297 mm; FIL-08: mm / 25.4 × 72"),
    ("letter", 612.0, 792.0, "ANSI/ASME Y14.1 size A: 8 1/2 × 11 in; FIL-07: 72 × inches"),
])
def test_paper_has_its_standard_size(paper: Literal["letter", "a4"], width: float, height: float, source: str) -> None:
    """MediaBox to a hundredth of a point; a page across has the sides exchanged."""
    sizes = set()
    with pikepdf.open(BytesIO(printed(paper=paper).content)) as pdf:
        for page in pdf.pages:
            left, bottom, right, top = (float(side) for side in page.MediaBox)
            sizes.add((round(right - left, 1), round(top - bottom, 1)))
    assert sizes == {(round(width, 1), round(height, 1)), (round(height, 1), round(width, 1))}, source


def test_a4_has_the_aspect_of_its_series() -> None:
    """DRW-16: every A size is within 0.5 % of √2."""
    with pikepdf.open(BytesIO(printed(paper="a4").content)) as pdf:
        _, _, width, height = (float(side) for side in pdf.pages[0].MediaBox)
    assert height / width == pytest.approx(2**0.5, rel=0.005)


def test_binding_side_clears_punch_holes() -> None:
    """page-craft: margins of at least 0.6 in with a wider binding side; text starts 0.9 in from the left on every upright page."""
    import pypdfium2

    from tests.pages.printed import letters

    for page in list(pypdfium2.PdfDocument(printed().content)):
        if page.get_width() < page.get_height():
            lefts = [letter.left for letter in letters(page)]
            rights = [letter.right for letter in letters(page)]
            assert min(lefts) >= 0.9 * 72 - 1 and page.get_width() - max(rights) >= 0.6 * 72


def test_signal_words_are_the_four_of_the_standard() -> None:
    """ANSI Z535.6: DANGER, WARNING, CAUTION, NOTICE, in this order of rank (SAF-01 to SAF-04)."""
    assert get_args(get_type_hints(Signal)["word"]) == ("DANGER", "WARNING", "CAUTION", "NOTICE")
    page = next(text for text in texts(printed().content) if "Work safely" in text and "DANGER" in text)
    places = [page.index(word) for word in ("DANGER", "WARNING", "CAUTION", "NOTICE")]
    assert places == sorted(places)


def test_a_notice_carries_no_safety_alert_symbol() -> None:
    """SAF-04: property or practice, no injury; no triangle. The other three carry it."""
    blocks = dressed().markup.split('<div class="signal ')[1:]
    with_symbol = {block.split('"')[0]: "Safety alert symbol" in block.split('class="say"')[0] for block in blocks}
    assert with_symbol == {"danger": True, "warning": True, "caution": True, "notice": False}


def test_signal_panels_differ_without_colour() -> None:
    """Rank is carried by word, panel and frame: printed in grey, the four panels have three levels and four frames (our rule)."""
    style = dressed().style
    frames = [style.split(f".signal.{word} {{ border-width: ")[1].split(";")[0].split(" ")[0] for word in ("danger", "warning", "notice")]
    assert [float(frame.removesuffix("pt")) for frame in frames] == sorted((float(frame.removesuffix("pt")) for frame in frames), reverse=True)
    assert len(set(frames)) == 3
