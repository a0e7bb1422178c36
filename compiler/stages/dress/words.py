"""Inline content as markup: sizes, fractions, letters, references.

In: inlines of a document, its units and smallest step. Out: escaped markup with the classes that every theme styles:
`nb` (not broken, its spaces thin), `fr` (a true fraction), `part`, `ref`, `pg`, `code`, `blank`. Rounding happens here, once.
It must not know block kinds or templates.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from html import escape

from compiler.base.measures import Angle, Area, Length, Volume
from compiler.base.showing import Shown, Style, nearest, show
from compiler.values import document as doc
from compiler.values.pages import page_mark

FIXED = "\u00a0"
PRIME, DOUBLE_PRIME, TIMES = "\u2032", "\u2033", "×"

DENOMINATORS = frozenset({2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64})
_TYPED = re.compile(
    r"(?<![\w/.,#])(?:(?P<whole>\d+)[ \u00a0\u2009-])?(?P<over>\d{1,2})/(?P<under>\d{1,2})(?![\w/])(?P<mark>[\"″]?)"
    r"|(?<=\d)(?P<inches>\")"
    r"|(?<=[\w″′\"])(?P<by> x )(?=\d)"
    r"|(?<=\d)(?P<unit> )(?=(?:mm|cm|m|in|ft|lb|kg|oz|h|min|sq ft)\b)"
)


class Words:
    """Turns inlines into markup for one document. `anchors` are those that a reference may link to."""

    def __init__(self, style: Style, anchors: frozenset[str]) -> None:
        self._style = style
        self._anchors = anchors

    def inline(self, content: object) -> str:
        """The markup of a text, an inline or a row of them; "" for None."""
        if content is None:
            return ""
        if isinstance(content, tuple):
            return "".join(self.inline(item) for item in content)
        match content:
            case str():
                return typed(content)
            case bool():
                raise TypeError("a truth value is no text")
            case int():
                return str(content)
            case Length():
                return self.length(content)
            case Fraction():
                return fraction(content)
            case doc.Strong(content=inner):
                return f"<b>{self.inline(inner)}</b>"
            case doc.Emphasis(content=inner):
                return f"<i>{self.inline(inner)}</i>"
            case doc.Code(text=text):
                return f'<span class="code">{escape(text)}</span>'
            case doc.Link(content=inner, address=address):
                return self._link(inner, address)
            case doc.PartMark():
                return self.part(content)
            case doc.Ref():
                return self._reference(content)
            case doc.Break():
                return "<br/>"
            case doc.Dimensions(sizes=sizes):
                last = len(sizes) - 1
                return f"{FIXED}{TIMES} ".join(self.length(size, unit=self._inches or place == last)
                                         for place, size in enumerate(sizes))
            case doc.Money(amount=amount, currency=currency, cents=cents):
                return escape(money(amount, currency, cents))
            case Area():
                return f'<span class="nb">{self._area(content)}</span>'
            case Volume():
                return f'<span class="nb">{self._volume(content)}</span>'
            case Angle(degrees=degrees):
                return f"{_decimal(degrees, 1)}°"
            case _:
                raise TypeError(f"{type(content).__name__} is no inline content")

    @property
    def _inches(self) -> bool:
        return self._style.units == "inch"

    def length(self, length: Length, *, unit: bool = True) -> str:
        """A length in running text: 35 1/16″, 891 mm."""
        shown = show(length, self._style)
        mark = "" if not unit else DOUBLE_PRIME if self._inches else " mm"
        return _kept(_sign(shown) + _body(shown) + mark)

    def columns(self, length: Length) -> tuple[str, str]:
        """A length for a column of sizes: what stands right of the line, and the fraction left of it, as markup."""
        shown = show(length, self._style)
        if shown.decimal:
            return f"{_sign(shown)}{shown.whole}", f'<span class="dec">.{shown.decimal}</span>'
        if shown.numerator:
            return f"{_sign(shown)}{shown.whole or ''}", _over(shown.numerator, shown.denominator)
        return f"{_sign(shown)}{shown.whole}", ""

    def part(self, mark: doc.PartMark) -> str:
        """A ringed letter, and the part's name where it is asked for."""
        name = f"{FIXED}{typed(mark.name)}" if mark.named and mark.name else ""
        return ring(mark.letter) + name if mark.letter else typed(mark.name or mark.part)

    def _link(self, inner: doc.Inlines, address: str) -> str:
        words = self.inline(inner)
        if not re.match(r"(https?|mailto):", address):
            return words
        shown = escape(re.sub(r"^(https?://|mailto:)", "", address).rstrip("/"))
        # A link of several boxes gets several annotations, all but one without a description: only plain words link.
        plain = words if "<" not in words else ""
        link = f'<a href="{escape(address)}">{plain or shown}</a>'
        if not plain:
            return f"{words} ({link})"
        return link if plain == shown else f"{link} ({shown})"

    def _reference(self, reference: doc.Ref) -> str:
        text = escape(reference.text or reference.target).replace(" ", FIXED)
        if reference.anchor not in self._anchors:
            return f'<span class="ref">{text}</span>'
        link = f'<a class="ref" href="#{escape(reference.anchor)}">{text}</a>'
        if not reference.page:
            return link
        return f'{link}, page{FIXED}<span class="pg">{page_mark(reference.anchor)}</span>'

    def _area(self, area: Area) -> str:
        if self._inches:
            return f"{_decimal(area.square_feet, 1)} sq ft"
        return f"{_decimal(area.square_metres, 2)} m²"

    def _volume(self, volume: Volume) -> str:
        if self._inches:
            feet = _decimal(volume.board_feet, 1)
            return f"{feet} board {'foot' if feet == '1' else 'feet'}"
        return f"{_decimal(volume.cubic_metres, 4)} m³"


def ring(letter: str) -> str:
    """The balloon of the drawings, in text."""
    wide = " wide" if len(letter) > 1 else ""
    return f'<span class="part{wide}">{escape(letter)}</span>'


def fraction(value: Fraction) -> str:
    """A bare number with a true fraction: 1 1/2. Others than those a rule or a cup has are shown as decimals."""
    size, sign = abs(value), "−" if value < 0 else ""
    whole, rest = size.numerator // size.denominator, size - size.numerator // size.denominator
    if not rest:
        return f"{sign}{whole}"
    if rest.denominator not in DENOMINATORS:
        return sign + _decimal(size, 2)
    return _kept(sign + _mixed(whole, rest.numerator, rest.denominator))


def money(amount: Fraction, currency: str, cents: bool = True) -> str:
    """A price with two decimals: $12.50, 12.50 €; a rough one without: $240."""
    digits = f"{int(nearest(abs(amount), Fraction(1, 100 if cents else 1)) * 100):03d}"
    number = f"{'−' if amount < 0 else ''}{int(digits[:-2]):,}{f'.{digits[-2:]}' if cents else ''}"
    return f"{currency}{number}" if currency in ("$", "£") else f"{number}{FIXED}{currency}"


def typed(text: str) -> str:
    """A text as somebody typed it: fractions become true ones, inch marks primes, `4 x 8` a multiplication."""

    def mend(found: re.Match[str]) -> str:
        if found["inches"]:
            return DOUBLE_PRIME
        if found["by"]:
            return f"{FIXED}{TIMES}{FIXED}"
        if found["unit"]:
            return FIXED
        over, under = int(found["over"]), int(found["under"])
        if under not in DENOMINATORS or over >= under:
            return escape(found[0])
        whole = int(found["whole"]) if found["whole"] else 0
        return _kept(_mixed(whole, over, under) + (DOUBLE_PRIME if found["mark"] else ""))

    out, end = [], 0
    for found in _TYPED.finditer(text):
        out.append(escape(text[end:found.start()], quote=False))
        out.append(mend(found))
        end = found.end()
    return "".join((*out, escape(text[end:], quote=False)))


def plain(content: object) -> str:
    """Inlines as plain words, for bookmarks and descriptions."""
    if isinstance(content, tuple):
        return "".join(plain(item) for item in content)
    match content:
        case str():
            return content
        case doc.Strong(content=inner) | doc.Emphasis(content=inner) | doc.Link(content=inner):
            return plain(inner)
        case doc.Code(text=text) | doc.Ref(text=text):
            return text
        case doc.PartMark():
            return " ".join(filter(None, (content.letter, content.name if content.named else "")))
        case Length():
            return show(content, Style()).text
        case None | doc.Break():
            return " "
        case _:
            return str(content) if isinstance(content, (int, Fraction)) else ""


def letters_in(content: Iterable[doc.PartMark]) -> str:
    """Ringed letters in a row."""
    return " ".join(ring(mark.letter) if mark.letter else typed(mark.name or mark.part) for mark in content)


def _kept(measure: str) -> str:
    """A measure kept on one line; one without a blank stays there by itself."""
    return f'<span class="nb">{measure}</span>' if " " in measure.replace("<span ", "") else measure


def _sign(shown: Shown) -> str:
    return "−" if shown.negative else ""


def _body(shown: Shown) -> str:
    if shown.decimal:
        return f"{shown.whole}.{shown.decimal}"
    if not shown.numerator:
        return str(shown.whole)
    return _mixed(shown.whole, shown.numerator, shown.denominator)


def _mixed(whole: int, numerator: int, denominator: int) -> str:
    return (f"{whole} " if whole else "") + _over(numerator, denominator)


def _over(numerator: int, denominator: int) -> str:
    return f'<span class="fr">{numerator}/{denominator}</span>'


def _decimal(value: Fraction, places: int) -> str:
    shown = nearest(value, Fraction(1, 10**places))
    digits = f"{int(abs(shown) * 10**places):0{places + 1}d}"
    text = f"{int(digits[:-places]):,}.{digits[-places:]}".rstrip("0").rstrip(".")
    return f"−{text}" if shown < 0 else text
