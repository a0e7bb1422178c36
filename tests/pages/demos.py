"""The demo plans as they are published: every edition that a plan names, and some on the other paper. Made once a run, nothing is written.

In: a plan's name, units, paper. Out: the PDF's bytes; what an outside reader (pypdfium2) finds on its pages.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from compiler.build import Wishes, make
from tests.pages.printed import texts

PROJECTS = Path(__file__).parents[2] / "projects"
FIRST = (("low-bookcase", "inch", "letter"), ("tool-wall-cabinet", "mm", "a4"), ("trestle-bench", "inch", "letter"), ("knock-down-shelf", "inch", "letter"))
"""Each plan's first edition, and the others that it has."""
OTHERS = (("low-bookcase", "inch", "a4"), ("low-bookcase", "mm", "letter"), ("low-bookcase", "mm", "a4"), ("tool-wall-cabinet", "inch", "letter"),
          ("trestle-bench", "inch", "a4"), ("trestle-bench", "mm", "a4"), ("knock-down-shelf", "inch", "a4"), ("knock-down-shelf", "mm", "a4"))
EDITIONS = (*FIRST, *OTHERS)


@cache
def demo(plan: str, units: str, paper: str, sample: bool = False, theme: str | None = None) -> bytes:
    """One edition's PDF."""
    _, finished = make(PROJECTS / plan, Wishes(units=units, papers=(paper,), trust=True, sample=sample, theme=theme))
    assert finished.report.ok and finished.contents, finished.report
    return finished.contents[0]


@cache
def pages(plan: str, units: str, paper: str) -> list[str]:
    """The text of each page, hard spaces made plain."""
    return [text.replace("\xa0", " ").replace("\u2009", " ").replace("\ufffe", "") for text in texts(demo(plan, units, paper))]
