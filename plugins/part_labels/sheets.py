"""Labels → pages of label sheets, drawn with the pen: the theme gives the letters, whose fonts are in the file.

In: labels, a sheet's sizes, how many labels of the first sheet are used already. Out: leaves, the same for the same labels. Words too long for a
label are set smaller, down to 5 points, and then cut. Print at 100 %.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.api import Leaves, Length, Pen

POINT = 25.4 / 72
CAPITAL = 0.7
"""Height of a capital in the size of its type, of usual faces."""
WIDTH = 0.45
"""Room for a letter in small letters and figures, in its size; what is wider in a theme's face is narrowed by the pen."""
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


def leaves(labels: tuple[Label, ...], sheet: Sheet, used: int, title: str) -> Leaves:
    """The pages. `used` labels of the first sheet stay empty."""
    each = sheet.across * sheet.down
    wide, high = float(sheet.paper[0].mm), float(sheet.paper[1].mm)
    pens = [Pen(wide, high) for _ in range(-(-(used + len(labels)) // each) or 1)]
    for number, label in enumerate(labels, start=used):
        page, place = divmod(number, each)
        row, column = divmod(place, sheet.across)
        x = float((sheet.left + sheet.pitch[0] * column).mm)
        y = float((sheet.paper[1] - sheet.top - sheet.pitch[1] * row - sheet.label[1]).mm)
        _set(pens[page], label, x, y, float(sheet.label[0].mm), float(sheet.label[1].mm))
    pages = tuple(pen.picture(f"{title}, sheet {number} of {len(pens)}") for number, pen in enumerate(pens, start=1))
    return Leaves(title=title, paper=sheet.paper, pages=pages)


def _set(pen: Pen, label: Label, x: float, y: float, wide: float, high: float) -> None:
    """One label, with its lower left corner at x, y."""
    edge, room = 7.0 * POINT, 38.0 * POINT
    large = min(24.0, (room - 6.0 * POINT) / (len(label.letter) * 0.72 * POINT))
    capital = large * POINT * CAPITAL
    pen.letters(x + edge, y + (high - capital) / 2, label.letter, size=capital, weight="semibold", width=room - 2 * POINT)
    left, most = x + edge + room, wide - 2 * edge - room
    top = y + high - (high - 52.0 * POINT) / 2 - 9.0 * POINT
    for number, line in enumerate((label.name, *label.lines)):
        wanted = 12.0 if number == 0 else 9.0
        fitted = max(min(wanted, most / (WIDTH * POINT * max(len(line), 1))), SMALLEST)
        letters = int(most / (WIDTH * POINT * fitted))
        words = line if len(line) <= letters else line[: letters - 1] + "…"
        pen.letters(left, top - 13.0 * POINT * number, words, size=fitted * POINT * CAPITAL, width=most,
                    weight="semibold" if number == 0 else "regular")
