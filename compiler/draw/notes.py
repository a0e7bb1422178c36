"""Notes with leaders: words above or below a view that point at a feature.

In: words with the places they may point at, and what is taken on the sheet. Out: placed notes, none of whose leaders crosses a
number or another leader. It must not know what the words mean. Millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from math import hypot, inf
from typing import NamedTuple

import numpy as np

from compiler.draw.dimensions import Room
from compiler.draw.lettering import SMALL, Runs, letter, reach, runs_width
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect, grown, meeting, normal, passes, passing, rects
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
        turned = _upside_down(room)
        mirrored = [Note(note.runs, tuple((x, -y) for x, y in note.targets), note.dot) for note in notes]
        upright: list[PlacedNote] = []
        by_runs = {(note.runs, note.targets): note for note in notes}
        for one in lay_out(_turned(view), mirrored, turned):
            original = by_runs[(one.note.runs, tuple((x, -y) for x, y in one.note.targets))]
            upright.append(PlacedNote(original, (one.at[0], -one.at[1] - SMALL), tuple((x, -y) for x, y in one.leader)))
        room.texts.extend(text_rect(note) for note in upright)
        return tuple(upright)
    top = _foot(view, room)
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


def least_height(count: int) -> float:
    """How far the words of so many notes reach over their view, at least."""
    return FIRST + (count - 1) * ROW + SMALL if count else 0.0


def least_reach(view: Rect, count: int, room: Room, below: bool = False) -> float:
    """The height on the sheet up to which (`below`: down to which) the words of so many notes reach at least."""
    if below:
        return -least_reach(_turned(view), count, _upside_down(room))
    return _foot(view, room) + least_height(count) if count else view[3]


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


def _foot(view: Rect, room: Room) -> float:
    """The height that the rows of notes stand on."""
    return max([view[3], *(_top(rect) for rect in room.texts if rect[2] > view[0] - 12 and rect[0] < view[2] + 12),
                *(_top(segment) for segment in (*room.lines, *room.thin))])


def _upside_down(room: Room) -> Room:
    return Room(*([_turned(rect) for rect in rects] for rects in (room.texts, room.lines, room.thin, room.solid)))


def _turned(rect: Rect) -> Rect:
    """Upside down."""
    return rect[0], -rect[3], rect[2], -rect[1]


def _top(rect: Rect) -> float:
    return normal(rect)[3]


def _by_place(notes: Sequence[Note]) -> list[int]:
    return sorted(range(len(notes)), key=lambda i: (-min(x for x, _ in notes[i].targets), i))


class _Place(NamedTuple):
    """A place of a note: what it costs by itself, the room of its words, that room with what keeps clear of it, and its leader's pieces."""

    cost: float
    note: Note
    at: Point
    words: Rect
    wide: Rect
    pieces: tuple[tuple[Point, Point], tuple[Point, Point]]

    def placed(self) -> PlacedNote:
        (near, bend), (_, target) = self.pieces
        return PlacedNote(self.note, self.at, (near, bend, target))


class _Sheet:
    """What notes keep off, as arrays, and what each place of a note costs by itself, reckoned once for all orders of the notes."""

    def __init__(self, view: Rect, notes: Sequence[Note], room: Room, top: float) -> None:
        self._view, self._notes, self._top = view, notes, top
        self._texts = rects([grown(rect, 0.5) for rect in room.texts])
        self._lines = rects([normal(line) for line in (*room.lines, *room.thin)])
        self._places: dict[tuple[int, int], tuple[list[_Place], list[float]]] = {}

    def places(self, note: int, row: int) -> tuple[list[_Place], list[float]]:
        """The places of a note in a row, the shortest leader first, and what each costs for numbers and lines that stand on the sheet."""
        if (note, row) not in self._places:
            found = sorted(_candidates(self._view, self._notes[note], self._top + FIRST + row * ROW), key=lambda place: place.cost)
            self._places[note, row] = found, self._hits(found)
        return self._places[note, row]

    def _hits(self, places: Sequence[_Place]) -> list[float]:
        wide = rects([place.wide for place in places])
        pieces = np.array([place.pieces for place in places])
        hits = 400 * (meeting(wide, self._texts) + passing(pieces, self._texts) + meeting(wide, self._lines)) + 60 * passing(pieces, self._lines)
        found: list[float] = hits.astype(float).tolist()
        return found


def _rows(sheet: _Sheet, order: Sequence[int], most: float) -> tuple[float, tuple[PlacedNote, ...]] | None:
    """The notes in rows from below in an order, each in its best place; None as soon as they cost `most`."""
    placed: list[_Place] = []
    # What the notes cost at least: the shortest leader of each in its row.
    total = sum(sheet.places(note, row)[0][0].cost for row, note in enumerate(order))
    for row, note in enumerate(order):
        if total >= most:
            return None
        best: tuple[float, _Place] | None = None
        places, own = sheet.places(note, row)
        for place, more in zip(places, own, strict=True):
            if best is not None and place.cost >= best[0]:
                break
            cost = place.cost + more
            if best is not None and cost >= best[0]:
                continue
            cost += _clashes(place, placed)
            if best is None or cost < best[0]:
                best = (cost, place)
        assert best is not None
        total += best[0] - places[0].cost
        placed.append(best[1])
    return (total, tuple(place.placed() for place in placed)) if total < most else None


def _candidates(view: Rect, note: Note, base: float) -> list[_Place]:
    """Places for a note with what they cost before anything stands in the way."""
    width = runs_width(note.runs, SMALL)
    low, high = reach(note.runs, SMALL)
    found = []
    for target in note.targets:
        for right in (True, False):
            for aside, higher in PLACES:
                bend = (target[0] + (aside if right else -aside), base + higher * ROW + SMALL / 2)
                start = bend[0] + SHELF + 0.8 if right else bend[0] - SHELF - 0.8 - width
                near = (bend[0] + SHELF if right else bend[0] - SHELF, bend[1])
                cost = SHELF + hypot(bend[0] - target[0], bend[1] - target[1])
                # Words that stand far outside the view make the sheet wide and its scale small.
                cost += 1.2 * max(0.0, start + width - view[2] - 8) + 1.2 * max(0.0, view[0] - 8 - start)
                y = base + higher * ROW
                words = (start, y + low, start + width, y + high)
                found.append(_Place(cost, note, (start, y), words, grown(words, 0.6), ((near, bend), (bend, target))))
    return found


def _clashes(place: _Place, placed: Sequence[_Place]) -> float:
    """What a place costs for the notes that stand already."""
    cost = 0.0
    for other in placed:
        if _meet(place.wide, other.words):
            cost += 400
        if any(_cross(one, two) for one in place.pieces for two in other.pieces):
            cost += 400
        clear = grown(other.words, 0.5)
        if any(passes(*piece, clear) for piece in place.pieces) or any(passes(*piece, place.wide) for piece in other.pieces):
            cost += 400
    return cost


def _meet(a: Rect, b: Rect) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _cross(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = first, second

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0
