"""The profile of a moulded edge, cut across and drawn large with the sizes to set a cutter or grind a blade by.

In: a part. Out: a Drawing at full size or twice that: the corner of the section that the profile shapes, broken off where the part
runs on. Places are measured from the face and the edge that the profile leaves behind; arcs have their radii. It must not know pages.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import hypot

import shapely

from compiler.base.measures import Length
from compiler.base.showing import Style, Units
from compiler.draw import dimensions, notes
from compiler.draw.bounds import Bounds, bounds
from compiler.draw.breaks import broken_outline
from compiler.draw.dimension_places import lay_out
from compiler.draw.dimensions import Dimension, Manner, Room
from compiler.draw.lettering import joined, size_runs
from compiler.draw.notes import Note
from compiler.draw.pen import Pen
from compiler.draw.scales import Scale, largest
from compiler.draw.woodsigns import Sign, sign
from compiler.draw.workings import Blank, FlatPoint, Shaping, blank, shapings
from compiler.values.figure import Drawing, Point
from compiler.values.model import Part

CALLED = "profile"
MARGIN = 0.3
NEAR = 0.4
PULL = 0.1
MANNER = Manner(first=10.0, pitch=7.5)


@dataclass(frozen=True, slots=True)
class Profile:
    """A profile in its section (inches): `face` is the piece's area, `corner` the place that the cut took away."""

    shaping: Shaping
    face: shapely.Geometry
    corner: tuple[Fraction, Fraction]
    window: Bounds
    arcs: tuple[tuple[Fraction, FlatPoint], ...]


def profile_of(part: Part) -> Profile | None:
    """The first moulded edge of a part; thickness runs right, width (or length) up. None when it has none."""
    within = blank(part)
    found = shapings(part, within)
    shaping = next((s for s in found if s.called == CALLED and s.sort == "prism" and s.axis != 2), None)
    if shaping is None:
        return None
    up = 1 - shaping.axis
    face: shapely.Geometry = shapely.box(float(within.box_low[2]), float(within.box_low[up]), float(within.box_high[2]), float(within.box_high[up]))
    for one in found:
        if one.edge and one.axis == shaping.axis:
            face = face.difference(shapely.Polygon(_turned(one.curve)).buffer(1e-6))
    corner = (_lost(shaping, within, 2), _lost(shaping, within, up))
    low, high = (float(shaping.low[2]), float(shaping.low[up])), (float(shaping.high[2]), float(shaping.high[up]))
    window = [low[0] - MARGIN, low[1] - MARGIN, high[0] + MARGIN, high[1] + MARGIN]
    for i, edge in enumerate(face.bounds):
        # A face in the window or near its edge is shown whole.
        if (edge - window[i]) * (1 if i < 2 else -1) > -NEAR:
            window[i] = edge - PULL if i < 2 else edge + PULL
    return Profile(shaping, face, corner, (window[0], window[1], window[2], window[3]), tuple(_arcs(shaping)))


def draw(part: Part, *, width: float, height: float, style: Style, units: Units, says: str = "") -> Drawing:
    """The section at the largest scale that fits, at most twice full size. Raises ValueError when the part has no profile."""
    profile = profile_of(part)
    if profile is None:
        raise ValueError(f"`{part.name}` has no moulded edge.")
    made: dict[Scale, tuple[Pen, Bounds]] = {}

    def attempt(scale: Scale) -> tuple[Pen, Bounds]:
        if scale not in made:
            pen = _drawn(part, profile, scale.mm_per_inch, style)
            reach = bounds(pen.marks)
            assert reach is not None
            made[scale] = (pen, reach)
        return made[scale]

    def fits(scale: Scale) -> bool:
        box = attempt(scale)[1]
        return box[2] - box[0] <= width - 1 and box[3] - box[1] <= height - 1

    scale = largest(units, fits, most=Fraction(2))
    pen, box = attempt(scale)
    width = max(width, box[2] - box[0] + 1)
    final = Pen()
    final.add(pen.marks, ((width - (box[2] - box[0])) / 2 - box[0], 0.5 - box[1]))
    return final.drawing(width, box[3] - box[1] + 1, says, scale=scale.words, shows=(part.name,))


def _drawn(part: Part, profile: Profile, scale: float, style: Style) -> Pen:
    pen, room = Pen(), Room()
    frame = tuple(value * scale for value in profile.window)
    window = (frame[0], frame[1], frame[2], frame[3])
    face = shapely.affinity.scale(profile.face.intersection(shapely.box(*profile.window)), scale, scale, origin=(0, 0))
    view = face.bounds
    dimensions.draw(pen, lay_out((view[0], view[1], view[2], view[3]), _sizes(profile, scale, style, view), MANNER, room), MANNER)
    what: Sign = "end" if part.stock.kind != "sheet" else "edge"
    for piece in getattr(face, "geoms", (face,)):
        pen.lines("hatch", sign(piece, what, angle=90.0, thickness=float(part.thickness)))
    broken_outline(pen, face, window)
    asked: dict[Fraction, list[Point]] = {}
    for radius, (x, y) in profile.arcs:
        asked.setdefault(radius, []).append((x * scale, y * scale))
    words = [Note(joined("R ", size_runs(Length(radius), style)), tuple(at), dot=False) for radius, at in asked.items()]
    notes.draw(pen, notes.lay_out((view[0], view[1], view[2], view[3]), words, room))
    return pen


def _sizes(profile: Profile, scale: float, style: Style, view: Bounds) -> list[Dimension]:
    """Each corner of the profile from the face and from the edge, as far as they are inside the section."""
    wanted: list[Dimension] = []
    shaping = profile.shaping
    for i, direction in ((0, 2), (1, 1 - shaping.axis)):
        zero = profile.corner[i]
        beside = float(profile.corner[1 - i]) * scale
        inner = [float(value) * scale for value in (shaping.low[1 - shaping.axis if i == 0 else 2], shaping.high[1 - shaping.axis if i == 0 else 2])]
        places: dict[Fraction, list[float]] = {}
        for point in _turned(shaping.outline):
            place = _exact(point[i])
            if place != zero and shaping.low[direction] <= place <= shaping.high[direction]:
                places.setdefault(place, []).append(point[1 - i] * scale)
        outside = abs(view[1 - i] - beside) < abs(view[3 - i] - beside)
        for place, across in sorted(places.items()):
            ends = sorted(((float(zero) * scale, (min(inner), max(inner))), (float(place) * scale, (min(across), max(across)))))
            wanted.append(Dimension(axis="x" if i == 0 else "y", start=ends[0][0], end=ends[1][0], runs=size_runs(Length(abs(place - zero)), style),
                                    reach=(ends[0][1], ends[1][1]), side="low" if outside else "high"))
    return wanted


def _lost(shaping: Shaping, within: Blank, direction: int) -> Fraction:
    """The face that the cut is open to: from there the maker measures."""
    low_gap = shaping.low[direction] - within.box_low[direction]
    high_gap = within.box_high[direction] - shaping.high[direction]
    return within.box_low[direction] if low_gap < high_gap else within.box_high[direction]


def _arcs(shaping: Shaping) -> Iterable[tuple[Fraction, FlatPoint]]:
    """Each arc with its radius and its middle, read from the fine curve between two corners."""
    corners = [(round(x, 6), round(y, 6)) for x, y in _turned(shaping.outline)]
    points = [(round(x, 6), round(y, 6)) for x, y in _turned(shaping.curve)]
    if not shaping.radii or not points:
        return
    at = [k for k, point in enumerate(points) if any(hypot(point[0] - x, point[1] - y) < 1e-4 for x, y in corners)]
    for start, end in pairwise([*at, at[0] + len(points)] if at else []):
        if end - start < 2:
            continue
        a, m, b = points[start], points[(start + end) // 2 % len(points)], points[end % len(points)]
        sides = hypot(a[0] - m[0], a[1] - m[1]), hypot(m[0] - b[0], m[1] - b[1]), hypot(a[0] - b[0], a[1] - b[1])
        area = abs((m[0] - a[0]) * (b[1] - a[1]) - (b[0] - a[0]) * (m[1] - a[1])) / 2
        if area < 1e-9:
            continue
        radius = sides[0] * sides[1] * sides[2] / (4 * area)
        yield min(shaping.radii, key=lambda known, radius=radius: abs(float(known) - radius)), m  # type: ignore[misc]


def _turned(points: Iterable[FlatPoint]) -> list[FlatPoint]:
    """From (width or length, thickness) to (thickness, the other)."""
    return [(y, x) for x, y in points]


def _exact(value: float) -> Fraction:
    return Fraction(round(value * 1024), 1024)
