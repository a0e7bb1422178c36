"""Tables of holes: where a part has many, each gets a letter, and a table gives its place from the datum corner.

In: the round holes that a view shows. Out: rows in exact lengths, then marks and a table on a pen. Holes of one size at an equal pitch
are one row. It must not know parts or pages. Coordinates from one corner: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Length
from compiler.base.showing import Style
from compiler.draw.lettering import SMALL, Runs, joined, letter, runs_width, size_runs
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect, meets
from compiler.draw.workings import Blank, Shaping
from compiler.values.figure import Point

MARKS = "abcdefghkmnpqrstuvwxyz"
ROW_HIGH = 5.6
COLUMN_GAP = 5.0
CLEAR = 1.0
IN_A_ROW = 3
HEADS = ("hole", "from end", "from edge", "diameter", "depth", "number")


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRow:
    """One row: its mark, the first hole's place from the datum corner, diameter, depth (None = through), how many at which pitch."""

    mark: str
    at: tuple[Fraction, Fraction]
    diameter: Fraction
    depth: Fraction | None
    count: int = 1
    pitch: Fraction = Fraction(0)
    way: Literal["", "along", "across"] = ""


def rows_of(within: Blank, holes: Iterable[Shaping], right: int, up: int) -> tuple[HoleRow, ...]:
    """The rows for holes seen in a view whose directions are `right` and `up`, in reading order from the datum."""
    groups: dict[tuple[Fraction, Fraction | None], list[tuple[Fraction, Fraction]]] = {}
    for hole in holes:
        through = hole.low[hole.axis] <= within.low[hole.axis] and hole.high[hole.axis] >= within.high[hole.axis]
        at = ((hole.low[right] + hole.high[right]) / 2 - within.low[right], (hole.low[up] + hole.high[up]) / 2 - within.low[up])
        groups.setdefault((hole.diameter, None if through else hole.size(hole.axis)), []).append(at)
    found: list[tuple[tuple[Fraction, Fraction], Fraction, Fraction | None, int, Fraction, Literal["", "along", "across"]]] = []
    for (diameter, depth), places in groups.items():
        left = sorted(set(places))
        for axis, way in ((0, "along"), (1, "across")):
            for line in sorted({place[1 - axis] for place in left}):
                for run in pitched(sorted(place[axis] for place in left if place[1 - axis] == line)):
                    if len(run) >= IN_A_ROW:
                        ends = [(value, line) if axis == 0 else (line, value) for value in run]
                        found.append((ends[0], diameter, depth, len(run), run[1] - run[0], way))  # type: ignore[arg-type]
                        left = [place for place in left if place not in ends]
        found += [(place, diameter, depth, 1, Fraction(0), "") for place in left]
    found.sort(key=lambda row: (row[0], row[1]))
    return tuple(HoleRow(mark=_mark(i), at=at, diameter=d, depth=deep, count=n, pitch=pitch, way=way)
                 for i, (at, d, deep, n, pitch, way) in enumerate(found))


def pitched(places: Sequence[Fraction]) -> list[list[Fraction]]:
    """Places in runs of equal pitch, three at least; the others alone."""
    runs: list[list[Fraction]] = []
    i = 0
    while i < len(places):
        j = i + 1
        while j + 1 < len(places) and places[j + 1] - places[j] == places[i + 1] - places[i]:
            j += 1
        if j - i + 1 >= IN_A_ROW:
            runs.append(list(places[i:j + 1]))
            i = j + 1
        else:
            runs.append([places[i]])
            i += 1
    return runs


def _mark(index: int) -> str:
    """a, b, c …; aa, ab … behind the last."""
    return MARKS[index] if index < len(MARKS) else MARKS[index // len(MARKS) - 1] + MARKS[index % len(MARKS)]


def mark_holes(pen: Pen, rows: Sequence[HoleRow], paper: Callable[[Fraction, Fraction], Point], scale: float, taken: list[Rect],
               lines: Sequence[Rect]) -> None:
    """The letter of each row beside its first hole, and the datum's sign in the corner; `taken` gains their room."""
    corner = paper(Fraction(0), Fraction(0))
    pen.circle(corner, 1.1, "dimension")
    for row in rows:
        x, y = paper(*row.at)
        radius = float(row.diameter) / 2 * scale
        width = runs_width((row.mark,), SMALL)
        spots = []
        for dx, dy in ((1, 1), (1, -1), (-1, 1), (-1, -1), (1, 0), (-1, 0), (0, 1), (0, -1)):
            left = x + dx * (radius + CLEAR) - (width if dx < 0 else width / 2 if dx == 0 else 0.0)
            low = y + dy * (radius + CLEAR) - (SMALL if dy < 0 else SMALL / 2 if dy == 0 else 0.0)
            spots.append((left, low, left + width, low + SMALL))
        best = min(spots, key=lambda spot: 3 * sum(meets(spot, other) for other in taken) + sum(meets(spot, other) for other in lines))
        pen.letter(letter(best[:2], row.mark))
        taken.append(best)


def draw_table(pen: Pen, rows: Sequence[HoleRow], at: Point, style: Style) -> None:
    """The table, its upper left corner at a point: one row for each letter."""
    words = [tuple((head,) for head in HEADS), *(_cells(row, style) for row in rows)]
    widths = [max(runs_width(line[column], SMALL) for line in words) for column in range(len(HEADS))]
    starts = [at[0] + sum(widths[:column]) + column * COLUMN_GAP for column in range(len(HEADS))]
    right = starts[-1] + widths[-1]
    for number, line in enumerate(words):
        y = at[1] - number * ROW_HIGH
        for x, runs in zip(starts, line, strict=True):
            pen.letter(letter((x, y - ROW_HIGH / 2 - SMALL / 2), runs, weight="medium" if number else "semibold"))
        pen.line("frame", (at[0], y - ROW_HIGH), (right, y - ROW_HIGH))


def _cells(row: HoleRow, style: Style) -> tuple[Runs, ...]:
    def size(value: Fraction) -> Runs:
        return size_runs(Length(value), style)

    number: Runs = (f"{row.count}",)
    if row.way:
        number = joined(f"{row.count} {row.way}, every ", size(row.pitch))
    depth: Runs = ("through",) if row.depth is None else size(row.depth)
    return (row.mark,), size(row.at[0]), size(row.at[1]), joined("Ø ", size(row.diameter)), depth, number
