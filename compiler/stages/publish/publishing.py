"""Pages → PDF bytes.

In: Pages, and seeds. Out: Outcome[PublishedPdf]. The page numbers of the seeds are written into the text, the document
is laid out, the numbers are compared with the layout, and written and laid out again until they agree: a number
that no layout has confirmed is never published, and seeds never change a byte, only the time it takes.
"""

from __future__ import annotations

import gc
import hashlib
import os
import re
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any
from xml.etree import ElementTree

import pydyf

from compiler.base.report import Diagnostic, Findings, Outcome, Severity
from compiler.stages.publish.joining import MAY_JOIN, sections_to_join
from compiler.stages.publish.layout import Complaints, Layout, listening
from compiler.stages.publish.proof import proof, unknown_letters
from compiler.stages.publish.reserving import reserve
from compiler.values.pages import PAGE_MARK, Pages, PublishedPdf, Seeds

MOST_LAYOUTS = 10
"""Two are usual without seeds, one with; only seeds of another plan need more."""
GUESS = 9
"""The page that an unseeded reference is first thought to be on: one digit, like most."""
PACKING = 6
"""zlib's level: 9 takes twice the time for 1 % less."""
UNDATED = datetime(2000, 1, 1, tzinfo=UTC)


def publish(pages: Pages, *, seeds: Seeds | None = None) -> Outcome[PublishedPdf]:
    """The PDF. Errors (a letter without a font, a picture that can't be read, numbers that don't settle) leave none."""
    found = Findings()
    unknown_letters(pages, found)
    complaints = Complaints()
    with _dated(pages.date), listening(complaints), _unswept():
        published = _settle(pages, seeds or Seeds(), found)
    for level, sentence in complaints.said:
        found.add(_complaint(level, sentence))
    report = found.report()
    return Outcome(published if report.ok else None, report)


def _settle(pages: Pages, seeds: Seeds, found: Findings) -> PublishedPdf | None:
    wanted = tuple(dict.fromkeys(PAGE_MARK.findall(pages.markup)))
    numbers, joined = dict(seeds.pages), frozenset(seeds.joined)
    layout = Layout(pages)
    for count in range(1, MOST_LAYOUTS + 1):
        try:
            document = layout.lay_out(_written(pages.markup, numbers, joined))
        except ElementTree.ParseError as fault:
            found.error("markup-broken", f"The theme's templates make markup that is not well-formed: {fault}",
                        hint="Close every element, write <br/> and &amp;lt;.")
            return None
        truth = {anchor: number for number, page in enumerate(document.pages, start=1) for anchor in page.anchors}
        lost = [anchor for anchor in wanted if anchor not in truth]
        if lost:
            found.error("page-of-nothing", f"The page number of {', '.join(lost)} is printed, and nothing in the pages is called so")
            return None
        joining = sections_to_join(document)
        if joining.anchors == joined and all(numbers.get(anchor, GUESS) == truth[anchor] for anchor in wanted):
            proof(document, found)
            return _write(pages, document, truth, Seeds(tuple(sorted(truth.items())), tuple(sorted(joined))), count)
        joined = joining.anchors
        numbers = {anchor: number + sum(by for start, by in joining.moves if number >= start) for anchor, number in truth.items()}
    found.error("pages-unsettled", f"Page numbers still moved after {MOST_LAYOUTS} layouts",
                hint="Take a page number out of a line that is full to its end.")
    return None


def _written(markup: str, numbers: dict[str, int], joined: frozenset[str]) -> str:
    """The markup with page numbers and joined sections as they are thought to be."""
    numbered = PAGE_MARK.sub(lambda mark: str(numbers.get(mark[1], GUESS)), markup)
    return MAY_JOIN.sub(lambda mark: mark[0] + (' data-joined="yes"' if mark[1] in joined else ""), numbered)


def _write(pages: Pages, document: Any, truth: dict[str, int], seeds: Seeds, layouts: int) -> PublishedPdf:
    moment = _moment(pages.date)
    document.metadata.title = pages.title
    document.metadata.authors = [pages.author]
    document.metadata.description = pages.subject
    document.metadata.lang = pages.language
    document.metadata.created = document.metadata.modified = moment.strftime("%Y-%m-%dT%H:%M:%SZ")
    identifier = hashlib.sha256(f"{pages.title}\0{pages.date}\0{pages.markup}\0{pages.style}".encode()).hexdigest()[:32].encode()

    def finish(_: Any, pdf: pydyf.PDF) -> None:
        pdf.catalog["PageLabels"] = pydyf.Dictionary({"Nums": _labels(pages.cover)})
        pdf.catalog["PageMode"] = "/UseOutlines"
        reserve(pdf, pages)
        _pack(pdf)

    content = document.write_pdf(finisher=finish, pdf_variant="pdf/ua-1", pdf_identifier=identifier)
    return PublishedPdf(
        content=content,
        page_count=len(document.pages),
        anchors=tuple(sorted(truth.items())),
        section_starts=tuple((anchor, title, truth[anchor]) for anchor, title in pages.sections if anchor in truth),
        seeds=seeds,
        layouts=layouts,
    )


def _pack(pdf: pydyf.PDF) -> None:
    """Compress every stream once: the writer would do it twice, the second time for the file's identifier."""
    for item in pdf.objects:
        if isinstance(item, pydyf.Stream) and item.compress and "Filter" not in item.extra:
            raw = b"\n".join(part if isinstance(part, bytes) else pydyf._to_bytes(part) for part in item.stream)
            item.stream, item.compress = [zlib.compress(raw, PACKING)], False
            item.extra["Filter"] = "/FlateDecode"


def _labels(cover: bool) -> pydyf.Array:
    """Page labels equal the printed numbers: the cover counts as page 1 and is called “Cover”, the next is 2."""
    if not cover:
        return pydyf.Array([0, pydyf.Dictionary({"S": "/D"})])
    return pydyf.Array([0, pydyf.Dictionary({"P": pydyf.String("Cover")}), 1, pydyf.Dictionary({"S": "/D", "St": 2})])


def _moment(date: str) -> datetime:
    """The plan's own date as a moment: midnight UTC; that of an undated plan is fixed."""
    found = re.match(r"(\d{4})-(\d{2})-(\d{2})", date)
    try:
        return datetime(int(found[1]), int(found[2]), int(found[3]), tzinfo=UTC) if found else UNDATED
    except ValueError:
        return UNDATED


@contextmanager
def _dated(date: str) -> Iterator[None]:
    """Libraries that would ask the clock are told the plan's date instead (reproducible-builds.org, SOURCE_DATE_EPOCH)."""
    before = os.environ.get("SOURCE_DATE_EPOCH")
    os.environ["SOURCE_DATE_EPOCH"] = str(int(_moment(date).timestamp()))
    try:
        yield
    finally:
        if before is None:
            del os.environ["SOURCE_DATE_EPOCH"]
        else:
            os.environ["SOURCE_DATE_EPOCH"] = before


@contextmanager
def _unswept() -> Iterator[None]:
    """Hold the garbage collector back: a layout makes a million boxes and drops none before its end (4 to 8 % of the time)."""
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()


def _complaint(level: int, sentence: str) -> Diagnostic:
    """What the layout engine said, as a diagnostic: a lost picture is an error, a style it ignored a warning."""
    short = sentence if len(sentence) < 300 else sentence[:299] + "…"
    if "image" in sentence.lower() and "fail" in sentence.lower():
        return Diagnostic("picture-unreadable", f"A picture could not be read: {short}", severity=Severity.ERROR)
    return Diagnostic("layout-engine", f"The layout engine says: {short}", severity=Severity.WARNING,
                      hint="Look at the theme's styles.")
