"""The ends of a cutting plane, where a view shows it edge-on: strokes beyond the outline, arrows the way the reader looks, letters.

In: the plane's place on paper, the view's box, what is taken. Out: marks on a pen, and the room they take. It must not know what is
cut. ISO 128-3 (cutting planes): thick ends, arrows that point the way of viewing, a capital letter at each; numbers for details.
"""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from compiler.draw.bounds import Bounds
from compiler.draw.lettering import SMALL, letter, text_width
from compiler.draw.pen import Pen
from compiler.values.figure import Point

ARROW = 6.0
TIP = 4.0
OFF = 2.0


def mark(pen: Pen, i: int, place: float, way: float, words: str, box: Bounds, taken: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """Both ends of a plane that stands at `place` on axis `i` (0 across the paper, 1 up) and is looked at along `way` of that axis (±1).

    Each end moves out until it is clear of `taken`. Gives the room of both.
    """
    wide = text_width(words, SMALL, "semibold")
    made: list[BaseGeometry] = []
    for edge, outward in ((box[1 - i], -1.0), (box[3 - i], 1.0)):
        start, stop = edge + outward * OFF, edge + outward * (OFF + ARROW)
        while any(_room(i, place, stop, way, wide).intersects(one) for one in (*taken, *made)):
            stop += outward
        pen.line("cut", _turned(i, place, start), _turned(i, place, stop))
        tip = _turned(i, place + way * TIP, stop)
        pen.line("dimension", _turned(i, place, stop), tip)
        pen.arrow(tip, _turned(i, place, stop))
        pen.letter(letter(_words_at(i, place, stop, way, wide), words, anchor="middle", weight="semibold"))
        made.append(_room(i, place, stop, way, wide))
        made.append(shapely.LineString([_turned(i, place, start), _turned(i, place, stop)]).buffer(0.3))
    return made


def _words_at(i: int, place: float, stop: float, way: float, wide: float) -> Point:
    """Beside an upright cut they stand on the arrow's blunt side; over or under a level one."""
    x, y = _turned(i, place, stop)
    return (x - way * (wide / 2 + 1.2), y - SMALL / 2) if i == 0 else (x, y - way * 1.2 - (SMALL if way > 0 else 0.0))


def _room(i: int, place: float, stop: float, way: float, wide: float) -> shapely.Polygon:
    """The room of an arrow with its words."""
    (x, y), tip, at = _turned(i, place, stop), _turned(i, place + way * TIP, stop), _words_at(i, place, stop, way, wide)
    return shapely.box(min(at[0] - wide / 2, tip[0], x) - 0.5, min(at[1], tip[1], y) - 0.8,
                       max(at[0] + wide / 2, tip[0], x) + 0.5, max(at[1] + SMALL, tip[1], y) + 0.8)


def _turned(i: int, place: float, beyond: float) -> Point:
    return (place, beyond) if i == 0 else (beyond, place)
