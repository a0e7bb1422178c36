"""The exploded view: parts moved apart along their joints, trails between them, letters round them.

In: a model, its solids, which parts, which of them stay together. Out: a Drawing without scale, as pictorial views are, and with
the closed piece small in a free corner. It must not know pages or themes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import hypot

import numpy as np
import shapely
from shapely import box

from compiler.draw import balloons
from compiler.draw.balloons import Target
from compiler.draw.clearances import clearances
from compiler.draw.dismantling import WAYS, Link, Plan, Way, dismantle, offsets
from compiler.draw.paint import Placing, area_of, fitted, paint
from compiler.draw.pen import Pen
from compiler.draw.views import Camera, Seen, look, shares
from compiler.solid.building import Solids, build
from compiler.solid.contacts import Contact, contacts
from compiler.solid.meshes import Floats
from compiler.values.figure import Drawing
from compiler.values.model import AXES, Model
from compiler.values.shapes import Bore, Vector

GAP = 8.0
GAP_OF_MANY = 6.0
MANY = 60
ROUNDS = 6
TRAIL_FROM = 5.0
SEEN = 0.3
WIDER = 2.5
MOST_TO_JUDGE = 30
MOST_TRIES = 4
WORDS: dict[str, Way] = {"up": (2, 1), "down": (2, -1), "left": (0, -1), "right": (0, 1), "front": (1, -1), "forward": (1, -1),
                         "back": (1, 1)}
HANGING = ("hang", "hinge", "slide", "rest")


@dataclass(frozen=True, slots=True)
class Apart:
    """How a set of parts comes apart: units of part names, the plan, tables, and the contacts between parts."""

    units: tuple[tuple[str, ...], ...]
    plan: Plan
    clear: tuple[Floats, Floats, Floats]
    boxes: tuple[tuple[tuple[Vector, Vector], ...], ...]
    touching: tuple[Contact, ...]

    @property
    def stuck(self) -> tuple[tuple[str, ...], ...]:
        """Parts that nothing could take apart."""
        return tuple(tuple(name for unit in group for name in self.units[unit]) for group in self.plan.stuck)


def come_apart(model: Model, solids: Solids, closed: Sequence[tuple[str, ...]] = (), touching: Sequence[Contact] | None = None) -> Apart:
    """The plan for the parts in `solids`; each tuple in `closed` stays together."""
    names = solids.names
    within = {name: group for group in closed for name in group}
    units: list[tuple[str, ...]] = []
    for name in names:
        group = tuple(n for n in within.get(name, (name,)) if n in solids)
        if group not in units:
            units.append(group)
    number = {name: index for index, unit in enumerate(units) for name in unit}
    parts = clearances(_without_holes(solids))
    order = {name: index for index, name in enumerate(names)}
    tables = []
    for table in parts:
        merged = np.full((len(units), len(units)), -np.inf)
        for i, one in enumerate(units):
            for j, two in enumerate(units):
                if i != j:
                    merged[i, j] = table[np.ix_([order[n] for n in one], [order[n] for n in two])].max()
        tables.append(merged)
    clear = (tables[0], tables[1], tables[2])
    met = tuple(touching) if touching is not None else contacts(solids)
    links = _links(model, met, number)
    bulk = [sum(solids[name].volume for name in unit) for unit in units]
    boxes = tuple(tuple((solids[name].low, solids[name].high) for name in unit) for unit in units)
    return Apart(tuple(units), dismantle(clear, links, bulk, _hints(model, units, number, solids), _leaning(model, number)), clear, boxes, met)


def _without_holes(solids: Solids) -> Solids:
    """The parts without round holes, which hold nothing unless there are round parts: a row of pin holes costs much and tells nothing."""
    if any((isinstance(feature.shape, Bore) and feature.op == "grow") or solid.part.stock.kind == "rod"
           for solid in solids.parts for feature in solid.part.features):
        return solids
    parts = []
    for solid in solids.parts:
        kept = tuple(feature for feature in solid.part.features if not isinstance(feature.shape, Bore))
        parts.append(solid.part if len(kept) == len(solid.part.features) else replace(solid.part, features=kept))
    return build(tuple(parts), quality=solids.quality)


def _links(model: Model, met: Sequence[Contact], number: Mapping[str, int]) -> list[Link]:
    """Contacts between different units, and joints whose parts leave a gap (a panel in its groove)."""
    sums: dict[tuple[int, int], list[tuple[np.ndarray, float, bool]]] = {}
    let_in = {frozenset((joint.acting, joint.receiver)) for joint in model.joints if joint.family == "into"}
    joined = set()
    for contact in met:
        if contact.first not in number or contact.second not in number:
            continue
        one, two = number[contact.first], number[contact.second]
        if one == two:
            continue
        joined.add(frozenset((contact.first, contact.second)))
        flat = [np.array(patch.normal) for patch in contact.patches if not patch.round]
        opposed = any(float(a @ b) < -0.9 for i, a in enumerate(flat) for b in flat[:i])
        inside = opposed or any(patch.round for patch in contact.patches) or frozenset((contact.first, contact.second)) in let_in
        sums.setdefault((one, two), []).append((np.array(contact.pull), contact.area, inside))
    for joint in model.joints:
        pair = frozenset((joint.acting, joint.receiver))
        if pair in joined or joint.acting not in number or joint.receiver not in number:
            continue
        one, two = number[joint.acting], number[joint.receiver]
        if one != two:
            area = float(joint.length) * float(joint.width)
            sums.setdefault((one, two), []).append((np.array(joint.frame.into) * area, area, joint.family == "into"))
    links = []
    for (one, two), found in sorted(sums.items()):
        pull = sum((p for p, _, _ in found), np.zeros(3))
        links.append(Link(one, two, (float(pull[0]), float(pull[1]), float(pull[2])), sum(a for _, a, _ in found), any(i for *_, i in found)))
    return links


def _leaning(model: Model, number: Mapping[str, int]) -> dict[Way, frozenset[tuple[int, int]]]:
    """Joints that lean away from the plan's axes by less than 26 degrees: along the nearest axis their parts let each other go."""
    found: dict[Way, set[tuple[int, int]]] = {}
    for joint in model.joints:
        if joint.frame.square or joint.acting not in number or joint.receiver not in number:
            continue
        one, two = number[joint.acting], number[joint.receiver]
        for axis in range(3):
            into = joint.frame.into[axis]
            if abs(into) > 0.9:
                sign = -1 if into > 0 else 1
                found.setdefault((axis, sign), set()).add((one, two))
                found.setdefault((axis, -sign), set()).add((two, one))
    return {way: frozenset(pairs) for way, pairs in found.items()}


def _hints(model: Model, units: Sequence[tuple[str, ...]], number: Mapping[str, int], solids: Solids) -> dict[int, tuple[Way, float | None]]:
    """Who leaves before anything else: what hangs, slides or lies loose, wedges and keys, and what the author wishes."""
    hints: dict[int, tuple[Way, float | None]] = {}
    if len(units) > 1:
        for joint in model.joints:
            if joint.family == "on" and joint.kind in HANGING and joint.acting in number and number.get(joint.receiver) not in (None, number[joint.acting]):
                hints[number[joint.acting]] = ((1, -1), None)
        for unit in _movable(model, units, number):
            hints[unit] = (_open_side(units[unit], solids), None)
        for piece in model.pieces:
            if piece.name in number:
                hints[number[piece.name]] = (_driven_from(piece.name, solids), None)
    for name, words in model.explode:
        first, *more = words.split()
        if first not in WORDS:
            continue
        distance = _inches(more[0]) if more else None
        for part in model.named(name):
            if part in number:
                hints[number[part]] = (WORDS[first], distance)
    return hints


def _movable(model: Model, units: Sequence[tuple[str, ...]], number: Mapping[str, int]) -> list[int]:
    """Doors on hinges, drawers on slides, shelves on pins that nothing joins to another unit."""
    joined = {number[name] for joint in model.joints if joint.family != "on" and joint.acting in number and joint.receiver in number
              and number[joint.acting] != number[joint.receiver] for name in (joint.acting, joint.receiver)}
    found: list[int] = []
    for use in model.hardware:
        names = [name for name in use.on if name in number]
        if use.item.kind == "hinge" and len({number[name] for name in names}) > 1:
            found.append(number[names[0]])
        elif use.item.kind == "slide" and use.per:
            found += [number[name] for name in model.named(use.per) if name in number][:1]
        elif use.item.kind == "pin" and len({number[name] for name in names}) > 1 and number[names[0]] not in joined:
            found.append(number[names[0]])
    return [unit for unit in dict.fromkeys(found) if len(units[unit]) < len(number)]


def _open_side(unit: tuple[str, ...], solids: Solids) -> Way:
    """A lid opens up, all else to the front."""
    low = np.min([solids[name].low for name in unit], axis=0)
    high = np.max([solids[name].high for name in unit], axis=0)
    flat = high[2] - low[2] < 0.2 * min(high[0] - low[0], high[1] - low[1])
    return (2, 1) if flat and len(unit) > 1 else (1, -1)


def _driven_from(name: str, solids: Solids) -> Way:
    """A wedge, key or spline leaves along its grain, away from the middle of the piece."""
    low, high = np.array(solids[name].low), np.array(solids[name].high)
    axis = AXES.index(solids[name].part.length_axis)
    middle = np.mean([np.add(solid.low, solid.high)[axis] / 2 for solid in solids.parts])
    return axis, 1 if (low[axis] + high[axis]) / 2 >= middle else -1


def _inches(text: str) -> float | None:
    try:
        return float(Fraction(text))
    except (ValueError, ZeroDivisionError):
        return None


def as_sawn(solids: Solids) -> Solids:
    """The parts before assembly: what spreads or is driven home later has its shape as sawn, or nothing would come apart."""
    parts = []
    for solid in solids.parts:
        features = tuple(f if f.sawn is None else replace(f, shape=f.sawn) for f in solid.part.features)
        parts.append(solid.part if features == solid.part.features else replace(solid.part, features=features))
    return build(tuple(parts), quality=solids.quality)


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
    seen = _unit_shares(apart, solids, camera, moves)
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
        worth = _worth(_unit_shares(apart, solids, camera, tried_moves), tried_placing.scale, first)
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
    right, up = np.array(camera.right), np.array(camera.up)
    xs, ys = [], []
    for solid in solids.parts:
        corners = solid.geometry.corners + np.array(moves.get(solid.name, (0.0, 0.0, 0.0)))
        x, y = corners @ right, corners @ up
        xs += [x.min(), x.max()]
        ys += [y.min(), y.max()]
    return float(min(xs)), float(min(ys)), float(max(xs)), float(max(ys))


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


def targets(model: Model, seen: Seen, placing: Placing, names: Collection[str], count_all: bool = False) -> tuple[list[Target], tuple[str, ...]]:
    """A target for each kind among `names`, in the order of letters; and the letters that can't be shown."""
    areas = {region.part: area_of(region, placing) for region in seen.regions}
    found: list[Target] = []
    missing: list[str] = []
    for kind in model.kinds:
        members = [name for name in kind.parts if name in names]
        if not members:
            continue
        pieces = [areas[name] for name in members if name in areas]
        spots = balloons.spots_of(pieces)
        if spots is None:
            missing.append(kind.letter)
            continue
        own = shapely.union_all(pieces)
        found.append(Target(kind.letter, spots, own, len(kind.parts) if count_all else len(members)))
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
    silhouette = shapely.union_all([area_of(region, placing) for region in seen.regions])
    corner = _thumbnail(pen, shown, camera, silhouette, width, height) if len(apart.units) > 2 else None
    wanted, missing = targets(model, seen, placing, set(shown.names if lettered is None else lettered))
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
