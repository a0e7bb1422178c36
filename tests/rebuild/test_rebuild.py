"""Every row of cases.md: after that edit exactly these things are made again, for that reason, and the output is that of a store that knows nothing."""

from __future__ import annotations

import locale
import os
import re
import shutil
import zlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from compiler import build
from compiler.store.memo import _HEAD
from tests.shop import DESIGN, Small

CASES = [tuple(cell.strip() for cell in line.strip("|").split("|")) for line in Path(__file__).with_name("cases.md").read_text().splitlines()
         if line.startswith("|") and not line.startswith(("|---", "| edit"))]
TALLY = """from dataclasses import dataclass

from compiler.api import Blocks, Model, Paragraph, Plugin, hook, section, task


@dataclass(frozen=True)
class Tally:
    '''How many kinds of parts there are.'''

    kinds: int


@task
def tally(model: Model) -> Tally:
    '''Counts the kinds of parts.'''
    return Tally(len(model.kinds))


@section("Tally", after="cut list")
def pages(tally: Tally) -> Blocks:
    '''One line.'''
    yield Paragraph(content=(f"{tally.kinds} kinds of parts",))


@hook
def plugin() -> Plugin:
    '''A task and a section.'''
    return Plugin(contract=1, tasks=(tally,), sections=(pages,))
"""
KINDS = {
    "tally": ("tally ",),
    "document": ("document of",), "pages": ("pages of",), "weights": ("weights",), "inspection": ("inspection",), "drawings": ("drawing ",),
    "exports": ("flat_parts ", "list_files ", "cutting_layouts sheets_dxf"), "lists": ("cut_list ", "hardware_list ", "board_feet "),
    "layouts": ("cutting_layouts ",), "money": ("materials ",),
}
"""Every other product is `advice`: cautions, movement of wood, bits to use, and whatever plugins tell besides."""
PNG = bytes.fromhex("89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c4944415408d763f8cfc0000003010100c9fe92ef0000000049454e44ae426082")


def publish(shop: Small, store: bool = True) -> build.Published:
    """The plan, as the shop has it now."""
    workshop = shop.workshop if store else replace(shop.workshop, store=None)
    return build.publish(shop.plan, build.Wishes(units="inch"), workshop=workshop)


@pytest.fixture(scope="module")
def pristine(tmp_path_factory: pytest.TempPathFactory) -> tuple[Small, Path]:
    """The shop, published until its account tells what was used again, and a copy of all of it."""
    shop = Small(tmp_path_factory.mktemp("shop") / "home")
    for name in ("library", "themes"):
        shop.own(name)
    _write(shop.plan.parent / "plugins/tally/__init__.py", TALLY.encode())
    _write(shop.plan.parent / "plugins/tally/README.md", b"How many parts there are.\n")
    shop.lean()
    shop.edit("../shop.yaml", "theme: lean", "theme: lean\nterms: One buyer, one shop.\ntrusted: [plugins/tally]")
    (shop.plan / "design.yaml").write_text(DESIGN + "# the end\n")
    for _ in range(2):
        published = publish(shop)
        assert published.report.ok, published.report
    copy = shop.home.with_name("copy")
    shutil.copytree(shop.home, copy)
    return shop, copy


@pytest.fixture
def shop(pristine: tuple[Small, Path]) -> Iterator[Small]:
    """The shop as it was published."""
    small, copy = pristine
    surroundings = dict(os.environ)
    shutil.rmtree(small.home)
    shutil.copytree(copy, small.home)
    yield small
    os.environ.clear()
    os.environ.update(surroundings)
    locale.setlocale(locale.LC_NUMERIC, "C")


def place(shop: Small, name: str) -> Path:
    """The file that a case names."""
    homes = {"library": shop.workshop.library, "themes": shop.workshop.themes, "plugins": shop.plan.parent / "plugins"}
    first, _, rest = name.partition("/")
    home = homes.get(first)
    return home / rest if home else shop.plan / name


def apply(edit: str, shop: Small) -> None:
    """Do what a case says."""
    if match := re.fullmatch(r"`(.+?)`: `(.+?)` → `(.+?)`", edit):
        path = place(shop, match[1])
        text = path.read_text()
        assert match[2] in text, edit
        path.write_text(text.replace(match[2], match[3]))
    elif match := re.fullmatch(r"`(.+?)`: append a comment", edit):
        path = place(shop, match[1])
        mark = {".css": "/* more */", ".html": "{# more #}", ".toml": "# more", ".yaml": "# more"}[path.suffix]
        path.write_text(path.read_text() + f"\n{mark}\n")
    elif match := re.fullmatch(r"touch `(.+?)`", edit):
        os.utime(place(shop, match[1]), (1, 1))
    elif match := re.fullmatch(r"set the variable (\w+) to (\S+)", edit):
        os.environ[match[1]] = match[2]
    else:
        ACTIONS[edit](shop)


def _mend(path: Path, pattern: str, new: str) -> None:
    text, count = re.subn(pattern, new, path.read_text(), count=1)
    assert count, f"{path} has no {pattern}"
    path.write_text(text)


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


def _font(shop: Small) -> None:
    path = shop.workshop.themes / "standard/fonts/SourceSans3-Regular.ttf"
    with TTFont(BytesIO(path.read_bytes()), recalcTimestamp=False) as font:
        font["name"].setName("(c) another line", 0, 3, 1, 0x409)
        font.save(path)


def _numbers(_: Small) -> None:
    for name in ("de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"):
        try:
            locale.setlocale(locale.LC_NUMERIC, name)
            return
        except locale.Error:
            continue


def _store(shop: Small, act: Callable[[Path], object], only: bytes = b"") -> None:
    assert shop.workshop.store is not None
    found = [path for path in shop.workshop.store.glob("*/??/*") if not only or only in zlib.decompress(path.read_bytes()[len(_HEAD) + 32:])]
    assert found
    for path in found:
        act(path)


ACTIONS: dict[str, Callable[[Small], object]] = {
    "nothing is edited": lambda shop: None,
    "write a hidden file beside the design, as editors do": lambda shop: _write(shop.plan / ".design.yaml.swp", b"x"),
    "set the locale of numbers": _numbers,
    "delete letters.yaml": lambda shop: (shop.plan / "letters.yaml").unlink(),
    "delete the PDF": lambda shop: (shop.plan / "out/wall-rail.pdf").unlink(),
    "spoil the PDF": lambda shop: _write(shop.plan / "out/wall-rail.pdf", b"%PDF-1.7"),
    "put a picture into photos/ that nothing shows": lambda shop: _write(shop.plan / "photos/spare.png", PNG),
    "lay another mark beside shop.yaml": lambda shop: _write(
        shop.plan.parent / "mark.svg", b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7v7h-7z"/></svg>'),
    "give the font SourceSans3-Regular.ttf another copyright line": _font,
    "give the child theme a template of its own": lambda shop: _write(
        shop.plan.parent / "themes/lean/templates/note.html", (shop.workshop.themes / "standard/templates/note.html").read_bytes()),
    "another density for a wood that the plan does not use": lambda shop: _mend(
        shop.workshop.library / "stock/woods.yaml", r"(?s)(\nwhite oak:.*?density: )[^\n]+", r"\g<1>{sg: 0.01}"),
    "another density for the plan's wood": lambda shop: _mend(
        shop.workshop.library / "stock/woods.yaml", r"(?s)(\nyellow-poplar:.*?density: )[^\n]+", r"\g<1>{sg: 0.99}"),
    "another pack for a screw that the plan does not use": lambda shop: _mend(
        shop.workshop.library / "hardware/screws.yaml", r"(?s)(\nscrew No. 6 x 5/8:.*?pack: )\d+", r"\g<1>77"),
    "the shop gets another plugin, which brings nothing": lambda shop: (
        _write(place(shop, "plugins/idle/__init__.py"), b"from compiler.api import Plugin, hook\n\n\n@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1)\n"),
        _mend(shop.plan / "../shop.yaml", "plugins/tally", "plugins/tally, plugins/idle")),
    "the store loses its drawings of the shelf": lambda shop: _store(shop, Path.unlink, b"thumb shelf"),
    "spoil every entry of the store": lambda shop: _store(shop, lambda path: path.write_bytes(path.read_bytes()[:-3])),
    "delete the store": lambda shop: shutil.rmtree(shop.workshop.store or ""),
}


def kinds(account: tuple[str, ...]) -> set[str]:
    """The kinds of things that were made."""
    made = [line.removeprefix("made").strip() for line in account if line.startswith("made")]
    return {next((kind for kind, heads in KINDS.items() if line.startswith(heads)), "advice") for line in made}


@pytest.mark.parametrize(("edit", "again", "because"), CASES, ids=[case[0] for case in CASES])
def test_case(edit: str, again: str, because: str, shop: Small) -> None:
    """The kinds made again, the reason, and no byte that differs where nothing may."""
    before = shop.pdf
    apply(edit, shop)
    published = publish(shop)
    assert published.report.ok, published.report
    expected = {"nothing": set(), "everything": {*KINDS, "advice"}}.get(again, set(again.split(", ")))
    assert expected == kinds(published.account), "\n".join(line for line in published.account if line.startswith("made"))
    if because:
        assert any(because in line for line in published.account), published.account
    if again == "nothing" or again == "everything":
        assert before == shop.pdf


def test_a_part_that_changes_redraws_only_what_shows_it(shop: Small) -> None:
    """The shelf gets deeper: its own drawing and the pictures of both parts are made again, the drawing of the rail is not."""
    for place, face, corner in (("up: 0 to rail, grain: across", "front", "top"), ("up: from 1, grain: across", "top", "front")):
        holes = f"{{holes: {face}, first: 2 from left and 1 from {corner}, going: across, every: 4, count: 3, diameter: 1/2}}"
        shop.edit("design.yaml", f"{place}}}", f"{place}, workings: [{holes}]}}")
    assert publish(shop).report.ok
    shop.edit("design.yaml", "rail.back for 5", "rail.back for 5 1/2")
    account = publish(shop).account
    drawn = {line.split(" [")[0].removeprefix("made    drawing ") for line in account if line.startswith("made    drawing ")}
    kept = {line.split(" [")[0].removeprefix("reused  drawing ") for line in account if line.startswith("reused  drawing ")}
    assert "part rail" in kept and {"part shelf", "exploded front right top"} <= drawn, account
    assert any(words.split(" ")[0] == "sizes" for words in drawn), account


def test_letters_that_publish_writes_make_nothing_again(shop: Small) -> None:
    """A new plan, and one that gets a part: the second publish finds new letters and makes nothing; they are what they would be without a store."""
    shutil.rmtree(shop.workshop.store or shop.home)
    (shop.plan / "letters.yaml").unlink()
    assert kinds(publish(shop).account) == {*KINDS, "advice"}
    for part in ("", "  cap: {stock: wood, across: 0 to width, deep: from 0, up: rail.top for 1/2, grain: across}\njoints:\n  - {butt: cap, to: rail}\n"):
        if part:
            shop.edit("design.yaml", "joints:\n", part)
            shop.edit("notes.md", ":adds: rail", ":adds: rail, cap")
            assert "document" in kinds(publish(shop).account)
        before = shop.pdf
        again = publish(shop)
        assert again.report.ok and not kinds(again.account), again.account
        assert before == shop.pdf
        publish(shop, store=False)
        assert before == shop.pdf
    assert "C: cap" in (shop.plan / "letters.yaml").read_text()


def test_letters_of_a_renamed_part_are_not_foreseen(shop: Small) -> None:
    """The warning at the old letter is gone in the second run: what was found is not what will be found."""
    for old, new in (("  shelf: {", "  ledge: {"), ("{butt: shelf,", "{butt: ledge,")):
        shop.edit("design.yaml", old, new)
    shop.edit("notes.md", "shelf", "ledge")
    told = [[fault.code for fault in publish(shop).report] for _ in range(2)]
    assert "renamed-part" in told[0] and "renamed-part" not in told[1]
