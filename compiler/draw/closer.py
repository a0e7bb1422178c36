"""A closer look: a window round what is small in a picture, the small picture that frames it, pictures one under the other.

In: what is seen, the parts that matter, room on paper. Out: the view cut to its window, marks on a pen, drawings joined. It must not
know steps or notes. Inches on the picture's plane, millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import shapely

from compiler.draw.bounds import Bounds
from compiler.draw.cropping import cropped
from compiler.draw.paint import Placing, area_of, fitted, paint
from compiler.draw.patches import Patch
from compiler.draw.pen import Pen
from compiler.draw.views import Line, Seen
from compiler.values.figure import Drawing

GAIN, MOST = 1.8, 2.5
"""Parts that would be drawn so much larger are looked at closer, and at most so much larger."""
FILL = 0.75
LARGE = 16.0
"""What is drawn so large (mm) already is looked at from afar: the whole piece tells where it belongs."""
KEY = 17.0
BETWEEN = 3.0


def window_of(seen: Seen, names: Collection[str], room: Bounds) -> Bounds | None:
    """The window round the parts named, in the shape of the room; None where the whole picture shows them nearly as large."""
    whole = seen.bounds
    boxes = [shapely.MultiPoint([p for ring in region.rings for p in ring]).bounds for region in seen.regions if region.part in names]
    if whole is None or not boxes:
        return None
    own = (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))
    scale = fitted(whole, room).scale
    gain = FILL * fitted(own, room).scale / scale
    if gain < GAIN or max(own[2] - own[0], own[3] - own[1]) * scale > LARGE:
        return None
    larger = scale * min(gain, MOST)
    sizes = ((room[2] - room[0]) / larger, (room[3] - room[1]) / larger)
    low = []
    for i in (0, 1):
        # No wider than the piece, and within it.
        size = min(sizes[i], whole[i + 2] - whole[i])
        low.append((min(max((own[i] + own[i + 2] - size) / 2, whole[i]), whole[i + 2] - size), size))
    return low[0][0], low[1][0], low[0][0] + low[0][1], low[1][0] + low[1][1]


def within(seen: Seen, window: Bounds) -> Seen:
    """What is seen in a window: lines and areas cut off at its edges."""
    frame = shapely.box(*window)

    def lines(every: tuple[Line, ...]) -> tuple[Line, ...]:
        found = []
        for line in every:
            inside = shapely.LineString(line.points).intersection(frame)
            found += [replace(line, points=tuple(piece.coords)) for piece in getattr(inside, "geoms", (inside,)) if piece.geom_type == "LineString"
                      and not piece.is_empty]
        return tuple(found)

    def areas(every: tuple[Patch, ...]) -> tuple[Patch, ...]:
        found = []
        for patch in every:
            inside = area_of(patch, Placing(1.0)).intersection(frame)
            polygons = [piece for piece in getattr(inside, "geoms", (inside,)) if piece.geom_type == "Polygon" and not piece.is_empty]
            rings = tuple(tuple(ring.coords) for piece in polygons for ring in (piece.exterior, *piece.interiors))
            if rings:
                found.append(replace(patch, rings=rings, area=inside.area))
        return tuple(found)

    threads = []
    for number, start, end in seen.threads:
        inside = shapely.LineString((start, end)).intersection(frame)
        if inside.geom_type == "LineString" and not inside.is_empty:
            (ax, ay), (bx, by) = inside.coords
            threads.append((number, (ax, ay), (bx, by)))
    return replace(seen, lines=lines(seen.lines), hidden=lines(seen.hidden), fills=areas(seen.fills), regions=areas(seen.regions),
                   threads=tuple(threads))


def key_of(seen: Seen, window: Bounds, width: float, says: str = "") -> Drawing:
    """The whole picture small, the window framed in it."""
    assert seen.bounds is not None
    placing = fitted(seen.bounds, (1.0, 1.0, width - 1.0, KEY - 1.0))
    pen = Pen()
    paint(pen, seen, placing, "small")
    (left, low), (right, high) = placing.point(window[:2]), placing.point(window[2:])
    pen.line("leader", (left, low), (right, low), (right, high), (left, high), (left, low))
    return pen.drawing(width, KEY, says)


def one_under_other(upper: Drawing, lower: Drawing) -> Drawing:
    """Two drawings as one, each in the middle of the width."""
    above, below = cropped(upper), cropped(lower)
    pen = Pen()
    pen.add(below.marks, ((upper.width - below.width) / 2, 0.0))
    pen.add(above.marks, (0.0, below.height + BETWEEN))
    letters = tuple(dict.fromkeys((*upper.letters, *lower.letters)))
    return pen.drawing(upper.width, above.height + BETWEEN + below.height, upper.says, letters=letters, shows=upper.shows)
