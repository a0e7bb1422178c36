"""A judge of views that shares no code with them: rays shot at the parts' own definition.

In: parts, a direction, offsets, a section; a view to judge. Out: shares of false and missing lines and of wrong fills.
A part is its box with features added and cut in their order; a ray meets planes, cylinders and cones exactly, and
membership of the point between two meetings is asked of the definition. No mesh, no tessellation, no boolean kernel.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from compiler.draw.cameras import Camera
from compiler.draw.views import Section, Seen
from compiler.values.model import Part
from compiler.values.shapes import Block, Bore, Feature, Shape, Vector

# A line may be this far from where it belongs (inches): arcs are drawn as chords with a sagitta of 0.004.
NEAR = 0.012
# Surfaces that meet at less than this angle (radians), one of them curved, run into each other smoothly.
SMOOTH = 0.13
# Where in the interval between two meetings membership is asked: no round number, so no corner is hit.
BETWEEN = 0.48671


class _Solid:
    """A primitive in its own coordinates: where rays meet its surfaces, which points are inside, normals."""

    def __init__(self, shape: Shape) -> None:
        self.shape = shape
        self.planes: list[tuple[np.ndarray, float]] = []
        self.curves: list[tuple[int, np.ndarray, float, float, float]] = []  # axis, centre, radius, slope, start
        if isinstance(shape, Block):
            spans = [sorted(map(float, span)) for span in (shape.along, shape.across, shape.into)]
            toward = {"along": 0, "across": 1, "into": 2, None: None}[shape.toward]
            others = [axis for axis in range(3) if axis != toward]
            for axis in range(3):
                for high in (False, True):
                    normal = np.zeros(3)
                    normal[axis] = 1 if high else -1
                    offset = spans[axis][1] if high else -spans[axis][0]
                    if toward is not None and axis != toward:
                        flare = shape.flare[others.index(axis)]
                        slope = float(flare.high if high else flare.low) / (spans[toward][1] - spans[toward][0])
                        normal[toward] -= slope
                        offset -= slope * spans[toward][0]
                    self.planes.append((normal, offset))
        elif isinstance(shape, Bore):
            axis = {"along": 0, "across": 1, "into": 2}[shape.toward]
            start, end = map(float, shape.span)
            first = float(shape.diameter) / 2
            last = first if shape.end_diameter is None else float(shape.end_diameter) / 2
            if start > end:
                start, end, first, last = end, start, last, first
            self._ends(axis, start, end)
            self.curves.append((axis, np.array([float(v) for v in shape.at]), first, (last - first) / (end - start), start))
        else:
            self._ends(2, *sorted(map(float, shape.span)))
            self.pieces = []
            for index, point in enumerate(shape.outline):
                a = np.array([float(shape.outline[index - 1].x), float(shape.outline[index - 1].y)])
                b = np.array([float(point.x), float(point.y)])
                way = b - a
                if point.radius is None:
                    normal = np.array([way[1], -way[0], 0.0])
                    self.planes.append((normal, float(normal[:2] @ a)))
                    self.pieces.append((a, b, None, 0.0, 0))
                    continue
                radius, chord = float(point.radius), float(np.hypot(*way))
                left = np.array([-way[1], way[0]]) / chord
                centre = (a + b) / 2 + point.bulge * left * np.sqrt(max(radius**2 - chord**2 / 4, 0.0))
                self.curves.append((2, centre, radius, 0.0, 0.0))
                # The short arc lies on the far side of the chord from the centre.
                self.pieces.append((a, b, centre, radius, point.bulge if point.long else -point.bulge))

    def _ends(self, axis: int, start: float, end: float) -> None:
        for normal, offset in ((-np.eye(3)[axis], -start), (np.eye(3)[axis], end)):
            self.planes.append((normal, offset))

    def inside(self, points: np.ndarray) -> np.ndarray:
        if isinstance(self.shape, Block):
            return np.all([points @ normal <= offset for normal, offset in self.planes], axis=0)
        within = np.all([points @ normal <= offset for normal, offset in self.planes[:2]], axis=0)
        if isinstance(self.shape, Bore):
            axis, centre, radius, slope, start = self.curves[0]
            away = np.delete(points, axis, axis=1) - centre
            return within & (np.hypot(away[:, 0], away[:, 1]) <= radius + slope * (points[:, axis] - start))
        x, y = points[:, 0], points[:, 1]
        odd = np.zeros(len(points), dtype=bool)
        for a, b, centre, radius, side in self.pieces:
            if centre is None:
                span = (a[1] > y) != (b[1] > y)
                at = a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1] if b[1] != a[1] else 1.0)
                odd ^= span & (at > x)
                continue
            high = y - centre[1]
            reach = np.sqrt(np.maximum(radius**2 - high**2, 0.0))
            left = np.array([a[1] - b[1], b[0] - a[0]])
            for at in (centre[0] - reach, centre[0] + reach):
                beside = ((at - a[0]) * left[0] + (y - a[1]) * left[1]) * side > 0
                odd ^= (np.abs(high) < radius) & beside & (at > x)
        return within & odd

    def meetings(self, start: np.ndarray, way: np.ndarray) -> list[np.ndarray]:
        """Where rays meet each plane (one each) and each curve (two each); inf for never."""
        found = []
        with np.errstate(divide="ignore", invalid="ignore"):
            for normal, offset in self.planes:
                found.append((offset - start @ normal) / (way @ normal))
            for axis, centre, radius, slope, begin in self.curves:
                flat = [i for i in range(3) if i != axis]
                p, d = start[:, flat] - centre, way[flat]
                r = radius + slope * (start[:, axis] - begin)
                k = slope * way[axis]
                a, b, c = d @ d - k * k, p @ d - r * k, (p * p).sum(axis=1) - r * r
                root = np.sqrt(b * b - a * c)
                found += [(-b - root) / a, (-b + root) / a]
        return [np.where(np.isfinite(t), t, np.inf) for t in found]

    def normal(self, number: int, points: np.ndarray) -> np.ndarray:
        """The direction of surface `number` (as in `meetings`) at points, up to its sign."""
        if number < len(self.planes):
            normals = np.repeat(self.planes[number][0][None], len(points), axis=0)
        else:
            axis, centre, radius, slope, start = self.curves[(number - len(self.planes)) // 2]
            normals = np.zeros((len(points), 3))
            flat = [i for i in range(3) if i != axis]
            normals[:, flat] = points[:, flat] - centre
            normals[:, axis] = -slope * (radius + slope * (points[:, axis] - start))
        return normals / np.linalg.norm(normals, axis=1)[:, None]


@dataclass(frozen=True)
class _Placed:
    op: str
    solid: _Solid
    axes: np.ndarray
    origin: np.ndarray

    def local(self, points: np.ndarray) -> np.ndarray:
        return (points - self.origin) @ self.axes.T


class _Wood:
    """A part: its box and features, in the place it stands in."""

    def __init__(self, part: Part, offset: Vector, section: Section | None) -> None:
        box = part.box
        spans = [(span.start, span.end) for span in (box.across, box.deep, box.up)]
        rotation, shift = np.array(part.pose.rotation), np.array(part.pose.shift) + offset
        self.steps = [_Placed("grow", _Solid(Block(*spans)), rotation.T, shift)]
        for feature in part.features:
            self.steps.append(self._placed(feature, rotation, shift))
        self.section = None if section is None else (
            np.array(section.normal), section.at + float(np.array(section.normal) @ offset))

    @staticmethod
    def _placed(feature: Feature, rotation: np.ndarray, shift: np.ndarray) -> _Placed:
        frame = feature.frame
        axes = np.array([frame.along, frame.across, frame.into]) @ rotation.T
        return _Placed(feature.op, _Solid(feature.shape), axes, rotation @ np.array([float(v) for v in frame.origin]) + shift)

    def inside(self, points: np.ndarray) -> np.ndarray:
        state = np.zeros(len(points), dtype=bool)
        for step in self.steps:
            found = step.solid.inside(step.local(points))
            state = state | found if step.op == "grow" else state & ~found
        return state if self.section is None else state & (points @ self.section[0] <= self.section[1])

    def reach(self) -> np.ndarray:
        """Corners of boxes round everything that is grown."""
        corners = []
        for step in self.steps:
            if step.op == "grow":
                shape = step.solid.shape
                if isinstance(shape, Block):
                    low, high = np.array([sorted(map(float, s)) for s in (shape.along, shape.across, shape.into)]).T
                    low, high = low - 2, high + 2
                elif isinstance(shape, Bore):
                    axis = {"along": 0, "across": 1, "into": 2}[shape.toward]
                    half = max(float(shape.diameter), float(shape.end_diameter or shape.diameter)) / 2
                    low = np.insert(np.array([float(v) for v in shape.at]) - half, axis, min(map(float, shape.span)))
                    high = np.insert(np.array([float(v) for v in shape.at]) + half, axis, max(map(float, shape.span)))
                else:
                    flat = np.array([(float(p.x), float(p.y)) for p in shape.outline])
                    low = np.append(flat.min(axis=0) - 2, min(map(float, shape.span)))
                    high = np.append(flat.max(axis=0) + 2, max(map(float, shape.span)))
                box = np.array([[(low, high)[i >> b & 1][b] for b in range(3)] for i in range(8)])
                corners.append(box @ step.axes + step.origin)
        return np.concatenate(corners)

    def first(self, start: np.ndarray, way: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """For each ray the distance to the wood (inf for none), the surface's number, its normal."""
        met, tags = [], []
        for index, step in enumerate(self.steps):
            for number, t in enumerate(step.solid.meetings(step.local(start), step.axes @ way)):
                met.append(t)
                tags.append((index, number))
        if self.section is not None:
            normal, at = self.section
            facing = float(way @ normal)
            met.append((at - start @ normal) / facing if abs(facing) > 1e-12 else np.full(len(start), np.inf))
            tags.append((-1, 0))
        times = np.array(met)
        order = np.argsort(times, axis=0)
        times = np.take_along_axis(times, order, axis=0)
        distance, surface = np.full(len(start), np.inf), np.full(len(start), -1)
        open_rays = np.arange(len(start))
        for k in range(len(times) - 1):
            here, after = times[k, open_rays], times[k + 1, open_rays]
            real = np.isfinite(after) & (after - here > 1e-9)
            rays = open_rays[real]
            middle = here[real] + BETWEEN * (after[real] - here[real])
            hit = self.inside(start[rays] + middle[:, None] * way)
            distance[rays[hit]], surface[rays[hit]] = here[real][hit], order[k, rays[hit]]
            open_rays = np.setdiff1d(open_rays[np.isfinite(after)], rays[hit], assume_unique=True)
            if not len(open_rays):
                break
        normals = np.zeros((len(start), 3))
        for tag in np.unique(surface[surface >= 0]):
            rays = np.flatnonzero(surface == tag)
            index, number = tags[tag]
            if index < 0:
                normals[rays] = self.section[0]  # type: ignore[index]
                continue
            step = self.steps[index]
            points = start[rays] + distance[rays, None] * way
            normals[rays] = step.solid.normal(number, step.local(points)) @ step.axes
        curved = np.array([index >= 0 and number >= len(self.steps[index].solid.planes) for index, number in tags])
        # Both meetings with a curve are one surface.
        group = np.array([2 * i if not c else 2 * (i - (tags[i][1] - len(self.steps[tags[i][0]].solid.planes)) % 2) + 1
                          for i, c in enumerate(curved)])
        return distance, np.where(surface >= 0, group[surface], -1), normals


@dataclass(frozen=True)
class Hits:
    """What rays meet first: part (-1 none), point, surface (odd numbers are curved), normal."""

    part: np.ndarray
    point: np.ndarray
    surface: np.ndarray
    normal: np.ndarray

    def differ(self, other: Hits) -> np.ndarray:
        """Where a line must stand between two hits: other parts, or surfaces that meet at an edge or not at all."""
        parts = self.part != other.part
        cosine = np.clip(np.abs((self.normal * other.normal).sum(axis=1)), 0, 1)
        across = other.point - self.point
        step = np.abs((across * self.normal).sum(axis=1))
        bent = np.arccos(cosine)
        curved = (self.surface % 2 == 1) | (other.surface % 2 == 1)
        edge = np.where(curved, (bent > SMOOTH) & (self.surface != other.surface), bent > 1e-4)
        far = np.where(self.surface != other.surface, step > 0.02, np.linalg.norm(across, axis=1) > 0.5)
        jump = np.where(curved, far, (bent <= 1e-4) & (step > 1e-3))
        return parts | ((self.part >= 0) & (edge | jump))


class Oracle:
    """Shoots rays at some parts along a camera's direction."""

    def __init__(self, parts: Sequence[Part], camera: Camera, offsets: Mapping[str, Vector] | None = None,
                 section: Section | None = None) -> None:
        self.basis = np.array([camera.right, camera.up, camera.toward])
        self.names = [part.name for part in parts]
        self.wood = [_Wood(part, (offsets or {}).get(part.name, (0.0, 0.0, 0.0)), section) for part in parts]
        self.boxes = []
        for wood in self.wood:
            seen = wood.reach() @ self.basis.T
            self.boxes.append((seen.min(axis=0) - 1e-6, seen.max(axis=0) + 1e-6))

    def shoot(self, points: np.ndarray) -> Hits:
        """What is met at points (n, 2) of the picture."""
        count = len(points)
        start = np.column_stack([points, np.full(count, 1000.0)]) @ self.basis
        way = -self.basis[2]
        best = np.full(count, np.inf)
        part, surface, normal = np.full(count, -1), np.full(count, -1), np.zeros((count, 3))
        for number, wood in enumerate(self.wood):
            low, high = self.boxes[number]
            rays = np.flatnonzero(((points >= low[:2]) & (points <= high[:2])).all(axis=1) & (best > 1000 - high[2]))
            if not len(rays):
                continue
            distance, surfaces, normals = wood.first(start[rays], way)
            near = distance < best[rays] - 1e-7
            rays = rays[near]
            best[rays], part[rays], surface[rays], normal[rays] = distance[near], number, surfaces[near], normals[near]
        return Hits(part, start + np.where(np.isfinite(best), best, 0.0)[:, None] * way, surface, normal)


@dataclass(frozen=True)
class Verdict:
    """Shares from 0 to 1, and how many samples each stands on."""

    false: float
    missing: float
    wrong_fill: float
    line_samples: int
    crossings: int
    fill_samples: int
    false_at: np.ndarray
    missing_at: np.ndarray


def judge(seen: Seen, oracle: Oracle, *, samples: int = 3000, scans: int = 60, seed: int = 7) -> Verdict:
    """False lines by samples on the drawn lines, missing ones and wrong fills by random scan lines over the picture."""
    rng = np.random.default_rng(seed)
    drawn = [line for line in seen.lines if line.kind != "tangent"]
    lines = shapely.linestrings(np.concatenate([np.array(line.points) for line in drawn]),
                                indices=np.repeat(np.arange(len(drawn)), [len(line.points) for line in drawn]))
    false_at, line_samples = _false(lines, oracle, samples)
    left, bottom, right, top = seen.bounds or (0.0, 0.0, 1.0, 1.0)
    size = max(right - left, top - bottom)
    middle = rng.uniform((left, bottom), (right, top), (scans, 2))
    angle = rng.uniform(0, np.pi, scans)
    along = np.linspace(-0.7, 0.7, 400) * size
    way = np.column_stack([np.cos(angle), np.sin(angle)])
    points = middle[:, None] + along[None, :, None] * way[:, None]
    hits = oracle.shoot(points.reshape(-1, 2))
    here = _rows(hits, np.arange(scans * 400).reshape(scans, 400)[:, :-1].ravel())
    after = _rows(hits, np.arange(scans * 400).reshape(scans, 400)[:, 1:].ravel())
    change = here.differ(after)
    low, high = points[:, :-1].reshape(-1, 2)[change], points[:, 1:].reshape(-1, 2)[change]
    before = _rows(here, np.flatnonzero(change))
    for _ in range(9):
        half = (low + high) / 2
        found = oracle.shoot(half)
        first = before.differ(found)
        high[first], low[~first] = half[first], half[~first]
        before = _mixed(before, found, first)
    # A change that fades while it is narrowed down was the slow turn of a curve.
    real = oracle.shoot(low).differ(oracle.shoot(high))
    low = low[real]
    tree = shapely.STRtree(lines)
    near = np.unique(tree.query(shapely.points(low), predicate="dwithin", distance=NEAR)[0])
    missing = np.setdiff1d(np.arange(len(low)), near)
    wrong, fill_samples = _wrong_fills(seen, hits, oracle, points.reshape(-1, 2), tree)
    return Verdict(len(false_at) / line_samples, len(missing) / max(len(low), 1), wrong, line_samples, len(low),
                   fill_samples, false_at, low[missing])


def _rows(hits: Hits, rows: np.ndarray) -> Hits:
    return Hits(hits.part[rows], hits.point[rows], hits.surface[rows], hits.normal[rows])


def _mixed(old: Hits, new: Hits, keep: np.ndarray) -> Hits:
    return Hits(np.where(keep, old.part, new.part), np.where(keep[:, None], old.point, new.point),
                np.where(keep, old.surface, new.surface), np.where(keep[:, None], old.normal, new.normal))


def _false(lines: np.ndarray, oracle: Oracle, samples: int) -> tuple[np.ndarray, int]:
    """Points of drawn lines with the same plane of the same part on both sides."""
    total = shapely.length(lines).sum()
    spacing = total / samples
    points, normals = [], []
    for line in lines:
        places = np.arange(spacing / 2, line.length, spacing) if line.length > spacing / 2 else np.zeros(0)
        at = shapely.get_coordinates(shapely.line_interpolate_point(line, places))
        onward = shapely.get_coordinates(shapely.line_interpolate_point(line, np.minimum(places + 1e-4, line.length)))
        back = shapely.get_coordinates(shapely.line_interpolate_point(line, np.maximum(places - 1e-4, 0)))
        way = onward - back
        normals.append(np.column_stack([-way[:, 1], way[:, 0]]) / np.maximum(np.hypot(way[:, 0], way[:, 1]), 1e-12)[:, None])
        points.append(at)
    at, normal = np.concatenate(points), np.concatenate(normals)
    fits = oracle.shoot(at + NEAR * normal).differ(oracle.shoot(at - NEAR * normal))
    return at[~fits], len(at)


def _wrong_fills(
    seen: Seen, hits: Hits, oracle: Oracle, points: np.ndarray, lines: shapely.STRtree
) -> tuple[float, int]:
    """Of random points away from lines, the share that is filled as another part than the ray meets."""
    close = np.unique(lines.query(shapely.points(points), predicate="dwithin", distance=NEAR)[0])
    clear = np.setdiff1d(np.arange(len(points)), close)
    areas = [_even_odd(region.rings) for region in seen.regions]
    number = {name: index for index, name in enumerate(oracle.names)}
    filled = np.full(len(points), -1)
    found, area = shapely.STRtree(areas).query(shapely.points(points[clear]), predicate="intersects")
    filled[clear[found]] = [number[seen.regions[index].part] for index in area]
    return float((filled[clear] != hits.part[clear]).mean()), len(clear)


def _even_odd(rings: Sequence[Sequence[tuple[float, float]]]) -> shapely.Geometry:
    area = shapely.Polygon()
    for ring in rings:
        area = area.symmetric_difference(shapely.Polygon(ring).buffer(0))
    return area


__all__ = ["Hits", "Oracle", "Verdict", "judge"]
