"""What a part's drawing says: which views, which sizes on each, which notes.

In: a blank and its shapings. Out: `PartView`s with sizes in exact inches. It must not know paper or where a number will stand.

Rules: overall first, shoulders inside it; every place from the datum (foot, left end, front edge) to the near edge; sizes of
a working once in a note with their count; equally spaced holes as "4 × 1 1/2 = 6"; a size that two others give is left out.
A view more only for workings that are open to its side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Literal

import shapely

from compiler.base.measures import Length
from compiler.base.showing import Style
from compiler.draw.hole_table import IN_A_ROW, HoleRow, pitched, rows_of
from compiler.draw.lettering import Runs, joined, size_runs
from compiler.draw.part_notes import Words, notes_of, told_of
from compiler.draw.workings import Blank, Shaping, Side, beyond, opens

FEW = 6
TABLE_FROM = 10
"""So many sizes of holes on one view are read better in a table."""


@dataclass(frozen=True, slots=True)
class Size:
    """A size on one of a view's axes, from place to place, and where its features lie on the other axis."""

    start: Fraction
    end: Fraction
    reach: tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]
    runs: Runs
    overall: bool = False


@dataclass(frozen=True, slots=True)
class PartView:
    """A view of one side: the directions that run right and up on it, its sizes and notes."""

    side: Side
    right: int
    up: int
    sizes: dict[Literal["x", "y"], tuple[Size, ...]] = field(default_factory=dict)
    notes: tuple[Words, ...] = ()
    holes: tuple[HoleRow, ...] = ()


def part_views(within: Blank, found: Sequence[Shaping], style: Style) -> tuple[PartView, ...]:
    """The main face first, then each further side that shows something of its own."""
    own = [s for s in found if s.sort != "turned"]
    sides = _assigned(within, own)
    main = sides[0][0]
    views = []
    for side, members in sides:
        right, up = {2: (0, 1), 1: (0, 2), 0: (2, 1)}[side[0]]
        listed = _listed(within, members, right, up, style)
        members = [s for s in members if s not in listed]
        wanted: dict[Literal["x", "y"], tuple[Size, ...]] = {
            "x": _sizes(within, members, right, up, style, side == main or right == 2),
            "y": _sizes(within, members, up, right, style, side == main or up == 2),
        }
        told = tuple(notes_of(within, members, side, right, up, style))
        views.append(PartView(side, right, up, wanted, told, rows_of(within, listed, right, up)))
    turned: dict[Runs, int] = {}
    for s in found:
        if s.sort == "turned":
            turned[told_of(s, style)] = turned.get(told_of(s, style), 0) + 1
    if turned:
        first = views[0]
        middle = float(within.low[1] + within.high[1]) / 2
        ends = tuple((float(within.low[0] + share * (within.high[0] - within.low[0])), middle) for share in (Fraction(1, 40), Fraction(39, 40)))
        notes = (*first.notes, *(Words(joined(words, f", {count} places" if count > 1 else ""), ends) for words, count in turned.items()))
        views[0] = replace(first, notes=notes)
    return tuple(views)


def _listed(within: Blank, members: Sequence[Shaping], right: int, up: int, style: Style) -> list[Shaping]:
    """The round holes of a view, when their places would take too many sizes; else none."""
    holes = [s for s in members if s.sort == "hole" and s.op == "cut" and not s.edge and not beyond(s, within)]
    needed = [0]

    def count(*_: object, **__: object) -> None:
        needed[0] += 1

    for axis, other in ((right, up), (up, right)):
        _holes(within, holes, axis, other, count, style)
    return holes if needed[0] >= TABLE_FROM else []


# ---- which views ---------------------------------------------------------------------------------------------


def main_face(within: Blank, found: Sequence[Shaping]) -> Side:
    """The face that a part's drawing shows first: the one with most workings.

    Of two equal ones that on which the width runs up (or back) on the sheet: the foot edge lies below.
    """
    cuts = [opens(s, within) for s in found if s.sort != "turned" and s.op == "cut" and not _noted(s, within)]
    faces: dict[Side, float] = {side: sum(side in cut for cut in cuts) - 0.1 * sum((2, -side[1]) in cut for cut in cuts)
                                for side in ((2, 1), (2, -1))}
    hand = 1 if within.axes in ((0, 1, 2), (1, 2, 0), (2, 0, 1)) else -1
    return max(faces, key=lambda side: (faces[side], side[1] * hand))


def _noted(s: Shaping, within: Blank) -> bool:
    """What follows an edge, and what is cut into a tenon, is told by a note on the first view."""
    return s.edge or beyond(s, within)


def _assigned(within: Blank, found: Sequence[Shaping]) -> list[tuple[Side, list[Shaping]]]:
    """Each working to the side that shows it: the face with most of them first, then edges, ends last."""
    noted = [s for s in found if _noted(s, within)]
    cuts = [s for s in found if s.op == "cut" and s not in noted]
    main = main_face(within, found)
    rest = [s for s in cuts if main not in opens(s, within)]
    chosen: list[Side] = [main]
    order = [(2, -main[1]), (1, 1), (1, -1), (0, 1), (0, -1)]
    left = list(rest)
    while left:
        best = max(order, key=lambda side: (sum(side in opens(s, within) for s in left), -order.index(side)))
        taken = [s for s in left if best in opens(s, within)]
        if not taken:
            break
        chosen.append(best)
        left = [s for s in left if s not in taken]
    # Tenons thinner than their part need the view on which their cheeks are seen.
    grows = [s for s in found if s.op == "grow"]
    thin = [s for s in grows if s.low[2] > within.low[2] or s.high[2] < within.high[2]]
    if thin and not any(side[0] == 1 for side in chosen):
        chosen.append((1, 1))
    result = []
    done: set[int] = set()
    for side in chosen:
        members = [s for k, s in enumerate(found) if s.op == "cut" and k not in done and side in opens(s, within)]
        done |= {k for k, s in enumerate(found) if s in members}
        members = [s for s in members if s not in noted]
        if side == main:
            members += [*grows, *(s for s in noted if s.op == "cut")]
        elif side[0] == 1:
            members += thin
        result.append((side, members))
    return result


# ---- sizes -----------------------------------------------------------------------------------------------------


class _Tied:
    """Places that sizes have tied together."""

    def __init__(self) -> None:
        self._root: dict[Fraction, Fraction] = {}

    def _find(self, place: Fraction) -> Fraction:
        while self._root.setdefault(place, place) != place:
            place = self._root[place]
        return place

    def tie(self, a: Fraction, b: Fraction) -> bool:
        """Tie two places; False when they were tied already."""
        one, two = self._find(a), self._find(b)
        self._root[one] = two
        return one != two


Reach = tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]
Add = Callable[..., None]


def _sizes(within: Blank, members: Sequence[Shaping], axis: int, other: int, style: Style, overall: bool) -> tuple[Size, ...]:
    low, high = within.low[axis], within.high[axis]
    span = (within.low[other], within.high[other])
    tied = _Tied()
    found: list[Size] = []

    def add(start: Fraction, end: Fraction, reach: Reach, words: Runs | None = None,
            whole: bool = False) -> None:
        runs = words or size_runs(Length(end - start), style)
        # Two places that round to one number are one mark on the bench.
        if start != end and tied.tie(start, end) and not any(size.start == start and size.runs == runs for size in found):
            found.append(Size(start, end, reach, runs, whole))

    whole = (span, span)
    if overall:
        add(low, high, whole, whole=True)
    else:
        tied.tie(low, high)
    shoulders = (within.box_low[axis], within.box_high[axis])
    grows = [s for s in members if s.op == "grow"]
    if overall and shoulders != (low, high):
        add(shoulders[0], shoulders[1], whole)
        if shoulders[0] != low:
            add(low, shoulders[0], whole)
        if shoulders[1] != high and shoulders[0] == low:
            add(shoulders[1], high, whole)
    # What touches an end or runs through is sized by its note; a place in between is measured from the datum.
    placed = [s for s in members if not s.edge and not beyond(s, within)]
    for s in [*grows, *(s for s in placed if s.op == "cut" and s.sort == "block")]:
        near, far = s.low[axis], s.high[axis]
        reach = (s.low[other], s.high[other])
        if near <= shoulders[0] and far >= shoulders[1]:
            continue
        tied.tie(near, far)
        if near in (low, shoulders[0]) or far in (high, shoulders[1]):
            continue
        add(low, near, ((span[0], span[1]), reach))
    _holes(within, [s for s in placed if s.sort == "hole" and s.op == "cut"], axis, other, add, style)
    for s in placed:
        if s.sort == "prism" and s.op == "cut" and axis != s.axis:
            for place, at in _corners(s, within, axis, other):
                add(low, place, ((span[0], span[1]), (at, at)))
            if s.radii:
                # The crown of an arc: how far it rises.
                for place in (s.low[axis], s.high[axis]):
                    if low < place < high:
                        middle = (s.low[other] + s.high[other]) / 2
                        add(low, place, ((span[0], span[1]), (middle, middle)))
    return tuple(found)


def _holes(within: Blank, holes: Sequence[Shaping], axis: int, other: int, add: Add, style: Style) -> None:
    low, high = within.low[axis], within.high[axis]
    span = (within.low[other], within.high[other])
    groups: dict[tuple[str, Fraction], list[Shaping]] = {}
    for hole in holes:
        groups.setdefault((hole.called, hole.diameter), []).append(hole)
    for members in groups.values():
        places: dict[Fraction, list[Fraction]] = {}
        for hole in members:
            places.setdefault((hole.low[axis] + hole.high[axis]) / 2, []).append((hole.low[other] + hole.high[other]) / 2)
        rows = sorted(places)
        reach = {place: (min(at), max(at)) for place, at in places.items()}
        for run in pitched(rows):
            first, last = run[0], run[-1]
            if len(run) >= IN_A_ROW:
                if low < first:
                    add(low, first, (span, reach[first]))
                pitch = size_runs(Length(run[1] - run[0]), style)
                add(first, last, (reach[first], reach[last]), joined(f"{len(run) - 1} × ", pitch, " = ", size_runs(Length(last - first), style)))
                continue
            for place in run:
                if place - low <= high - place:
                    add(low, place, (span, reach[place]))
                else:
                    add(place, high, (reach[place], span))


def _corners(s: Shaping, within: Blank, axis: int, other: int) -> Iterable[tuple[Fraction, Fraction]]:
    """Corners of a prism inside the part on one axis, with where they stand on the other; at most FEW."""
    rest = [i for i in range(3) if i != s.axis]
    if len(s.outline) < 3:
        return
    polygon = shapely.Polygon(s.outline).buffer(0)
    frame = shapely.box(*(float(within.low[i]) for i in rest), *(float(within.high[i]) for i in rest))
    cut = polygon.intersection(frame)
    corners = [point for part in getattr(cut, "geoms", (cut,)) if part.geom_type == "Polygon" for point in part.exterior.coords[:-1]]
    if len(s.outline) > 12:
        return
    at, beside = rest.index(axis), rest.index(other)
    if s.radii and max(s.radii) <= min(s.size(i) for i in rest):
        # Rounded corners: what is marked out is the shape's reach, the radius stands in the note.
        middle = (s.low[other] + s.high[other]) / 2
        yield from ((place, middle) for place in (s.low[axis], s.high[axis]) if within.low[axis] < place < within.high[axis])
        return
    known = (within.low[axis], within.high[axis], within.box_low[axis], within.box_high[axis], s.low[axis], s.high[axis])
    seen: dict[Fraction, Fraction] = {}
    for corner in corners:
        place = next((k for k in known if abs(float(k) - corner[at]) < 2e-3), Fraction(round(corner[at] * 1024), 1024))
        if within.low[axis] < place < within.high[axis] and place not in seen:
            seen[place] = Fraction(round(corner[beside] * 1024), 1024)
    yield from sorted(seen.items())[:FEW]
