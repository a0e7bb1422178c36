"""A theme's style sheets as the one text that the layout engine reads, and the way back from there to the files.

In: sheets as (file, text), with `:root { --name: value; }` rules. Out: the text without them, each `var(--line)` replaced by its `13pt`; and what is
wrong with it, at its line. Tokens are constants of a theme: the last definition wins everywhere, so that a paper, a child theme or
an option can change one. Filling them in here spares the layout engine a look-up for every box.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable
from dataclasses import replace

from compiler.base.report import Diagnostic, Findings, Report, Severity, Spot
from compiler.language.names import meant
from compiler.values.theme import FontFace

Sheets = Iterable[tuple[str, str]]

_COMMENT = re.compile(r"/\*.*?\*/", re.S)
_ROOT = re.compile(r":root\s*\{([^{}]*)\}")
_TOKEN = re.compile(r"--([a-z0-9-]+)\s*:\s*([^;]*);?")
_USE = re.compile(r"var\(\s*--([a-z0-9-]+)\s*\)")
_IGNORED = re.compile(r"Ignored `(?P<name>[\w-]+): (?P<value>.*?) ?` at (?P<line>\d+):(?P<column>\d+), (?P<why>.*)\.", re.S)
_SELECTOR = re.compile(r"Invalid or unsupported selector, (?P<quote>['\"])(?P<selector>.*)(?P=quote)", re.S)
_PLACED = re.compile(r",?\s*(?:the whole \S+ rule was ignored )?\bat (?P<line>\d+):(?P<column>\d+)[.:]?")
_FAMILIES = re.compile(r"(?<![\w-])font(?P<long>-family)?\s*:\s*(?P<value>[^;{}]*)")
_SIZE = re.compile(r"(?:^|\s)(?:[\d.]+(?:pt|px|mm|cm|in|em|rem|ex|ch|%)|(?:xx?-)?(?:small|large)|medium|smaller|larger)(?:\s*/\s*\S+)?\s+")
_OWN_FACE = re.compile(r"@font-face\s*\{[^}]*?font-family\s*:\s*['\"]?([^'\";}]+)")
GENERIC = ("serif", "sans-serif", "monospace", "cursive", "fantasy", "system-ui", "emoji", "math")
_NO_FAMILY = ("inherit", "initial", "unset", "revert")
DEEPEST = 10


class StyleText:
    """The filled-in text; each of its characters knows where it was written."""

    def __init__(self, sheets: Sheets) -> None:
        self._sheets = tuple(sheets)
        self.raw = "\n".join(text for _, text in self._sheets)
        self._starts = [0]
        for _, text in self._sheets:
            self._starts.append(self._starts[-1] + len(text) + 1)
        text, where = self.raw, list(range(len(self.raw)))
        bare, where = _put(_COMMENT, text, where, lambda found: "")
        self.tokens = {name: value.strip() for rule in _ROOT.findall(bare) for name, value in _TOKEN.findall(rule)}
        text, where = _put(_ROOT, bare, where, lambda found: "")
        for _ in range(DEEPEST):
            new, where = _put(_USE, text, where, lambda use: self.tokens.get(use[1], use[0]))
            if new == text:
                break
            text = new
        self.text, self._where = text, where

    def spot(self, at: int, width: int = 1) -> Spot:
        """Where characters of the filled-in text were written."""
        if at >= len(self._where):
            return self.written(len(self.raw))
        start, last = self._where[at], self._where[min(at + max(1, width), len(self._where)) - 1]
        return self.written(start, max(1, last - start + 1))

    def written(self, at: int, width: int = 1) -> Spot:
        """Where characters of the sheets, one after another, stand in their file."""
        number = max(0, min(bisect_right(self._starts, at) - 1, len(self._sheets) - 1))
        file, text = self._sheets[number]
        return Spot.in_text(file, text, min(at - self._starts[number], len(text)), width)

    def offset(self, line: int, column: int) -> int:
        """The place in the text of a line and a column, both from 1."""
        at = 0
        for _ in range(line - 1):
            at = self.text.find("\n", at) + 1
        return at + column - 1

    def unknown(self) -> dict[str, list[int]]:
        """Tokens that are used and nowhere defined, with the places in the filled-in text."""
        found: dict[str, list[int]] = {}
        for use in _USE.finditer(self.text):
            found.setdefault(use[1], []).append(use.start())
        return found


def _put(pattern: re.Pattern[str], text: str, where: list[int], give: Callable[[re.Match[str]], str]) -> tuple[str, list[int]]:
    """`pattern.sub`, which takes along where each character comes from."""
    pieces: list[str] = []
    places: list[int] = []
    last = 0
    for found in pattern.finditer(text):
        start, stop = found.span()
        new = give(found)
        pieces += (text[last:start], new)
        places += where[last:start]
        places += where[start:start + len(new)] if new == found[0] else [where[start]] * len(new)
        last = stop
    return "".join((*pieces, text[last:])), places + where[last:]


def filled_in(style: str) -> str:
    """One sheet with its tokens' values."""
    return StyleText((("", style),)).text


def judge_names(style: StyleText, faces: tuple[FontFace, ...], found: Findings) -> None:
    """Tokens and fonts that the sheets name and that are not there. A font of the machine would differ from one to the next."""
    for token, places in style.unknown().items():
        spots = [style.spot(at, len(f"var(--{token})")) for at in places]
        says, cure = f"There is no token `--{token}`.", meant(f"--{token}", (f"--{name}" for name in style.tokens), "Define it in :root.")
        if token in style.tokens:
            says, cure = f"Token `--{token}` is made of itself.", "Give it a value of its own."
        found.error("theme-unknown-token", says, spots[0], cure, also=tuple(spots[1:]))
    known = {face.family for face in faces} | {name.strip() for name in _OWN_FACE.findall(style.text)}
    for family, first in _named(style.text).items():
        at = next((place for name in (f'"{family}"', f"'{family}'", family) if (place := style.raw.find(name)) >= 0), 0)
        spot = style.written(at, len(family) + (2 if style.raw[at:at + 1] in "'\"" else 0))
        if family in GENERIC and first:
            found.warning("borrowed-font", f"`{family}` is another font on every machine, so the pages would differ.", spot,
                          f"Name one of the theme's: {', '.join(sorted(known))}.")
        elif family not in known and family not in GENERIC:
            found.error("theme-unknown-font", f"The theme has no font `{family}`.", spot, meant(family, sorted(known)))


def _named(text: str) -> dict[str, bool]:
    """Families that are asked for, once each; whether one is the first of its list somewhere."""
    families: dict[str, bool] = {}
    for said in _FAMILIES.finditer(text):
        value = said["value"]
        if not said["long"]:
            size = list(_SIZE.finditer(value))
            if not size:
                continue
            value = value[size[-1].end():]
        for place, name in enumerate(re.sub(r"\s*!important\s*$", "", value).split(",")):
            bare = name.strip().strip("'\"")
            if bare and bare not in _NO_FAMILY and "var(" not in bare:
                families[bare] = families.get(bare, False) or place == 0
    return families


def judge_style(style: StyleText, found: Findings) -> None:
    """What the layout engine would ignore of the sheets."""
    from compiler.draw.typesetter import CSS, Complaints, listening

    complaints = Complaints()
    with listening(complaints):
        try:
            CSS(string=style.text, base_url="theme:")
        except Exception:  # whatever it is, it is the style's
            found.add(failure(style))
    said = (complaint(sentence, style) for _, sentence in complaints.said)
    found.extend(gathered(Report(tuple(each for each in said if each is not None))))


def failure(style: StyleText) -> Diagnostic:
    """Of a style on which the engine fails altogether (WeasyPrint 70 does on a sum without its numbers): the line at which it does."""
    from compiler.draw.typesetter import CSS, Complaints, listening

    lines = style.text.split("\n")
    good, bad = 0, len(lines)
    while bad - good > 1:
        middle = (good + bad) // 2
        try:
            with listening(Complaints()):
                CSS(string="\n".join(lines[:middle]), base_url="theme:")
            good = middle
        except Exception:
            bad = middle
    line = lines[bad - 1]
    at = sum(len(each) + 1 for each in lines[: bad - 1]) + len(line) - len(line.lstrip())
    return Diagnostic("style-unreadable", "The layout engine fails on this line of the style.", style.spot(at, len(line.strip())),
                      "Look at its brackets, and at sums in calc(): a token in them may be empty.")


def complaint(sentence: str, style: StyleText, lead: int = 0) -> Diagnostic | None:
    """What the engine says of the sheets, at its place; None when it speaks of something else. `lead` lines went before the sheets."""
    if (said := _IGNORED.fullmatch(sentence)) is not None:
        at = _declared(said, style, lead)
        if at is None:
            return None
        return _ignored(said["name"], said["value"], said["why"], style.spot(at, _width(style.text[at:], said["why"], said["name"])))
    if (said := _SELECTOR.fullmatch(sentence)) is not None:
        # The engine writes it out anew: with other blanks, and with the rule that it stands in.
        selector = " ".join(re.sub(r"^:is\([^)]*\)|/\*\*/", "", said["selector"].strip()).split())
        written = re.search(r"\s*".join(map(re.escape, re.findall(r"[\w-]+|[^\w\s]", selector))), style.text)
        at, wide = (written.start(), len(written[0])) if written else (-1, 0)
        return Diagnostic("style-ignored", f"The layout engine knows no selector `{selector}`; its rule is ignored.",
                          style.spot(at, wide) if at >= 0 else None, "Look at its colons and brackets.", Severity.WARNING)
    if (said := _PLACED.search(sentence)) is not None and int(said["line"]) > lead:
        at = style.offset(int(said["line"]) - lead, int(said["column"]))
        bare = f"{sentence[:said.start()]}{sentence[said.end():]}".strip(" .")
        wide = len(re.split(r"[{\n]", style.text[at:], maxsplit=1)[0].rstrip())
        return Diagnostic("style-ignored", f"The layout engine ignores a rule: {bare}.", style.spot(at, wide), severity=Severity.WARNING)
    return None


def _declared(said: re.Match[str], style: StyleText, lead: int) -> int | None:
    """Where the declaration begins that the engine speaks of; it names the place of the property, or, of a late thought, that of the value."""
    line = int(said["line"]) - lead
    at = style.offset(line, int(said["column"])) if line > 0 else -1
    if at < 0 or style.text.startswith(said["name"], at):
        return at if at >= 0 else None
    begun = re.search(rf"(?<![\w-]){re.escape(said['name'])}\s*:[^;{{}}]*$", style.text[:at])
    return begun.start() if begun else None


def ignored_in(templates: Sheets, sentence: str) -> Diagnostic | None:
    """What the engine ignores of the style that a template writes into an element, at the template's line."""
    said = _IGNORED.fullmatch(sentence)
    for file, text in templates if said is not None else ():
        found = re.search(rf"style\s*=\s*\"[^\"]*?(?<![\w-])({re.escape(said['name'])})\s*:", text) if said is not None else None
        if found is not None and said is not None:
            return _ignored(said["name"], said["value"], said["why"], Spot.in_text(file, text, found.start(1), len(said["name"])))
    return None


def _width(rest: str, why: str, name: str) -> int:
    return len(name) if why == "unknown property" else len(re.split(r"[;}\n]", rest, maxsplit=1)[0].rstrip())


def _ignored(name: str, value: str, why: str, spot: Spot) -> Diagnostic:
    if why == "unknown property":
        from compiler.draw.typesetter import PROPERTIES

        return Diagnostic("style-ignored", f"The layout engine knows no property `{name}`; it is ignored.", spot,
                          meant(name, PROPERTIES, "Look it up among the properties of CSS."), Severity.WARNING)
    because = "" if why == "invalid value" else f" ({why})"
    return Diagnostic("style-ignored", f"The layout engine takes no `{value}` for `{name}`{because}; it is ignored.", spot,
                      "Look at its unit and its spelling.", Severity.WARNING)


def gathered(report: Report) -> Report:
    """The same sentence of several places told once, with the others to see also."""
    first: dict[tuple[str, str], Diagnostic] = {}
    for each in report:
        known = first.get((each.code, each.says))
        first[each.code, each.says] = each if known is None else replace(known, also=(*known.also, *((each.at,) if each.at else ())))
    return Report(tuple(first.values()))
