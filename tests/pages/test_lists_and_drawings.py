"""Lists against drawings: what the cut list says is what captions, balloons and dimensions say, read back from the PDF by pypdfium2.

A cut list that disagrees with its drawing is the fault that buyers of plans complain of most (letters to magazines about cut lists).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import pytest

from tests.pages.demos import FIRST, pages

PLANS = (*FIRST, ("low-bookcase", "mm", "a4"))
SIZE = {"inch": r"(?:\d+ )?\d+/\d+|\d+", "mm": r"\d+(?:\.\d)?"}
Plan = tuple[str, str, str]


@dataclass(frozen=True)
class Row:
    """A row of the cut list, as printed."""

    letter: str
    name: str
    quantity: int
    thick: str
    wide: str
    long: str


@pytest.fixture(params=PLANS, ids=lambda plan: " ".join(plan), scope="module")
def plan(request: pytest.FixtureRequest) -> Plan:
    """One edition of one plan."""
    found: Plan = request.param
    return found


def between(plan: Plan, first: str, after: str) -> list[str]:
    """The pages from the one on which a section starts to the one on which the next does."""
    texts = pages(*plan)
    start = next(n for n, text in enumerate(texts) if n > 1 and re.search(rf"(?m)^\d+ +{first}$", text))
    end = next(n for n, text in enumerate(texts) if n >= start and re.search(rf"(?m)^\d+ +{after}$", text))
    return texts[start:end + 1]


def parts_table(plan: Plan) -> str:
    """The table of parts, without what is repeated on its later pages."""
    text = "\n".join(between(plan, "Cut list", "Exploded views"))
    text = text[text.index("Parts "):]
    text = re.split(r"(?m)^Table \d+\. Rough sizes", text)[0]
    return re.sub(r"(?m)^(Table|Cut Part|Pinwheel|[^\n]* continued$)[^\n]*\n?", "", text)


@cache
def rows(plan: Plan) -> tuple[Row, ...]:
    """Every row with a letter of the table of parts."""
    text = parts_table(plan)
    size = SIZE[plan[1]]
    pattern = rf"(?m)^([A-Z]{{1,2}})\s([A-Z][a-z]+(?:\s[a-z]+)*)\s(\d+)\s({size})\s({size})\s({size})(?=\s|$)"
    return tuple(Row(letter, " ".join(name.split()), int(count), *sizes) for letter, name, count, *sizes in re.findall(pattern, text))


def stands_in(size: str, text: str) -> bool:
    """Whether a size stands on a page; fractions of drawings are stacked: `33 1⏎4` is 33 1/4."""
    written = re.escape(size).replace("\\ ", r"\s").replace("/", r"[\n/]")
    return re.search(rf"(?m)(?<![\d/.]){written}(?![\d/.])", text) is not None


def test_kinds_and_pieces_are_those_of_the_tables_title(plan: Plan) -> None:
    """“26 kinds, 40 pieces”: rows and the sum of their quantities; loose pieces have no letter and count too."""
    title = re.search(r"Table \d+\. Parts (\d+) kinds, (\d+) pieces", "\n".join(pages(*plan)))
    assert title is not None
    found = rows(plan)
    assert len({row.letter for row in found}) == len(found)
    loose = [int(count) for count in re.findall(rf"(?m)^[A-Z][a-z]+\s(?:wedge|key|spline)s?\s(\d+)\s(?:{SIZE[plan[1]]})\s", parts_table(plan))]
    assert (len(found) + len(loose), sum(row.quantity for row in found) + sum(loose)) == (int(title[1]), int(title[2]))


def test_part_drawings_are_captioned_as_the_list_has_it(plan: Plan) -> None:
    """Letter, name, number and thickness."""
    text = " ".join("\n".join(pages(*plan)).split())
    by_letter = {row.letter: row for row in rows(plan)}
    pattern = rf"Figure \d+\. ([A-Z]{{1,2}}) ([a-z][a-z ]+?)(?:, (\d+) pieces[^,]*?(?:; drawn: the [a-z]+ one)?\)?)?, ({SIZE[plan[1]]})(?:″| mm)? thick"
    found = re.findall(pattern, text)
    assert len(found) >= 3
    for letter, name, count, thick in found:
        row = by_letter[letter]
        assert (row.name.lower(), row.quantity, row.thick) == (name, int(count or 1), thick), letter


def test_a_part_drawing_has_the_lists_length_and_width(plan: Plan) -> None:
    """Both stand as sizes on the page of the drawing."""
    by_letter = {row.letter: row for row in rows(plan)}
    checked = 0
    for text in pages(*plan):
        for letter in re.findall(r"(?m)^Figure \d+\. ([A-Z]{1,2}) [a-z]", text):
            row = by_letter[letter]
            for size in (row.long, row.wide):
                assert stands_in(size, text), (letter, row.name, size)
            checked += 1
    assert checked >= 3


def test_every_letter_is_in_an_exploded_view(plan: Plan) -> None:
    """Balloons are the letters of the list, all of them; “×2” never tells of more pieces than there are."""
    whole = {row.letter: row.quantity for row in rows(plan)}
    text = "\n".join(between(plan, "Exploded views", "Sizes")[:-1])
    words = text.split()
    shown: dict[str, int] = {}
    for word, behind in zip(words, [*words[1:], ""], strict=True):
        if word in whole:
            count = int(behind[1:]) if re.fullmatch(r"×\d+", behind) else 1
            shown[word] = max(shown.get(word, 0), count)
    assert set(shown) == set(whole)
    assert all(whole[letter] % count == 0 for letter, count in shown.items()), (shown, whole)


def test_letters_in_captions_of_steps_are_the_lists(plan: Plan) -> None:
    """“Added: A side, B bottom.”: each letter with its name."""
    by_letter = {row.letter: row.name.lower() for row in rows(plan)}
    text = " ".join("\n".join(pages(*plan)).split())
    told = [pair for caption in re.findall(r"Figure \d+\. (?:Added|Worked on|[A-Z][a-z, ]+, on the bench): ([^.]+)\.", text)
            for pair in re.findall(r"\b([A-Z]{1,2}) ([a-z][a-z ]*)", caption)]
    assert len(told) >= 3
    assert all(by_letter[letter] == name.strip() for letter, name in told), told
