"""Every page of every demo plan, in its units and on both papers, proof-read by readers that are not ours.

pypdfium2 reads letters with their boxes and renders the pages; pikepdf reads links, labels, bookmarks and fonts; page-validation judges PDF/UA-1.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from itertools import combinations, pairwise
from typing import Any

import page as pdf_checker
import pikepdf
import pypdfium2
import pytest

from tests.pages.demos import EDITIONS, demo, pages
from tests.pages.printed import Letter, lettering_sizes, pages_of_letters, picture, share_filled, texts
from tests.pages.test_pages import FAMILIES, LEAST_IN_DRAWINGS, LEAST_IN_TEXT

Edition = tuple[str, str, str]
LONGEST = {"low-bookcase": range(20, 33)}
"""Pages of a plan; the others only have to be read to their end."""


@pytest.fixture(params=EDITIONS, ids=lambda edition: " ".join(edition), scope="module")
def edition(request: pytest.FixtureRequest) -> Edition:
    """One edition of one plan."""
    found: Edition = request.param
    return found


def opened(edition: Edition) -> pikepdf.Pdf:
    """The file, for pikepdf."""
    return pikepdf.open(BytesIO(demo(*edition)))


# ---- numbers ------------------------------------------------------------------------------------------------------


def printed_numbers(edition: Edition, kind: str) -> list[int]:
    """The numbers of captions, heads and cautions in the order in which a reader meets them."""
    text = "\n".join(pages(*edition))
    if kind == "table":
        return [int(number) for number, more in re.findall(r"(?m)^Table (\d+)\. ([^\n]*)", text) if not more.endswith("continued")]
    if kind == "figure":
        return sorted({int(number) for number in re.findall(r"(?m)Figure\s+(\d+)(?=[.\n ])", text)})
    if kind == "caution":
        return sorted({int(number) for number in re.findall(r"caution (\d+)\b", text)})
    return []


@pytest.mark.parametrize("kind", ["figure", "table", "caution"])
def test_numbers_run_on_without_a_gap(edition: Edition, kind: str) -> None:
    """1, 2, 3 … to the last one printed."""
    numbers = printed_numbers(edition, kind)
    assert numbers == list(range(1, len(numbers) + 1)) and numbers


def outline(pdf: pikepdf.Pdf) -> list[tuple[int, str, int]]:
    """Bookmarks: level, words, page from 1."""
    places = {page.objgen: number for number, page in enumerate(pdf.pages, start=1)}
    found: list[tuple[int, str, int]] = []

    def walk(items: Any, level: int) -> None:
        for item in items:
            found.append((level, item.title, places[item.destination[0].objgen]))
            walk(item.children, level + 1)

    with pdf.open_outline() as entries:
        walk(entries.root, 1)
    return found


def test_sections_and_steps_are_numbered_as_their_bookmarks(edition: Edition) -> None:
    """Bookmarks run 1, 2, 3 …, and each number stands with its name on the page that the bookmark leads to."""
    texts = pages(*edition)
    with opened(edition) as pdf:
        marks = outline(pdf)
    sections = [(words, page) for level, words, page in marks if level == 1 and words[:1].isdigit()]
    steps = [(words, page) for _, words, page in marks if words.startswith("Step ")]
    assert [int(words.split(" ")[0]) for words, _ in sections] == list(range(1, len(sections) + 1))
    assert [int(words.split(" ")[1].rstrip(".")) for words, _ in steps] == list(range(1, len(steps) + 1))
    for words, page in (*sections, *((f"{number.rstrip('.')} {name}", page) for (number, name), page in (
            (words.removeprefix("Step ").split(" ", 1), page) for words, page in steps))):
        number, name = words.split(" ", 1)
        line = re.compile(rf"(?m)^{number}\s+{re.escape(name).replace(chr(92) + ' ', chr(92) + 's+')}")
        assert line.search(texts[page - 1]), (words, page)


def test_contents_give_the_pages_on_which_sections_start(edition: Edition) -> None:
    """Every numbered section stands in the contents with the page that its bookmark leads to."""
    texts = pages(*edition)
    with opened(edition) as pdf:
        sections = [(words, page) for level, words, page in outline(pdf) if level == 1 and words[:1].isdigit()]
    lines = [" ".join(line.split()) for line in texts[1].split("\n")]
    for words, page in sections:
        assert f"{' '.join(words.split())} {page}" in lines, (words, page, lines)


def test_page_labels_are_the_printed_numbers(edition: Edition) -> None:
    """“page n of N” on every page but the cover, N the file's own count, the label the same n."""
    texts = pages(*edition)
    with opened(edition) as pdf:
        labels = [page.label for page in pdf.pages]
    assert labels[0] == "Cover" and "page 1 of" not in texts[0]
    for number, text in enumerate(texts[1:], start=2):
        assert f"page {number} of {len(texts)}" in text and labels[number - 1] == str(number)


def links(pdf: pikepdf.Pdf) -> Iterator[tuple[int, list[float], str]]:
    """Links inside the file: page from 1, rectangle, name of the place."""
    for number, page in enumerate(pdf.pages, start=1):
        for note in page.get("/Annots", []):
            if note.Subtype == "/Link" and "/Dest" in note:
                yield number, [float(value) for value in note.Rect], str(note.Dest)


def test_every_link_lands_on_what_it_names(edition: Edition) -> None:
    """The words under a link (“figure 7”, “table 3”, “step 5”) stand on the page that it leads to, near its place."""
    texts = pages(*edition)
    with opened(edition) as pdf:
        names = pikepdf.NameTree(pdf.Root.Names.Dests)
        places = {page.objgen: number for number, page in enumerate(pdf.pages, start=1)}
        targets: dict[str, int] = {}
        for name, value in names.items():
            spot: Any = value if isinstance(value, pikepdf.Array) else value.D
            targets[str(name)] = places[spot[0].objgen]
        found = list(links(pdf))
    letters = pages_of_letters(demo(*edition))
    assert len(found) >= 15
    for page, (left, low, right, high), name in found:
        words = " ".join(under(letters[page - 1][2], left, low, right, high).split()).lower()
        target = texts[targets[name] - 1]
        named = re.fullmatch(r"(figure|table|step|section) ?(\d+)", words)
        if named is None:
            continue
        kind, number = named.groups()
        pattern = {"figure": rf"Figure\s+{number}\b", "table": rf"Table {number}\.", "step": rf"(?m)^{number}\s+\S", "section": rf"(?m)^{number}\s+\S"}[kind]
        assert re.search(pattern, target), (page, words, name, targets[name])


def under(letters: tuple[Letter, ...], left: float, low: float, right: float, high: float) -> str:
    """The letters whose middle lies in a rectangle; a gap becomes a blank."""
    inside = [one for one in letters if left - 1 <= (one.left + one.right) / 2 <= right + 1 and low - 1 <= (one.bottom + one.top) / 2 <= high + 1]
    text = ""
    for before, one in zip((None, *inside), inside, strict=False):
        text += (" " if before is not None and one.place - before.place > 1 else "") + one.text
    return text


# ---- pages --------------------------------------------------------------------------------------------------------


def test_the_bookcase_is_a_booklet_of_twenty_to_thirty_two_pages(edition: Edition) -> None:
    """In every edition."""
    if edition[0] in LONGEST:
        assert len(pages(*edition)) in LONGEST[edition[0]]


def test_no_letter_is_cut_by_the_page(edition: Edition) -> None:
    """Every letter stands at least a quarter of an inch from the paper's edges."""
    for number, (width, height, letters) in enumerate(pages_of_letters(demo(*edition)), start=1):
        for letter in letters:
            inside = letter.left >= 18 and letter.bottom >= 18 and letter.right <= width - 18 and letter.top <= height - 18
            assert inside, (number, letter)


def test_no_two_letters_overlap(edition: Edition) -> None:
    """Letters that are not neighbours in a word never lie on each other, in text, tables or drawings."""
    faults = []
    for number, (_, _, letters) in enumerate(pages_of_letters(demo(*edition)), start=1):
        cells: dict[tuple[int, int], list[Letter]] = {}
        for letter in letters:
            cells.setdefault((int(letter.left // 12), int(letter.bottom // 12)), []).append(letter)
        for column, row in cells:
            near = [other for dc in (0, 1) for dr in (-1, 0, 1) if (dc, dr) != (0, -1) for other in cells.get((column + dc, row + dr), [])]
            for one, other in combinations(near, 2):
                wide = min(one.right, other.right) - max(one.left, other.left)
                high = min(one.top, other.top) - max(one.bottom, other.bottom)
                if abs(one.place - other.place) > 3 and wide > 0.6 and high > 0.6:
                    faults.append((number, one, other))
    assert not faults, faults[:6]


def test_every_page_is_at_least_a_quarter_filled(edition: Edition) -> None:
    """Templates, which are as large as what they show, set aside."""
    texts = pages(*edition)
    thin = {number: round(share, 2) for number in range(1, len(texts) + 1)
            if (share := share_filled(picture(demo(*edition), number))) < 0.25 and "Full-size templates" not in texts[number - 1]}
    assert not thin


@pytest.mark.parametrize(("plan", "units", "paper"), [("low-bookcase", "inch", "letter"), ("tool-wall-cabinet", "mm", "a4")])
def test_no_heading_stands_alone_on_a_page_of_the_wall_sheets(plan: str, units: str, paper: str) -> None:
    """The workshop theme's type is large: a step that fills its page leaves no group's heading behind on the one before, and no line overleaf."""
    content = demo(plan, units, paper, theme="workshop")
    thin = [number for number in range(1, len(pypdfium2.PdfDocument(content)) + 1) if share_filled(picture(content, number)) < 0.3]
    assert not thin


def test_a_sheet_hangs_with_its_cuts() -> None:
    """In the workshop theme a layout and the list of its cuts stand on one page; prices stay in the booklet."""
    found = texts(demo("tool-wall-cabinet", "mm", "a4", theme="workshop"))
    sheets = [text for text in found if re.search(r"Figure \d+\. Birch plywood", text)]
    assert len(sheets) == 4 and all(re.search(r"(?m)^Table \d+\. Cuts", text) for text in sheets)
    assert not any(re.search(r"Cuts,? continued", text) for text in found) and not any("$" in text for text in found)


def test_no_letter_is_too_small(edition: Edition) -> None:
    """At least 9 pt in text and tables, 7.5 pt in drawings: what is a drawing's is told by the file's own marks."""
    sizes = list(lettering_sizes(demo(*edition)))
    small = [(page, round(size, 2)) for page, drawn, size in sizes if size < (LEAST_IN_DRAWINGS if drawn else LEAST_IN_TEXT) - 0.05]
    assert not small, small[:6]
    assert sum(drawn for _, drawn, _ in sizes) > 150 and sum(not drawn for _, drawn, _ in sizes) > 800


def test_text_keeps_the_margins(edition: Edition) -> None:
    """0.9 in on the binding side, 0.65 in on the other: no cell, caption or drawing runs out of its box into them."""
    for number, (width, height, letters) in enumerate(pages_of_letters(demo(*edition)), start=1):
        if width < height:
            out = [letter for letter in letters if letter.left < 64.8 - 1 or letter.right > width - 46.8 + 1]
            assert not out, (number, "".join(letter.text for letter in out))


def test_running_heads_name_the_section_of_their_page(edition: Edition) -> None:
    """That of the first section that starts on the page, else the one that goes on, with ", continued"."""
    with opened(edition) as pdf:
        starts = [(page, words) for level, words, page in outline(pdf) if level == 1]
    for number, text in enumerate(pages(*edition)[1:], start=2):
        here = [words for page, words in starts if page == number]
        before = [words for page, words in starts if page < number]
        wanted = here[0] if here else f"{before[-1]}, continued"
        assert any(f" {' '.join(line.split())}".endswith(f" {' '.join(wanted.split())}") for line in text.split("\n")), (number, wanted)


def test_the_table_of_hours_counts_every_step_once(edition: Edition) -> None:
    """“1 to 3, 4 to 7 …” to the last step."""
    text = "\n".join(pages(*edition))
    table = re.split(r"(?m)^Table \d+\. [^\n]* in the shop$", text)[1]
    spans = re.findall(r"(?m)^[A-Z][^\n]*? (\d+)(?: to (\d+))? (?:\d+ h|\d+ min)", table)[:12]
    with opened(edition) as pdf:
        steps = sum(words.startswith("Step ") for _, words, _ in outline(pdf))
    counted = [number for first, last in spans for number in range(int(first), int(last or first) + 1)]
    assert counted == list(range(1, steps + 1))


def test_fonts_are_the_themes_own_and_embedded(edition: Edition) -> None:
    """Subsets of faces of the two families, nothing borrowed from the machine."""
    names = set()
    with opened(edition) as pdf:
        for page in pdf.pages:
            for font in page.Resources.get("/Font", {}).values():
                inner = font.DescendantFonts[0]
                assert "/FontFile2" in inner.FontDescriptor
                names.add(str(inner.BaseFont).split("+")[1])
    assert names and all(name.startswith(FAMILIES) for name in names)


def test_tags_hold_up_in_an_outside_checker(edition: Edition) -> None:
    """PDF/UA-1 (ISO 14289-1), as the package page-validation judges it."""
    report = pdf_checker.validate_pdf_bytes(demo(*edition), profile=pdf_checker.ValidationProfile.PDF_UA_1)
    assert report.is_compliant, [failure.message for failure in report.failures][:5]


def test_the_file_is_sound_by_another_librarys_reading(edition: Edition) -> None:
    """qpdf, as pikepdf brings it, finds nothing to repair."""
    with opened(edition) as pdf:
        assert pdf.check_pdf_syntax() == [] and not pdf.is_encrypted


def tags(pdf: pikepdf.Pdf) -> Iterator[tuple[str, Any, tuple[str, ...]]]:
    """Every structure element in reading order: its type, itself, the types above it."""
    def walk(element: Any, above: tuple[str, ...]) -> Iterator[tuple[str, Any, tuple[str, ...]]]:
        kids = element.get("/K", [])
        for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                yield str(kid.S)[1:], kid, above
                yield from walk(kid, (*above, str(kid.S)[1:]))

    yield from walk(pdf.Root.StructTreeRoot, ())


def test_tags_make_an_outline_with_tables_and_figures_that_can_be_read_aloud(edition: Edition) -> None:
    """ISO 14289-1, 7.2 to 7.5: title and language told; heads don't skip a level; rows lie in tables, cells in rows; figures have words."""
    with opened(edition) as pdf:
        assert pdf.Root.MarkInfo.Marked and str(pdf.Root.Lang).startswith("en") and pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as facts:
            assert facts["pdfuaid:part"] == "1" and facts["dc:title"]
        found = list(tags(pdf))
        kinds = [kind for kind, _, _ in found]
        levels = [int(kind[1:]) for kind in kinds if re.fullmatch(r"H[1-6]", kind)]
        assert levels[0] == 1 and all(after <= before + 1 for before, after in pairwise(levels))
        assert all("Table" in above for kind, _, above in found if kind == "TR") and all(above[-1] == "TR" for kind, _, above in found if kind in ("TH", "TD"))
        figures = [str(element.get("/Alt", "")) for kind, element, _ in found if kind == "Figure"]
        assert kinds.count("Table") >= 5 and len(figures) >= 20 and all(len(words) >= 4 for words in figures)
        assert all("Link" not in above for kind, _, above in found if kind == "Link")


def test_a_metric_edition_speaks_no_inches(edition: Edition) -> None:
    """No inch or foot marks, no fractions, no degrees of the other scale."""
    if edition[1] == "mm":
        for number, text in enumerate(pages(*edition), start=1):
            assert not re.search(r"[″′]|\bin(ch|ches)? (long|wide|thick)|\d/\d\d?\b|\d (in|ft)\b(?! \d)|°F", text), (number, re.findall(r".{12}(?:[″′]|\d/\d\d?\b).{12}", text))
