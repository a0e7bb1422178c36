"""Trees of edge-to-edge cuts: what they are, and what they cost to saw.

A tree has sizes only: blocks are pushed together, so that each piece of stock has its waste at one end, and waste is what a piece has
more than its children need. In: trees and the size of a bin. Out: cuts, offcuts, fence settings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .job import Way

SHARES = 16
"""Offcuts are told apart by sixteenths of the largest bin: less is not worth a cut."""


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
