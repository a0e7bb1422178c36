"""A place kept free in every PDF for the line that makes a buyer's copy.

In: a PDF about to be written, the faces of its theme. Out: the same with an empty form at the foot of every page, the same object on all of
them, and a font to fill it with. A copy is then the file with one new version of that object behind it; see `compiler.stamping`.
"""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO

import pydyf
from fontTools import subset
from fontTools.ttLib import TTFont

from compiler.values.pages import Pages

MARK = "KERF_Stamp"
"""The key by which the form is found again."""
LETTERS = bytes(range(32, 127)) + bytes(range(161, 256)) + b"\x80\x82\x84\x85\x8a\x8c\x8e\x91\x92\x93\x94\x95\x96\x97\x9a\x9c\x9e\x9f"
"""The letters of western Europe, in the encoding that PDF calls WinAnsi (ISO 32000-1, annex D)."""
UNUSED = frozenset(("GSUB", "GPOS", "GDEF", "DSIG"))
"""Tables of a font that a line of plain letters has no use for."""
WIDE, HIGH = 540, 14
"""The form's size in points."""
LEFT, FOOT = 54, 10
"""Where it stands on a page, in points from the corner at the lower left."""


def reserve(pdf: pydyf.PDF, pages: Pages) -> None:
    """Put the empty form on every page; does nothing in a theme without fonts."""
    face = next((each for each in pages.faces if each.weight == 400 and not each.italic), None)
    content = dict(pages.files).get(f"theme:{face.file}") if face else None
    if content is None:
        return
    font = _font(pdf, *_western(content))
    form = pydyf.Stream([], {MARK: "true", "Type": "/XObject", "Subtype": "/Form", "BBox": pydyf.Array([0, 0, WIDE, HIGH]),
                             "Resources": pydyf.Dictionary({"Font": pydyf.Dictionary({"F": font.reference})})})
    before, after = pydyf.Stream([b"q"]), pydyf.Stream([f"Q /Artifact BMC q 1 0 0 1 {LEFT} {FOOT} cm /{MARK} Do Q EMC".encode()])
    for thing in (form, before, after):
        pdf.add_object(thing)
    given = set()
    for number in pdf.pages["Kids"][::3]:
        page = pdf.objects[number]
        page["Contents"] = pydyf.Array([before.reference, page["Contents"], after.reference])
        resources = _target(pdf, page, "Resources")
        if id(resources) not in given:
            given.add(id(resources))
            _target(pdf, resources, "XObject")[MARK] = form.reference


def _target(pdf: pydyf.PDF, of: pydyf.Dictionary, key: str) -> pydyf.Dictionary:
    """The dictionary under a key, also when it is an object of its own; made when it isn't there."""
    found = of.setdefault(key, pydyf.Dictionary())
    if isinstance(found, bytes):
        found = pdf.objects[int(found.split()[0])]
    return found


def _font(pdf: pydyf.PDF, content: bytes, widths: tuple[int, ...], facts: tuple[int, ...]) -> pydyf.Dictionary:
    file = pydyf.Stream([content], {"Length1": len(content)}, compress=True)
    pdf.add_object(file)
    ascent, descent, cap, *box = facts
    describes = pydyf.Dictionary({
        "Type": "/FontDescriptor", "FontName": "/KERFST+Stamp", "Flags": 32, "FontBBox": pydyf.Array(box), "ItalicAngle": 0,
        "Ascent": ascent, "Descent": descent, "CapHeight": cap, "StemV": 80, "FontFile2": file.reference,
    })
    pdf.add_object(describes)
    font = pydyf.Dictionary({
        "Type": "/Font", "Subtype": "/TrueType", "BaseFont": "/KERFST+Stamp", "Encoding": "/WinAnsiEncoding", "FirstChar": 32,
        "LastChar": 255, "Widths": pydyf.Array(widths), "FontDescriptor": describes.reference,
    })
    pdf.add_object(font)
    return font


@lru_cache(maxsize=4)
def _western(content: bytes) -> tuple[bytes, tuple[int, ...], tuple[int, ...]]:
    """The font with those letters alone; the width of each code from 32, and ascent, descent, capitals and box, in 1/1000 of the size."""
    font = TTFont(BytesIO(content), recalcTimestamp=False)
    for table in UNUSED & set(font.keys()):  # before the subsetter reads them: they take it ten times as long as the letters
        del font[table]
    options = subset.Options(layout_features=[], hinting=False, name_IDs=[], notdef_outline=True)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[ord(letter) for letter in LETTERS.decode("cp1252")])
    cutter.subset(font)
    per = 1000 / font["head"].unitsPerEm
    known, metrics = font.getBestCmap(), font["hmtx"]
    widths = tuple(round(metrics[known[ord(letter)]][0] * per) if (letter := _letter(code)) and ord(letter) in known else 0 for code in range(32, 256))
    head, high = font["head"], font["OS/2"]
    facts = tuple(round(value * per) for value in (font["hhea"].ascent, font["hhea"].descent, getattr(high, "sCapHeight", 0) or 700 / per,
                                                   head.xMin, head.yMin, head.xMax, head.yMax))
    out = BytesIO()
    font.save(out, reorderTables=False)
    return out.getvalue(), widths, facts


def _letter(code: int) -> str:
    try:
        return bytes([code]).decode("cp1252")
    except UnicodeDecodeError:
        return ""
