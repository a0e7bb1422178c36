"""Two PDFs → which pages are the same, moved, changed, added or removed, and in what.

In: the bytes of both. Out: `PageChange`s in the order of the new one, removed pages where they stood. Text, numbers and
drawings are told apart: a page whose words differ only in figures changed its numbers; one whose words are equal and whose
picture is not changed a drawing (or its place on the page).
"""

from __future__ import annotations

import difflib
import hashlib
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

Kind = Literal["same", "moved", "changed", "added", "removed"]
What = Literal["text", "numbers", "drawings"]

DOTS_PER_INCH = 60
"""Fine enough to see a line that moved by a point, coarse enough to be quick."""

_NUMBER = re.compile(r"\d+(?:[./]\d+)?")
_FOOT = re.compile(r"page\s+\S+\s+of\s+\d+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PageRead:
    """One page as a reader sees it: its words, the digest of its picture and that of its drawn lines."""

    words: tuple[str, ...]
    picture: str
    lines: str


@dataclass(frozen=True, slots=True)
class PageChange:
    """What became of a page; numbers count from 1, None where there is no such page. `how_much` is 0 (same) to 1.

    `words` are (before, after) of what differs in its text, a side empty where nothing stood.
    """

    kind: Kind
    before: int | None
    after: int | None
    what: tuple[What, ...] = ()
    how_much: float = 0.0
    words: tuple[tuple[str, str], ...] = ()


class UnreadablePdf(Exception):
    """The file is no PDF that can be opened; raised by `read_pages`, caught by the command."""


def read_pages(content: bytes) -> tuple[PageRead, ...]:
    """Every page. Raises UnreadablePdf."""
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(content)
        pages = tuple(_read(document[number]) for number in range(len(document)))
        document.close()
    except pypdfium2.PdfiumError as fault:
        raise UnreadablePdf(str(fault)) from fault
    return pages


def _read(page: Any) -> PageRead:
    text_page = page.get_textpage()
    text = _FOOT.sub("", text_page.get_text_bounded())
    text_page.close()
    bitmap = page.render(scale=DOTS_PER_INCH / 72, grayscale=True)
    picture = hashlib.sha256(bytes(bitmap.buffer)).hexdigest()
    lines = hashlib.sha256(repr(tuple(_paths(page))).encode()).hexdigest()
    return PageRead(tuple(text.split()), picture, lines)


def _paths(page: Any) -> Iterator[tuple[int, ...]]:
    """Size and number of segments of every drawn path, wherever it stands on the page."""
    import pypdfium2.raw as raw

    for found in page.get_objects(filter=(raw.FPDF_PAGEOBJ_PATH,), max_depth=3):
        left, bottom, right, top = found.get_bounds()
        yield round(right - left), round(top - bottom), raw.FPDFPath_CountSegments(found.raw)


def compare_pages(before: tuple[PageRead, ...], after: tuple[PageRead, ...]) -> tuple[PageChange, ...]:
    """Each page of both, once."""
    pairs = _pairs(before, after)
    straight = _rising(pairs)
    changes: list[PageChange] = []
    gone = [number for number in range(len(before)) if number not in pairs.values()]
    for new, page in enumerate(after):
        old = pairs.get(new)
        while gone and (old is not None and gone[0] < old):
            changes.append(PageChange("removed", gone.pop(0) + 1, None, how_much=1.0))
        if old is None:
            changes.append(PageChange("added", None, new + 1, how_much=1.0))
            continue
        what, how_much, words = _difference(before[old], page)
        kind: Kind = "changed" if what else "same" if new in straight else "moved"
        changes.append(PageChange(kind, old + 1, new + 1, what, how_much, words))
    changes.extend(PageChange("removed", number + 1, None, how_much=1.0) for number in gone)
    return tuple(changes)


def _pairs(before: tuple[PageRead, ...], after: tuple[PageRead, ...]) -> dict[int, int]:
    """New page → the old page it comes from: equal pages first, then the most alike of what is left, in order of likeness."""
    pairs: dict[int, int] = {}
    free = set(range(len(before)))
    for new, page in enumerate(after):
        same = [old for old in sorted(free) if before[old] == page]
        if same:
            pairs[new] = min(same, key=lambda old: (abs(old - new), old))
            free.discard(pairs[new])
    likeness = [
        (_likeness(before[old], after[new]), -abs(old - new), -new, old)
        for new in range(len(after))
        if new not in pairs
        for old in free
    ]
    for alike, _, negative, old in sorted(likeness, reverse=True):
        new = -negative
        if alike >= 0.5 and new not in pairs and old in free:
            pairs[new] = old
            free.discard(old)
    return pairs


def _likeness(one: PageRead, other: PageRead) -> float:
    if not one.words and not other.words:
        return 1.0 if one.lines == other.lines else 0.5
    matcher = difflib.SequenceMatcher(None, one.words, other.words, autojunk=False)
    return 0.0 if matcher.real_quick_ratio() < 0.5 or matcher.quick_ratio() < 0.5 else matcher.ratio()


def _rising(pairs: dict[int, int]) -> set[int]:
    """The new pages of a longest run that kept its order: the others have moved."""
    order = sorted(pairs)
    longest: list[list[int]] = []
    for at, new in enumerate(order):
        best: list[int] = []
        for before in range(at):
            if pairs[order[before]] < pairs[new] and len(longest[before]) > len(best):
                best = longest[before]
        longest.append([*best, new])
    longest.sort(key=len)
    return set(longest[-1]) if longest else set()


def _difference(before: PageRead, after: PageRead) -> tuple[tuple[What, ...], float, tuple[tuple[str, str], ...]]:
    what: list[What] = []
    words: tuple[tuple[str, str], ...] = ()
    how_much = 0.0
    if before.words != after.words:
        matcher = difflib.SequenceMatcher(None, before.words, after.words, autojunk=False)
        how_much = 1 - matcher.ratio()
        words = tuple((" ".join(before.words[a:b]), " ".join(after.words[c:d])) for tag, a, b, c, d in matcher.get_opcodes() if tag != "equal")
        # Letters and sizes of a drawing that was drawn anew are read in another order; that is a change of the drawing.
        drawn = before.lines != after.lines
        if _differ([_NUMBER.sub("0", word) for word in before.words], [_NUMBER.sub("0", word) for word in after.words], drawn):
            what.append("text")
        if _differ(_NUMBER.findall(" ".join(before.words)), _NUMBER.findall(" ".join(after.words)), drawn):
            what.append("numbers")
    if before.lines != after.lines or (not what and before.picture != after.picture):
        what.append("drawings")
        how_much = max(how_much, 0.05)
    return tuple(what), round(how_much, 4), words


def _differ(before: list[str], after: list[str], drawn: bool) -> bool:
    return Counter(before) != Counter(after) if drawn else before != after


def pictures(content: bytes, numbers: tuple[int, ...], dots_per_inch: int = DOTS_PER_INCH) -> dict[int, bytes]:
    """PNG pictures of some pages (from 1), for the report."""
    import io

    import pypdfium2

    document = pypdfium2.PdfDocument(content)
    made: dict[int, bytes] = {}
    for number in numbers:
        written = io.BytesIO()
        document[number - 1].render(scale=dots_per_inch / 72).to_pil().convert("P", colors=64).save(written, "PNG")
        made[number] = written.getvalue()
    document.close()
    return made
