"""Hardware counted: where each wish is needed, how many there, and their places where the design says them.

In: hardware wishes, parts as they stand, the workings made. Out: `HardwareUse`s. A `count` is for each place; without
one the library's rule counts (hinges by the height of the door). Knows no joints.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from compiler.base.measures import ZERO, Length
from compiler.base.report import Findings
from compiler.language import Lookup, Refused, diagnostic, evaluate, parse_place
from compiler.language.trees import Centre, Offset, Place
from compiler.stages.assemble.contacts import meet
from compiler.stages.assemble.fastening import point_in
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.placing import Standing, face_on, is_low
from compiler.stages.assemble.wording import said, said_value
from compiler.values.design import HardwareWish, Known
from compiler.values.library import Item
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Face, HardwareUse, Working
from compiler.values.shapes import Bore

Point = tuple[Length, Length, Length]
Made = Mapping[str, "tuple[HoleRow, ...]"]


@dataclass(frozen=True, slots=True)
class HoleRow:
    """Where the holes of one working stand in the plan (square parts only), their diameter and what they are for."""

    points: tuple[Point, ...]
    diameter: Length
    for_item: str


@dataclass(frozen=True, slots=True)
class Spot:
    """One place that hardware is wanted at: the parts there."""

    parts: tuple[str, ...]
    per: str = ""


def count_hardware(items: Items, standing: Mapping[str, Standing], rows: Made, findings: Findings) -> tuple[HardwareUse, ...]:
    """All hardware, one use for each place."""
    uses: list[HardwareUse] = []
    for wish in items.design.hardware:
        for spot in _spots(wish, items, standing, findings):
            uses.append(_use(wish, spot, items, standing, rows, findings))
    return tuple(uses)


def _spots(wish: HardwareWish, items: Items, standing: Mapping[str, Standing], findings: Findings) -> list[Spot]:
    """Each part under `on`, `under` or `per`; each pair of `from` and `to` that meets; else the plan or the use itself."""
    names = dict(wish.names)
    if "from" in names and "to" in names:
        return _pairs(wish, names["from"], names["to"], items, standing, findings)
    if "under" in names:
        inside = names.get("in", ())
        return [Spot((part, *_beside(part, inside, standing))) for part in names["under"]]
    if "per" in names:
        owners: dict[str, list[str]] = {}
        for part in names["per"]:
            owners.setdefault(standing[part].part.use or part if part in standing else part, []).append(part)
        return [Spot(tuple(_of_use(owner, standing)) or tuple(parts), per=owner) for owner, parts in owners.items()]
    if "on" in names:
        return [Spot((part,)) for part in names["on"]]
    if "from" in names or "in" in names:
        return [Spot((part,)) for part in names.get("from") or names["in"]]
    return [Spot((), per=wish.scope)]


def _of_use(use: str, standing: Mapping[str, Standing]) -> list[str]:
    """The parts of a component's use."""
    return [name for name, part in standing.items() if part.part.use == use]


def _pairs(wish: HardwareWish, first: Sequence[str], second: Sequence[str], items: Items, standing: Mapping[str, Standing],
           findings: Findings) -> list[Spot]:
    units = items.design.edition.units
    pairs = [Spot((one, two)) for one in first for two in second
             if one != two and (meet(standing[one], standing[two], units) is not None or _near(standing[one], standing[two]))]
    if not pairs:
        findings.error("parts-dont-meet", f"`{first[0]}` comes nowhere near `{second[0]}`: nothing can go from one to the other.",
                       wish.at, "Check the names, or the places of both.")
    return pairs


def _near(one: Standing, two: Standing) -> bool:
    """True when two parts are no farther apart than the thinner of them is thick (a door's gap)."""
    thin = min(part.box.span(part.part.thickness_axis).size for part in (one, two))
    gaps = [max(one.box.span(axis).start, two.box.span(axis).start) - min(one.box.span(axis).end, two.box.span(axis).end) for axis in AXES]
    return all(gap <= thin for gap in gaps) and sum(gap > ZERO for gap in gaps) <= 1


def _beside(part: str, others_: Sequence[str], standing: Mapping[str, Standing]) -> list[str]:
    """The parts on both sides of a shelf: nearest on each side, those that it lies between."""
    shelf = standing[part].box
    near = [name for name in others_ if all(
        standing[name].box.span(axis).start <= shelf.span(axis).end and shelf.span(axis).start <= standing[name].box.span(axis).end
        for axis in ("deep", "up"))]
    return near or list(others_)


def _use(wish: HardwareWish, spot: Spot, items: Items, standing: Mapping[str, Standing], rows: Made, findings: Findings) -> HardwareUse:
    places = _places(wish, spot, items, standing, findings)
    count = _written_count(wish, items, findings)
    if count is None and len(places) > 1:
        count = len(places)
    if count is None:
        count = _spaced(wish, spot, items, standing, findings)
    if count is None:
        count = by_rule(wish.item, spot.parts, standing)
    if "under" in dict(wish.names) and spot.parts:
        places = _on_pins(wish, spot, count, items, standing, rows, findings) or places
    return HardwareUse(item=wish.item, count=count, on=spot.parts, per=spot.per, places=places, at=wish.at)


def _lookup(wish: HardwareWish, items: Items) -> Lookup:
    return items.names(wish.scope)


def _value(wish: HardwareWish, key: str, want: str, items: Items, findings: Findings) -> Known | None:
    written = dict(wish.parameters).get(key)
    if written is None or not isinstance(written.value, str):
        return None
    outcome = evaluate(written.value, _lookup(wish, items), items.units(wish.scope), written.at, edition=items.design.edition.units,
                       want="count" if want == "count" else "length")
    findings.extend(outcome.report)
    value = outcome.value
    if (isinstance(value, int) and value < 1) or (isinstance(value, Length) and value <= ZERO):
        findings.error("nothing-or-less", f"`{key}` is {said_value(value, items.design.edition.units)}; it should be more than nothing.", written.at)
        return None
    return value


def _written_count(wish: HardwareWish, items: Items, findings: Findings) -> int | None:
    value = _value(wish, "count", "count", items, findings)
    return value if isinstance(value, int) else None


def _spaced(wish: HardwareWish, spot: Spot, items: Items, standing: Mapping[str, Standing], findings: Findings) -> int | None:
    """`every: 200` along the longest extent of the part, at least two."""
    every = _value(wish, "every", "length", items, findings)
    if not isinstance(every, Length) or not spot.parts:
        return None
    return spaced(_longest(spot.parts[0], standing), every)


def spaced(length: Length, every: Length) -> int:
    """How many stand along a length, no farther apart than `every`, at least two."""
    return max(2, -(-length.inches // every.inches))


def _longest(part: str, standing: Mapping[str, Standing]) -> Length:
    return max(standing[part].box.span(axis).size for axis in AXES)


def by_rule(item: Item, parts: Sequence[str], standing: Mapping[str, Standing]) -> int:
    """The library's rule for one place: a figure, one more past a limit, by height of door, by spacing. No rule: one."""
    rule = dict(item.count_rule)
    words = rule.get("rule", "")
    first = re.search(r"\d+", words)
    number = int(first[0]) if first else 1
    if not parts:
        return number
    if words.startswith("by height of door"):
        height = _door_height(parts[0], standing)
        return 2 + sum(height > limit for limit in _limits(rule.get("limits", ""), item))
    if "by spacing" in words and "every" in rule:
        limit = _limits(rule["every"], item)
        return spaced(_longest(parts[0], standing), limit[0]) if limit else number
    past = re.search(r"(\d+)[^;]*(wider|longer|taller|narrower) than", words.partition(";")[2])
    bound = _limits(rule.get("over", rule.get("under", "")), item)
    if past and bound:
        axis: Axis = "up" if past[2] == "taller" else "across"
        size = _longest(parts[0], standing) if past[2] == "longer" else standing[parts[0]].box.span(axis).size
        if (size < bound[0]) if past[2] == "narrower" else (size > bound[0]):
            return int(past[1])
    return number


def _limits(text: str, item: Item) -> list[Length]:
    """Figures of a rule in the edition's unit: inches, or millimetres from 3 digits on (no rule has a limit of 100 in)."""
    figures = [Fraction(word) for word in re.findall(r"\d+(?:\.\d+)?", text)]
    metric = any(figure >= 100 for figure in figures)
    return [Length(figure / Fraction(254, 10)) if metric else Length(figure) for figure in figures]


def _door_height(part: str, standing: Mapping[str, Standing]) -> Length:
    """The height of the door that a part belongs to: of all parts of that use."""
    use = standing[part].part.use
    boxes = [one.box for one in standing.values() if use and one.part.use == use] or [standing[part].box]
    return max(box.up.end for box in boxes) - min(box.up.start for box in boxes)


# ---- places


def _places(wish: HardwareWish, spot: Spot, items: Items, standing: Mapping[str, Standing], findings: Findings) -> tuple[Point, ...]:
    """The points that `at` names, on the face (front unless written) of the first part there."""
    written = dict(wish.parameters).get("at")
    if written is None or not isinstance(written.value, str) or not spot.parts:
        return ()
    try:
        tree = parse_place(written.value)
    except Refused as fault:
        findings.add(diagnostic(fault, written.at))
        return ()
    part = standing[spot.parts[0]]
    face = _face(wish, part)
    groups = _groups(tree)
    found: list[Point] = []
    for group in groups:
        at = {axis: (part.box.span(axis).start + part.box.span(axis).end) / 2 for axis in AXES}
        at[AXIS_OF[face]] = part.box.face(face)
        for each in group:
            if not isinstance(each, Offset):
                continue
            outcome = evaluate(written.value[each.size.start:each.size.end], _lookup(wish, items), items.units(wish.scope),
                               written.at, edition=items.design.edition.units, want="length")
            findings.extend(outcome.report)
            if not isinstance(outcome.value, Length):
                return ()
            span = part.box.span(AXIS_OF[each.face])
            if outcome.value > span.size:
                findings.error("working-outside", f"{said(outcome.value, items.design.edition.units)} from {each.face} is outside `{part.name}`.", written.at)
                return ()
            at[AXIS_OF[each.face]] = span.start + outcome.value if is_low(each.face) else span.end - outcome.value
        found.append((at["across"], at["deep"], at["up"]))
    return tuple(found)


def _groups(tree: Place) -> list[list[Centre | Offset]]:
    """`90 from top and 90 from bottom` are two places on one axis, `2 from left and 4 from top` is one place."""
    axes = [AXIS_OF[spot.face] for spot in tree.spots if isinstance(spot, Offset)]
    if len(axes) > 1 and len(set(axes)) == 1:
        return [[spot] for spot in tree.spots]
    return [list(tree.spots)]


def _face(wish: HardwareWish, part: Standing) -> Face:
    written = dict(wish.parameters).get("face")
    if written is not None and written.value in FACES:
        return next(face for face in FACES if face == written.value)
    return face_on(part.part.thickness_axis, True) if part.part.thickness_axis == "deep" else "front"


def _on_pins(wish: HardwareWish, spot: Spot, count: int, items: Items, standing: Mapping[str, Standing], rows: Made,
             findings: Findings) -> tuple[Point, ...]:
    """The holes that the pins of a shelf stand in; a shelf that lies between holes is reported."""
    shelf, sides = standing[spot.parts[0]], spot.parts[1:]
    pin = wish.item.measure("diameter") or ZERO
    wanted = shelf.box.up.start - pin / 2
    points = [point for side in sides for row in rows.get(side, ()) if row.for_item in ("", wish.item.name) for point in row.points]
    if not points:
        return ()
    nearest = min((point[2] for point in points), key=lambda height: (abs(height - wanted), height))
    units = items.design.edition.units
    if nearest != wanted:
        off = wanted - nearest
        way = "above" if off > ZERO else "below"
        findings.warning("between-holes", f"`{shelf.name}` lies {said(abs(off), units)} {way} its pins.", shelf.part.at.key("up"),
                         f"The nearest hole has its middle at {said(nearest, units)}: with half a pin the shelf begins at {said(nearest + pin / 2, units)}.")
        return ()
    level = sorted({point for point in points if point[2] == nearest})
    by_side: list[Point] = []
    for side in sides:
        own = sorted(point for point in level if any(point in row.points for row in rows.get(side, ())))
        by_side.extend(own[:1] + own[-1:] if len(own) > 1 else own)
    return tuple(by_side[:count])


def hole_row(part: Standing, working: Working) -> HoleRow | None:
    """The holes of one working where they stand; None when it has none, or the part is tilted."""
    points: list[Point] = []
    diameter = ZERO
    for feature in working.features:
        if isinstance(feature.shape, Bore) and feature.called == "hole" and part.square:
            points.append(point_in(feature.frame, feature.shape.at[0], feature.shape.at[1], ZERO))
            diameter = feature.shape.diameter
    values = dict(working.values)
    return HoleRow(tuple(points), diameter, str(values.get("for", ""))) if points else None

