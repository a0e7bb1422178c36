"""Which sizes a square view shows: intervals between borders that a reader can't know already.

In: what is seen, exact places on the view's axis. Out: intervals in inches with their exact lengths. It must not know paper.

Probe lines in the middle of every strip between corners that are seen; the one that meets most borders of large parts gives the
intervals, less those the reader knows (stock thickness, mirror twins, a length that stands there already).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import shapely

from compiler.base.measures import Length
from compiler.draw.bounds import Bounds
from compiler.draw.places import Places, of_parts
from compiler.draw.views import Camera, Seen
from compiler.values.model import Model

AxisLetter = Literal["x", "y"]
LARGE_SHARE = 0.012
LONG_SHARE = 0.3
SMALL_SHARE = 0.022
MOST_SIZES = 7
HAIR = 2e-3


@dataclass(frozen=True, slots=True)
class Interval:
    """A size to show: from and to on the picture (inches), its exact length, and where its ends stand on the other axis."""

    start: float
    end: float
    length: Length
    reach: tuple[tuple[float, float], tuple[float, float]]
    overall: bool = False


def sizes(seen: Seen, axis: AxisLetter, places: Places, known: Collection[Fraction]) -> tuple[Interval, ...]:
    """The intervals to show on an axis of a view, the overall one last."""
    box_ = seen.bounds
    if box_ is None:
        return ()
    i = 0 if axis == "x" else 1
    low, high = box_[i], box_[i + 2]
    whole = high - low
    shapes = [_shape(rings) for rings in (region.rings for region in seen.regions)]
    total = sum(shape.area for shape in shapes)
    big = [s for s in shapes if s.area > LARGE_SHARE * total or (s.bounds[i + 2] - s.bounds[i]) > LONG_SHARE * whole]
    borders = _best_probe(big, i, box_, places)
    overall = Interval(low, high, places.between(low, high), (_reach(shapes, i, low), _reach(shapes, i, high)), True)
    kept: list[Interval] = []
    joined = _Joined()
    joined.join(places.exact(low), places.exact(high))
    given: set[Fraction] = {overall.length.inches}
    candidates = []
    for start, end in pairwise(borders):
        length = places.between(start, end)
        candidates.append((length.inches, start, end))
    middle = (low + high) / 2
    for length_in, start, end in sorted(candidates):
        a, b = places.exact(start), places.exact(end)
        twin = any(abs((k.start + k.end) / 2 + (start + end) / 2 - 2 * middle) < 1e-3 and k.length.inches == length_in for k in kept)
        # Known without a number: a board's own thickness, the mirror twin of a size that is given.
        if length_in in known or twin or length_in in given:
            joined.join(a, b)
            continue
        if float(length_in) < SMALL_SHARE * whole:
            continue
        if joined.together(a, b) or len(kept) >= MOST_SIZES:
            continue
        joined.join(a, b)
        given.add(length_in)
        kept.append(Interval(start, end, Length(length_in), (_reach(shapes, i, start), _reach(shapes, i, end))))
    if axis == "x":
        kept += _spread(shapes, box_, places)
    return (*sorted(kept, key=lambda k: k.start), overall)


def _spread(shapes: Sequence[shapely.Geometry], box_: Bounds, places: Places) -> list[Interval]:
    """How far apart splayed feet stand on the floor, from outside to outside: a leg that leans has no place that a probe would find."""
    foot = [x for shape in shapes for x, y in shapely.get_coordinates(shape) if y - box_[1] < HAIR]
    if not foot or all(places.knows(x) for x in (min(foot), max(foot))) or max(foot) - min(foot) < HAIR:
        return []
    start, end = float(min(foot)), float(max(foot))
    if start - box_[0] < HAIR and box_[2] - end < HAIR:
        return []
    at = (box_[1], box_[1])
    return [Interval(start, end, places.between(start, end), (at, at))]


class _Joined:
    """Places that dimensions have tied together (union of sets)."""

    def __init__(self) -> None:
        self._root: dict[Fraction, Fraction] = {}

    def root(self, place: Fraction) -> Fraction:
        """The place that stands for all those tied to one."""
        self._root.setdefault(place, place)
        while self._root[place] != place:
            place = self._root[place]
        return place

    def join(self, a: Fraction, b: Fraction) -> None:
        """Tie two places."""
        self._root[self.root(a)] = self.root(b)

    def together(self, a: Fraction, b: Fraction) -> bool:
        """True when a size between them would say nothing new."""
        return self.root(a) == self.root(b)


def _shape(rings: Iterable[Sequence[tuple[float, float]]]) -> shapely.Geometry:
    shape: shapely.Geometry = shapely.Polygon()
    for ring in sorted((shapely.Polygon(ring) for ring in rings if len(ring) > 2), key=lambda p: -p.area):
        shape = shape.symmetric_difference(ring.buffer(0))
    return shape


def _best_probe(shapes: Sequence[shapely.Geometry], i: int, box_: Bounds, places: Places) -> list[float]:
    """Border coordinates on the probe line that meets most of them; one on a curve or a tilted part has no place of its own."""
    j = 1 - i
    corners = sorted({round(value, 4) for shape in shapes for value in (shape.bounds[j], shape.bounds[j + 2])})
    best: tuple[int, float, list[float]] | None = None
    for a, b in pairwise(corners):
        if b - a < 0.02 * (box_[j + 2] - box_[j]):
            continue
        at = (a + b) / 2
        ends = ((box_[0] - 1, at), (box_[2] + 1, at)) if i == 0 else ((at, box_[1] - 1), (at, box_[3] + 1))
        line = shapely.LineString(ends)
        found: set[float] = set()
        for shape in shapes:
            piece = line.intersection(shape)
            for part in getattr(piece, "geoms", (piece,)):
                if part.length > 1e-3:
                    found |= {round(part.bounds[i], 4), round(part.bounds[i + 2], 4)}
        found = {value for value in found if places.knows(value)}
        score = (len(found), b - a)
        if best is None or score > best[:2]:
            best = (len(found), b - a, sorted(found))
    if best is None:
        return []
    merged: list[float] = []
    for value in best[2]:
        if not merged or value - merged[-1] > 0.02:
            merged.append(value)
    return merged


def _reach(shapes: Sequence[shapely.Geometry], i: int, at: float) -> tuple[float, float]:
    """From where to where on the other axis an edge stands at a coordinate."""
    j = 1 - i
    low, high = [], []
    for shape in shapes:
        for value in (shape.bounds[i], shape.bounds[i + 2]):
            if abs(value - at) < 2e-3:
                low.append(shape.bounds[j])
                high.append(shape.bounds[j + 2])
    if low:
        return min(low), max(high)
    every = [shape.bounds for shape in shapes]
    return min(b[j] for b in every), max(b[j + 2] for b in every)


def places_of(model: Model, view: Camera, which: int) -> Places:
    """The exact places on a view's axis, turned with it."""
    direction = view.right if which == 0 else view.up
    axis = next(i for i in range(3) if abs(direction[i]) > 0.5)
    sign = 1 if direction[axis] > 0 else -1
    return of_parts(model.parts, axis).turned(sign)
