"""Notes with leaders: words above or below a view that point at a feature.

In: words with the places they may point at, and what is taken on the sheet. Out: placed notes, none of whose leaders crosses a
number or another leader. It must not know what the words mean. Millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from math import hypot

from shapely import LineString, box

from compiler.draw.dimensions import Rect, Room, grown, meets, normal
from compiler.draw.lettering import SMALL, Runs, letter, reach, runs_width
from compiler.draw.pen import Pen
from compiler.values.figure import Point

ROW = 6.6
FIRST = 6.5
SHELF = 2.0
MOST_ORDERS = 4


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


def lay_out(view: Rect, notes: Sequence[Note], room: Room) -> tuple[PlacedNote, ...]:
    """Rows above the view (and above what stands there), in the order that gives the shortest clean leaders."""
    if not notes:
        return ()
    top = max([view[3], *(_top(rect) for rect in room.texts if rect[2] > view[0] - 12 and rect[0] < view[2] + 12),
               *(_top(segment) for segment in (*room.lines, *room.thin))])
    orders = permutations(range(len(notes))) if len(notes) <= MOST_ORDERS else [tuple(_by_place(notes))]
    best: tuple[float, tuple[PlacedNote, ...]] | None = None
    for order in orders:
        cost, placed = _rows(view, [notes[i] for i in order], room, top)
        if best is None or cost < best[0] - 1e-9:
            best = (cost, placed)
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


def _top(rect: Rect) -> float:
    return normal(rect)[3]


def _by_place(notes: Sequence[Note]) -> list[int]:
    return sorted(range(len(notes)), key=lambda i: (-min(x for x, _ in notes[i].targets), i))


def _rows(view: Rect, notes: Sequence[Note], room: Room, top: float) -> tuple[float, tuple[PlacedNote, ...]]:
    placed: list[PlacedNote] = []
    total = 0.0
    for row, note in enumerate(notes):
        width = runs_width(note.runs, SMALL)
        base = top + FIRST + row * ROW
        best: tuple[float, PlacedNote] | None = None
        for target in note.targets:
            for right in (True, False):
                for aside in (2.0, 5.0, 10.0, 18.0, 30.0):
                    bend = (target[0] + (aside if right else -aside), base + SMALL / 2)
                    start = bend[0] + SHELF + 0.8 if right else bend[0] - SHELF - 0.8 - width
                    near = bend[0] + SHELF if right else bend[0] - SHELF
                    candidate = PlacedNote(note, (start, base), ((near, bend[1]), bend, target))
                    cost = _cost(candidate, placed, room, view)
                    if best is None or cost < best[0]:
                        best = (cost, candidate)
        assert best is not None
        total += best[0]
        placed.append(best[1])
    return total, tuple(placed)


def _cost(candidate: PlacedNote, placed: Sequence[PlacedNote], room: Room, view: Rect) -> float:
    own = text_rect(candidate)
    line = LineString(candidate.leader)
    cost = sum(hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(candidate.leader, candidate.leader[1:], strict=False))
    for rect in room.texts:
        if meets(grown(own, 0.6), rect):
            cost += 400
        if line.intersects(box(*grown(rect, 0.5))):
            cost += 400
    for segment in (*room.lines, *room.thin):
        if meets(grown(own, 0.5), segment):
            cost += 400
        left, low, right, high = normal(segment)
        if line.intersects(LineString(((left, low), (right, high)))):
            cost += 60
    for other in placed:
        if meets(grown(own, 0.6), text_rect(other)):
            cost += 400
        if line.intersects(LineString(other.leader)):
            cost += 400
        if line.intersects(box(*grown(text_rect(other), 0.5))) or LineString(other.leader).intersects(box(*grown(own, 0.5))):
            cost += 400
    # Words that stand far outside the view make the sheet wide and its scale small.
    return cost + 1.2 * max(0.0, own[2] - view[2] - 8) + 1.2 * max(0.0, view[0] - 8 - own[0])
