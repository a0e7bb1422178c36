"""The exploded view: parts moved apart along their joints, trails between them, letters round them.

In: a model, its solids, which parts, which of them stay together. Out: a Drawing without scale, as pictorial views are, and with
the closed piece small in a free corner. It must not know pages or themes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from math import hypot

import numpy as np
import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from compiler.draw import balloons
from compiler.draw.apart import Apart, as_sawn, come_apart, without_holes
from compiler.draw.balloon_slots import spots_of
from compiler.draw.balloons import Target
from compiler.draw.dismantling import WAYS, Way, offsets
from compiler.draw.paint import Placing, area_of, fitted, paint
from compiler.draw.pen import Pen
from compiler.draw.views import Camera, Seen, look, shares
from compiler.solid.building import Solids
from compiler.solid.contacts import Contact
from compiler.solid.meshes import Floats
from compiler.values.figure import Drawing
from compiler.values.model import Model
from compiler.values.shapes import Vector

GAP = 8.0
GAP_OF_MANY = 6.0
MANY = 60
ROUNDS = 6
TRAIL_FROM = 5.0
SEEN = 0.3
WIDER = 2.5
MOST_TO_JUDGE = 30
MOST_TRIES = 4


def spread(apart: Apart, solids: Solids, camera: Camera, width: float, height: float,
           factors: Mapping[tuple[str, int], float] | None = None, kinds: Mapping[str, str] | None = None) -> tuple[dict[str, Vector], Placing]:
    """Offsets of all parts and the place of the picture in a frame with room for balloons round it.

    `factors` widen the gaps of a kind on an axis; `kinds` tells the kind of a part.
    """
    least = GAP if len(apart.units) <= MANY else GAP_OF_MANY
    edge = room_of(width)
    room = (edge, edge, width - edge, height - edge)
    return spread_with(apart, solids, camera, room, least, 0.6 * min(width, height), factors, kinds)


def unhidden(apart: Apart, solids: Solids, camera: Camera, width: float, height: float,
             kinds: Mapping[str, str]) -> tuple[dict[str, Vector], Placing]:
    """The spread in which most shows: kinds that are hidden for more than 0.7 get wider gaps, where that costs little scale.

    Factors go by kind and direction, never by part: one of six drawers pulled out further looks wrong.
    """
    moves, placing = spread(apart, solids, camera, width, height)
    if not 2 < len(apart.units) <= MOST_TO_JUDGE:
        return moves, placing
    ways = {unit: record.way for record in apart.plan.records for unit in record.units}
    first = placing.scale
    plain = without_holes(solids)
    seen = _unit_shares(apart, plain, camera, moves)
    best = _worth(seen, placing.scale, first)
    factors: dict[tuple[str, int], float] = {}
    hidden = sorted((share, unit) for unit, share in seen.items() if share < SEEN and unit in ways)
    tried: set[tuple[str, int]] = set()
    for _, unit in hidden:
        key = (kinds.get(apart.units[unit][0], apart.units[unit][0]), ways[unit][0])
        if key in tried or len(tried) >= MOST_TRIES:
            continue
        tried.add(key)
        wider = {**factors, key: WIDER}
        tried_moves, tried_placing = spread(apart, solids, camera, width, height, wider, kinds)
        worth = _worth(_unit_shares(apart, plain, camera, tried_moves), tried_placing.scale, first)
        if worth > best + 0.05:
            best, factors, moves, placing = worth, wider, tried_moves, tried_placing
    return moves, placing


def _unit_shares(apart: Apart, solids: Solids, camera: Camera, moves: Mapping[str, Vector]) -> dict[int, float]:
    """Of each unit, how much of the part that shows best is seen."""
    seen = shares(solids, camera, offsets=moves)
    return {index: max(seen.get(name, 0.0) for name in unit) for index, unit in enumerate(apart.units)}


def _worth(seen: Mapping[int, float], scale: float, first: float) -> float:
    """What shows, less what it costs in scale."""
    return sum(min(share, SEEN) / SEEN for share in seen.values()) - 12 * max(0.0, 1 - scale / first)


def room_of(width: float) -> float:
    """Room round a picture for its balloons."""
    return balloons.ROOM if width > 150 else balloons.ROOM_OF_SMALL


def spread_with(apart: Apart, solids: Solids, camera: Camera, room: tuple[float, float, float, float], least: float, first: float,
                factors: Mapping[tuple[str, int], float] | None = None,
                kinds: Mapping[str, str] | None = None) -> tuple[dict[str, Vector], Placing]:
    """The same for any room and gap (mm on paper). Gap and scale depend on each other: some rounds settle them."""
    stretch = {way: max(0.35, hypot(*camera.project(_vector(way)))) for way in WAYS}
    scale = first / max(_size(solids), 1e-6)
    moves: dict[str, Vector] = {}
    placing = Placing(scale)

    def factor(units: tuple[int, ...], way: Way) -> float:
        if not factors or kinds is None:
            return 1.0
        return max(factors.get((kinds.get(name, name), way[0]), 1.0) for unit in units for name in apart.units[unit])

    for _ in range(ROUNDS):
        def gap(way: Way, scale: float = scale) -> float:
            return least / (scale * stretch[way])

        found = offsets(apart.plan, apart.clear, apart.boxes, gap, factor)
        moves = {name: (float(found[i, 0]), float(found[i, 1]), float(found[i, 2])) for i, unit in enumerate(apart.units) for name in unit}
        placing = fitted(_bounds(solids, camera, moves), room)
        if abs(placing.scale - scale) < 0.002 * scale:
            break
        scale = placing.scale
    return moves, placing


def _vector(way: Way) -> Vector:
    values = [0.0, 0.0, 0.0]
    values[way[0]] = float(way[1])
    return values[0], values[1], values[2]


def _size(solids: Solids) -> float:
    low = np.min([solid.low for solid in solids.parts], axis=0)
    high = np.max([solid.high for solid in solids.parts], axis=0)
    return float(np.linalg.norm(high - low))


def _bounds(solids: Solids, camera: Camera, moves: Mapping[str, Vector]) -> tuple[float, float, float, float]:
    geometries = [solid.geometry for solid in solids.parts]
    moved = np.array([moves.get(solid.name, (0.0, 0.0, 0.0)) for solid in solids.parts])
    corners = np.concatenate([geometry.corners for geometry in geometries])
    corners += np.repeat(moved, [len(geometry.corners) for geometry in geometries], axis=0)
    x, y = corners @ np.array(camera.right), corners @ np.array(camera.up)
    return float(x.min()), float(y.min()), float(x.max()), float(y.max())


def trails(apart: Apart, moves: Mapping[str, Vector], scale: float, camera: Camera) -> list[tuple[Vector, Vector]]:
    """Lines along which parts parted, from contact to contact, at most three for a pair."""
    found: list[tuple[Vector, Vector]] = []
    for contact in apart.touching:
        if contact.first not in moves or contact.second not in moves:
            continue
        one, two = np.array(moves[contact.first]), np.array(moves[contact.second])
        away = two - one
        axes = np.flatnonzero(np.abs(away) > 1e-6)
        if len(axes) != 1:
            continue
        on_paper = hypot(*camera.project((float(away[0]), float(away[1]), float(away[2])))) * scale
        if on_paper < TRAIL_FROM:
            continue
        for middle in _middles(contact)[:3]:
            start, end = middle + one, middle + two
            found.append(((float(start[0]), float(start[1]), float(start[2])), (float(end[0]), float(end[1]), float(end[2]))))
    return found


def _middles(contact: Contact) -> list[Floats]:
    """The middles of places of contact, patches within 0.15 in counted as one."""
    boxes = [(np.array(patch.low), np.array(patch.high)) for patch in contact.patches]
    groups: list[tuple[Floats, Floats]] = []
    for low, high in boxes:
        for i, (glow, ghigh) in enumerate(groups):
            if (np.maximum(low, glow) - np.minimum(high, ghigh)).max() <= 0.15:
                groups[i] = (np.minimum(low, glow), np.maximum(high, ghigh))
                break
        else:
            groups.append((low, high))
    return [(low + high) / 2 for low, high in groups]


def areas_of(seen: Seen, placing: Placing) -> dict[str, BaseGeometry]:
    """What is seen of each part, on paper."""
    return {region.part: area_of(region, placing) for region in seen.regions}


def targets(model: Model, areas: Mapping[str, BaseGeometry], names: Collection[str]) -> tuple[list[Target], tuple[str, ...]]:
    """A target for each kind among `names`, in the order of letters; and the letters that can't be shown."""
    found: list[Target] = []
    missing: list[str] = []
    for kind in model.kinds:
        members = [name for name in kind.parts if name in names]
        if not members:
            continue
        pieces = [areas[name] for name in members if name in areas]
        spots = spots_of(pieces)
        if spots is None:
            missing.append(kind.letter)
            continue
        own = shapely.union_all(pieces)
        found.append(Target(kind.letter, spots, own, len(members)))
    return found, tuple(missing)


def draw(model: Model, solids: Solids, camera: Camera, *, width: float, height: float, names: Collection[str] | None = None,
         closed: Sequence[tuple[str, ...]] = (), lettered: Collection[str] | None = None, says: str = "") -> tuple[Drawing, tuple[str, ...]]:
    """The exploded view, and the letters it could not show. `lettered` are the parts that get letters (all when None)."""
    shown = as_sawn(solids if names is None else solids.only(names))
    apart = come_apart(model, shown, closed)
    kinds = {solid.name: solid.part.kind for solid in shown.parts}
    moves, placing = unhidden(apart, shown, camera, width, height, kinds)
    reach = _bounds(shown, camera, moves)
    # The frame is no higher than the picture with its balloons; a small picture of the whole needs a corner.
    needed = (reach[3] - reach[1]) * placing.scale + 2 * room_of(width)
    if needed < height:
        height = max(needed, min(height, 0.55 * width))
        placing = Placing(placing.scale, placing.dx, height / 2 - placing.scale * (reach[1] + reach[3]) / 2)
    seen = look(shown, camera, offsets=moves, threads=trails(apart, moves, placing.scale, camera))
    bounds = seen.bounds
    assert bounds is not None
    pen = Pen()
    paint(pen, seen, placing, "picture")
    pen.lines("trail", ((placing.point(start), placing.point(end)) for _, start, end in seen.threads))
    areas = areas_of(seen, placing)
    silhouette = shapely.union_all(list(areas.values()))
    corner = _thumbnail(pen, shown, camera, silhouette, width, height) if len(apart.units) > 2 else None
    wanted, missing = targets(model, areas, set(shown.names if lettered is None else lettered))
    placed = balloons.place(wanted, silhouette, width, height, [corner] if corner is not None else [])
    balloons.draw(pen, placed)
    drawing = pen.drawing(width, height, says, letters=tuple(b.letter for b in placed), shows=shown.names)
    return drawing, missing


def _thumbnail(pen: Pen, solids: Solids, camera: Camera, silhouette: shapely.Geometry, width: float, height: float) -> shapely.Geometry | None:
    """The closed piece in a corner that the drawing leaves free; None when there is none."""
    w, h = 0.17 * width, 0.17 * width
    grown = silhouette.buffer(9.0, quad_segs=3)
    corners = ((0.0, 0.0), (width - w, 0.0), (width - w, height - h), (0.0, height - h))
    best = None
    for x, y in corners:
        room = box(x, y, x + w, y + h)
        if not room.intersects(grown):
            best = (x, y, room)
            break
    if best is None:
        return None
    x, y, room = best
    seen = look(solids, camera)
    if seen.bounds is None:
        return None
    placing = fitted(seen.bounds, (x + 1, y + 1, x + w - 1, y + h - 1))
    paint(pen, seen, placing, "small")
    return room
