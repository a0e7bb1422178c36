"""Notes with leaders: words above or below a view that point at a feature.

In: words with the places they may point at, and what is taken on the sheet. Out: placed notes, none of whose leaders crosses a
number or another leader. It must not know what the words mean. Millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, permutations
from math import hypot, inf

import numpy as np
from numpy.typing import NDArray

from compiler.draw.dimensions import Room
from compiler.draw.lettering import SMALL, Runs, letter, reach, runs_width
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect, grown, normal, passes
from compiler.solid.meshes import Floats
from compiler.values.figure import Point

ROW = 6.6
FIRST = 6.5
SHELF = 2.0
MOST_ORDERS = 4
PLACES = tuple((aside, higher) for higher in (0, 1, 2) for aside in (2.0, 5.0, 10.0, 18.0, 30.0, 45.0))
"""How far aside of its target a note may stand, and how many rows higher than its own."""


@dataclass(frozen=True, slots=True)
class Note:
    """Words and the places one of which they point at; `dot` ends the leader inside a face, else an arrow on an edge."""

    runs: Runs
    targets: tuple[Point, ...]
    dot: bool = True


@dataclass(frozen=True, slots=True)
class PlacedNote:
    """A note with its text's left end on the baseline, and its leader from the text to the target."""

    note: Note
    at: Point
    leader: tuple[Point, ...]


def lay_out(view: Rect, notes: Sequence[Note], room: Room, below: bool = False) -> tuple[PlacedNote, ...]:
    """Rows above the view (and above what stands there), in the order that gives the shortest clean leaders.

    `below`: under the view and all that stands under it instead.
    """
    if not notes:
        return ()
    if below:
        turned = Room([_turned(r) for r in room.texts], [_turned(s) for s in room.lines], [_turned(s) for s in room.thin],
                      [_turned(r) for r in room.solid])
        mirrored = [Note(note.runs, tuple((x, -y) for x, y in note.targets), note.dot) for note in notes]
        upright: list[PlacedNote] = []
        by_runs = {(note.runs, note.targets): note for note in notes}
        for one in lay_out(_turned(view), mirrored, turned):
            original = by_runs[(one.note.runs, tuple((x, -y) for x, y in one.note.targets))]
            upright.append(PlacedNote(original, (one.at[0], -one.at[1] - SMALL), tuple((x, -y) for x, y in one.leader)))
        room.texts.extend(text_rect(note) for note in upright)
        return tuple(upright)
    top = max([view[3], *(_top(rect) for rect in room.texts if rect[2] > view[0] - 12 and rect[0] < view[2] + 12),
               *(_top(segment) for segment in (*room.lines, *room.thin))])
    orders = permutations(range(len(notes))) if len(notes) <= MOST_ORDERS else [tuple(_by_place(notes))]
    best: tuple[float, tuple[PlacedNote, ...]] | None = None
    sheet = _Sheet(view, notes, room, top)
    for order in orders:
        found = _rows(sheet, order, inf if best is None else best[0] - 1e-9)
        if found is not None:
            best = found
    assert best is not None
    for note in best[1]:
        room.texts.append(text_rect(note))
    return best[1]


def draw(pen: Pen, notes: Sequence[PlacedNote]) -> None:
    """Leaders, their ends, words."""
    for placed in notes:
        pen.line("leader", *placed.leader)
        if placed.note.dot:
            pen.dot(placed.leader[-1])
        else:
            pen.arrow(placed.leader[-1], placed.leader[-2])
    for placed in notes:
        pen.letter(letter(placed.at, placed.note.runs, role="note"))


def text_rect(placed: PlacedNote) -> Rect:
    """The room of the words."""
    low, high = reach(placed.note.runs, SMALL)
    x, y = placed.at
    return x, y + low, x + runs_width(placed.note.runs, SMALL), y + high


def _turned(rect: Rect) -> Rect:
    """Upside down."""
    return rect[0], -rect[3], rect[2], -rect[1]


def _top(rect: Rect) -> float:
    return normal(rect)[3]


def _by_place(notes: Sequence[Note]) -> list[int]:
    return sorted(range(len(notes)), key=lambda i: (-min(x for x, _ in notes[i].targets), i))


class _Sheet:
    """What notes keep off, as arrays, and what each place of a note costs by itself, reckoned once for all orders of the notes."""

    def __init__(self, view: Rect, notes: Sequence[Note], room: Room, top: float) -> None:
        self._view, self._notes, self._top = view, notes, top
        self._texts = _rects([grown(rect, 0.5) for rect in room.texts])
        self._lines = _rects([normal(line) for line in (*room.lines, *room.thin)])
        self._places: dict[tuple[int, int], list[tuple[float, PlacedNote]]] = {}
        self._own: dict[tuple[int, int, int], float] = {}

    def places(self, note: int, row: int) -> list[tuple[float, PlacedNote]]:
        """The places of a note in a row, the shortest leader first."""
        if (note, row) not in self._places:
            found = _candidates(self._view, self._notes[note], self._top + FIRST + row * ROW)
            self._places[note, row] = sorted(found, key=lambda pair: pair[0])
        return self._places[note, row]

    def own(self, note: int, row: int, index: int) -> float:
        """What a place costs for numbers and lines that stand on the sheet."""
        key = (note, row, index)
        if key not in self._own:
            self._own[key] = self._hits(self.places(note, row)[index][1])
        return self._own[key]

    def _hits(self, candidate: PlacedNote) -> float:
        wide = grown(text_rect(candidate), 0.6)
        pieces = list(pairwise(candidate.leader))
        hits = 400 * (int(_meeting(wide, self._texts).sum()) + int(_passing(pieces, self._texts).sum()))
        return float(hits + 400 * int(_meeting(wide, self._lines).sum()) + 60 * int(_passing(pieces, self._lines).sum()))


def _rects(rects: Sequence[Rect]) -> Floats:
    return np.array(rects, dtype=np.float64).reshape(-1, 4)


def _rows(sheet: _Sheet, order: Sequence[int], most: float) -> tuple[float, tuple[PlacedNote, ...]] | None:
    """The notes in rows from below in an order, each in its best place; None as soon as they cost `most`."""
    placed: list[PlacedNote] = []
    # What the notes cost at least: the shortest leader of each in its row.
    total = sum(sheet.places(note, row)[0][0] for row, note in enumerate(order))
    for row, note in enumerate(order):
        if total >= most:
            return None
        best: tuple[float, PlacedNote] | None = None
        for index, (start, candidate) in enumerate(sheet.places(note, row)):
            if best is not None and start >= best[0]:
                break
            cost = start + sheet.own(note, row, index)
            if best is not None and cost >= best[0]:
                continue
            cost += _clashes(candidate, placed)
            if best is None or cost < best[0]:
                best = (cost, candidate)
        assert best is not None
        total += best[0] - sheet.places(note, row)[0][0]
        placed.append(best[1])
    return (total, tuple(placed)) if total < most else None


def _candidates(view: Rect, note: Note, base: float) -> list[tuple[float, PlacedNote]]:
    """Places for a note with what they cost before anything stands in the way."""
    width = runs_width(note.runs, SMALL)
    found = []
    for target in note.targets:
        for right in (True, False):
            for aside, higher in PLACES:
                bend = (target[0] + (aside if right else -aside), base + higher * ROW + SMALL / 2)
                start = bend[0] + SHELF + 0.8 if right else bend[0] - SHELF - 0.8 - width
                near = bend[0] + SHELF if right else bend[0] - SHELF
                cost = SHELF + hypot(bend[0] - target[0], bend[1] - target[1])
                # Words that stand far outside the view make the sheet wide and its scale small.
                cost += 1.2 * max(0.0, start + width - view[2] - 8) + 1.2 * max(0.0, view[0] - 8 - start)
                found.append((cost, PlacedNote(note, (start, base + higher * ROW), ((near, bend[1]), bend, target))))
    return found


def _clashes(candidate: PlacedNote, placed: Sequence[PlacedNote]) -> float:
    """What a place costs for the notes that stand already."""
    if not placed:
        return 0.0
    wide = grown(text_rect(candidate), 0.6)
    pieces = list(pairwise(candidate.leader))
    cost = 0.0
    for other in placed:
        theirs = list(pairwise(other.leader))
        rect = text_rect(other)
        if _meet(wide, rect):
            cost += 400
        if any(_cross(one, two) for one in pieces for two in theirs):
            cost += 400
        clear = grown(rect, 0.5)
        if any(passes(*piece, clear) for piece in pieces) or any(passes(*piece, wide) for piece in theirs):
            cost += 400
    return cost


def _meeting(rect: Rect, others: Floats) -> NDArray[np.bool_]:
    """Which rectangles share a point with one."""
    met: NDArray[np.bool_] = (rect[0] <= others[:, 2]) & (others[:, 0] <= rect[2]) & (rect[1] <= others[:, 3]) & (others[:, 1] <= rect[3])
    return met


def _passing(pieces: Sequence[tuple[Point, Point]], rects: Floats) -> NDArray[np.bool_]:
    """Which rectangles a line of pieces meets."""
    left, right = min(x for piece in pieces for x, _ in piece), max(x for piece in pieces for x, _ in piece)
    low, high = min(y for piece in pieces for _, y in piece), max(y for piece in pieces for _, y in piece)
    found = _meeting((left, low, right, high), rects)
    for index in np.flatnonzero(found):
        one = rects[index]
        found[index] = any(passes(*piece, (float(one[0]), float(one[1]), float(one[2]), float(one[3]))) for piece in pieces)
    return found


def _meet(a: Rect, b: Rect) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _cross(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = first, second

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0
