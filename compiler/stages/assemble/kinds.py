"""Equal parts are one kind: one row, one letter. A mirror pair is one kind with hands.

In: parts with their features and the names they are written under. Out: rows of equal parts, and kinds of rows with letters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

from compiler.values.model import AXES, Kind, Part
from compiler.values.shapes import AXIS_NAMES, Block, Bore, Feature, Prism, Shape

Point = tuple[float, float, float]
Signs = tuple[int, int, int]
Signature = tuple[object, ...]
TURNS: tuple[Signs, ...] = tuple((x, y, z) for x, y, z in product((1, -1), repeat=3) if x * y * z == 1)
MIRRORS: tuple[Signs, ...] = tuple((x, y, z) for x, y, z in product((1, -1), repeat=3) if x * y * z == -1)

Hand = Literal["", "left", "right", "front", "back"]
HANDS: tuple[Hand, ...] = ("left", "right", "front", "back")


@dataclass(frozen=True, slots=True)
class Row:
    """Parts that are equal, before they have a letter. `images` are those that are mirror images of the first."""

    base: str
    name: str
    parts: tuple[Part, ...]
    images: tuple[str, ...] = ()

    def hand(self, part: Part) -> Hand:
        """Which hand a part is: nothing unless the row is a mirror pair; named by its place, else first and image."""
        if not self.images:
            return ""
        return part.hand or ("right" if part.name in self.images else "left")


def rows_of(parts: Sequence[tuple[Part, str]]) -> tuple[Row, ...]:
    """Rows of equal parts among those written under one name, in the order of their first part."""
    by_base: dict[str, list[Part]] = {}
    for part, base in parts:
        by_base.setdefault(base, []).append(part)
    rows: list[Row] = []
    for base, members in by_base.items():
        groups = _equal(members)
        for group, images in groups:
            rows.append(Row(base, base, tuple(group), tuple(images)))
        if len(groups) > 1:
            rows[-len(groups):] = _named_apart(base, rows[-len(groups):])
    order = {part.name: number for number, (part, _) in enumerate(parts)}
    return tuple(sorted(rows, key=lambda row: order[row.parts[0].name]))


def _equal(members: Sequence[Part]) -> list[tuple[list[Part], list[str]]]:
    """Parts grouped by what they are, with the names of those that are only mirror images of the first."""
    groups: list[tuple[list[Part], list[str]]] = []
    for part in members:
        mine = signature(part, (1, 1, 1))
        for group, images in groups:
            if any(signature(group[0], signs) == mine for signs in TURNS):
                group.append(part)
                break
            if any(signature(group[0], signs) == mine for signs in MIRRORS):
                group.append(part)
                images.append(part.name)
                break
        else:
            groups.append(([part], []))
    return groups


def signature(part: Part, signs: Signs) -> Signature:
    """What a part is, wherever it stands, seen turned or mirrored about its own middle."""
    middle = [float(part.box.span(axis).start + part.box.span(axis).end) / 2 for axis in AXES]
    features = sorted(_writing(feature, middle, signs) for feature in part.features)
    return (part.stock.key, part.length, part.width, part.thickness, tuple(part.box.span(axis).size for axis in AXES), part.grain,
            part.strips, tuple(tape for _, tape in part.band), tuple(features))


def _writing(feature: Feature, middle: Sequence[float], signs: Signs) -> tuple[str, str, str, tuple[Point, ...], tuple[float, ...]]:
    points, sizes = marks(feature.shape)
    frame, origin = feature.frame, tuple(map(float, feature.frame.origin))
    seen: list[Point] = []
    for along, across, into in points:
        x, y, z = (round((origin[i] + along * frame.along[i] + across * frame.across[i] + into * frame.into[i] - middle[i]) * signs[i], 4) + 0.0
                   for i in range(3))
        seen.append((x, y, z))
    return feature.op, feature.called, type(feature.shape).__name__, tuple(sorted(seen)), sizes


def marks(shape: Shape) -> tuple[list[Point], tuple[float, ...]]:
    """Points that fix a shape in its frame, and its radii."""
    match shape:
        case Block():
            return block_corners(shape), ()
        case Bore():
            rest = [name for name in AXIS_NAMES if name != shape.toward]
            ends: list[Point] = []
            for place in shape.span:
                at = {shape.toward: float(place), rest[0]: float(shape.at[0]), rest[1]: float(shape.at[1])}
                ends.append((at["along"], at["across"], at["into"]))
            return ends, (float(shape.diameter), float(shape.end_diameter or shape.diameter))
        case Prism():
            points = [(float(point.x), float(point.y), float(place)) for place in shape.span for point in shape.outline]
            return points, tuple(sorted(float(point.radius) for point in shape.outline if point.radius is not None))


def block_corners(block: Block) -> list[Point]:
    """The eight corners of a block in its frame, flare included."""
    spans = [tuple(map(float, block.span(name))) for name in AXIS_NAMES]
    if block.toward is None:
        return list(product(*spans))  # type: ignore[arg-type]  # three pairs of numbers
    rest = [axis for axis in AXIS_NAMES if axis != block.toward]
    wider = {name: (-float(block.flare[number].low), float(block.flare[number].high)) for number, name in enumerate(rest)}
    far = AXIS_NAMES.index(block.toward)
    corners: list[Point] = []
    for ends in product((0, 1), repeat=3):
        at = [spans[number][end] + (wider[name][end] if name in wider and ends[far] else 0.0)
              for number, (name, end) in enumerate(zip(AXIS_NAMES, ends, strict=True))]
        corners.append((at[0], at[1], at[2]))
    return corners


def _named_apart(base: str, rows: list[Row]) -> list[Row]:
    """Names for rows that share a base: the words that all names of a row have, as far as they tell it apart."""
    component = rows[0].parts[0].component
    inner = base.removeprefix(f"{component} ") if component else base
    prefix = f"{component} " if inner != base else ""
    names = [prefix + _common_words([part.name.rpartition(".")[2] for part in row.parts], inner) for row in rows]
    if len(set(names)) < len(names):
        names = [row.parts[0].name if names.count(name) > 1 else name for name, row in zip(names, rows, strict=True)]
    return [Row(row.base, name, row.parts, row.images) for name, row in zip(names, rows, strict=True)]


def _common_words(names: Sequence[str], base: str) -> str:
    """`front left leg`, `front right leg` → `front leg`; nothing in common → the base."""
    first = names[0].split()
    kept = [word for word in first if all(word in name.split() for name in names)]
    last = base.split(" ")[-1]
    return " ".join(kept) if last in kept else base


def kinds_of(rows: Sequence[tuple[Row, str]]) -> tuple[Kind, ...]:
    """The kinds, hands counted where a row is a mirror pair."""
    kinds: list[Kind] = []
    for row, letter in rows:
        named = [row.hand(part) for part in row.parts]
        hands = tuple((hand, named.count(hand)) for hand in HANDS if hand in named)
        kinds.append(Kind(letter=letter, name=row.name, parts=tuple(part.name for part in row.parts), hands=hands))
    return tuple(kinds)
