"""A buyer's copy: the PDF with a line of its own at the foot of every page, in milliseconds and without a new layout.

In: a published PDF, a number, a name. Out: the same bytes with the line, the letters it needs and a cross-reference behind them (an incremental
update, ISO 32000-1, 7.5.6): whoever compares a copy with the original finds the original inside it.
"""

from __future__ import annotations

import re
from pathlib import Path

from compiler.base.report import Findings, Outcome
from compiler.stamping.lettering import NoLetter, lettering

SIZE = 7
WIDE, HIGH = 540, 14
"""The form's size in points, as `compiler.stages.publish.reserving` keeps it free."""
_PLACE = re.compile(rb"\n(\d+) 0 obj\n<<\s*/KERF_Stamp true(.*?)stream\r?\n", re.DOTALL)
_END = re.compile(rb"startxref\s+(\d+)\s+%%EOF\s*\Z")


class NoPlace(Exception):
    """The PDF has no place kept free for a stamp, or has one already; the text says which."""


class TooLong(Exception):
    """The line is wider than the place kept free for it."""


def stamped(pdf: bytes, line: str) -> bytes:
    """The copy. Raises NoPlace, TooLong, and NoLetter for a letter that the font has not."""
    end = _END.search(pdf[-2048:])
    place = _PLACE.search(pdf)
    if end is None or place is None:
        raise NoPlace("it was not published by this version")
    if b"/KERF_Stamped true" in pdf:
        raise NoPlace("it is a buyer's copy already")
    at = int(end[1])
    head = pdf[at:pdf.index(b"stream", at)]
    size, root = _number(rb"/Size (\d+)", head), _number(rb"/Root (\d+) 0 R", head)
    info, identifier = re.search(rb"/Info \d+ 0 R", head), re.search(rb"/ID \[.*?\]", head, re.DOTALL)
    letters = lettering(line, size)
    if letters.width * SIZE > WIDE:
        raise TooLong
    drawn = b"BT /F %d Tf 0.35 g 0 4 Td <%b> Tj ET" % (SIZE, letters.codes.hex().encode())
    number = int(place[1])
    form = (b"<</KERF_Stamp true/KERF_Stamped true/Type /XObject/Subtype /Form/BBox [0 0 %d %d]/Resources <</Font <</F %d 0 R>>>>"
            b"/Length %d>>\nstream\n%b\nendstream") % (WIDE, HIGH, size, len(drawn), drawn)
    own, added, places = size + len(letters.objects), b"", []
    for at_number, body in ((number, form), *enumerate(letters.objects, size)):
        places.append(len(pdf) + len(added))
        added += b"%d 0 obj\n%b\nendobj\n" % (at_number, body)
    places.append(len(pdf) + len(added))
    rows = b"".join(b"\x01" + offset.to_bytes(4, "big") + b"\x00\x00" for offset in places)
    table = (b"%d 0 obj\n<</Type /XRef/Index [%d 1 %d %d]/W [1 4 2]/Size %d/Prev %d/Root %d 0 R%b%b/Length %d>>\nstream\n%b\nendstream\nendobj\n") % (
        own, number, size, own - size + 1, own + 1, at, root, info[0] if info else b"", identifier[0] if identifier else b"", len(rows), rows)
    return b"%b%b%bstartxref\n%d\n%%%%EOF\n" % (pdf, added, table, places[-1])


def _number(pattern: bytes, text: bytes) -> int:
    found = re.search(pattern, text)
    if found is None:
        raise NoPlace("its cross-reference is of another kind")
    return int(found[1])


def line_of(number: int, name: str) -> str:
    """What stands on a copy."""
    return f"Copy {number}, made for {name}"


def copies(pdf: Path, names: tuple[str, ...], first: int | None) -> Outcome[tuple[tuple[str, bytes], ...]]:
    """A copy for each name, numbered on from `first` (None = behind those that lie beside the PDF in `copies/`): (file name, bytes)."""
    found = Findings()
    try:
        content = pdf.read_bytes()
    except OSError as fault:
        found.error("no-file", f"{pdf} can't be read: {fault.strerror or fault}.", None, "Publish the plan first.")
        return Outcome(None, found.report())
    number = first if first is not None else _last(pdf) + 1
    made = []
    for at, name in enumerate(names, number):
        try:
            made.append((f"{pdf.stem}.copy-{at:04}.pdf", stamped(content, line_of(at, name))))
        except NoPlace as fault:
            found.error("no-place-for-stamp", f"{pdf} can't be stamped: {fault}.", None, "Publish the plan again, and stamp what was published.")
            break
        except NoLetter as fault:
            found.error("letter-without-font", f"The stamp's font has no “{fault}”, which stands in the name {name}.", None,
                        "Write the name in Latin, Greek or Cyrillic letters.")
        except TooLong:
            found.error("name-too-long", f"The name {name[:40]}… is too long for the line at the foot of a page.", None, "Shorten it.")
    return Outcome(tuple(made) if found.report().ok else None, found.report())


def _last(pdf: Path) -> int:
    numbers = (re.fullmatch(rf"{re.escape(pdf.stem)}\.copy-(\d+)\.pdf", path.name) for path in (pdf.parent / "copies").glob("*.pdf"))
    return max((int(found[1]) for found in numbers if found), default=0)
