"""Do the fasteners of joints stay in the wood? Rays through the solids, from where the head rests to the tip.

In: the model with the places of its fasteners, the solids. Out: faults told. It knows nothing of the rules of single joints.

Sources: at least 1/8 in (3 mm) of wood is left beyond a tip, FAS-47 (common practice). Half to two thirds of a screw
belong in the far part, FAS-43 (screw maker's page); for a nail two thirds, FAS-42. Less than three tenths is too little (common
practice, no source), unless the thread has six diameters of wood (timber design, from memory). A screw in a pocket runs at 15 degrees (FAS-50) and has half of
its length beyond the joint (common practice, no source; FAS-48 has 1 1/4 in for 3/4 in stock).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from math import cos, radians

import numpy as np

from compiler.base.measures import Length
from compiler.solid import PartSolid, Solids
from compiler.solid.meshes import Floats
from compiler.stages.inspect.telling import Telling
from compiler.values.model import Fasteners, JointUse, Model
from compiler.values.shapes import Vector

DRIVEN = ("wood screw", "brad", "nail", "pin", "finish nail")
# Driven by eye, not laid out: one of a row that would strike a groove or a screw is set beside it.
BY_EYE = ("brad", "nail", "pin", "finish nail")
SPARE = {"inch": 0.125, "mm": 3 / 25.4}
SHARE = 0.3
DIAMETERS = 6
POCKET = cos(radians(15)) / 2
# What rounding may do to a length (inches).
HAIR = 0.004
# Wood of a third part that a tip may graze.
GRAZE = 0.02
# How far beyond its length a fastener's path is looked at.
BEYOND = 1.0
# A ray just beside the axis: along the axis itself it may run in a mesh's own edges.
BESIDE = 1e-4

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """One fastener in its place: where it begins, which way it goes, inches from there to head and tip, its diameter."""

    joint: JointUse
    called: str
    entry: Vector
    toward: Vector
    start: float
    tip: float
    diameter: float

    def at(self, distance: float) -> Vector:
        """A point on its axis, so far from the entry."""
        x, y, z = (place + way * distance for place, way in zip(self.entry, self.toward, strict=True))
        return x, y, z


def judge_fasteners(model: Model, solids: Solids, telling: Telling) -> None:
    """Tell of fasteners that come out, miss, bite too little, run through a third part, or meet each other."""
    rays = _Rays(solids)
    paths: list[Path] = []
    for joint in model.joints:
        if joint.acting not in solids or joint.receiver not in solids:
            continue
        for some in joint.fasteners:
            row = [path for entry in some.entry if (path := _path(joint, some, entry)) is not None]
            if some.item.kind == "pocket screw":
                for path in row:
                    _judge_pocket(path, some, rays, telling)
            elif some.item.kind in BY_EYE:
                held = [path for path in row if _reaches(path, some, rays)]
                for path in held or row:
                    _judge_driven(path, some, rays, telling)
                continue
            elif some.item.kind in DRIVEN:
                row = [driven for path in row if (driven := _judge_driven(path, some, rays, telling)) is not None]
            paths.extend(row)
    _judge_meeting(paths, telling)


def _reaches(path: Path, some: Fasteners, rays: _Rays) -> bool:
    """True when a nail gets from its part into the other one."""
    wood = rays.along(path, path.tip)
    return some.through in wood and some.into in wood and _buried(path, some, wood) is None


def _buried(path: Path, some: Fasteners, wood: dict[str, tuple[Span, ...]]) -> str | None:
    """The part that stands where the head would be."""
    return next((name for name, spans in wood.items() if name not in (some.through, some.into)
                 for start, end in spans if start < GRAZE < end), None)


def _path(joint: JointUse, some: Fasteners, entry: tuple[Length, Length, Length]) -> Path | None:
    length, diameter = some.item.measure("length"), some.item.measure("diameter")
    if length is None or diameter is None:
        return None
    size = float(length)
    kind = some.item.kind
    if kind in DRIVEN:
        start, tip = 0.0, size
    elif kind == "pocket screw":
        start, tip = 0.0, size * POCKET
    elif kind == "dowel":
        start, tip = -size / 2, size / 2
    else:
        return None
    x, y, z = (float(value) for value in entry)
    return Path(joint, f"`{some.item.name}`", (x, y, z), some.toward, start, tip, float(diameter))


def _judge_driven(path: Path, some: Fasteners, rays: _Rays, telling: Telling) -> Path | None:
    """Judge a screw or nail driven from a face; its path from where the head comes to rest, None when it has none."""
    joint, called = path.joint, path.called
    wood = rays.along(path, path.tip + BEYOND)
    third = {name: span for name, spans in wood.items() if name not in (some.through, some.into)
             for span in spans if span[0] < path.tip - GRAZE and span[1] > GRAZE}
    buried = _buried(path, some, wood)
    if buried is not None:
        telling.error("fastener-buried", f"{called} can't be driven into `{some.through}` there: `{buried}` is where its head would be.",
                      joint.at, "Space the screws so that they stand clear of it: change `count`, or leave more room at the ends.")
        return None
    seat = _seat(path, some, wood, rays)
    far = _beyond(wood.get(some.into, ()), seat)
    if not far:
        far = _beyond(rays.round_about(path, some.into, path.diameter, path.tip + BEYOND), seat)
    if not far or far[0][0] > seat + path.tip:
        telling.error("fastener-misses", f"{called} through `{some.through}` never reaches `{some.into}`.", joint.at,
                      "Take a longer one, or look at what is cut away there.")
        return None
    enters, leaves = far[0]
    tip = seat + path.tip
    goes_on = any(span[0] <= leaves + HAIR and span[1] >= tip for name, spans in wood.items() if name != some.into for span in spans)
    spare = SPARE[telling.units]
    if goes_on and some.item.kind in BY_EYE:
        pass
    elif tip > leaves - spare + HAIR and goes_on:
        name = next(name for name, spans in wood.items() if name != some.into for span in spans if span[0] <= leaves + HAIR and span[1] >= tip)
        telling.warning("fastener-runs-on", f"{called} runs right through `{some.into}` and on into `{name}`.", joint.at, "Take a shorter one.")
    elif tip > leaves + HAIR:
        telling.error("fastener-too-long", f"{called} comes out of `{some.into}` by {telling.length(tip - leaves)}: {telling.length(tip - enters)} of it "
                      f"would be in there, and there is {telling.length(leaves - enters)} of wood.", joint.at, f"Take one no longer than {telling.length(leaves - spare - seat)}.")
    elif tip > leaves - spare + HAIR:
        stops = f"stops {telling.length(leaves - tip)} short of coming out" if leaves - tip > HAIR else "comes right to the face"
        telling.error("fastener-too-long", f"{called} {stops} of `{some.into}`; {telling.length(spare)} of wood belongs beyond a tip.", joint.at, f"Take one no longer than {telling.length(leaves - spare - seat)}.")
    else:
        name = next((name for name, span in third.items()), "")
        if name:
            telling.warning("fastener-runs-through", f"{called} runs through `{name}` on its way from `{some.through}` to `{some.into}`.", joint.at,
                            "Move it, or join all three parts on purpose with a longer one.")
    bite = min(tip, leaves) - enters
    if tip <= leaves + HAIR and bite < path.tip * SHARE and bite < path.diameter * DIAMETERS and not third:
        telling.warning("fastener-bites-little", f"{called} has only {telling.length(bite)} of its {telling.length(path.tip)} in `{some.into}`.", joint.at,
                        "Half to two thirds belong in the far part: take a longer one, or set its head deeper.")
    return Path(joint, called, path.entry, path.toward, seat, tip, path.diameter)


def _seat(path: Path, some: Fasteners, wood: dict[str, tuple[Span, ...]], rays: _Rays) -> float:
    """How far beyond its entry the head comes to rest: at the bottom of a counterbore, not of a pilot or clearance hole."""
    near = wood.get(some.through, ())
    if near and near[0][0] < GRAZE < near[0][1]:
        return 0.0
    head = some.item.measure("head")
    radius = float(head) * 0.45 if head is not None else path.diameter * 0.9
    found = _beyond(rays.round_about(path, some.through, radius, path.tip + BEYOND), 0.0)
    return max(found[0][0], 0.0) if found else 0.0


def _judge_pocket(path: Path, some: Fasteners, rays: _Rays, telling: Telling) -> None:
    """Judge what is beyond the joint of a screw in a pocket."""
    far = _beyond(rays.along(path, path.tip + BEYOND).get(some.into, ()), 0.0)
    if not far or far[0][0] > path.tip:
        telling.error("fastener-misses", f"{path.called} in the pocket of `{some.through}` never reaches `{some.into}`.", path.joint.at,
                      "Look at what is cut away there.")
    elif path.tip > far[0][1] + HAIR:
        telling.error("fastener-too-long", f"{path.called} comes out of `{some.into}`: about {telling.length(path.tip)} of it is beyond the joint, "
                      f"and there is {telling.length(far[0][1])} of wood.", path.joint.at, "Take a shorter one.")


def _judge_meeting(paths: Sequence[Path], telling: Telling) -> None:
    """Tell of fasteners that run into each other."""
    if len(paths) < 2:
        return
    heads, tips = np.array([path.at(path.start) for path in paths]), np.array([path.at(path.tip) for path in paths])
    radii = np.array([path.diameter for path in paths]) / 2
    middles, reaches = (heads + tips) / 2, np.linalg.norm(tips - heads, axis=1) / 2 + radii
    near = np.linalg.norm(middles[:, None] - middles[None], axis=2) < reaches[:, None] + reaches[None]
    for one, two in np.argwhere(np.triu(near, 1)).tolist():
        between = _distance(heads[one], tips[one], heads[two], tips[two])
        if between < radii[one] + radii[two] - HAIR:
            first, second = paths[one], paths[two]
            whose = f"{second.called} of the {second.joint.kind} of `{second.joint.acting}` and `{second.joint.receiver}`"
            telling.error("fasteners-meet", f"{first.called} between `{first.joint.acting}` and `{first.joint.receiver}` runs into {whose}, "
                          f"round {telling.place(first.at((first.start + first.tip) / 2))}.", first.joint.at,
                          "Move one row: change `count` or `every`, or take shorter ones.", also=(second.joint.at,))


def _distance(a: Floats, b: Floats, c: Floats, d: Floats) -> float:
    """The least distance between the stretches a-b and c-d. Source: closest points of two segments, standard vector geometry."""
    u, v, w = b - a, d - c, a - c
    uu, uv, vv, uw, vw = u @ u, u @ v, v @ v, u @ w, v @ w
    spread = uu * vv - uv * uv
    s = 0.0 if spread < 1e-12 * uu * vv else float(np.clip((uv * vw - vv * uw) / spread, 0, 1))
    t = float(np.clip((uv * s + vw) / vv, 0, 1))
    s = float(np.clip((uv * t - uw) / uu, 0, 1))
    return float(np.linalg.norm(w + s * u - t * v))


def _beyond(spans: Sequence[Span], place: float) -> list[Span]:
    """The stretches of wood that end beyond a place."""
    return [span for span in spans if span[1] > place + HAIR]


class _Rays:
    """Rays along fasteners: which wood they meet."""

    def __init__(self, solids: Solids) -> None:
        self._parts = solids.parts
        self._low = np.array([solid.low for solid in solids.parts]).reshape(-1, 3)
        self._high = np.array([solid.high for solid in solids.parts]).reshape(-1, 3)
        self._by_name = {solid.name: solid for solid in solids.parts}

    def along(self, path: Path, reach: float) -> dict[str, tuple[Span, ...]]:
        """The stretches of each part's wood along the axis, from just before the entry to so far beyond it."""
        ends = np.array([path.at(-HAIR), path.at(reach)])
        near = ((self._low <= ends.max(axis=0) + 2 * BESIDE) & (self._high >= ends.min(axis=0) - 2 * BESIDE)).all(axis=1)
        beside = _sides(path.toward)[0] * BESIDE
        found = {}
        for index in np.flatnonzero(near).tolist():
            spans = tuple(_stretches(self._parts[index], path, beside, reach))
            if spans:
                found[self._parts[index].name] = spans
        return found

    def round_about(self, path: Path, name: str, radius: float, reach: float) -> tuple[Span, ...]:
        """The first stretch of a part's wood round the axis at a radius: the middle one of those rays, when most of six meet any."""
        one, two = _sides(path.toward)
        spans: list[Span] = []
        for turn in range(6):
            angle = turn * np.pi / 3 + 0.1
            aside = (one * np.cos(angle) + two * np.sin(angle)) * radius
            first = next(_stretches(self._by_name[name], path, aside, reach), None)
            if first is not None:
                spans.append(first)
        return (sorted(spans)[len(spans) // 2],) if len(spans) > 3 else ()


@cache
def _sides(toward: Vector) -> tuple[Floats, Floats]:
    """Two unit vectors square to a direction and to each other, not along the plan's axes."""
    way = np.array(toward)
    one = np.cross(way, (0.31, 0.53, 0.79))
    one = one / np.linalg.norm(one)
    return one, np.cross(way, one)


def _stretches(solid: PartSolid, path: Path, aside: Floats, reach: float) -> Iterator[Span]:
    """Where a line beside the axis runs in a part's wood, as distances from the entry; wood before the entry begins at 0."""
    before = path.at(-1.0)
    start = np.array(before) + aside
    end = np.array(path.at(reach)) + aside
    whole = reach + 1.0
    x, y, z = path.toward
    inside: float | None = None
    hits = solid.manifold.ray_cast(tuple(start.tolist()), tuple(end.tolist()))
    for number, hit in enumerate(hits):
        place = hit.distance * whole - 1.0
        goes_in = hit.normal[0] * x + hit.normal[1] * y + hit.normal[2] * z < 0
        if goes_in:
            inside = place
        elif inside is not None or number == 0:
            if place > HAIR:
                yield (max(inside, -1.0) if inside is not None else -1.0, place)
            inside = None
    if inside is not None:
        yield inside, reach
