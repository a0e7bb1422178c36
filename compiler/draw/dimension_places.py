"""Where dimensions stand round a view: the search for a side, a level and a place for each number.

In: sizes with the reach of their features, the view's box, what is taken on the sheet, in millimetres on paper. Out: placed dimensions,
none of whose numbers is touched by a line or by another number, and those for which no place was found. It must not know parts or
lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from compiler.draw.dimensions import (
    ARROW,
    GAP,
    TAIL,
    Dimension,
    Layout,
    Manner,
    Placed,
    Room,
    SideName,
    extension_segments,
    line_segments,
    text_rect,
    text_size,
)
from compiler.draw.rectangles import Rect, Segment, grown, meets, normal, shrunk

TEXT_CLEAR = 0.5
LEVELS = 9
_Box = tuple[float, float, float, float, Segment]
"""A rectangle or segment with its corners in order, the high ones a hair farther out, and as it was given."""


@dataclass(frozen=True, slots=True)
class _Taken:
    """What is taken on the sheet, ready to be asked by hundreds of places."""

    texts: list[_Box]
    solid: list[_Box]
    lines: list[_Box]
    thin: list[_Box]


def lay_out(view: Rect, dimensions: Sequence[Dimension], manner: Manner, room: Room | None = None) -> Layout:
    """Places for all dimensions round a view. `room` gathers what is taken, so that several views share one sheet."""
    room = room if room is not None else Room()
    room.solid.append(view)
    taken = _Taken(*(_boxes(each) for each in (room.texts, room.solid, room.lines, room.thin)))
    waiting = sorted(dimensions, key=lambda d: (d.outermost, d.length, d.axis, d.start))
    placed: list[Placed] = []
    left_out: list[Dimension] = []
    for index, dimension in enumerate(waiting):
        best = _best(dimension, view, manner, taken, placed, waiting[index + 1:])
        if best is None:
            left_out.append(dimension)
            continue
        placed.append(best)
        for boxes, rects, more in ((taken.texts, room.texts, (text_rect(best, manner),)), (taken.lines, room.lines, line_segments(best, manner)),
                                   (taken.thin, room.thin, extension_segments(best))):
            rects.extend(more)
            boxes.extend(_boxes(more))
    return Layout(tuple(placed), tuple(left_out))


def _level_line(view: Rect, axis: str, side: SideName, level: int, manner: Manner) -> float:
    off = manner.first + level * manner.pitch
    low, high = (view[1], view[3]) if axis == "x" else (view[0], view[2])
    return low - off if side == "low" else high + off


def _texts_places(d: Dimension, manner: Manner) -> list[tuple[float, bool, bool, float]]:
    """Places for the number: along, number inside, arrows inside, cost."""
    along, _ = text_size(d, manner)
    middle = (d.start + d.end) / 2
    inside = along + (2 * GAP + 0.8 if manner.ticks else 2 * ARROW + 2 * GAP + 0.6) <= d.length
    places: list[tuple[float, bool, bool, float]] = []
    if inside:
        slack = (d.length - along) / 2 - GAP - (0.4 if manner.ticks else ARROW)
        for share in (0.0, 0.35, 0.7, 1.0):
            for sign in (1, -1) if share else (1,):
                places.append((middle + sign * share * slack, True, True, 1.7 * share))
        return places
    if along + 1.2 <= d.length and not manner.ticks:
        places.append((middle, True, False, 0.6))
    over = (1.2 if manner.ticks else TAIL) + GAP + along / 2
    arrows = manner.ticks
    places.append((d.end + over, False, arrows, 1.5))
    places.append((d.start - over, False, arrows, 1.7))
    return places


def _best(d: Dimension, view: Rect, manner: Manner, taken: _Taken, placed: Sequence[Placed],
          later: Sequence[Dimension]) -> Placed | None:
    best: tuple[float, Placed] | None = None
    other: SideName = "high" if d.side == "low" else "low"
    for side, side_cost in ((d.side, 0.0), (other, 11.0 if d.outermost else 5.0)):
        within = [p.level for p in placed if p.side == side and p.dimension.axis == d.axis
                  and p.dimension.start >= d.start - 1e-6 and p.dimension.end <= d.end + 1e-6]
        beside = [p.level for p in placed if p.side == side and p.dimension.axis == d.axis]
        need = 1 + max(beside if d.outermost else within, default=-1)
        ahead = [(end, reach_) for other_d in later if other_d.side == side and other_d.axis == d.axis
                 for end, reach_ in ((other_d.start, other_d.reach[0]), (other_d.end, other_d.reach[1]))]
        for level in range(need, need + LEVELS):
            floor = side_cost + 1.6 * level
            if best is not None and floor >= best[0]:
                break
            line = _level_line(view, d.axis, side, level, manner)
            for text, text_inside, arrows_inside, text_cost in _texts_places(d, manner):
                candidate = Placed(dimension=d, side=side, level=level, line=line, text=text, text_inside=text_inside,
                                   arrows_inside=arrows_inside)
                cost = floor + text_cost
                if best is not None and cost >= best[0]:
                    continue
                more = _price(candidate, manner, taken, ahead)
                if more is not None and (best is None or cost + more < best[0]):
                    best = (cost + more, candidate)
    return best[1] if best else None


def _boxes(rects: Iterable[Rect]) -> list[_Box]:
    return [(left, low, right + 1e-9, high + 1e-9, each) for each in rects for left, low, right, high in (normal(each),)]


def _touched(r: Rect, boxes: Iterable[_Box]) -> bool:
    """True when a rectangle shares a point inside with any, as `compiler.draw.rectangles.meets` has it."""
    left, low, right, high = normal(r)
    right, high = right + 1e-9, high + 1e-9
    for x, y, u, v, _ in boxes:  # noqa: SIM110  # asked hundreds of thousands of times
        if left < u and x < right and low < v and y < high:
            return True
    return False


def _met(r: Rect, boxes: Iterable[_Box]) -> list[Segment]:
    """Those that share a point inside with a rectangle."""
    left, low, right, high = normal(r)
    right, high = right + 1e-9, high + 1e-9
    return [given for x, y, u, v, given in boxes if left < u and x < right and low < v and y < high]


def _price(p: Placed, manner: Manner, taken: _Taken, ahead: Sequence[tuple[float, tuple[float, float]]]) -> float | None:
    """What a place costs; None when something forbids it."""
    axis = p.dimension.axis
    text = grown(text_rect(p, manner), TEXT_CLEAR)
    if _touched(text, taken.texts) or _touched(text, taken.solid) or _touched(text, taken.lines) or _touched(text, taken.thin):
        return None
    own_thin = extension_segments(p)
    if any(meets(text, segment) for segment in own_thin):
        return None
    own_lines = line_segments(p, manner)
    for segment in own_lines:
        if _touched(grown(segment, TEXT_CLEAR), taken.texts):
            return None
        if any(_along_each_other(segment, other, axis) for other in _met(grown(segment, 0.02), taken.lines)):
            return None
        if any(not _along_each_other(segment, other, axis) for other in _met(shrunk(segment, 0.05), taken.lines)):
            return None
        if _touched(segment, taken.solid):
            return None
    if any(_touched(grown(segment, TEXT_CLEAR), taken.texts) for segment in own_thin):
        return None
    crossings = sum(not _touches_own_end(other, p) for segment in own_lines for other in _met(shrunk(segment, 0.05), taken.thin))
    crossings += sum(not _ends_on(segment, other) for segment in own_thin for other in _met(segment, taken.lines))
    soft = 0.0
    for end, _ in ahead:
        low, high = (text[0], text[2]) if p.dimension.axis == "x" else (text[1], text[3])
        if low < end < high:
            soft += 30.0
    deep = sum(max(abs(s[3] - s[1]), abs(s[2] - s[0])) for s in own_thin)
    return 2.5 * crossings + soft + 0.02 * deep


def _along_each_other(a: Segment, b: Segment, axis: str) -> bool:
    """Both run on the axis (not square to each other) and share more than a point."""
    i = 0 if axis == "x" else 1
    if a[i] == a[i + 2] or b[i] == b[i + 2]:
        return False
    return min(max(a[i], a[i + 2]), max(b[i], b[i + 2])) - max(min(a[i], a[i + 2]), min(b[i], b[i + 2])) > 0.05


def _touches_own_end(other: Segment, p: Placed) -> bool:
    """An extension line that belongs to the same corner is no crossing."""
    i = 0 if p.dimension.axis == "x" else 1
    return min(abs(other[i] - p.dimension.start), abs(other[i] - p.dimension.end)) < 0.05


def _ends_on(segment: Segment, line: Segment) -> bool:
    """The extension line meets the end of the other's dimension line: they share that corner."""
    if segment[0] == segment[2]:
        return min(abs(segment[0] - line[0]), abs(segment[0] - line[2])) < 0.05
    return min(abs(segment[1] - line[1]), abs(segment[1] - line[3])) < 0.05
