"""Spots in a bin become a tree of edge-to-edge cuts, with as few cuts and as large an offcut as the spots allow.

In: where the blocks lie, the bin's size and the kerf. Out: `Leaf` and `Split`, sizes only: the blocks are then pushed
together, so that each piece of stock has its waste at one end, and waste is what a piece has more than its children need.
The tree is found by dynamic programming over the sets of blocks that cuts can separate, up to a limit of work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .job import Way
from .packing import Spot

_MOST_STATES = 3000

CUT = 1_000_000
"""What a cut weighs in a score."""

_OFFCUT = 12 * CUT
"""What one offcut as big as the bin would be worth; smaller ones by the square of their share, so one beats two halves."""

SHARES = 16
"""Offcuts are told apart by sixteenths of the largest bin: less is not worth a cut."""

_SAWN = 1000
"""What a cut as long as the bin weighs: of two ways with as many cuts, the one with less sawing."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A block at its own size."""

    block: int
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Split:
    """Children one after another in `way`, a kerf between them. One child alone: a cut takes the waste beside it off.

    `fixed` keeps them in this order; otherwise any order is as good.
    """

    way: Way
    children: tuple[Tree, ...]
    length: int
    width: int
    fixed: bool = False


type Tree = Leaf | Split


def split(way: Way, children: Sequence[Tree], kerf: int, *, fixed: bool = False) -> Split:
    """The children together, at the least size that holds them; same-way children dissolve in it unless their order is fixed."""
    flat: list[Tree] = []
    for child in children:
        loose = isinstance(child, Split) and child.way == way and not child.fixed and not fixed
        flat.extend(child.children if loose and isinstance(child, Split) else (child,))
    gaps = kerf * (len(flat) - 1)
    lengths, widths = [child.length for child in flat], [child.width for child in flat]
    if way is Way.ALONG:
        return Split(way, tuple(flat), sum(lengths) + gaps, max(widths), fixed)
    return Split(way, tuple(flat), max(lengths), sum(widths) + gaps, fixed)


def saw_tree(spots: Sequence[Spot], length: int, width: int, kerf: int) -> Tree:
    """The tree that saws the spots out of a bin of this size. Raises ValueError where no edge-to-edge cut separates them."""
    return _Search(spots, length, width, kerf).tree()


def score(tree: Tree, length: int, width: int, kerf: int, keep: tuple[int, int] | None = None) -> tuple[int, int, int]:
    """(cuts, largest rectangle of waste, sum of the squares of the wastes) of a tree in a bin of this size.

    Waste that is smaller than `keep` counts for nothing but its cuts.
    """
    if isinstance(tree, Leaf):
        wastes = _trimmings(tree, length, width, kerf)
        areas = [_worth(*waste, keep) for waste in wastes]
        return (len(wastes), max(areas, default=0), sum(area * area for area in areas))
    along = tree.way is Way.ALONG
    left = length - tree.length if along else width - tree.width
    cuts, largest, squares = len(tree.children) - 1, 0, 0
    if left > 0:
        largest = _worth(left - kerf, width if along else length, keep)
        cuts, squares = cuts + 1, largest * largest
    for child in tree.children:
        inner = (child.length, width) if along else (length, child.width)
        more = score(child, *inner, kerf, keep)
        cuts, largest, squares = cuts + more[0], max(largest, more[1]), squares + more[2]
    return (cuts, largest, squares)


def _worth(one: int, other: int, keep: tuple[int, int] | None) -> int:
    if min(one, other) <= 0 or (keep is not None and (max(one, other) < max(keep) or min(one, other) < min(keep))):
        return 0
    return one * other


def _trimmings(leaf: Leaf, length: int, width: int, kerf: int) -> list[tuple[int, int]]:
    """The strips that come off a block's piece of stock, the larger one kept whole."""
    over, above = length - leaf.length, width - leaf.width
    if over > 0 and above > 0:
        if over * width >= above * length:
            return [(over - kerf, width), (above - kerf, leaf.length)]
        return [(above - kerf, length), (over - kerf, leaf.width)]
    if over > 0:
        return [(over - kerf, width)]
    return [(above - kerf, length)] if above > 0 else []


def settings(tree: Tree, length: int, width: int) -> int:
    """How many fence settings a tree takes when it is sawn round by round, in a bin of this size."""
    found: set[tuple[int, Way, int]] = set()
    _note_settings(tree, length, width, 0, found)
    return len(found)


def canonical(tree: Tree) -> Tree:
    """The same tree with its children in one order, so that two trees that saw the same are equal."""
    if isinstance(tree, Leaf):
        return tree
    children = tuple(canonical(child) for child in tree.children)
    if not tree.fixed:
        children = tuple(sorted(children, key=repr))
    return Split(tree.way, children, tree.length, tree.width, tree.fixed)


def leaves(tree: Tree) -> tuple[Leaf, ...]:
    """The leaves in the order of the tree."""
    if isinstance(tree, Leaf):
        return (tree,)
    return tuple(leaf for child in tree.children for leaf in leaves(child))


def _note_settings(tree: Tree, length: int, width: int, level: int, found: set[tuple[int, Way, int]]) -> None:
    if isinstance(tree, Leaf):
        if length > tree.length:
            found.add((level, Way.ALONG, tree.length))
        if width > tree.width:
            found.add((level + 1, Way.ACROSS, tree.width))
        return
    along = tree.way is Way.ALONG
    left = length - tree.length if along else width - tree.width
    sizes = sorted((child.length if along else child.width for child in tree.children), reverse=True)
    found.update((level, tree.way, size) for size in (sizes if left > 0 else sizes[:-1]))
    for child in tree.children:
        inner = (child.length, width) if along else (length, child.width)
        _note_settings(child, *inner, level + 1, found)


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
        self._known: dict[tuple[int, int, int], tuple[int, tuple[Way, int] | None]] = {}
        self._extents: dict[int, tuple[int, int]] = {}

    def tree(self) -> Tree:
        return self._build((1 << len(self._spots)) - 1, *self._size)

    def _build(self, members: int, length: int, width: int) -> Tree:
        _, choice = self._best(members, length, width)
        if choice is None:
            spot = self._spots[members.bit_length() - 1]
            return Leaf(spot.block, spot.length, spot.width)
        way, first = choice
        rest = members & ~first
        parts = [self._build(*piece) for piece in self._pieces(way, first, rest, length, width)]
        return split(way, parts, self._kerf)

    def _best(self, members: int, length: int, width: int) -> tuple[int, tuple[Way, int] | None]:
        """The score and the choice: which way, and which spots come off first (all of them: a strip of waste goes)."""
        key = (members, length, width)
        known = self._known.get(key)
        if known is not None:
            return known
        extent = self._extent(members)
        if members & (members - 1) == 0 and extent == (length, width):
            self._known[key] = (0, None)
            return self._known[key]
        best: tuple[int, tuple[Way, int] | None] | None = None
        for way, first in self._choices(members, extent, length, width):
            rest = members & ~first
            total = self._cost(way, first, rest, length, width)
            for piece in self._pieces(way, first, rest, length, width):
                total += self._best(*piece)[0]
                if best is not None and total - _OFFCUT >= best[0]:
                    break
            else:
                if best is None or total < best[0]:
                    best = (total, (way, first))
        if best is None:
            raise ValueError("no edge-to-edge cut separates these spots")
        self._known[key] = best
        return best

    def _choices(
        self, members: int, extent: tuple[int, int], length: int, width: int
    ) -> list[tuple[Way, int]]:
        choices: list[tuple[Way, int]] = []
        for way, spare in ((Way.ALONG, length - extent[0]), (Way.ACROSS, width - extent[1])):
            if spare > 0:
                choices.append((way, members))
        for way in (Way.ALONG, Way.ACROSS):
            for first in self._separable(members, way):
                choices.append((way, first))
                choices.append((way, members & ~first))
        if len(self._known) > _MOST_STATES:
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
        cost = CUT + _SAWN * breadth // self._edge
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
