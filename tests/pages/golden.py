"""Golden page images: pages as they were last looked at and found good.

`python -m tests.pages.golden` writes them anew; look at each before keeping it. In: the sample document and the demo plans. Out: grey PNG
files of 60 dots an inch in tests/pages/golden/; a page that differs leaves a picture in tests/pages/out/: old, new, and
what changed in black on the two laid over each other.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PIL import Image, ImageChops

from tests.pages.demos import demo, pages
from tests.pages.printed import picture, printed

FOLDER = Path(__file__).parent / "golden"
OUT = Path(__file__).parent / "out"
DOTS = 60
PAGES: dict[str, tuple[dict[str, Any], int]] = {
    "cover": ({}, 1),
    "contents": ({}, 2),
    "safety": ({}, 4),
    "cut-list": ({}, 6),
    "exploded": ({}, 8),
    "steps": ({}, 11),
    "cut-list-metric-a4": ({"units": "mm", "paper": "a4"}, 6),
    "workshop-step": ({"name": "workshop"}, 8),
}


DEMO_PAGES: dict[str, tuple[tuple[str, str, str], str]] = {
    "bookcase-cover": (("low-bookcase", "inch", "letter"), ""),
    "bookcase-cut-list": (("low-bookcase", "inch", "letter"), "Rough sizes"),
    "bookcase-exploded": (("low-bookcase", "inch", "letter"), "Parts travel along their joints"),
    "bookcase-sizes": (("low-bookcase", "inch", "letter"), "Outside sizes and openings"),
    "bookcase-steps": (("low-bookcase", "inch", "letter"), "Fit the frame to the case"),
    "cabinet-steps": (("tool-wall-cabinet", "mm", "a4"), "Hang the doors"),
}
"""Pages of demo plans, found by words that stand on them: numbers of pages move."""


def now(name: str) -> Image.Image:
    """The page as it comes out now."""
    if name in DEMO_PAGES:
        plan, words = DEMO_PAGES[name]
        page = next(number for number, text in enumerate(pages(*plan), start=1) if words in " ".join(text.split()))
        return picture(demo(*plan), page, DOTS)
    edition, page = PAGES[name]
    return picture(printed(**edition).content, page, DOTS)


def differs(old: Image.Image, new: Image.Image) -> float:
    """The share of pixels that differ by more than a quarter of the way from black to white; 1 when the size does."""
    if old.size != new.size:
        return 1.0
    counts = ImageChops.difference(old, new).histogram()
    return sum(counts[64:]) / (old.width * old.height)


def show(name: str, old: Image.Image, new: Image.Image) -> Path:
    """Write old, new and difference side by side; gives the file."""
    OUT.mkdir(exist_ok=True)
    width, height = max(old.width, new.width), max(old.height, new.height)
    sheet = Image.new("L", (3 * width + 20, height), 128)
    sheet.paste(old, (0, 0))
    sheet.paste(new, (width + 10, 0))
    if old.size == new.size:
        changed = ImageChops.difference(old, new).point(lambda value: 0 if value >= 64 else 255)
        pale = Image.blend(new, Image.new("L", new.size, 255), 0.8)
        sheet.paste(ImageChops.darker(pale, changed), (2 * width + 20, 0))
    place = OUT / f"{name}.png"
    sheet.save(place)
    return place


def main() -> None:
    """Write all golden images."""
    FOLDER.mkdir(exist_ok=True)
    for name in (*PAGES, *DEMO_PAGES):
        now(name).save(FOLDER / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
