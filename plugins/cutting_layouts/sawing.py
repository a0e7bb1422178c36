"""A tree of cuts becomes places on the raw stock and numbered cuts in an order that a person can saw.

In: a tree whose leaves are named, the stock with its trims, the kerf, the bench. Out: the `Node` tree with a box for every
piece of stock, the cuts in order and the offcuts. Knows nothing of how the tree was found.

The order: the factory edges first; then, while the piece in hand is too big for the table, the cuts with a hand-guided
saw; then the table. Each of these goes round by round: a round saws all pieces that the round before freed, so that the
long full-length cuts come first, and in a round all cuts of one fence setting stand together, the largest setting first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from .job import Bench, Stock, Way
from .layout import Box, Care, Cut, Is, Node, Offcut
from .tree import Leaf, Split, Tree


@dataclass(frozen=True, slots=True)
class Label:
    """What a leaf is: the piece's id, and whether it lies turned."""

    piece: str
    turned: bool = False


def place(tree: Tree, labels: Sequence[Label], stock: Stock, kerf: int, bench: Bench) -> Node:
    """The tree on the stock, inside its trims. A leaf's number is the number of its label."""
    usable = Box(stock.trims.left, stock.trims.bottom, stock.usable_length, stock.usable_width)
    return _placed(tree, labels, usable, kerf, bench)


def saw(tree: Node, stock: Stock, kerf: int, bench: Bench) -> tuple[Cut, ...]:
    """All cuts, numbered from 1."""
    cuts = [*_trim_cuts(stock, kerf, bench)]
    rounds = _rounds(tree)
    at = {id(node): 0 for nodes in rounds for node in nodes}
    for by_hand in (True, False):
        for nodes in rounds:
            steps = _one_round(nodes, at, kerf, bench, by_hand, cuts[-1] if cuts else None)
            cuts.extend(steps)
    return tuple(replace(cut, number=number) for number, cut in enumerate(cuts, 1))


def offcuts(tree: Node) -> tuple[Offcut, ...]:
    """What is left, largest first."""
    found = [Offcut(box=node.box, keep=node.kind is Is.OFFCUT) for node in _leaves(tree) if node.kind in (Is.OFFCUT, Is.WASTE)]
    return tuple(sorted(found, key=lambda one: (-one.box.area, one.box)))


def _leaves(node: Node) -> list[Node]:
    if not node.children:
        return [node]
    return [leaf for child in node.children for leaf in _leaves(child)]


def _placed(tree: Tree, labels: Sequence[Label], box: Box, kerf: int, bench: Bench) -> Node:
    """The tree in a piece of stock that may be bigger than it."""
    if isinstance(tree, Leaf):
        if (box.length, box.width) != (tree.length, tree.width):
            return _placed(_trimmed(tree, box), labels, box, kerf, bench)
        label = labels[tree.block]
        return Node(box=box, kind=Is.PART, piece=label.piece, turned=label.turned)
    if len(tree.children) == 1 and _extent(tree, tree.way) == _room(box, tree.way):
        return _placed(tree.children[0], labels, box, kerf, bench)
    groups = _groups(_ordered(tree, labels), tree, box, kerf, bench)
    at, children = 0, []
    for group in groups:
        size = _extent(group, tree.way)
        children.append(_placed(group, labels, _slice(box, tree.way, at, size), kerf, bench))
        at += size + kerf
    left = _room(box, tree.way) - at
    if left > 0:
        rest = _slice(box, tree.way, at, left)
        children.append(Node(box=rest, kind=Is.OFFCUT if rest.holds(bench.keep) else Is.WASTE))
    return Node(box=box, kind=Is.STRIP, way=tree.way, children=tuple(children))


def _trimmed(leaf: Leaf, box: Box) -> Split:
    """The cuts that bring a piece of stock to its leaf, the larger strip of waste kept whole."""
    over, above = box.length - leaf.length, box.width - leaf.width
    across = Split(Way.ACROSS, (leaf,), leaf.length, leaf.width)
    along = Split(Way.ALONG, (leaf,), leaf.length, leaf.width)
    if over * box.width >= above * box.length:
        return Split(Way.ALONG, (across,), leaf.length, leaf.width) if above else along
    return Split(Way.ACROSS, (along,), leaf.length, leaf.width) if over else across


def _ordered(tree: Split, labels: Sequence[Label]) -> tuple[Tree, ...]:
    """Large before small, equal sizes together, and among equal sizes the same pieces together."""
    if tree.fixed:
        return tree.children
    other = Way.ACROSS if tree.way is Way.ALONG else Way.ALONG
    return tuple(
        sorted(
            tree.children,
            key=lambda child: (-_extent(child, tree.way), -_extent(child, other), _first_label(child, labels)),
        )
    )


def _first_label(tree: Tree, labels: Sequence[Label]) -> str:
    while isinstance(tree, Split):
        tree = tree.children[0]
    return labels[tree.block].piece


def _groups(children: tuple[Tree, ...], tree: Split, box: Box, kerf: int, bench: Bench) -> tuple[Tree, ...]:
    """The children as the saw frees them: where the piece in hand is too big for the table, as many at a time as the table takes."""
    if bench.table is None or _fits(box, bench.table):
        return children
    groups: list[list[Tree]] = []
    for child in children:
        tried = [*(groups[-1] if groups else []), child]
        size = sum(_extent(one, tree.way) for one in tried) + kerf * (len(tried) - 1)
        if groups and _fits(_slice(box, tree.way, 0, size), bench.table):
            groups[-1] = tried
        else:
            groups.append([child])
    if all(len(group) == 1 for group in groups):
        return children
    return tuple(group[0] if len(group) == 1 else _bound_up(tree.way, group, kerf) for group in groups)


def _bound_up(way: Way, group: Sequence[Tree], kerf: int) -> Split:
    """Children that leave the big piece together and are parted on the table."""
    lengths, widths = [one.length for one in group], [one.width for one in group]
    gaps = kerf * (len(group) - 1)
    size = (sum(lengths) + gaps, max(widths)) if way is Way.ALONG else (max(lengths), sum(widths) + gaps)
    return Split(way, tuple(group), *size, fixed=True)


def _trim_cuts(stock: Stock, kerf: int, bench: Bench) -> list[Cut]:
    """The factory edges, a long one first. The fence holds what stays in hand."""
    trims, cuts = stock.trims, []
    hand = Box(0, 0, stock.length, stock.width)
    edges = [("bottom", Way.ACROSS, trims.bottom), ("top", Way.ACROSS, trims.top), ("left", Way.ALONG, trims.left), ("right", Way.ALONG, trims.right)]
    if stock.width > stock.length:
        edges = edges[2:] + edges[:2]
    for edge, way, trim in edges:
        if trim <= 0:
            continue
        kept = _room(hand, way) - trim
        low = edge in ("bottom", "left")
        rest = _slice(hand, way, trim if low else 0, kept)
        freed = _slice(hand, way, 0 if low else kept + kerf, max(0, trim - kerf))
        blade = trim - kerf if low else kept
        cuts.append(_cut(hand, way, kept, blade, freed, Is.TRIM, "", rest, bench))
        hand = rest
    return cuts


def _rounds(tree: Node) -> list[list[Node]]:
    rounds, nodes = [], [tree]
    while nodes:
        nodes = [node for node in nodes if node.children]
        if nodes:
            rounds.append(nodes)
        nodes = [child for node in nodes for child in node.children]
    return rounds


def _one_round(
    nodes: Sequence[Node], at: dict[int, int], kerf: int, bench: Bench, by_hand: bool, before: Cut | None
) -> list[Cut]:
    """The cuts of a round that are made this way, those with the fence as it stands first, then the largest setting."""
    cuts: list[Cut] = []
    last = before
    while True:
        open_cuts = []
        for node in nodes:
            cut = _next_cut(node, at[id(node)], kerf, bench)
            if cut is not None and (cut.by_hand or not by_hand):
                open_cuts.append((node, cut))
        if not open_cuts:
            return cuts
        same = [one for one in open_cuts if last is not None and (one[1].runs, one[1].setting) == (last.runs, last.setting)]
        node, cut = same[0] if same else max(open_cuts, key=lambda one: one[1].setting)
        at[id(node)] += 1
        cuts.append(cut)
        last = cut


def _next_cut(node: Node, step: int, kerf: int, bench: Bench) -> Cut | None:
    """The cut that frees child number `step` of a strip; None when all are free."""
    if step >= len(node.children):
        return None
    child = node.children[step]
    way = node.way
    end = _end(node.box, way)
    start, size = _start(child.box, way), _room(child.box, way)
    left = end - start - size
    if left <= 0:
        return None
    hand = _slice(node.box, way, start - _start(node.box, way), end - start)
    rest = _slice(hand, way, size + kerf, left - kerf) if left > kerf else None
    return _cut(hand, way, size, size, child.box, child.kind, child.piece, rest, bench)


def _cut(
    hand: Box, way: Way, setting: int, blade: int, freed: Box, frees: Is, piece: str, rest: Box | None, bench: Bench
) -> Cut:
    if way is Way.ALONG:
        start, end = (hand.x + blade, hand.y), (hand.x + blade, hand.y + hand.width)
    else:
        start, end = (hand.x, hand.y + blade), (hand.x + hand.length, hand.y + blade)
    return Cut(
        number=0,
        hand=hand,
        runs=Way.ACROSS if way is Way.ALONG else Way.ALONG,
        setting=setting,
        start=start,
        end=end,
        freed=freed,
        frees=frees,
        piece=piece,
        rest=rest,
        by_hand=bench.table is not None and not _fits(hand, bench.table),
        care=_care(hand, freed, frees, bench),
    )


def _care(hand: Box, freed: Box, frees: Is, bench: Bench) -> Care:
    if bench.safe is None:
        return Care.NONE
    if not hand.holds(bench.safe):
        return Care.SMALL_IN_HAND
    if frees in (Is.PART, Is.STRIP) and not freed.holds(bench.safe):
        return Care.SMALL_FREED
    return Care.NONE


def _fits(box: Box, table: tuple[int, int]) -> bool:
    return box.sides[0] <= max(table) and box.sides[1] <= min(table)


def _extent(tree: Tree, way: Way) -> int:
    return tree.length if way is Way.ALONG else tree.width


def _room(box: Box, way: Way) -> int:
    return box.length if way is Way.ALONG else box.width


def _start(box: Box, way: Way) -> int:
    return box.x if way is Way.ALONG else box.y


def _end(box: Box, way: Way) -> int:
    return _start(box, way) + _room(box, way)


def _slice(box: Box, way: Way, at: int, size: int) -> Box:
    if way is Way.ALONG:
        return Box(box.x + at, box.y, size, box.width)
    return Box(box.x, box.y + at, box.length, size)
