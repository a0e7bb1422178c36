"""The demo plans as they are published: every plan, in the units it has, on both papers. Made once a run, nothing is written.

In: a plan's name, units, paper. Out: the PDF's bytes; what an outside reader (pypdfium2) finds on its pages.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from compiler.build import Wishes, make
from tests.pages.printed import texts

PROJECTS = Path(__file__).parents[2] / "projects"
EDITIONS = tuple(
    (plan, units, paper)
    for plan, all_units in (("low-bookcase", ("inch", "mm")), ("tool-wall-cabinet", ("mm",)), ("trestle-bench", ("inch",)))
    for units in all_units
    for paper in ("letter", "a4")
)


@cache
def demo(plan: str, units: str, paper: str, sample: bool = False) -> bytes:
    """One edition's PDF."""
    _, finished = make(PROJECTS / plan, Wishes(units=units, papers=(paper,), trust=True, sample=sample))
    assert finished.report.ok and finished.contents, finished.report
    return finished.contents[0]


@cache
def pages(plan: str, units: str, paper: str) -> list[str]:
    """The text of each page, hard spaces made plain."""
    return [text.replace("\xa0", " ").replace("\u2009", " ").replace("\ufffe", "") for text in texts(demo(plan, units, paper))]
