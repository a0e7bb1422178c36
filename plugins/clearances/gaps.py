"""Model → the free room beside a drawer or a door, on each side, up to what it would touch first.

In: boxes of parts as written. Out: gaps by side. Tilted parts don't count as neighbours.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from compiler.api import Length, Part

Side = Literal["left", "right", "bottom", "top"]
SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")


def gaps(moving: Sequence[Part], others: Iterable[Part]) -> dict[Side, tuple[Length, str]]:
    """The least room beside each of the moving parts with the neighbour's name; a side with nothing beside it is left out.

    A neighbour is a part that shares some of the two other extents. Overlapping parts give a negative gap.
    """
    found: dict[Side, tuple[Length, str]] = {}
    for other in others:
        if not other.pose.square:
            continue
        for part in moving:
            for side, gap in _beside(part, other):
                if side not in found or gap < found[side][0]:
                    found[side] = (gap, other.name)
    return found


def _beside(part: Part, other: Part) -> Iterable[tuple[Side, Length]]:
    mine, theirs = part.box, other.box
    if mine.deep.start >= theirs.deep.end or theirs.deep.start >= mine.deep.end:
        return
    if mine.up.start < theirs.up.end and theirs.up.start < mine.up.end:
        left, right = mine.across.start - theirs.across.end, theirs.across.start - mine.across.end
        yield ("left", left) if left > right else ("right", right)
    if mine.across.start < theirs.across.end and theirs.across.start < mine.across.end:
        below, above = mine.up.start - theirs.up.end, theirs.up.start - mine.up.end
        yield ("bottom", below) if below > above else ("top", above)


