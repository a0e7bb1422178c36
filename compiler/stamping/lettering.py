"""One line of text with the letters it needs, as PDF objects.

In: a line, the booklet's own text font. Out: the codes of its letters, and a font that holds these letters and no others, in the form that PDF calls
a composite font (ISO 32000-1, 9.7): a code is the number of a shape, so that any script which the font has can be written.
"""

from __future__ import annotations

import unicodedata
import zlib
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from itertools import batched
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

FONT = Path(__file__).resolve().parents[2] / "themes/standard/fonts/SourceSans3-Regular.ttf"
"""The same in every theme: a copy's line is the shop's business and no part of the plan's dress."""
_NEEDED = {"GlyphOrder", "head", "hhea", "hmtx", "maxp", "glyf", "loca", "cmap", "OS/2"}


class NoLetter(Exception):
    """The font has no such letter; the text is the letter."""


@dataclass(frozen=True, slots=True)
class Lettering:
    """`codes` of the letters, each two bytes; `width` of the line, for letters 1 high; `objects` are the bodies of PDF objects, the first of them
    the font. They are numbered on from the number that they were made with.
    """

    codes: bytes
    width: float
    objects: tuple[bytes, ...]


def lettering(line: str, first: int) -> Lettering:
    """The line's letters; its objects are numbered from `first`. Raises NoLetter."""
    line = unicodedata.normalize("NFC", line)
    font = TTFont(BytesIO(_content()), lazy=True, recalcTimestamp=False, recalcBBoxes=False)
    for table in set(font.keys()) - _NEEDED:  # before the subsetter reads them
        del font[table]
    known = font.getBestCmap()
    for letter in line:
        if ord(letter) not in known:
            raise NoLetter(letter)
    cutter = subset.Subsetter(subset.Options(layout_features=[], hinting=False, notdef_outline=True, name_IDs=[], glyph_names=False))
    cutter.populate(unicodes=sorted(set(map(ord, line))))
    cutter.subset(font)
    known, metrics, per = font.getBestCmap(), font["hmtx"], 1000 / font["head"].unitsPerEm
    shapes = {letter: (font.getGlyphID(known[ord(letter)]), round(metrics[known[ord(letter)]][0] * per)) for letter in sorted(set(line))}
    objects = _objects(font, shapes, per, first)
    return Lettering(b"".join(shapes[letter][0].to_bytes(2, "big") for letter in line), sum(shapes[letter][1] for letter in line) / 1000, objects)


def _objects(font: TTFont, shapes: dict[str, tuple[int, int]], per: float, first: int) -> tuple[bytes, ...]:
    """Font, its one descendant, its description, its file, and the text that each code stands for, so that the line is found and copied."""
    head, line, high = font["head"], font["hhea"], font["OS/2"]
    box = b" ".join(b"%d" % round(value * per) for value in (head.xMin, head.yMin, head.xMax, head.yMax))
    facts = tuple(round(value * per) for value in (line.ascent, line.descent, high.sCapHeight))
    for table in ("cmap", "OS/2"):  # codes are the numbers of shapes already
        del font[table]
    out = BytesIO()
    font.save(out, reorderTables=False)
    content = out.getvalue()
    widths = b"".join(b"%d[%d]" % shape for shape in sorted(set(shapes.values())))
    means = [b"<%04x> <%b>" % (shape, letter.encode("utf-16-be").hex().encode()) for letter, (shape, _) in shapes.items()]
    told = b"".join(b"%d beginbfchar\n%b\nendbfchar\n" % (len(some), b"\n".join(some)) for some in batched(means, 100))
    text = (b"/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CMapName /KERF-Stamp def\n/CMapType 2 def\n"
            b"1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n%bendcmap\nend\nend" % told)
    return (
        b"<</Type /Font/Subtype /Type0/BaseFont /KERFST+Stamp/Encoding /Identity-H/DescendantFonts [%d 0 R]/ToUnicode %d 0 R>>" % (first + 1, first + 4),
        b"<</Type /Font/Subtype /CIDFontType2/BaseFont /KERFST+Stamp/CIDSystemInfo <</Registry (Adobe)/Ordering (Identity)/Supplement 0>>"
        b"/CIDToGIDMap /Identity/DW 500/W [%b]/FontDescriptor %d 0 R>>" % (widths, first + 2),
        b"<</Type /FontDescriptor/FontName /KERFST+Stamp/Flags 4/FontBBox [%b]/ItalicAngle 0/Ascent %d/Descent %d/CapHeight %d/StemV 80/FontFile2 %d 0 R>>"
        % (box, *facts, first + 3),
        _stream(content, b"/Length1 %d" % len(content)),
        _stream(text, b""),
    )


def _stream(content: bytes, more: bytes) -> bytes:
    packed = zlib.compress(content, 9)
    return b"<</Filter /FlateDecode%b/Length %d>>\nstream\n%b\nendstream" % (more, len(packed), packed)


@cache
def _content() -> bytes:
    return FONT.read_bytes()
