"""What stands on a part's face besides its sizes: its letter with the number wanted, the arrow of its grain.

In: what is seen of the part, where it lies on paper, what is taken. Out: marks on a pen where the face is empty, or beside it. It must
not know sizes or scales.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from compiler.draw.balloon_slots import RADIUS
from compiler.draw.dimensions import Room
from compiler.draw.lettering import LARGE, SMALL, letter, text_width
from compiler.draw.paint import Placing
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect, grown, meets, normal
from compiler.draw.views import Seen
from compiler.values.figure import Point
from compiler.values.model import Part

GRAIN = 20.0
"""The most that a grain arrow is long (mm)."""


def face_marks(pen: Pen, room: Room, part: Part, seen: Seen, placing: Placing, view: Rect, count: int, ways: Sequence[Rect]) -> None:
    """The grain arrow and the part's letter, where the face is empty."""
    busy = line_boxes(seen, placing)
    busy += [*room.texts, *room.lines, *room.thin, *ways]
    across, up = view[2] - view[0], view[3] - view[1]
    several = text_width(f"×{count}", SMALL) + 1.5 if count > 1 else 0.0
    balloon = _free(view, busy, 2 * RADIUS + several, 2 * RADIUS, (0.5, 0.5))
    if balloon is None:
        balloon = _beside(view, room, 2 * RADIUS + several)
    if balloon is not None:
        x, y = balloon[0] + RADIUS, balloon[1] + RADIUS
        pen.circle((x, y), RADIUS, "leader", "balloon")
        pen.letter(letter((x, y - LARGE / 2), part.letter, size=LARGE, anchor="middle", weight="semibold", role="balloon"))
        if count > 1:
            pen.letter(letter((x + RADIUS + 1.2, y - SMALL / 2), f"×{count}"))
        room.texts.append(balloon)
        busy.append(balloon)
    if part.grain == "any":
        return
    long = min(0.25 * across, GRAIN)
    spot = _free(view, busy, long, 2.4, (0.3, 0.5)) if long >= 4 and up >= 3 else None
    if spot is not None:
        y = (spot[1] + spot[3]) / 2
        pen.lines("grain", grain_arrow((spot[0], y), (spot[2], y)))
        room.texts.append(spot)


def _beside(view: Rect, room: Room, width: float) -> Rect | None:
    """Room for a letter next to a narrow part, where no size stands: to its right or left, else above or below; the nearest place."""
    middle = ((view[0] + view[2] - width) / 2, (view[1] + view[3]) / 2 - RADIUS)
    taken = (*room.texts, *room.lines, *room.thin)
    for off in (5.0, 10.0, 16.0, 22.0, 28.0):
        for x, y in ((view[2] + off, middle[1]), (view[0] - off - width, middle[1]), (middle[0], view[3] + off), (middle[0], view[1] - off - 2 * RADIUS)):
            rect = (x, y, x + width, y + 2 * RADIUS)
            if not any(meets(grown(rect, 1.0), other) for other in taken):
                return rect
    return None


def grain_arrow(start: Point, end: Point, barb: float = 1.1) -> list[tuple[Point, ...]]:
    """A line with one half barb at each end, unlike any dimension."""
    (ax, ay), (bx, by) = start, end
    if abs(bx - ax) >= abs(by - ay):
        return [((ax + 2 * barb, ay - barb), (ax, ay), (bx, by), (bx - 2 * barb, by + barb))]
    return [((ax + barb, ay + 2 * barb), (ax, ay), (bx, by), (bx - barb, by - 2 * barb))]


def _free(view: Rect, busy: Sequence[Rect], width: float, height: float, liked: tuple[float, float]) -> Rect | None:
    """A free rectangle in the view, nearest to a liked place."""
    across, up = view[2] - view[0] - width - 1.6, view[3] - view[1] - height - 1.6
    if across < 0 or up < 0:
        return None
    near = [other for other in map(normal, busy) if meets(view, other)]
    spots = sorted(((i / 20, j / 10) for i in range(21) for j in range(11)), key=lambda spot: abs(spot[0] - liked[0]) + abs(spot[1] - liked[1]))
    for share, higher in spots:
        x, y = view[0] + 0.8 + across * share, view[1] + 0.8 + up * higher
        room = (x - 0.8, y - 0.8, x + width + 0.8, y + height + 0.8)
        if not any(room[0] < o[2] + 1e-9 and o[0] < room[2] + 1e-9 and room[1] < o[3] + 1e-9 and o[1] < room[3] + 1e-9 for o in near):
            return x, y, x + width, y + height
    return None


def line_boxes(seen: Seen, placing: Placing) -> list[Rect]:
    """The boxes of a view's lines on paper, piece by piece."""
    found: list[Rect] = []
    for line in seen.lines:
        for (ax, ay), (bx, by) in pairwise(placing.point(p) for p in line.points):
            found.append((min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)))
    return found
