"""Whether a group of boxes can reach its place among others: straight, or tilted through an opening and laid flat inside.

In: boxes of parts, as written. Out: a yes or no. Boxes are larger than parts with cut-outs and know nothing of tongues, so that it may
doubt what can be done, and is asked only of what is joined to nothing. Tilting: a flat thing L long and t thick passes an opening W wide and H high
at an angle a when L cos a + t sin a <= W and L sin a + t cos a <= H, and lies down inside when its diagonal is shorter than the room there (geometry).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import Part

FINE = 100_000
STEPS = 64
Place = tuple[int, int]


@dataclass(frozen=True)
class Solid:
    """A box in whole hundred-thousandths of an inch, quick to compare: start and end across, deep, up."""

    spans: tuple[Place, Place, Place]


def solid(part: Part) -> Solid:
    """The box of a part."""
    box = part.box
    across, deep, up = ((round(span.start.inches * FINE), round(span.end.inches * FINE)) for span in (box.across, box.deep, box.up))
    return Solid((across, deep, up))


def straight(group: Sequence[Solid], others: Sequence[Solid]) -> bool:
    """True when the whole group can come in along one of the six directions."""
    return any(not _in_the_way(group, others, axis, sign) for axis in (1, 2, 0) for sign in (-1, 1))


def _in_the_way(group: Sequence[Solid], others: Sequence[Solid], axis: int, sign: int) -> bool:
    first, second = (number for number in range(3) if number != axis)
    for one in group:
        for other in others:
            beyond = other.spans[axis][1] > one.spans[axis][0] if sign > 0 else other.spans[axis][0] < one.spans[axis][1]
            behind = other.spans[axis][1] <= one.spans[axis][0] if sign > 0 else other.spans[axis][0] >= one.spans[axis][1]
            if beyond and not behind and _over(one, other, first) and _over(one, other, second):
                return True
    return False


def _over(one: Solid, other: Solid, axis: int) -> bool:
    return one.spans[axis][0] < other.spans[axis][1] and other.spans[axis][0] < one.spans[axis][1]


def tilted(group: Sequence[Solid], others: Sequence[Solid]) -> bool:
    """True when the group, taken as one flat box, goes in from the front or the back with one end first raised."""
    box = Solid((_around(group, 0), _around(group, 1), _around(group, 2)))
    inside = [other for other in others if _over(box, other, 1)]
    for sign in (-1, 1):
        way = [other for other in others if (other.spans[1][0] < box.spans[1][1] if sign < 0 else other.spans[1][1] > box.spans[1][0])]
        wide, high = _gap(box, way, 0), _gap(box, way, 2)
        room = _gap(box, inside, 0)
        long, thick = _size(box, 0), _size(box, 2)
        if (room is None or long**2 + thick**2 <= room**2) and _passes(long, thick, wide, high):
            return True
    return False


def _passes(long: int, thick: int, wide: int | None, high: int | None) -> bool:
    """At some angle between flat and upright; p is the tangent of half of it, so that sine and cosine are exact."""
    for number in range(STEPS + 1):
        p = Fraction(number, STEPS)
        cosine, sine = (1 - p * p) / (1 + p * p), 2 * p / (1 + p * p)
        if (wide is None or long * cosine + thick * sine <= wide) and (high is None or long * sine + thick * cosine <= high):
            return True
    return False


def _around(group: Sequence[Solid], axis: int) -> Place:
    return min(one.spans[axis][0] for one in group), max(one.spans[axis][1] for one in group)


def _size(box: Solid, axis: int) -> int:
    return box.spans[axis][1] - box.spans[axis][0]


def _gap(box: Solid, others: Sequence[Solid], axis: int) -> int | None:
    """The free width through the middle of the box; nothing when something stands there, None when nothing bounds it on one side."""
    side = 2 if axis == 0 else 0
    middle, level = (sum(box.spans[number]) // 2 for number in (axis, side))
    near = [other.spans[axis] for other in others if other.spans[side][0] < level < other.spans[side][1]]
    if any(start < middle < end for start, end in near):
        return 0
    low = [end for start, end in near if end <= middle]
    high = [start for start, end in near if start >= middle]
    return min(high) - max(low) if low and high else None
