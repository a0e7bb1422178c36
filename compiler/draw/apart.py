"""How a piece comes apart: contacts and joints as links, hints of the design, and the plan that follows from them.

In: a model, its solids, which parts stay together. Out: an `Apart`: units, the order and ways of leaving, who touches whom. It
must not know cameras or paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from compiler.draw.clearances import clearances
from compiler.draw.dismantling import Link, Plan, Way, dismantle
from compiler.solid.building import PartSolid, Quality, Solids, build
from compiler.solid.contacts import Contact, contacts
from compiler.solid.meshes import Floats
from compiler.values.model import AXES, Model
from compiler.values.shapes import Bore, Feature, Vector

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
    across, deep, up = (_merged(table, names, units) for table in clearances(without_holes(solids)))
    clear = (across, deep, up)
    met = tuple(touching) if touching is not None else contacts(solids)
    links = _links(model, met, number)
    bulk = [sum(solids[name].volume for name in unit) for unit in units]
    boxes = tuple(tuple((solids[name].low, solids[name].high) for name in unit) for unit in units)
    driven = {number[piece.name] for piece in model.pieces if piece.name in number}
    plan = dismantle(clear, links, bulk, _hints(model, units, number, solids), _leaning(model, number), driven)
    return Apart(tuple(units), plan, clear, boxes, met)


def _merged(table: Floats, names: Sequence[str], units: Sequence[tuple[str, ...]]) -> Floats:
    """Travels between units: the farthest of any of their parts, -inf from a unit to itself."""
    order = {name: index for index, name in enumerate(names)}
    rows = np.array([order[name] for unit in units for name in unit], dtype=np.int64)
    starts = np.cumsum([0, *(len(unit) for unit in units[:-1])])
    merged: Floats = np.maximum.reduceat(np.maximum.reduceat(table[np.ix_(rows, rows)], starts, axis=0), starts, axis=1)
    np.fill_diagonal(merged, -np.inf)
    return merged


def without_holes(solids: Solids) -> Solids:
    """The parts without round holes, which hold nothing unless there are round parts: a row of pin holes costs much and tells nothing."""
    if any((isinstance(feature.shape, Bore) and feature.op == "grow") or solid.part.stock.kind == "rod"
           for solid in solids.parts for feature in solid.part.features):
        return solids
    parts = []
    for solid in solids.parts:
        kept = tuple(feature for feature in solid.part.features if not isinstance(feature.shape, Bore))
        parts.append(solid if len(kept) == len(solid.part.features) else _rebuilt(solid, kept, solids.quality))
    return Solids(solids.quality, tuple(parts))


def _rebuilt(solid: PartSolid, features: tuple[Feature, ...], quality: Quality) -> PartSolid:
    """The part with other features."""
    return build((replace(solid.part, features=features),), quality=quality).parts[0]


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
    for acting, receiver, into in model.leaning:
        if acting not in number or receiver not in number:
            continue
        one, two = number[acting], number[receiver]
        for axis in range(3):
            if abs(into[axis]) > 0.9:
                sign = -1 if into[axis] > 0 else 1
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
    """Doors on hinges, drawers on slides, shelves on pins: with what is joined to them, and to nothing that holds them."""
    links = [(number[joint.acting], number[joint.receiver]) for joint in model.joints
             if joint.family != "on" and joint.acting in number and joint.receiver in number]
    found: list[int] = []
    for kind, per, on in model.hung:
        names = [name for name in on if name in number]
        if kind == "hinge" and len({number[name] for name in names}) > 1:
            found.append(number[names[0]])
        elif kind == "slide" and per:
            own = [name for name in model.named(per) if name in number]
            # A drawer that hangs in its case already is no unit of its own.
            found += [number[name] for name in own[:1] if set(units[number[name]]) <= set(own)]
        elif kind == "pin" and len({number[name] for name in names}) > 1:
            together = _joined_to(number[names[0]], links)
            if not together & {number[name] for name in names if number[name] != number[names[0]]}:
                found += sorted(together)
    return [unit for unit in dict.fromkeys(found) if len(units[unit]) < len(number)]


def _joined_to(unit: int, links: Sequence[tuple[int, int]]) -> set[int]:
    """A unit and all that joints hold to it."""
    found = {unit}
    while True:
        more = {other for pair in links if set(pair) & found for other in pair} - found
        if not more:
            return found
        found |= more


def _open_side(unit: tuple[str, ...], solids: Solids) -> Way:
    """A lid opens up, all else to the front."""
    low = np.min([solids[name].low for name in unit], axis=0)
    high = np.max([solids[name].high for name in unit], axis=0)
    flat = high[2] - low[2] < 0.2 * min(high[0] - low[0], high[1] - low[1])
    return (2, 1) if flat and len(unit) > 1 else (1, -1)


def _driven_from(name: str, solids: Solids) -> Way:
    """A wedge or key leaves along its grain by its thick end, a spline away from the middle of the piece."""
    low, high = np.array(solids[name].low), np.array(solids[name].high)
    axis = AXES.index(solids[name].part.length_axis)
    corners = solids[name].geometry.corners
    ends = [np.ptp(corners[np.abs(corners[:, axis] - place) < 1e-3], axis=0) for place in (low[axis], high[axis])]
    thick = [float(np.prod([size for i, size in enumerate(end) if i != axis])) for end in ends]
    if abs(thick[1] - thick[0]) > 0.02 * max(thick):
        return axis, 1 if thick[1] > thick[0] else -1
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
        features = solid.part.features
        sawn = any(feature.sawn is not None for feature in features)
        parts.append(_rebuilt(solid, tuple(f if f.sawn is None else replace(f, shape=f.sawn) for f in features), solids.quality) if sawn else solid)
    return Solids(solids.quality, tuple(parts))
