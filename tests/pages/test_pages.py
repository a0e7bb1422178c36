"""Every page of the sample document, in both themes, both units and on both papers, proof-read by outside readers."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from itertools import combinations
from typing import Any

import page as pdf_checker
import pikepdf
import pytest
import segno

from compiler.stages.dress import dress
from compiler.stages.publish import publish
from compiler.values.document import Paragraph, Section
from compiler.values.pages import PublishedPdf
from tests.pages.printed import dressed, pages_of_letters, picture, printed, share_filled, texts, theme
from tests.pages.sample_document import VIDEO, sample, shopping

LONG_TITLE = ("A tall and rather narrow garden tote in birch plywood with a loose divider, an ash handle that runs through both ends, two"
              " coats of oil, and a name of two hundred letters in all for covers")
EDITIONS: dict[str, dict[str, Any]] = {
    "inch letter": {},
    "mm a4": {"units": "mm", "paper": "a4"},
    "long": {"title": LONG_TITLE, "rows": 70, "sponsor": "Millrace Tool Works", "proof": True},
    "workshop": {"name": "workshop"},
}
# Lettering of drawings is reckoned by cap height: 1.8 mm is the least of ISO 3098 below 2.5; numerals of stacked fractions have 2.0 mm.
LEAST_IN_DRAWINGS = 7.5
LEAST_IN_TEXT = 9.0
WATERMARK = 90.0
FAMILIES = ("Source-Sans-3", "Barlow-Condensed")


@pytest.fixture(params=list(EDITIONS))
def edition(request: pytest.FixtureRequest) -> PublishedPdf:
    """One edition of the sample document."""
    return printed(**EDITIONS[request.param])


def test_no_letter_is_cut_by_the_page(edition: PublishedPdf) -> None:
    """Every letter stands at least a quarter of an inch from the paper's edges."""
    for number, (width, height, letters) in enumerate(pages_of_letters(edition.content), start=1):
        for letter in letters:
            inside = letter.left >= 18 and letter.bottom >= 18 and letter.right <= width - 18 and letter.top <= height - 18
            assert inside, (number, letter)


def test_no_two_letters_overlap(edition: PublishedPdf) -> None:
    """Letters that are not neighbours in a word never lie on each other."""
    for number, (_, _, letters) in enumerate(pages_of_letters(edition.content), start=1):
        cells: dict[tuple[int, int], list[Any]] = {}
        for letter in letters:
            if letter.size > WATERMARK:
                continue
            cells.setdefault((int(letter.left // 12), int(letter.bottom // 12)), []).append(letter)
        for (column, row), here in cells.items():
            near = [other for dc in (0, 1) for dr in (-1, 0, 1) if (dc, dr) != (0, -1) for other in cells.get((column + dc, row + dr), [])]
            for one, other in combinations(near, 2):
                if abs(one.place - other.place) <= 3 or not here:
                    continue
                wide = min(one.right, other.right) - max(one.left, other.left)
                high = min(one.top, other.top) - max(one.bottom, other.bottom)
                assert not (wide > 0.6 and high > 0.6), (number, one, other)


def test_every_page_is_at_least_a_quarter_filled(edition: PublishedPdf) -> None:
    """No page stands nearly empty by accident (the last may hold what is left)."""
    for number in range(1, edition.page_count):
        assert share_filled(picture(edition.content, number)) >= 0.25, number


def test_no_letter_is_too_small(edition: PublishedPdf) -> None:
    """Text has at least 9 pt; only fractions' numerals and drawings go below, never under 7.5 pt."""
    for number, (_, _, letters) in enumerate(pages_of_letters(edition.content), start=1):
        small = [letter for letter in letters if letter.size < LEAST_IN_TEXT - 0.05]
        assert all(letter.size >= LEAST_IN_DRAWINGS - 0.1 for letter in small), (number, min(small, key=lambda letter: letter.size))
        assert all(letter.text.isdigit() or letter.text == "/" for letter in small), (number, "".join(letter.text for letter in small))


def test_fonts_are_the_themes_own_and_embedded(edition: PublishedPdf) -> None:
    """The seven faces, each a subset in the file; nothing borrowed from the machine."""
    names = set()
    with pikepdf.open(_stream(edition)) as pdf:
        for page in pdf.pages:
            for font in page.Resources.get("/Font", {}).values():
                inner = font.DescendantFonts[0]
                assert "/FontFile2" in inner.FontDescriptor
                names.add(str(inner.BaseFont).split("+")[1])
    assert names and all(name.startswith(FAMILIES) for name in names)


def test_tags_hold_up_in_an_outside_checker(edition: PublishedPdf) -> None:
    """PDF/UA-1 (ISO 14289-1), as the package page-validation judges it."""
    report = pdf_checker.validate_pdf_bytes(edition.content, profile=pdf_checker.ValidationProfile.PDF_UA_1)
    assert report.is_compliant, [failure.message for failure in report.failures]


def test_a_sample_edition_has_its_watermark_on_every_page() -> None:
    """Behind the text (the checks above read it with the mark in place)."""
    assert all("SAMPLE" in text for text in texts(printed(**EDITIONS["long"]).content))
    assert not any("SAMPLE" in text for text in texts(printed().content))


def test_printed_page_numbers_are_true(edition: PublishedPdf) -> None:
    """Page n of N on every page but the cover; N is the file's own count; labels say the same."""
    pages = texts(edition.content)
    with pikepdf.open(_stream(edition)) as pdf:
        labels = [page.label for page in pdf.pages]
    cover = labels[0] == "Cover"
    for number, text in enumerate(pages, start=1):
        if number == 1 and cover:
            assert "page 1 of" not in text
            continue
        assert f"page {number} of {len(pages)}" in text.replace("\xa0", " ")
        assert labels[number - 1] == str(number)


def test_contents_lists_the_page_on_which_each_section_starts() -> None:
    """Each line of the contents ends in the number of the page where a reader finds the section's name as a head."""
    edition = printed()
    pages = texts(edition.content)
    contents = pages[1].split("\n")
    for _, title, start in edition.section_starts[2:]:
        assert any(line.split() == [*title.split(), str(start)] for line in contents), (title, contents)
        assert any(line == title for line in pages[start - 1].split("\n")), title


def test_bookmarks_and_links_lead_where_they_say() -> None:
    """Every bookmark's page holds its words; every link inside the file has a place."""
    edition = printed()
    pages = texts(edition.content)
    with pikepdf.open(_stream(edition)) as pdf:
        known = {str(name) for name in pikepdf.NameTree(pdf.Root.Names.Dests)} if "/Dests" in pdf.Root.Names else set()
        places = {page.objgen: number for number, page in enumerate(pdf.pages)}
        with pdf.open_outline() as outline:
            entries = [item for root in outline.root for item in (root, *root.children)]
        assert len(entries) >= 18
        for item in entries:
            page = pages[places[item.destination[0].objgen]]
            assert item.title.removeprefix("Step ").split(". ")[-1] in page.replace("\n", " "), item.title
        links = [note for page in pdf.pages for note in page.get("/Annots", []) if note.Subtype == "/Link"]
        assert len(links) >= 15
        for note in links:
            target = note.get("/Dest")
            assert str(note.A.URI).startswith("mailto:") if target is None else str(target) in known


def test_the_cut_list_reads_back_row_by_row() -> None:
    """Letter, name, count and sizes of a row stand in one line for an outside reader."""
    rows = texts(printed().content)[5].split("\n")
    assert "A End 2 23/32 9 11 a left and a right; dado for B" in rows
    assert "E Divider 1 23/32 6 8 1/16 loose in B" in rows


def test_a_long_table_repeats_its_head_with_continued() -> None:
    """On the pages after the first the title says “, continued”, on the first it does not."""
    pages = [text for text in texts(printed(**EDITIONS["long"]).content) if "Table 1. What to buy" in text]
    assert len(pages) == 3
    assert ["Table 1. What to buy, continued" in page for page in pages] == [False, True, True]
    assert all("Item Ask for Qty Unit About" in page for page in pages)


def test_a_groups_head_never_stands_alone_at_the_foot() -> None:
    """After the head of a group at least two of its rows stand on the same page."""
    document = sample()
    for rows in range(22, 40, 4):
        filler = tuple(Paragraph(f"Line {number} of what stands above.") for number in range(rows - 12))
        alone = Section(name="list", title="List", anchor="section-list", number="1", blocks=(*filler, shopping(20)))
        pages = dress(replace(document, sections=(alone,)), theme("standard")).value
        assert pages is not None
        edition = publish(pages).value
        assert edition is not None
        for text in texts(edition.content):
            if "Hardware\n" in text:
                after = text.split("Hardware\n")[1].split("\n")
                assert after[0].startswith("Pocket screw") and after[1].startswith("Brad")


def test_the_two_units_show_true_rules() -> None:
    """Inch plans have an inch rule under heads, metric ones a centimetre rule; a tile of either is true to 0.01 pt."""
    files = dict(theme("standard").files)
    assert b'width="72"' in files["pictures/inches.svg"]
    assert b'width="28.3465"' in files["pictures/centimetres.svg"] and abs(28.3465 - 72 / 2.54) < 0.01
    assert 'data-units="mm"' in dressed(units="mm").markup


def test_the_code_beside_a_step_reads_back() -> None:
    """A scanner's reader finds the address: dark modules stand where the code's own matrix says (ISO/IEC 18004)."""
    svg = next(content for name, content in dressed().files if name.startswith("file:") and b'fill="#000"/></svg>' in content)
    matrix = segno.make(VIDEO, error="m").matrix
    dark = sum(module for row in matrix for module in row)
    assert sum(int(length) for length in re.findall(rb"h(\d+)v1", svg)) == dark


def _stream(edition: PublishedPdf) -> Any:
    return BytesIO(edition.content)
