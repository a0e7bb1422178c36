"""The notes of a part's drawing: what a working is, its sizes, how many there are, and where the note may point.

In: the shapings that a view shows. Out: `Words`. It must not know where a note will stand.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees

import shapely

from compiler.base.measures import Angle, Length
from compiler.base.showing import Style
from compiler.draw.lettering import Runs, joined, size_runs
from compiler.draw.workings import Blank, FlatPoint, Shaping, Side, beyond

MOST_TARGETS = 6
SOCKET = " socket"
"""Pins and tails are laid out together, half pins of other widths among them: the joint's detail tells their sizes."""


@dataclass(frozen=True, slots=True)
class Words:
    """A note and the places it may point at, in the view's two directions."""

    runs: Runs
    targets: tuple[FlatPoint, ...]


def notes_of(within: Blank, members: Sequence[Shaping], side: Side, right: int, up: int, style: Style) -> Iterable[Words]:
    classes: dict[tuple[object, ...], list[Shaping]] = {}
    for s in members:
        if s.op == "grow" and side[0] != 2:
            continue
        key: tuple[object, ...]
        if s.called.endswith(SOCKET):
            key = (s.called,)
        elif s.edge:
            key = (s.called, s.told, s.radii)
        elif s.sort == "hole":
            key = (s.called, s.sort, s.diameter, s.size(s.axis))
        elif s.sort == "prism":
            key = (s.called, s.sort, s.radii, s.told, s.size(right), s.size(up))
        else:
            key = (s.called, s.sort, *(s.size(i) for i in range(3)))
        classes.setdefault(key, []).append(s)
    for group in classes.values():
        words = _class_words(group[0], len(group), within, side, right, up, style)
        if words:
            yield Words(words, _spread([point for s in group for point in _points(s, right, up)]))


def _spread(points: list[FlatPoint]) -> tuple[FlatPoint, ...]:
    """A few of many places, evenly taken: more choice costs time and makes no better note."""
    if len(points) <= MOST_TARGETS:
        return tuple(points)
    return tuple(points[i * (len(points) - 1) // (MOST_TARGETS - 1)] for i in range(MOST_TARGETS))


def _class_words(s: Shaping, count: int, within: Blank, side: Side, right: int, up: int, style: Style) -> Runs:
    many = f", {count} places" if count > 1 else ""
    if s.called.endswith(SOCKET):
        return (f"{count} {s.called}s, see the joint's detail",)

    def size(value: Fraction) -> Runs:
        return size_runs(Length(value), style)

    if s.sort == "hole":
        through = s.low[s.axis] <= within.low[s.axis] and s.high[s.axis] >= within.high[s.axis]
        depth: Runs = (" through",) if through else joined(" × ", size(s.size(s.axis)), " deep")
        name = "" if s.called == "hole" else f"{s.called} "
        return joined(name, "Ø ", size(s.diameter), depth, f", {count} holes" if count > 1 else "")
    if s.edge and s.told:
        return joined(told_of(s, style), many)
    if s.sort == "prism":
        radii = [joined("R ", size(r)) for r in s.radii[:2]]
        if s.axis == side[0]:
            if not radii:
                return joined(s.called, slope_of(s), many) if s.called not in ("cut", "") else ()
            return joined(s.called, " ", *(part for i, r in enumerate(radii) for part in ((", ", r) if i else (r,))), many)
        return joined(told_of(s, style), many)
    parts: list[Fraction] = []
    for i in (right, up):
        full = s.low[i] <= within.box_low[i] and s.high[i] >= within.box_high[i]
        if not full:
            parts.append(s.size(i))
    if s.op == "grow":
        # A tongue as wide and as thick as its part is told by its length, which stands there as a size.
        way = next((i for i in range(3) if s.low[i] < within.box_low[i] or s.high[i] > within.box_high[i]), 0)
        rest = [i for i in (2, 1, 0) if i != way]
        corner = any(s.low[i] < within.box_low[i] or s.high[i] > within.box_high[i] for i in rest)
        if corner or not any(s.low[i] > within.box_low[i] or s.high[i] < within.box_high[i] for i in rest):
            return ()
        reach = max(within.box_low[way] - s.low[way], s.high[way] - within.box_high[way])
        return joined(s.called, " ", size(s.size(rest[0])), " × ", size(s.size(rest[1])), " × ", size(reach), " long", many)
    if not parts:
        return ()
    if beyond(s, within):
        way = next(i for i in range(3) if s.high[i] <= within.box_low[i] or s.low[i] >= within.box_high[i])
        small, large = sorted(s.size(i) for i in range(3) if i != way)
        return joined(s.called, " ", size(small), " × ", size(large), " × ", size(s.size(way)), " deep", many)
    depth_of = side[0]
    through = s.low[depth_of] <= within.box_low[depth_of] and s.high[depth_of] >= within.box_high[depth_of]
    listed: list[str | Runs] = []
    for i, one in enumerate(sorted(parts)):
        listed += [" × ", size(one)] if i else [size(one)]
    end: Runs = ("",) if through else joined(" × ", size(s.size(depth_of)), " deep")
    askew = f", cut {s.lean:.3g}° askew" if s.lean else ""
    return joined(s.called, " ", *listed, end, askew, many)


def told_of(s: Shaping, style: Style) -> Runs:
    parts: list[str | Runs] = [s.called]
    for name, value in s.told:
        if isinstance(value, Length):
            parts += [" " if len(parts) == 1 else f", {name} ", size_runs(value, style)]
        elif isinstance(value, Angle):
            parts.append(f" {float(value):g}°")
    if not any(isinstance(value, Angle) for _, value in s.told) and s.sort == "prism" and not s.edge:
        parts.insert(1, slope_of(s))
    if s.lean and s.sort == "turned":
        parts.append(f" {s.lean:.3g}°")
    return joined(*parts)


def slope_of(s: Shaping) -> str:
    """The angle of a cut's one slanting edge to the nearest of the part's directions: ` 45°`; nothing when none or several slant."""
    ring = (*s.outline, *s.outline[:1])
    found = {round(degrees(atan2(min(abs(bx - ax), abs(by - ay)), max(abs(bx - ax), abs(by - ay)))), 1)
             for (ax, ay), (bx, by) in pairwise(ring) if min(abs(bx - ax), abs(by - ay)) > 1e-6}
    return f" {found.pop():g}°" if len(found) == 1 and not s.radii else ""


def _points(s: Shaping, right: int, up: int) -> Iterable[FlatPoint]:
    """Places a leader may point at: the middle, and toward both ends of something long."""
    x0, x1, y0, y1 = (float(v) for v in (s.low[right], s.high[right], s.low[up], s.high[up]))
    if s.sort == "prism" and not s.edge and s.axis not in (right, up) and len(s.outline) > 2:
        shape = shapely.Polygon(s.curve).buffer(0)
        point = shape.representative_point()
        window = (x0, y0, x1, y1) if right < up else (y0, x0, y1, x1)
        edge = shape.intersection(shapely.box(*window))
        if not edge.is_empty:
            point = edge.representative_point()
        # The outline's own order is that of the part's directions; a view from an end turns it.
        yield (point.x, point.y) if right < up else (point.y, point.x)
        return
    yield ((x0 + x1) / 2, (y0 + y1) / 2)
    if s.sort == "block":
        for share in (0.2, 0.8):
            if x1 - x0 > 3 * (y1 - y0):
                yield (x0 + share * (x1 - x0), (y0 + y1) / 2)
            elif y1 - y0 > 3 * (x1 - x0):
                yield ((x0 + x1) / 2, y0 + share * (y1 - y0))
