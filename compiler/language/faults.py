"""What is wrong with a spoken text, before and after it could be read.

In: a text that the grammar refused, and where. Out: a `Refused` with the sentence and cure that a maker needs.
The commonest slips of the hand are looked for first; only then the general sentence is used.
"""

from __future__ import annotations

import re

from compiler.language.names import did_you_mean


class Refused(Exception):
    """A text, or a value in it, that can't stand. Counted in the text's own characters."""

    def __init__(self, code: str, says: str, hint: str = "", start: int = 0, end: int | None = None) -> None:
        super().__init__(says)
        self.code, self.says, self.hint, self.start, self.end = code, says, hint, start, end


class Unsolved(Exception):
    """A value that can't be known because of a fault that is reported already."""


_FORMS = {
    "size": "a size: 36, 3/4, 1 1/2, width - 2 * stile width",
    "extent": "an extent: 0 to height - 3, from kick, 0 for 3, to depth, between left side and right side, as bottom",
    "copies": "copies: mirror across, 3 across every 12, shelves up evenly between bottom and deck, with shelf",
    "tilt": "a tilt: bottom by 10 deg to front about top front edge",
    "place": "a place: 2 from front and 4 from bottom, centre",
    "edge": "a face (right) or an edge (top front, all round top)",
    "sizes": "two sizes: 80 x 20",
    "thing": "the name of a part",
}

_SLIPS: tuple[tuple[str, str, str, str, str], ...] = (
    # pattern (its first group is the place), code, sentence, hint
    (r"(?<![\w/.])(?P<at>\d+-\d+/\d+)(?![\w/])", "mixed-number", "Is {at} meant as {whole} and {fraction}, or as {whole} less {fraction}?",
     "Write {whole} {fraction}, or {whole} - {fraction} with spaces.", ""),
    (r"(?P<all>\d+(?P<at>,)\d+)", "decimal-comma", "A comma is not a decimal point.", "Write {point}.", ""),
    (r"(?<![\w.])(?P<at>\d+(?:_\d+)+)", "plain-number", "Write the number plainly: {at} is {plain}.", "Write {plain}.", ""),
    (r"(?<![\w.])(?P<at>\d+(?:\.\d+)?[eE][+-]?\d+)(?!\w)", "plain-number", "Write the number plainly: {at} is {plain}.", "Write {plain}.", ""),
    (r"(?P<all>\d+(?: \d+/\d+)?\s*(?P<at>ft|feet|foot)(?![\w-]))", "feet", "Feet are written with the foot mark.", "Write {feet}'.", ""),
    (r"(?<![\w.])\d+(?:[./]\d+)?\s*(?P<at>inches|inch|ins)(?![\w-])", "inches", "Inches are written in, or with the inch mark.",
     'Write in or ".', ""),
    (r"(?P<at>(?<![\w-])(?:min|max|round|floor|ceil|abs|sqrt|sin|cos|tan)\s*\()", "no-calls",
     "A size holds no calls: {at} is code.", "Write smaller of a and b, larger of a and b, or a rounded to 1/16.", ""),
    (r"(?P<all>(?P<w>[a-z][\w -]*?) ?/ ?\d+/(?P<at>\d+))", "two-readings", "This divides twice, and it can be read in two ways.",
     "Write it with brackets, or with spaces round the one sign that divides.", ""),
    (r"(?<![\w/.])(?P<at>\d+ \d+(?: /|/ | / )\d+)", "two-readings",
     "A mixed number has no spaces round its slash.", "Write {closed}.", ""),
    (r"(?<![\w/.'\"])(?:\d+(?:\.\d+)?|\d+/\d+|\d+ \d+/\d+) (?P<at>(?!(?:mm|cm|in|deg|x|from|for|to|at|on|and|across|deep|up|centred|"
     r"centered|clear|rounded|with|every|evenly)(?![\w-]))[a-z][\w -]*)", "times-missing",
     "Two things stand side by side without a sign.", "Times is written *: {product}.", ""),
    (r"(?P<at>[-+*/×÷])\s*$", "unfinished", "This sum is not finished.", "Write what follows {at}.", ""),
    (r"(?P<at>[“”‘’])", "curly-quotes", "The curly quotes are kept as part of the text.", 'Use plain " or none.', ""),
    (r"(?P<at>\*\*|\^)", "no-powers", "A size has no powers.", "Write it out.", ""),
    (r"(?P<at>[A-Z])", "lower-case", "Names and words are written in lower case.", "Write {lower}.", ""),
    (r"(?P<at>%)", "per-cent", "A size has no per cent.", "Write 25 % as 1/4.", ""),
    (r"(?P<at>\{%)", "no-statements", "Notes hold sizes and references, no template statements.", "Use `:only: inch` under a heading.", ""),
)


def explain(text: str, form: str, at: int) -> Refused:
    """The fault in a text that can't be read as a form, `at` the character where reading stopped."""
    if not text.strip():
        return Refused("empty-text", f"There is nothing here; this should be {_FORMS[form]}.", start=0)
    for pattern, code, says, hint, _ in _SLIPS:
        found = re.search(pattern, text)
        if found:
            start, end = found.span("at")
            fill = _words(text, found)
            return Refused(code, says.format(**fill), hint.format(**fill), start, end)
    if (minus := re.search(r"(?<=[\w)])-(?=\d|\()|(?<=[\w)]) -(?=[\w(])|(?<=[\w)])- ", text)) is not None:
        return Refused("minus-spaces", "A minus has a space on both sides.",
                       f"Write {text[:minus.start()].rstrip()} - {text[minus.end():].lstrip()}.", minus.start(), minus.end())
    if at >= len(text.rstrip()):
        return Refused("unfinished", f"`{text.strip()}` is not finished.", f"This should be {_FORMS[form]}.", len(text.rstrip()))
    word = re.match(r"[\w-]+|.", text[at:])
    seen = word.group() if word else text[at]
    near = did_you_mean(seen, _WORDS) if len(seen) > 3 else ""
    return Refused("cannot-read", f"`{seen}` can't stand here.", f"Did you mean {near}?" if near and near != seen
                   else f"This should be {_FORMS[form]}.", at, at + len(seen))


_WORDS = ("between", "centred", "from", "evenly", "every", "mirror", "clear", "rounded", "about", "edge", "larger", "smaller",
          "with", "centre", "across", "deep", "left", "right", "front", "back", "bottom", "all round")


def _words(text: str, found: re.Match[str]) -> dict[str, str]:
    """What the sentences of a slip may quote."""
    at = found["at"]
    groups = found.groupdict()
    whole, _, fraction = at.partition("-")
    all_of_it = groups.get("all") or at
    number = re.match(r"[\d./ ]*\d", found.group())
    plain = at.replace("_", "")
    if re.fullmatch(r"\d+(\.\d+)?[eE][+-]?\d+", plain):
        value = float(plain)
        plain = f"{value:.10f}".rstrip("0").rstrip(".")
    count = number.group() if number else ""
    return {
        "at": at, "whole": whole, "fraction": fraction, "point": all_of_it.replace(",", "."), "plain": plain,
        "feet": count.strip(), "closed": re.sub(r" ?/ ?", "/", at).strip(), "lower": text.lower(),
        "product": f"{count.strip()} * {at.strip()}",
    }
