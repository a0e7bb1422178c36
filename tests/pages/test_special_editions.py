"""A plan with a photograph and a film, as its shop publishes it, as a sponsor's edition and as a sample; and plans with bad input.

The starter of a box is the plan; it is published into memory. Codes are read by zxing-cpp from the page as it is printed, pictures by pikepdf.
"""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from compiler.build import Wishes, Workshop, make
from compiler.build.wishes import Finished
from tests.pages.printed import pages_of_letters, texts

ROOT = Path(__file__).parents[2]
FILM = "https://pinwheel-lane.example/films/box-3"
SPONSOR = """\
millrace:
  name: Millrace Tool Works
  disclosure: Millrace Tool Works gave the oak for this box.
  mark: millrace.svg
"""
MARK = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20"><path d="M2 2h16v16H2z" fill="#000"/></svg>'


def photograph() -> bytes:
    """A JPEG, grey on the left, with an EXIF orientation that turns it upright."""
    image = Image.new("RGB", (1200, 800), (230, 225, 215))
    image.paste((120, 90, 60), (0, 0, 600, 800))
    exif = Image.Exif()
    exif[0x0112] = 6
    content = io.BytesIO()
    image.save(content, "JPEG", exif=exif)
    return content.getvalue()


def plan_in(home: Path, change: dict[str, tuple[str, str]] | None = None) -> Path:
    """The starter's box as a plan in a shop's folder, its places to fill taken out, with the changes (file: old, new)."""
    folder = home / "keepsake-box"
    shutil.copytree(ROOT / "shared" / "starters" / "box", folder)
    shutil.copy(ROOT / "projects" / "shop.yaml", home)
    for name in ("design.yaml", "notes.md"):
        path = folder / name
        text = re.sub(r"(?m)^:video: \[fill:.*\n|\[fill:[^\]]*\]", "", path.read_text(encoding="utf-8"))
        for old, new in [(change or {}).get(name, ("", ""))]:
            assert old in text
            text = text.replace(old, new, 1)
        path.write_text(text, encoding="utf-8")
    (folder / "photos").mkdir()
    (folder / "photos" / "box.jpg").write_bytes(photograph())
    (home / "sponsor.yaml").write_text(SPONSOR, encoding="utf-8")
    (home / "millrace.svg").write_text(MARK, encoding="utf-8")
    return folder


def made(folder: Path, wishes: Wishes) -> Finished:
    """The plan as it would be published."""
    return make(folder, wishes, Workshop(store=folder.parent / "store"))[1]


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with one plan: its third step has a film and a photograph."""
    steps = ("## Glue the box\n", "## Glue the box\n:video: " + FILM + "\n:photo: photos/box.jpg, The box in its clamps\n")
    return plan_in(tmp_path_factory.mktemp("shop"), {"notes.md": steps})


@cache
def edition(folder: Path, sponsor: str | None = None, sample: bool = False) -> bytes:
    """One PDF."""
    finished = made(folder, Wishes(sponsor=sponsor, sample=sample))
    assert finished.report.ok and finished.contents, finished.report
    return finished.contents[0]


def test_the_code_beside_a_step_reads_back_from_the_page(shop: Path) -> None:
    """Printed, rendered and scanned, it is the address that the notes have, on the page of its step and nowhere else."""
    pdf = pypdfium2.PdfDocument(edition(shop))
    found = {}
    for number, page in enumerate(pdf, start=1):
        for code in zxingcpp.read_barcodes(page.render(scale=3, grayscale=True).to_pil()):
            found[number] = code.text
    assert list(found.values()) == [FILM]
    (page_number,) = found
    assert "Glue the box" in texts(edition(shop))[page_number - 1]


def test_a_photograph_stands_in_its_step_with_its_words(shop: Path) -> None:
    """It counts as a figure, its description is in the tags, and it stands upright."""
    text = "\n".join(texts(edition(shop)))
    numbers = sorted({int(number) for number in re.findall(r"Figure\s+(\d+)(?=[.\n ])", text)})
    assert numbers == list(range(1, len(numbers) + 1))
    with pikepdf.open(io.BytesIO(edition(shop))) as pdf:
        said = [str(element.Alt) for element in pdf.objects if isinstance(element, pikepdf.Dictionary) and "/Alt" in element]
        images = [image for page in pdf.pages for image in page.get_images().values()]
    assert "The box in its clamps" in said
    assert any(image.Height > image.Width for image in images)


def test_a_sponsor_is_named_on_the_cover_and_the_foot(shop: Path) -> None:
    """The plan's own pages and numbers stay as they are."""
    plain, sponsored = texts(edition(shop)), texts(edition(shop, "millrace"))
    assert len(plain) == len(sponsored)
    assert "Millrace Tool Works" in sponsored[0] and "gave the oak" in sponsored[0]
    assert all("gave the oak" in text.replace("\n", " ") for text in sponsored)
    assert not any("Millrace" in text for text in plain)


def test_a_sample_withholds_what_it_does_not_show(shop: Path) -> None:
    """A watermark on every page; the cut list and all steps but the first are withheld; numbers are those of the whole plan."""
    whole, sample = texts(edition(shop)), texts(edition(shop, sample=True))
    assert all("SAMPLE" in text for text in sample) and len(sample) < len(whole)
    text = "\n".join(sample)
    assert "Not in this sample" in text and "Hang the lid and oil it" not in text and "Mill and cut the walls" in text
    heads = [line for page in whole for line in page.split("\n") if re.match(r"\d+ +[A-Z][a-z]+ list$", line)]
    assert heads and all(any(line == head for page in sample for line in page.split("\n")) for head in heads)


def test_an_unknown_sponsor_is_an_error_with_the_nearest_name(shop: Path) -> None:
    """And nothing is made."""
    finished = made(shop, Wishes(sponsor="milrace"))
    (fault,) = [one for one in finished.report.diagnostics if one.code == "no-sponsor"]
    assert fault.hint == "Did you mean millrace?" and not finished.contents


def broken(home: Path) -> None:
    """The first half of a photograph."""
    (home / "keepsake-box/photos/box.jpg").write_bytes(photograph()[: len(photograph()) // 2])


def huge(home: Path) -> None:
    """132 megapixels of white: a small file, half a gigabyte when it is opened."""
    Image.new("1", (12_000, 11_000), 1).save(home / "keepsake-box/photos/box.png")


def wide(home: Path) -> None:
    """A page of the plan's own, with a table of 14 columns of long words."""
    folder = home / "keepsake-box/plugins/wide"
    folder.mkdir(parents=True)
    (folder / "__init__.py").write_text(
        "'''A wide page.'''\n\nfrom compiler.api import Blocks, Model, Plugin, Table, hook, section\n\n\n"
        "@section('Wide', after='cut list')\ndef wide(model: Model) -> Blocks:\n    '''A page.'''\n    yield Table('Wide', ('Head-of-a-column',) * 14, (('unbreakable',) * 14,))\n\n\n"
        "@hook\ndef plugin() -> Plugin:\n    '''All.'''\n    return Plugin(contract=1, sections=(wide,))\n", encoding="utf-8")


def bare_theme(home: Path) -> None:
    """A theme without a parent, and without a template for steps."""
    shutil.copytree(ROOT / "themes/standard", home / "themes/own")
    (home / "themes/own/templates/step.html").unlink()
    told = (home / "themes/own/theme.toml").read_text(encoding="utf-8")
    (home / "themes/own/theme.toml").write_text(told.replace('name = "standard"', 'name = "own"'), encoding="utf-8")


def nothing(home: Path) -> None:
    """The plan as it is."""


GLUE = "## Glue the box\n"
BAD: dict[str, tuple[tuple[str, str], Callable[[Path], None], tuple[str, str, int | None]]] = {
    "a photograph that is missing": ((GLUE, GLUE + ":photo: photos/bix.jpg, The box\n"), nothing, ("no-photo", "notes.md", 1)),
    "a photograph that is broken": ((GLUE, GLUE + ":photo: photos/box.jpg, The box\n"), broken, ("photo-unreadable", "notes.md", 1)),
    "a photograph of 132 megapixels": ((GLUE, GLUE + ":photo: photos/box.png, The box\n"), huge, ("photo-too-large", "notes.md", 1)),
    "a film without an address": ((GLUE, GLUE + ":video: see my films\n"), nothing, ("bad-field", "notes.md", 1)),
    "a part that is added twice": (("## Hang the lid and oil it\n", "## Hang the lid and oil it\n:adds: bottom\n"), nothing, ("added-twice", "notes.md", None)),
    "a part that is never added": ((":adds: long wall, end wall, bottom\n", ":adds: long wall, end wall\n"), nothing, ("never-added", "design.yaml", None)),
    "notes of 2 MB": (("# Make the box\n", "# Make the box\n" + "Plane the oak and look at it. " * 70_000 + "\n"), nothing, ("too-large", "notes.md", None)),
    "letters without a font": (("A dovetailed box", "Коробка, 木箱, صندوق"), nothing, ("letter-without-font", "", None)),
    "a theme without a template": (("A dovetailed box", "A dovetailed box"), bare_theme, ("theme-missing-block", "", None)),
}
"""What is changed in the notes, what besides, and the code, the file and the line (counted from the changed one) of the error."""


@pytest.mark.parametrize("case", BAD)
def test_bad_input_is_told_at_its_place(case: str, tmp_path: Path) -> None:
    """An error, and no page."""
    change, besides, (code, file, line) = BAD[case]
    folder = plan_in(tmp_path, {"notes.md": change})
    besides(tmp_path)
    finished = made(folder, Wishes(theme="own" if besides is bare_theme else None))
    fault = next((one for one in finished.report.errors if one.code == code), None)
    assert fault is not None and not finished.report.ok, finished.report
    if file:
        assert fault.at is not None and fault.at.file == file
    if line is not None:
        text = (folder / "notes.md").read_text(encoding="utf-8")
        assert fault.at is not None and fault.at.line == text[: text.index(change[1])].count("\n") + 1 + line


def test_a_table_wider_than_the_page_is_a_warning_and_the_rest_is_whole(tmp_path: Path) -> None:
    """Its name and page are told; every other page keeps its margins."""
    folder = plan_in(tmp_path)
    wide(tmp_path)
    finished = made(folder, Wishes(trust=True))
    (fault,) = [one for one in finished.report.diagnostics if one.code == "table-too-wide"]
    assert re.match(r"The table wide on page \d+ is \d+ mm wider", fault.says) and finished.contents
    told = int(re.findall(r"page (\d+)", fault.says)[0])
    for number, (width, _, letters) in enumerate(pages_of_letters(finished.contents[0]), start=1):
        assert number == told or all(letter.right <= width - 46.8 + 1 for letter in letters), number


def test_a_name_of_two_hundred_letters_stays_on_its_cover(tmp_path: Path) -> None:
    """It is set smaller there and shortened in running heads."""
    name = "Keepsake box " + "with a framed lid and a drawer beneath " * 4 + "in white oak and cherry, after the old pattern"
    folder = plan_in(tmp_path, {"design.yaml": (re.search(r"plan: .*", (ROOT / "shared/starters/box/design.yaml").read_text())[0], f"plan: {name[:200]}")})  # type: ignore[index]
    finished = made(folder, Wishes())
    assert finished.report.ok and finished.contents, finished.report
    for page in pypdfium2.PdfDocument(finished.contents[0]):
        width = page.get_width()
        reading = page.get_textpage()
        boxes = [reading.get_charbox(place) for place in range(reading.count_chars())]
        assert all(18 <= left and right <= width - 18 for left, _, right, _ in boxes if right > left)
