"""Lettering: how much room words, sizes and stacked fractions take, and where their letters stand.

In: runs of text and fractions with a cap height in millimetres. Out: lines of lettering, their boxes, and the pieces
a writer sets one by one. It must not know the theme's font: room is reckoned with the shipped widths.

A stacked fraction has its bar at half the cap height, numerals of 0.8 of the size above and below. ISO 3098-1 lists
1.8 mm as the next smaller height to 2.5, so that numerals of 2.0 mm stay above it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import cos, radians, sin
from typing import Literal

from compiler.base.measures import Length
from compiler.base.showing import Style, show
from compiler.draw.letter_widths import CAP_HEIGHT, DESCENT, OTHER, WIDTHS
from compiler.values.figure import Lettering, LetterRole, Point, StackedFraction

SMALL = 2.5
LARGE = 3.5
NUMERAL = 0.8
BAR_GAP = 0.16
SIDE = 0.12
LEAD = 0.14

Runs = tuple[str | StackedFraction, ...]
Weight = Literal["regular", "medium", "semibold"]


@dataclass(frozen=True, slots=True)
class Piece:
    """A text without fractions: where its baseline starts (before turning, from the lettering's `at`), its cap height and room."""

    text: str
    x: float
    y: float
    size: float
    width: float


def text_width(text: str, size: float, weight: Weight = "medium") -> float:
    """The room of a plain text in mm at a cap height."""
    table = WIDTHS[weight]
    return sum(table.get(letter, OTHER) for letter in text) * size / CAP_HEIGHT


def fraction_width(fraction: StackedFraction, size: float, weight: Weight = "medium") -> float:
    """The length of a fraction's bar."""
    widest = max(text_width(part, size * NUMERAL, weight) for part in (fraction.numerator, fraction.denominator))
    return widest + 2 * SIDE * size


@lru_cache(maxsize=8192)
def runs_width(runs: Runs, size: float, weight: Weight = "medium") -> float:
    """The room of mixed runs; a fraction keeps a small gap to the text beside it."""
    width = 0.0
    for index, run in enumerate(runs):
        if isinstance(run, str):
            width += text_width(run, size, weight)
        else:
            width += fraction_width(run, size, weight)
            if index:
                width += LEAD * size
            if index + 1 < len(runs):
                width += LEAD * size
    return width


@lru_cache(maxsize=8192)
def reach(runs: Runs, size: float) -> tuple[float, float]:
    """How far the lettering reaches below and above its baseline."""
    low, high = 0.0, size
    for run in runs:
        if isinstance(run, StackedFraction):
            middle = size / 2
            low = min(low, middle - (BAR_GAP + NUMERAL) * size)
            high = max(high, middle + (BAR_GAP + NUMERAL) * size)
        elif any(letter in "gjpqy,;()[]Q/" for letter in run):
            low = min(low, -size * DESCENT / CAP_HEIGHT)
    return low, high


def letter(at: Point, runs: Runs | str, *, size: float = SMALL, anchor: Literal["start", "middle", "end"] = "start",
           angle: float = 0.0, weight: Weight = "medium", role: LetterRole = "label") -> Lettering:
    """A line of lettering with its room filled in."""
    spelled: Runs = (runs,) if isinstance(runs, str) else runs
    return Lettering(at, spelled, size, runs_width(spelled, size, weight), anchor, angle, weight, role)


def start_of(lettering: Lettering) -> float:
    """Where the first letter stands, along the baseline from `at`."""
    width = runs_width(lettering.runs, lettering.size, lettering.weight)
    return {"start": 0.0, "middle": -width / 2, "end": -width}[lettering.anchor]


def spell(lettering: Lettering) -> tuple[tuple[Piece, ...], tuple[tuple[float, float, float], ...]]:
    """The pieces to set and the bars to rule (x from, x to, y), both unturned and relative to `at`."""
    size, weight = lettering.size, lettering.weight
    x = start_of(lettering)
    pieces: list[Piece] = []
    bars: list[tuple[float, float, float]] = []
    for index, run in enumerate(lettering.runs):
        if isinstance(run, str):
            width = text_width(run, size, weight)
            pieces.append(Piece(run, x, 0.0, size, width))
            x += width
            continue
        if index:
            x += LEAD * size
        bar, small = fraction_width(run, size, weight), size * NUMERAL
        middle = size / 2
        for text, y in ((run.numerator, middle + BAR_GAP * size), (run.denominator, middle - BAR_GAP * size - small)):
            width = text_width(text, small, weight)
            pieces.append(Piece(text, x + (bar - width) / 2, y, small, width))
        bars.append((x, x + bar, middle))
        x += bar + (LEAD * size if index + 1 < len(lettering.runs) else 0.0)
    return tuple(pieces), tuple(bars)


def box_of(lettering: Lettering) -> tuple[Point, Point, Point, Point]:
    """The four corners of the room the lettering takes."""
    start = start_of(lettering)
    width = runs_width(lettering.runs, lettering.size, lettering.weight)
    low, high = reach(lettering.runs, lettering.size)
    c, s = cos(radians(lettering.angle)), sin(radians(lettering.angle))
    x, y = lettering.at

    def turned(a: float, b: float) -> Point:
        return x + a * c - b * s, y + a * s + b * c

    return turned(start, low), turned(start + width, low), turned(start + width, high), turned(start, high)


def size_runs(length: Length, style: Style) -> Runs:
    """A length as drawings letter it: whole number and stacked fraction, or a decimal; in both units, the other one in brackets."""
    if style.both:
        return joined(size_runs(length, replace(style, both=False)), " [", size_runs(length, style.other), "]")
    shown = show(length, style)
    if shown.units == "mm" or not shown.numerator:
        return (shown.text,)
    sign = "−" if shown.negative else ""
    fraction = StackedFraction(str(shown.numerator), str(shown.denominator))
    if shown.whole:
        return f"{sign}{shown.whole}", fraction
    return (sign, fraction) if sign else (fraction,)


def joined(*parts: str | Runs) -> Runs:
    """Texts and runs one after the other, with neighbouring texts made one."""
    runs: list[str | StackedFraction] = []
    for part in parts:
        for run in (part,) if isinstance(part, str) else part:
            if isinstance(run, str) and runs and isinstance(runs[-1], str):
                runs[-1] += run
            elif run != "":
                runs.append(run)
    return tuple(runs)
