"""What makes the layout engine fail, found by laying out less and less.

In: Pages on which it raised. Out: one error, at the declaration of the style without which it doesn't; else with the section on which it does.
A layout is tried some ten times, most of them of one section: a plan that can't be published has that time.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from xml.etree import ElementTree

from compiler.base.report import Diagnostic
from compiler.draw.stylesheet import StyleText
from compiler.stages.publish.layout import Layout
from compiler.values.pages import Pages

_DECLARATION = re.compile(r"""(?<=[{;\s])([\w-]+)\s*:(?:"[^"\n]*"|'[^'\n]*'|[^;{}"'])*(?=[;}])""")
_ALONE = "Publish with --theme standard: if that works, it is one of the theme's own templates."


def blame(pages: Pages, fault: Exception) -> Diagnostic:
    """The error to tell. Raises `fault` when the engine lays out the pages and draws them: then it is none of the engine's."""
    if not _fails(pages):
        raise fault
    what = f"{type(fault).__name__}: {str(fault)[:120]}".rstrip(": .")
    least, section = _least(pages)
    style = StyleText(pages.sheets or (("", pages.style),))
    declared = list(_DECLARATION.finditer(style.text))

    def fails(number: int) -> bool:
        """With so many of the declarations, from the first."""
        text = list(style.text)
        for found in declared[number:]:
            text[found.start() : found.end()] = " " * len(found[0])
        return _fails(replace(least, style="".join(text)))

    if fails(0):
        where = f" the section `{section}`" if section else " these pages"
        return Diagnostic("layout-failed", f"The layout engine fails on{where}, whatever their style ({what}).", None, _ALONE)
    last = declared[_first(fails, len(declared)) - 1]
    return Diagnostic("layout-failed", f"The layout engine fails on this `{last[1]}` ({what}).", style.spot(last.start(), len(last[0].rstrip())),
                      "Take it out, or give it a size above nothing that fits the page.")


def _first(fails: Callable[[int], bool], most: int) -> int:
    """The least number of declarations with which it fails; it does with `most`, and not with none."""
    good, bad = 0, most
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (good, middle) if fails(middle) else (middle, bad)
    return bad


def _least(pages: Pages) -> tuple[Pages, str]:
    """The pages with the first section alone on which it fails, and what it is called; all of them where none fails alone."""
    whole = ElementTree.fromstring(pages.markup).find("body")
    for number in range(len(whole) if whole is not None else 0):
        root = ElementTree.fromstring(pages.markup)
        body = root.find("body")
        assert body is not None
        kept = body[number]
        body[:] = [kept]
        alone = replace(pages, markup=ElementTree.tostring(root, encoding="unicode"))
        if _fails(alone):
            called = {element.get("id") for element in kept.iter()}
            return alone, next((title for anchor, title in pages.sections if anchor in called), "")
    return pages, ""


def _fails(pages: Pages) -> bool:
    """Whether the engine can't lay them out, or can't draw them. What is lacking to the machine is raised."""
    try:
        Layout(pages).lay_out({}).document.write_pdf(pdf_variant="pdf/ua-1")
    except (OSError, MemoryError):
        raise
    except Exception:
        return True
    return False
