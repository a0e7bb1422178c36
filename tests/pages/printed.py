"""The sample document printed, and read back by readers that are not ours: pypdfium2 for letters and pictures, pikepdf for the rest.

In: theme, units, paper. Out: a PublishedPdf; letters with their size and box in points from the page's lower left corner.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any, Literal

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
from PIL import Image

from compiler.stages.dress import dress, load_theme
from compiler.stages.publish import publish
from compiler.values.pages import Pages, PublishedPdf
from compiler.values.theme import Theme
from tests.pages.sample_document import sample

THEMES = Path(__file__).parents[2] / "themes"


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter on a page: its place in reading order, size and ink box in points."""

    place: int
    text: str
    size: float
    left: float
    bottom: float
    right: float
    top: float


@cache
def theme(name: str) -> Theme:
    """A theme of ours."""
    outcome = load_theme(name, (THEMES,))
    assert outcome.value is not None, outcome.report
    return outcome.value


@cache
def dressed(name: str = "standard", units: Literal["inch", "mm"] = "inch", paper: Literal["letter", "a4"] = "letter", *,
            title: str = "Garden tote", rows: int = 0, sponsor: str = "", proof: bool = False) -> Pages:
    """The sample document in a theme."""
    outcome = dress(sample(units, paper, title=title, rows=rows, sponsor=sponsor, proof=proof), theme(name))
    assert outcome.value is not None, outcome.report
    return outcome.value


@cache
def printed(name: str = "standard", units: Literal["inch", "mm"] = "inch", paper: Literal["letter", "a4"] = "letter", *,
            title: str = "Garden tote", rows: int = 0, sponsor: str = "", proof: bool = False) -> PublishedPdf:
    """The sample document as a PDF, without a word of complaint."""
    outcome = publish(dressed(name, units, paper, title=title, rows=rows, sponsor=sponsor, proof=proof))
    assert not outcome.report and outcome.value is not None, outcome.report
    return outcome.value


def texts(content: bytes) -> list[str]:
    """The text of each page, lines ended by \\n."""
    pdf = pypdfium2.PdfDocument(content)
    return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in pdf]


def letters(page: pypdfium2.PdfPage) -> Iterator[Letter]:
    """The visible letters of a page."""
    reading = page.get_textpage()
    matrix = pdfium.FS_MATRIX()
    for place in range(reading.count_chars()):
        code = pdfium.FPDFText_GetUnicode(reading, place)
        if code <= 0x20 or code == 0xA0:
            continue
        pdfium.FPDFText_GetMatrix(reading, place, ctypes.byref(matrix))
        size = pdfium.FPDFText_GetFontSize(reading, place) * (matrix.c**2 + matrix.d**2) ** 0.5
        left, bottom, right, top = reading.get_charbox(place)
        yield Letter(place, chr(code), size, left, bottom, right, top)


@cache
def pages_of_letters(content: bytes) -> tuple[tuple[float, float, tuple[Letter, ...]], ...]:
    """Width, height and letters of every page."""
    return tuple((page.get_width(), page.get_height(), tuple(letters(page))) for page in pypdfium2.PdfDocument(content))


def picture(content: bytes, page: int, dots: int = 72) -> Image.Image:
    """A page (from 1) as a grey picture, dots an inch."""
    return pypdfium2.PdfDocument(content)[page - 1].render(scale=dots / 72, grayscale=True).to_pil()


def share_filled(image: Image.Image, top: int = 60, bottom: int = 55, reach: int = 18) -> float:
    """The share of a page's height between head and foot (in pixels of a 72-dot picture) that lies within `reach` of ink."""
    rows = [image.crop((40, row, image.width - 30, row + 1)).getextrema()[0] < 225 for row in range(top, image.height - bottom)]
    near = [any(rows[max(0, row - reach):row + reach + 1]) for row in range(len(rows))]
    return sum(near) / len(near)


def lettering_sizes(content: bytes) -> Iterator[tuple[int, bool, float]]:
    """Page, whether in a drawing, and size in points of every piece of text, read from the page's operators by pikepdf.

    A drawing's text stands in marked content called Figure (ISO 32000-1, 14.6); sizes follow text and page matrices (9.4.4).
    """
    with pikepdf.open(BytesIO(content)) as pdf:
        for number, page in enumerate(pdf.pages, start=1):
            matrices, marks = [pikepdf.Matrix()], list[str]()
            text, size = pikepdf.Matrix(), 0.0
            for step in pikepdf.parse_content_stream(page):
                operands: Any = step.operands
                match str(step.operator):
                    case "q":
                        matrices.append(matrices[-1])
                    case "Q":
                        matrices.pop()
                    case "cm":
                        matrices[-1] = pikepdf.Matrix(*map(float, operands)) @ matrices[-1]
                    case "BDC" | "BMC":
                        marks.append(str(operands[0]))
                    case "EMC":
                        marks.pop()
                    case "BT":
                        text = pikepdf.Matrix()
                    case "Tm":
                        text = pikepdf.Matrix(*map(float, operands))
                    case "Tf":
                        size = float(operands[1])
                    case "TJ" | "Tj":
                        whole = text @ matrices[-1]
                        yield number, "/Figure" in marks, size * (whole.c**2 + whole.d**2) ** 0.5
