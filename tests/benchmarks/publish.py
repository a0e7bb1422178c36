"""`publish` of low-bookcase as a whole process: cold, after an edit of the theme, after an edit of the notes, unchanged; and against a plain layout.

The plain layout is the layout engine's own run of the same pages with the same page numbers, every figure as inline SVG with one element for each line
segment; `ratio_to_inline` is our layout (without seeds: it finds its own page numbers) over that, both in this process, processor time.
"""

from __future__ import annotations

import io
import re
import tempfile
import time
from collections.abc import Callable, Iterator
from html import escape
from itertools import pairwise
from pathlib import Path
from typing import Any

from compiler import build
from compiler.draw.swapping import swap_back
from compiler.stages.dress import dress as dress_document
from compiler.stages.dress import load_theme
from compiler.stages.publish import publish
from compiler.stages.publish.shortcuts import SWAPS, take_shortcuts
from compiler.values.figure import Circle, Drawing, Region, Stroke
from compiler.values.pages import PAGE_MARK, Pages
from tests.benchmarks._runs import PUBLISH, ROOT, Run, dress, shop, timed

PLAN = "low-bookcase"


def run() -> dict[str, object]:
    """Seconds, megabytes, the ratio, and how much there was to lay out."""
    with tempfile.TemporaryDirectory() as place:
        home = Path(place)
        projects = shop(home, PLAN)
        cold = timed(PUBLISH, home, PLAN, home=home)
        timed(PUBLISH, home, PLAN, home=home)
        same = timed(PUBLISH, home, PLAN, home=home)
        dress(projects, "#7c1d1d")
        theme = timed(PUBLISH, home, PLAN, home=home)
        notes = projects / PLAN / "notes.md"
        notes.write_text(notes.read_text(encoding="utf-8").replace("the", "the very", 1), encoding="utf-8")
        prose = timed(PUBLISH, home, PLAN, home=home)
        return {**_told("cold", cold), **_told("warm", theme), **_told("prose", prose), **_told("unchanged", same), "peak_mb": round(cold.peak_mb),
                **_against_inline(home)}


def _told(name: str, run: Run) -> dict[str, float]:
    return {f"{name}_s": round(run.wall, 2), f"{name}_cpu": round(run.cpu, 2)}


def _against_inline(home: Path) -> dict[str, object]:
    plan, finished = build.make(home / "projects" / PLAN, build.Wishes(), build.Workshop(store=home / "store", installed=False))
    assert finished.report.ok
    pages = _pages(plan)
    ours = publish(pages)
    ours_cpu = _cpu(lambda: publish(pages))
    assert ours.value is not None
    numbers = dict(ours.value.anchors)
    markup = PAGE_MARK.sub(lambda mark: str(numbers[mark[1]]), pages.markup)
    markup = re.sub(r'<img\b[^>]*src="fig:(\d+)"[^>]*/?>', lambda found: _svg(pages.figures[int(found[1])]), markup)
    swap_back(SWAPS)
    plain_cpu = _cpu(lambda: _plain(markup, pages))
    take_shortcuts()
    lines = sum(len(path) - 1 for figure in pages.figures for mark in figure.marks if isinstance(mark, Stroke) for path in mark.paths)
    return {"ratio_to_inline": round(ours_cpu / plain_cpu, 3), "ours_cpu": round(ours_cpu, 2), "inline_cpu": round(plain_cpu, 2),
            "pages": ours.value.page_count, "figures": len(pages.figures), "line_segments": lines, "layouts": ours.value.layouts}


def _pages(plan: Any) -> Pages:
    """The pages of the plan's first edition, dressed and not yet laid out."""
    from compiler.build.commands import document_of
    from compiler.store.account import Account

    editions, _ = build.editions_of(plan, build.Wishes())
    built = document_of(plan, editions[0], build.Wishes(), Account(plan.around.store, "benchmark"), draw=True)
    theme = load_theme("standard", (ROOT / "themes",)).value
    assert built.document is not None and theme is not None
    pages = dress_document(built.document, theme).value
    assert pages is not None
    return pages


def _plain(markup: str, pages: Pages) -> bytes:
    """The engine's own run, without anything of ours."""
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    files = dict(pages.files)
    kinds = {"svg": "image/svg+xml", "png": "image/png", "jpeg": "image/jpeg", "jpg": "image/jpeg"}

    class Shelf(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Any = None) -> Any:
            return URLFetcherResponse(url, files[url], {"Content-Type": kinds.get(url.rsplit(".", 1)[-1], "font/ttf")})

    fonts = FontConfiguration()
    faces = "".join(f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; font-style: {"italic" if face.italic else "normal"};'
                    f' src: url("theme:{face.file}") }}' for face in pages.faces)
    style = CSS(string=faces + pages.style, base_url="theme:", url_fetcher=Shelf(), font_config=fonts)
    out = io.BytesIO()
    HTML(string=markup, base_url="theme:", url_fetcher=Shelf()).write_pdf(out, stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1")
    return out.getvalue()


def _svg(drawing: Drawing) -> str:
    """The drawing as SVG, one element for each line segment, millimetres."""
    return (f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{drawing.width}mm" height="{drawing.height}mm"'
            f' viewBox="0 0 {drawing.width:g} {drawing.height:g}">{"".join(_elements(drawing))}</svg>')


def _elements(drawing: Drawing) -> Iterator[str]:
    high = drawing.height
    for mark in drawing.marks:
        if isinstance(mark, Stroke):
            for path in mark.paths:
                for (x, y), (u, v) in pairwise(path):
                    yield f'<line x1="{x:.3f}" y1="{high - y:.3f}" x2="{u:.3f}" y2="{high - v:.3f}" stroke="#000" stroke-width=".3"/>'
        elif isinstance(mark, Circle):
            yield f'<circle cx="{mark.centre[0]:.3f}" cy="{high - mark.centre[1]:.3f}" r="{mark.radius:.3f}" fill="none" stroke="#000" stroke-width=".3"/>'
        elif isinstance(mark, Region):
            path = " ".join("M" + " ".join(f"{x:.3f} {high - y:.3f}" for x, y in ring) + "Z" for ring in mark.rings)
            yield f'<path d="{path}" fill="#ddd" fill-rule="evenodd"/>'
        else:
            yield f'<text x="{mark.at[0]:.3f}" y="{high - mark.at[1]:.3f}" font-size="{mark.size / 0.7:.2f}">{escape(mark.text)}</text>'


def _cpu(work: Callable[[], object]) -> float:
    started = time.process_time()
    work()
    return time.process_time() - started
