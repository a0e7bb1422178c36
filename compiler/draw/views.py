"""A view of some solids: visible lines, tinted areas, hidden lines, cut faces. Inches on the picture's plane.

In: solids, a camera, and which parts, how far apart, cut where. Out: `Seen`, with x to the right and y up from
the plan's origin. It must not know about paper, scales, line widths or colours.

- `camera(words) -> Camera`: view words, see compiler.draw.cameras; `Camera.project(point)`, `Camera.depth(point)`
- `look(solids, camera, *, names, offsets, section, fills, hidden, threads) -> Seen`
- `silhouettes(solids, camera, *, names, offsets) -> dict[name, Patch]`: each part as if it stood alone
- `shares(solids, camera, *, names, offsets) -> dict[name, float]`: which share of its silhouette is seen
- `part_at(solids, camera, points, *, names, offsets) -> tuple[name, ...]`: what is nearest at points of the picture

Kinds of lines: `outline` bounds what is seen of a part, `edge` is a sharp edge inside it, `tangent` is where a
round runs smoothly into a flat. Without fills, outlines are told by the edge's own two faces alone, so an edge
along which another part lies flush counts as `edge`.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
import shapely

from compiler.draw.cameras import Camera, camera, look_from
from compiler.draw.cells import BACKGROUND, Cells, cells, nearest, sides
from compiler.draw.hidden_lines import Stretches, seen_and_covered
from compiler.draw.linework import GRID, Pieces, merged, on_grid, polylines, rounded
from compiler.draw.patches import Patch, Point, outlined, patches
from compiler.draw.scene import SPECK, Scene, Shown, basis_of, stage
from compiler.solid.building import Solids
from compiler.solid.geometry import SHARP, SMOOTH, TANGENT
from compiler.solid.meshes import Floats
from compiler.solid.sections import Section, across_axis
from compiler.solid.shadows import shadow_area
from compiler.values.shapes import Vector

__all__ = [
    "Camera", "Line", "Patch", "Section", "Seen", "across_axis", "camera", "look", "look_from", "part_at", "shares",
    "silhouettes",
]

LineKind = Literal["outline", "edge", "tangent"]
_KINDS: tuple[LineKind, ...] = ("outline", "edge", "tangent")
# Lines shorter than this on the picture (inches) are points.
LEAST = 1e-6


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline of one kind. `part` owns it; `beyond` is the other part that it parts from, "" for the background."""

    kind: LineKind
    part: str
    points: tuple[Point, ...]
    beyond: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A view. `fills` have a patch per part and shade, `regions` one per part that is seen at all, `caps` the cut faces.

    `hidden` are lines out of sight, doubled by no visible line. `threads` are the seen stretches of the extra
    lines asked for, each with its index. `bounds` is (left, bottom, right, top) of everything drawn, None when empty.
    """

    camera: Camera
    names: tuple[str, ...]
    lines: tuple[Line, ...]
    hidden: tuple[Line, ...] = ()
    fills: tuple[Patch, ...] = ()
    regions: tuple[Patch, ...] = ()
    threads: tuple[tuple[int, Point, Point], ...] = ()

    @property
    def caps(self) -> tuple[Patch, ...]:
        """The cut faces of a section, one per part."""
        return tuple(fill for fill in self.fills if fill.shade == "cut")

    @property
    def bounds(self) -> tuple[float, float, float, float] | None:
        """The box round all lines."""
        points = [point for line in self.lines + self.hidden for point in line.points]
        if not points:
            return None
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def region(self, name: str) -> Patch | None:
        """What is seen of a part, None when nothing is."""
        return next((region for region in self.regions if region.part == name), None)


def look(
    solids: Solids,
    camera: Camera,
    *,
    names: Collection[str] | None = None,
    offsets: Mapping[str, Vector] | None = None,
    section: Section | None = None,
    fills: bool = True,
    hidden: bool = False,
    threads: Sequence[tuple[Vector, Vector]] = (),
) -> Seen:
    """The view of some parts (None: all), each moved by its offset in plan inches, after the section is cut.

    `threads` are extra lines from point to point (plan inches, where things are after moving), such as trails. A
    section is always filled. Fills take about as long as lines; leave them out where only lines matter.
    """
    shown, moves = _shown(solids, names, offsets)
    return _seen(shown, camera, moves, section, fills or section is not None, hidden, tuple(threads))


@lru_cache(maxsize=128)
def _seen(shown: Shown, camera: Camera, moves: tuple[Vector, ...], section: Section | None, fills: bool, hidden: bool,
          threads: tuple[tuple[Vector, Vector], ...]) -> Seen:
    """The view of bodies: one plan's drawings ask for many a view twice."""
    if fills:
        scene, pieces, hidden_pieces, areas = _areas(shown, camera, moves, section, hidden)
        lines = _bounded_lines(scene, pieces, areas)
        fill_patches, regions = patches(scene, areas)
    else:
        scene = stage(shown, moves, camera, section)
        pieces, hidden_pieces = _pieces(scene, hidden)
        lines = _plain_lines(scene, pieces)
        fill_patches, regions = (), ()
    return Seen(
        camera=camera, names=scene.names, lines=lines, hidden=_plain_lines(scene, hidden_pieces), fills=fill_patches,
        regions=regions, threads=_strands(scene, camera, threads) if threads else (),
    )


@lru_cache(maxsize=64)
def _areas(shown: Shown, camera: Camera, moves: tuple[Vector, ...], section: Section | None, hidden: bool) -> tuple[Scene, Pieces, Pieces, Cells]:
    """The scene of bodies with its visible and hidden pieces and the cells between the visible ones."""
    scene = stage(shown, moves, camera, section)
    pieces, hidden_pieces = _pieces(scene, hidden)
    return scene, pieces, hidden_pieces, cells(scene, pieces)


def _shown(solids: Solids, names: Collection[str] | None, offsets: Mapping[str, Vector] | None) -> tuple[Shown, tuple[Vector, ...]]:
    """Name and body of each part that is looked at, and how far each is moved (nothing when none is)."""
    wanted = None if names is None else set(names)
    shown = tuple((solid.name, solid.body) for solid in solids.parts if wanted is None or solid.name in wanted)
    return shown, tuple(offsets.get(name, (0.0, 0.0, 0.0)) for name, _ in shown) if offsets else ()


def _strands(scene: Scene, camera: Camera, threads: Sequence[tuple[Vector, Vector]]) -> tuple[tuple[int, Point, Point], ...]:
    """The seen stretches of the extra lines."""
    ends = np.array(threads, dtype=np.float64).reshape(-1, 2, 3) @ basis_of(camera).T
    starts, stops = ends[:, 0], ends[:, 1]
    long = np.flatnonzero(np.hypot(*(stops - starts)[:, :2].T) > LEAST)
    starts, stops = starts[long], stops[long]
    seen, _ = seen_and_covered(scene, starts, stops)
    begin, end = _cut(seen, starts, stops)
    return tuple((int(long[line]), *rounded(np.array(pair))) for line, *pair in zip(seen.line, begin, end, strict=True))  # type: ignore[misc]


def _pieces(scene: Scene, hidden: bool) -> tuple[Pieces, Pieces]:
    """Visible and hidden pieces without doubles, rank = kind x number of parts + part."""
    facing = scene.front[scene.sides].sum(axis=1)
    drawn = ((scene.classes == SHARP) | (scene.classes == TANGENT)) & (facing > 0)
    drawn |= (scene.classes == SMOOTH) & (facing == 1)
    if hidden:
        drawn |= (scene.classes == SHARP) & (facing == 0)
    starts, ends = scene.points[scene.edges[:, 0]], scene.points[scene.edges[:, 1]]
    edge = np.flatnonzero(drawn & (np.hypot(*(ends - starts)[:, :2].T) > LEAST))
    starts, ends = starts[edge], ends[edge]
    kind = np.where(scene.classes[edge] == TANGENT, 2, 1)
    kind[facing[edge] == 1] = 0
    seen, covered = seen_and_covered(scene, starts, ends)
    number = len(scene.names)
    rank = kind * number + scene.edge_owner[edge]
    way = (ends - starts)[:, :2]
    way /= np.hypot(way[:, 0], way[:, 1])[:, None]
    visible = merged(Pieces(*_cut(seen, starts, ends), way[seen.line], rank[seen.line]))
    if not hidden:
        return visible, visible.some(np.zeros(0, dtype=np.int64))
    behind = kind[covered.line] != 2
    begin, stop = _cut(covered, starts, ends)
    line = covered.line[behind]
    hidden_rank = (3 * number + rank[line] % number) if number else line
    both = merged(Pieces(
        np.concatenate([visible.start, begin[behind]]), np.concatenate([visible.end, stop[behind]]),
        np.concatenate([visible.direction, way[line]]), np.concatenate([visible.rank, hidden_rank]),
    ))
    return visible, both.some(np.flatnonzero(both.rank >= 3 * number))


def _cut(stretches: Stretches, starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """Where on the picture the stretches of lines begin and end."""
    a, b = starts[stretches.line, :2], ends[stretches.line, :2]
    return a + stretches.start[:, None] * (b - a), a + stretches.end[:, None] * (b - a)


def _plain_lines(scene: Scene, pieces: Pieces) -> tuple[Line, ...]:
    count = len(scene.names)
    if not count:
        return ()
    chains = polylines(on_grid(pieces.start), on_grid(pieces.end), pieces.rank)
    return tuple(Line(_KINDS[min(rank // count, 3) % 3], scene.names[rank % count], points) for rank, points in chains)


def _bounded_lines(scene: Scene, pieces: Pieces, areas: Cells) -> tuple[Line, ...]:
    """Segments between two parts, or a cut face and anything else, are outlines; the others keep their kind."""
    count = len(scene.names)
    if not count or not len(areas.nodes):
        return ()
    between = sides(areas, pieces)
    owner = np.append(scene.owner, BACKGROUND)[np.append(areas.nearest, BACKGROUND)]
    cap = np.append(scene.cap, False)[np.append(areas.nearest, BACKGROUND)]
    one, two = owner[between.one], owner[between.two]
    border = (one != two) | (cap[between.one] != cap[between.two])
    kind, part = np.divmod(pieces.rank[between.source], count)
    low, high = np.minimum(one, two), np.maximum(one, two)
    mine = np.where((part == one) | (part == two), part, np.where(low >= 0, low, high))
    mine = np.where(border & (low == BACKGROUND), high, mine)
    mine = np.where(mine == BACKGROUND, part, mine)
    other = np.where(border, np.where(mine == high, low, high), BACKGROUND)
    kind = np.where(border, 0, np.maximum(kind, 1))
    chains = polylines(between.start, between.end, (kind * count + mine) * (count + 1) + other + 1)
    lines = []
    for group, points in chains:
        rank, beyond = divmod(group, count + 1)
        name = scene.names[beyond - 1] if beyond else ""
        lines.append(Line(_KINDS[rank // count], scene.names[rank % count], points, name))
    return tuple(lines)


def silhouettes(
    solids: Solids,
    camera: Camera,
    *,
    names: Collection[str] | None = None,
    offsets: Mapping[str, Vector] | None = None,
) -> dict[str, Patch]:
    """Each part's whole silhouette, as if nothing stood before it."""
    scene = stage(*_shown(solids, names, offsets), camera, None)
    triangles = shapely.polygons(scene.points[scene.triangles[scene.covers], :2])
    owner = scene.owner[scene.covers]
    areas = [shapely.union_all(triangles[owner == number], grid_size=GRID / 10) for number in range(len(scene.names))]
    rings_and_areas = outlined(np.array(areas, dtype=object))
    return {name: Patch(name, rings, area) for name, (rings, area) in zip(scene.names, rings_and_areas, strict=True)}


def shares(
    solids: Solids,
    camera: Camera,
    *,
    names: Collection[str] | None = None,
    offsets: Mapping[str, Vector] | None = None,
) -> dict[str, float]:
    """Which share of each part's silhouette is seen, from 0 to 1."""
    shown, moves = _shown(solids, names, offsets)
    scene, _, _, areas = _areas(shown, camera, moves, None, False)
    filled = areas.nearest != BACKGROUND
    sizes = np.bincount(scene.owner[areas.nearest[filled]], shapely.area(areas.polygons[filled]), len(scene.names))
    regions = dict(zip(scene.names, sizes.tolist(), strict=True))
    found: dict[str, float] = {}
    for name, body in shown:
        # Where a part is moved to changes nothing of its own shadow.
        alone = shadow_area(body, camera.right, camera.up, camera.toward)
        found[name] = min(1.0, round(regions.get(name, 0.0) / alone, 4)) if alone > SPECK else 0.0
    return found


def part_at(
    solids: Solids,
    camera: Camera,
    points: Sequence[Point],
    *,
    names: Collection[str] | None = None,
    offsets: Mapping[str, Vector] | None = None,
) -> tuple[str, ...]:
    """The part nearest to the reader at each point of the picture, "" where there is none."""
    scene = stage(*_shown(solids, names, offsets), camera, None)
    found = nearest(scene, np.array(points, dtype=np.float64).reshape(-1, 2))
    return tuple("" if triangle == BACKGROUND else scene.names[scene.owner[triangle]] for triangle in found)
