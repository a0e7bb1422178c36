"""Spots in a bin become a tree of edge-to-edge cuts, with as few cuts and as large an offcut as the spots allow.

In: where the blocks lie, the bin's size and the kerf. Out: a tree. It is found by dynamic programming over the sets of blocks that cuts
can separate, up to a limit of work; sets that lie alike are worked out once.
"""

from __future__ import annotations

from collections.abc import Sequence

from .job import Way
from .packing import Spot
from .tree import Leaf, Tree, split

_MOST_STATES = 3000

_CUT = 1_000_000
"""What a cut weighs in a score."""

_OFFCUT = 12 * _CUT
"""What one offcut as big as the bin would be worth; smaller ones by the square of their share, so one beats two halves."""

_SAWN = 1000
"""What a cut as long as the bin weighs: of two ways with as many cuts, the one with less sawing."""


def saw_tree(spots: Sequence[Spot], length: int, width: int, kerf: int) -> Tree:
    """The tree that saws the spots out of a bin of this size. Raises ValueError where no edge-to-edge cut separates them."""
    return _Search(spots, length, width, kerf).tree()


class _Search:
    """Best trees of sets of spots (as bit masks) in pieces of stock of some size, each found once."""

    def __init__(self, spots: Sequence[Spot], length: int, width: int, kerf: int) -> None:
        self._spots = tuple(spots)
        self._size = (length, width)
        self._kerf = kerf
        self._whole = length * width
        self._edge = length + width
        order = range(len(self._spots))
        self._by_x = sorted(order, key=lambda at: (self._spots[at].x, at))
        self._by_y = sorted(order, key=lambda at: (self._spots[at].y, at))
        self._scores: dict[tuple[int, int, int], int] = {}
        self._alike: dict[int, int] = {}
        self._forms: dict[tuple[tuple[int, int, int, int], ...], int] = {}
        self._extents: dict[int, tuple[int, int]] = {}

    def tree(self) -> Tree:
        return self._build((1 << len(self._spots)) - 1, *self._size)

    def _build(self, members: int, length: int, width: int) -> Tree:
        choice = self._best(members, length, width)[1]
        if choice is None:
            spot = self._spots[members.bit_length() - 1]
            return Leaf(spot.block, spot.length, spot.width)
        way, first = choice
        rest = members & ~first
        parts = [self._build(*piece) for piece in self._pieces(way, first, rest, length, width)]
        return split(way, parts, self._kerf)

    def _score(self, members: int, length: int, width: int) -> int:
        """The best score of these spots, or of others that lie alike in such a piece."""
        key = (self._likeness(members), length, width)
        known = self._scores.get(key)
        if known is None:
            known = self._scores[key] = self._best(members, length, width)[0]
        return known

    def _best(self, members: int, length: int, width: int) -> tuple[int, tuple[Way, int] | None]:
        """The score and the choice: which way, and which spots come off first (all of them: a strip of waste goes)."""
        extent = self._extent(members)
        if members & (members - 1) == 0 and extent == (length, width):
            return (0, None)
        best: tuple[int, tuple[Way, int] | None] | None = None
        for way, first in self._choices(members, extent, length, width):
            rest = members & ~first
            total = self._cost(way, first, rest, length, width)
            for piece in self._pieces(way, first, rest, length, width):
                total += self._score(*piece)
                if best is not None and total - _OFFCUT >= best[0]:
                    break
            else:
                if best is None or total < best[0]:
                    best = (total, (way, first))
        if best is None:
            raise ValueError("no edge-to-edge cut separates these spots")
        return best

    def _likeness(self, members: int) -> int:
        """A number that sets of spots share when they are equal but for where they lie."""
        known = self._alike.get(members)
        if known is None:
            spots = [self._spots[at] for at in self._by_x if members >> at & 1]
            x, y = min(spot.x for spot in spots), min(spot.y for spot in spots)
            form = tuple(sorted((spot.x - x, spot.y - y, spot.length, spot.width) for spot in spots))
            known = self._alike[members] = self._forms.setdefault(form, len(self._forms))
        return known

    def _choices(
        self, members: int, extent: tuple[int, int], length: int, width: int
    ) -> list[tuple[Way, int]]:
        choices: list[tuple[Way, int]] = []
        for way, spare in ((Way.ALONG, length - extent[0]), (Way.ACROSS, width - extent[1])):
            if spare > 0:
                choices.append((way, members))
        for way in (Way.ALONG, Way.ACROSS):
            spare = length - extent[0] if way is Way.ALONG else width - extent[1]
            for first in self._separable(members, way):
                choices.append((way, first))
                rest = members & ~first
                if spare > 0 or self._gap(way, first, rest, extent) > self._kerf:  # else either comes off at the size that it needs
                    choices.append((way, rest))
        if len(self._scores) > _MOST_STATES:
            whole = [choice for choice in choices if choice[1] != members]
            return choices[:1] if not whole else whole[:1]
        return choices

    def _separable(self, members: int, way: Way) -> list[int]:
        """The sets that a cut across `way` can part from the others, low side first."""
        order = self._by_x if way is Way.ALONG else self._by_y
        found, taken, reach = [], 0, -self._kerf
        for at in order:
            if not members >> at & 1:
                continue
            spot = self._spots[at]
            low, size = (spot.x, spot.length) if way is Way.ALONG else (spot.y, spot.width)
            if taken and low >= reach + self._kerf:
                found.append(taken)
            taken, reach = taken | 1 << at, max(reach, low + size)
        return found

    def _gap(self, way: Way, first: int, rest: int, extent: tuple[int, int]) -> int:
        """What lies between the two sets."""
        one, other = self._extent(first), self._extent(rest)
        return extent[0] - one[0] - other[0] if way is Way.ALONG else extent[1] - one[1] - other[1]

    def _pieces(
        self, way: Way, first: int, rest: int, length: int, width: int
    ) -> tuple[tuple[int, int, int], ...]:
        """The two pieces of stock after the cut: the first set's at its least size, the others' with what is left."""
        need = self._extent(first)
        if way is Way.ALONG:
            pieces = ((first, need[0], width), (rest, length - need[0] - self._kerf, width))
        else:
            pieces = ((first, length, need[1]), (rest, length, width - need[1] - self._kerf))
        return pieces if rest else pieces[:1]

    def _cost(self, way: Way, first: int, rest: int, length: int, width: int) -> int:
        """One cut, its length, less the worth of the waste where waste is what comes off."""
        need = self._extent(first)
        spare, breadth = (length - need[0], width) if way is Way.ALONG else (width - need[1], length)
        cost = _CUT + _SAWN * breadth // self._edge
        if not rest:
            waste = max(0, spare - self._kerf) * breadth
            cost -= _OFFCUT * waste * waste // (self._whole * self._whole)
        return cost

    def _extent(self, members: int) -> tuple[int, int]:
        known = self._extents.get(members)
        if known is None:
            spots = [spot for at, spot in enumerate(self._spots) if members >> at & 1]
            known = (
                max(spot.x + spot.length for spot in spots) - min(spot.x for spot in spots),
                max(spot.y + spot.width for spot in spots) - min(spot.y for spot in spots),
            )
            self._extents[members] = known
        return known
