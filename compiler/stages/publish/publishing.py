"""Pages → PDF bytes.

In: Pages, and seeds. Out: Outcome[PublishedPdf]. The page numbers of the seeds are written into the text, the document is laid out, the
numbers are compared with the layout and put right where that moves nothing else; if it would, they are written and all is laid out again, until
they agree. A number that no layout has confirmed is never published, and seeds never change a byte, only the time it takes.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any
from xml.etree import ElementTree

import pydyf

from compiler.base.report import Diagnostic, Findings, Outcome, Report, Severity, Spot
from compiler.base.sweeping import unswept
from compiler.draw.stylesheet import StyleText, complaint, failure, gathered, ignored_in
from compiler.draw.typesetter import Complaints, listening
from compiler.stages.publish.blaming import blame
from compiler.stages.publish.layout import GUESS, Layout, StyleFailure
from compiler.stages.publish.packing import pack
from compiler.stages.publish.proof import proof, unknown_letters
from compiler.stages.publish.renumbering import renumber
from compiler.stages.publish.reserving import reserve
from compiler.values.pages import Pages, PublishedPdf, Seeds

MOST_LAYOUTS = 10
"""One is usual; a page number in a line of text may need a second when there are no seeds, and more when they are those of another plan."""
UNDATED = datetime(2000, 1, 1, tzinfo=UTC)


def publish(pages: Pages, *, seeds: Seeds | None = None) -> Outcome[PublishedPdf]:
    """The PDF. Errors (a letter without a font, a picture that can't be read, numbers that don't settle) leave none."""
    found = Findings()
    unknown_letters(pages, found)
    complaints = Complaints()
    with _dated(pages.date), listening(complaints), unswept():
        try:
            layout = Layout(pages)
        except StyleFailure:
            found.add(failure(StyleText(pages.sheets or (("", pages.style),))))
            return Outcome(None, found.report())
        try:
            published = _settle(pages, layout, seeds or Seeds(), found)
        except (OSError, MemoryError):
            raise
        except Exception as fault:  # whatever it is, it is told at its place where it is the engine's
            found.add(blame(pages, fault))
            return Outcome(None, found.report())
    found.extend(gathered(Report(tuple(_complaints(complaints, pages, layout.lead)))))
    report = found.report()
    return Outcome(published if report.ok else None, report)


def _settle(pages: Pages, layout: Layout, seeds: Seeds, found: Findings) -> PublishedPdf | None:
    numbers = dict(seeds.pages)
    for count in range(1, MOST_LAYOUTS + 1):
        try:
            laid = layout.lay_out(numbers)
        except ElementTree.ParseError as fault:
            found.error("markup-broken", f"The theme's templates make markup that is not well-formed: {fault}",
                        hint="Close every element, write <br/>, and &lt; for a plain <.")
            return None
        truth = {anchor: number for number, page in enumerate(laid.document.pages, start=1) for anchor in page.anchors}
        lost = sorted({*laid.running, *laid.alone.values()} - truth.keys())
        if lost:
            found.error("page-of-nothing", f"The page number of {', '.join(lost)} is printed, and nothing in the pages is called so.")
            return None
        if all(numbers.get(anchor, GUESS) == truth[anchor] for anchor in laid.running) and not renumber(
            laid.document, {element: str(truth[anchor]) for element, anchor in laid.alone.items()}
        ):
            proof(laid.document, found)
            return _write(pages, laid.document, truth, count)
        numbers = truth
    found.error("pages-unsettled", f"Page numbers still moved after {MOST_LAYOUTS} layouts.",
                hint="Take a page number out of a line that is full to its end.")
    return None


def _write(pages: Pages, document: Any, truth: dict[str, int], layouts: int) -> PublishedPdf:
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
        reserve(pdf)
        pack(pdf)

    content = document.write_pdf(finisher=finish, pdf_variant="pdf/ua-1", pdf_identifier=identifier)
    return PublishedPdf(
        content=content,
        page_count=len(document.pages),
        anchors=tuple(sorted(truth.items())),
        section_starts=tuple((anchor, title, truth[anchor]) for anchor, title in pages.sections if anchor in truth),
        seeds=Seeds(tuple(sorted(truth.items()))),
        layouts=layouts,
    )


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


def _complaints(complaints: Complaints, pages: Pages, lead: int) -> Iterator[Diagnostic]:
    """What the layout engine said, as diagnostics: a lost picture is an error, a style it ignored a warning at its line."""
    if not complaints.said:
        return
    style = StyleText(pages.sheets or (("", pages.style),))
    for _, sentence in complaints.said:
        told = complaint(sentence, style, lead) or ignored_in(pages.templates, sentence)
        short = f"{sentence.rstrip('.')}." if len(sentence) < 300 else sentence[:299] + "…"
        if told is not None:
            yield told
        elif "image" in sentence.lower() and "fail" in sentence.lower():
            yield Diagnostic("picture-unreadable", f"A picture could not be read: {short}", _named_in((*pages.templates, *pages.sheets), sentence),
                             "A theme's pictures are named in its theme.toml.")
        else:
            yield Diagnostic("layout-engine", f"The layout engine says: {short}", severity=Severity.WARNING, hint="Look at the theme's styles.")


def _named_in(sources: tuple[tuple[str, str], ...], sentence: str) -> Spot | None:
    """Where a theme names the picture that a sentence of the engine speaks of."""
    said = re.search(r"'(?:theme:)?([^']+)'", sentence)
    found = ((file, text, text.find(said[1])) for file, text in sources) if said else ()
    return next((Spot.in_text(file, text, at, len(said[1])) for file, text, at in found if said and at >= 0), None)
