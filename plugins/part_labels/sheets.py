"""Labels → a PDF of label sheets (ISO 32000-1): text in the standard Helvetica fonts, which readers bring along.

In: labels, a sheet's sizes, how many labels of the first sheet are used already. Out: the file's bytes, the same for the same labels. Words too long
for a label are set smaller, down to 5 points, and then cut. Print at 100 %.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.api import Length

WIDTH = 0.56
"""Of a letter in Helvetica on average, in its size: enough for words in small letters and figures."""
SMALLEST = 5.0


@dataclass(frozen=True)
class Sheet:
    """A sheet of labels: paper, labels across and down, a label's size, where the first one is, and from one to the next."""

    paper: tuple[Length, Length]
    across: int
    down: int
    label: tuple[Length, Length]
    left: Length
    top: Length
    pitch: tuple[Length, Length]


@dataclass(frozen=True)
class Label:
    """A large letter on the left, the name in strong type, smaller lines below."""

    letter: str
    name: str
    lines: tuple[str, ...]


def pdf(labels: tuple[Label, ...], sheet: Sheet, used: int, title: str) -> bytes:
    """The file. `used` labels of the first sheet stay empty."""
    each = sheet.across * sheet.down
    pages: list[list[bytes]] = [[] for _ in range(-(-(used + len(labels)) // each) or 1)]
    for number, label in enumerate(labels, start=used):
        page, place = divmod(number, each)
        row, column = divmod(place, sheet.across)
        x = _points(sheet.left + sheet.pitch[0] * column)
        y = _points(sheet.paper[1] - sheet.top - sheet.pitch[1] * row - sheet.label[1])
        pages[page].append(_set(label, x, y, _points(sheet.label[0]), _points(sheet.label[1])))
    return _file(pages, (_points(sheet.paper[0]), _points(sheet.paper[1])), title)


def _points(length: Length) -> float:
    return float(length.inches * 72)


def _set(label: Label, x: float, y: float, wide: float, high: float) -> bytes:
    """One label, with its lower left corner at x, y."""
    edge, room = 7.0, 38.0
    size = min(24.0, (room - 6.0) / (len(label.letter) * 0.72))
    out = [_text("F2", size, x + edge, y + high / 2 - size * 0.35, label.letter)]
    left, most = x + edge + room, wide - 2 * edge - room
    top = y + high - (high - 46.0) / 2 - 9.0
    for number, line in enumerate((label.name, *label.lines)):
        font, wanted = ("F2", 9.5) if number == 0 else ("F1", 7.5)
        fitted = max(min(wanted, most / (WIDTH * max(len(line), 1))), SMALLEST)
        letters = int(most / (WIDTH * fitted))
        out.append(_text(font, fitted, left, top - 11.0 * number, line if len(line) <= letters else line[: letters - 1] + "…"))
    return b"".join(out)


def _text(font: str, size: float, x: float, y: float, words: str) -> bytes:
    raw = words.encode("cp1252", "replace").replace(b"\\", b"\\\\").replace(b"(", b"\\(").replace(b")", b"\\)")
    return f"BT /{font} {size:.2f} Tf {x:.2f} {y:.2f} Td (".encode() + raw + b") Tj ET\n"


def _file(pages: list[list[bytes]], paper: tuple[float, float], title: str) -> bytes:
    """Catalogue, pages, fonts, contents, a table of places."""
    objects: list[bytes] = [b"<< /Type /Catalog /Pages 2 0 R >>", b""]
    objects += [f"<< /Type /Font /Subtype /Type1 /BaseFont /{name} /Encoding /WinAnsiEncoding >>".encode() for name in ("Helvetica", "Helvetica-Bold")]
    kids = []
    for page in pages:
        content = b"".join(page)
        objects.append(f"<< /Length {len(content)} >>\nstream\n".encode() + content + b"endstream")
        objects.append(f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {paper[0]:.2f} {paper[1]:.2f}] /Resources << /Font << /F1 3 0 R /F2 4 0 R >> >>"
                       f" /Contents {len(objects)} 0 R >>".encode())
        kids.append(f"{len(objects)} 0 R")
    objects[1] = f"<< /Type /Pages /Kids [{' '.join(kids)}] /Count {len(kids)} >>".encode()
    objects.append(b"<< /Title (" + title.encode("cp1252", "replace").replace(b"\\", b"\\\\").replace(b"(", b"\\(").replace(b")", b"\\)") + b") >>")
    out, places = bytearray(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"), []
    for number, body in enumerate(objects, start=1):
        places.append(len(out))
        out += f"{number} 0 obj\n".encode() + body + b"\nendobj\n"
    start = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode() + b"".join(f"{place:010d} 00000 n \n".encode() for place in places)
    out += f"trailer\n<< /Size {len(objects) + 1} /Root 1 0 R /Info {len(objects)} 0 R >>\nstartxref\n{start}\n%%EOF\n".encode()
    return bytes(out)
