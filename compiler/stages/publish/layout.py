"""One layout of the pages: markup in, laid-out pages out.

In: markup, page numbers for its marks, the style sheet, figures and files. Out: a WeasyPrint document.
What leans on WeasyPrint's inner parts is here: making its HTML object from a tree that is already parsed, figures
put into its image cache, and showing “continued” in a head that was repeated. tests/stages/test_publish.py fails when they move.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree

import cssselect2

from compiler.draw.pdf import PaperFigure
from compiler.draw.typesetter import CSS, HTML, FontConfiguration, URLFetcher, URLFetcherResponse
from compiler.stages.publish.mending import mend
from compiler.stages.publish.shortcuts import base_sheet, take_shortcuts
from compiler.values.pages import PAGE_MARK, Pages

GUESS = 10
"""The page that an unseeded reference is first thought to be on: two figures, like most."""
KINDS = {"svg": "image/svg+xml", "png": "image/png", "jpeg": "image/jpeg", "ttf": "font/ttf", "otf": "font/otf"}


class _Shelf(URLFetcher):  # type: ignore[misc]
    """Gives out the pages' own files and nothing else: no disk, no network (so its parent's set-up is not wanted)."""

    _fail_on_errors = False

    def __init__(self, files: dict[str, bytes]) -> None:
        self._files = files

    def __call__(self, url: str) -> URLFetcherResponse:
        return self.fetch(url)

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        content = self._files.get(url)
        if content is None:
            raise ValueError(f"the pages have no {url}")
        return URLFetcherResponse(url, content, {"Content-Type": KINDS.get(url.rsplit(".", 1)[-1], "application/octet-stream")})


class _Parsed(HTML):  # type: ignore[misc]
    """WeasyPrint's HTML made from a tree, so that well-formed markup is not read as tag soup a second time."""

    def __init__(self, root: ElementTree.Element, shelf: _Shelf, base: Any) -> None:
        self._base = base
        self.base_url = "theme:"
        self.url_fetcher = shelf
        self.media_type = "print"
        self.wrapper_element = cssselect2.ElementWrapper.from_html_root(root, content_language=None)
        self.etree_element = self.wrapper_element.etree_element

    def _ua_stylesheets(self, forms: bool = False) -> list[Any]:
        return [self._base]


@dataclass(frozen=True, slots=True)
class Laid:
    """Pages laid out, the elements that hold nothing but a page number, with its anchor, and the anchors of all other page numbers."""

    document: Any
    alone: dict[Any, str]
    running: frozenset[str]


class StyleFailure(Exception):
    """The layout engine fails on the style."""


class Layout:
    """Lays out the same pages as often as needed; fonts, style and figures are read once. `lead` lines stand before the style in what is read."""

    def __init__(self, pages: Pages) -> None:
        mend()
        take_shortcuts()
        self._markup = pages.markup
        self._shelf = _Shelf(dict(pages.files))
        self._fonts = FontConfiguration()
        self._base = base_sheet(pages.style)
        faces = _faces(pages)
        self.lead = faces.count("\n")
        try:
            self._style = CSS(string=faces + pages.style, base_url="theme:", url_fetcher=self._shelf, font_config=self._fonts)
        except (OSError, MemoryError):
            raise  # the engine writes the fonts into a folder of its own here: a full disk is no fault of the style
        except Exception as fault:
            raise StyleFailure from fault
        self._cache: dict[str, Any] = {
            f"fig:{place}": PaperFigure(drawing, pages.pens) for place, drawing in enumerate(pages.figures)
        }

    def lay_out(self, numbers: Mapping[str, int]) -> Laid:
        """The pages with these page numbers. Raises ElementTree.ParseError when the markup is not well-formed."""
        root = ElementTree.fromstring(self._markup)
        alone, running = _fill_in(root, numbers)
        document = _Parsed(root, self._shelf, self._base).render(font_config=self._fonts, stylesheets=[self._style], cache=self._cache,
                                                     pdf_variant="pdf/ua-1")
        show_continued(document)
        return Laid(document, alone, running)


def _fill_in(root: ElementTree.Element, numbers: Mapping[str, int]) -> tuple[dict[Any, str], frozenset[str]]:
    """Write a number in place of every page mark; the elements that hold nothing else, and the anchors of the other marks."""
    alone: dict[Any, str] = {}
    running: set[str] = set()

    def filled(text: str) -> str:
        running.update(PAGE_MARK.findall(text))
        return PAGE_MARK.sub(lambda mark: str(numbers.get(mark[1], GUESS)), text)

    for element in root.iter():
        whole = PAGE_MARK.fullmatch(element.text or "")
        if whole and not len(element):
            alone[element] = whole[1]
            element.text = str(numbers.get(whole[1], GUESS))
        elif element.text:
            element.text = filled(element.text)
        if element.tail:
            element.tail = filled(element.tail)
    return alone, frozenset(running)


def _faces(pages: Pages) -> str:
    return "".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; font-style: {"italic" if face.italic else "normal"}; '
        f'src: url("theme:{face.file}"); }}\n' for face in pages.faces
    )


def show_continued(document: Any) -> None:
    """In the heads of tables that go on from the page before, show what the style kept hidden for it."""
    seen: set[int] = set()
    for page in document.pages:
        for box in page._page_box.descendants():
            if box.element_tag != "thead" or box.element is None:
                continue
            if id(box.element) in seen:
                for inner in box.descendants():
                    if inner.style["visibility"] == "hidden":
                        inner.style = inner.style.copy()
                        inner.style["visibility"] = "visible"
            seen.add(id(box.element))
