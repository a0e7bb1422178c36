"""Where the joint details were taken: elevations with a numbered circle at each joint and numbered arrows at each cut.

In: a model, its solids, the joints in the order of their numbers. Out: a Drawing without scale. A detail is circled in the elevation
that looks the way the detail does; its cut is shown by arrows in another one, where the plane is seen edge-on. Cuts in one plane share
their arrows. It must not know pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import shapely

from compiler.draw import balloons, cut_marks
from compiler.draw.balloon_slots import RADIUS
from compiler.draw.bounds import Bounds
from compiler.draw.joint_cuts import Cut, cut_of
from compiler.draw.lettering import LARGE, SMALL, letter, text_width
from compiler.draw.paint import Placing, paint
from compiler.draw.pen import Pen
from compiler.draw.views import Camera, Seen, camera, look
from compiler.solid.building import Solids
from compiler.values.figure import Drawing, Point
from compiler.values.model import JointUse, Model
from compiler.values.shapes import Vector

SIDES = (("front", 1, -1), ("right side", 0, 1), ("top", 2, 1), ("left side", 0, -1), ("back", 1, 1), ("bottom", 2, -1))
"""Elevations in the order they stand in, each with the plan axis and way it looks from."""

EDGE, OVER = 14.0, 20.0
"""Room for numbers beside an elevation, and over and under it (mm)."""
CIRCLE = (2.4, 6.0)
TOGETHER = 4.5
TITLE = 5.0


@dataclass(slots=True)
class _Elevation:
    """An elevation with what is marked in it: numbered points with the size of their window, planes by place on an axis."""

    words: str
    camera: Camera
    seen: Seen
    circles: list[tuple[int, Point, float]] = field(default_factory=list)
    planes: list[tuple[int, int, float, float]] = field(default_factory=list)


def draw(model: Model, solids: Solids, joints: Sequence[JointUse], *, width: float, height: float, says: str = "") -> Drawing:
    """The elevations in a row, at the largest scale that fits."""
    views = _marked(solids, [cut_of(model, solids, joint) for joint in joints])
    boxes = [view.seen.bounds for view in views]
    reach = [box for box in boxes if box is not None]
    free = width - 2 * EDGE * len(reach)
    scale = min(free / sum(box[2] - box[0] for box in reach), (height - 2 * OVER - TITLE) / max(box[3] - box[1] for box in reach))
    used = sum((box[2] - box[0]) * scale + 2 * EDGE for box in reach)
    high = max(box[3] - box[1] for box in reach) * scale + 2 * OVER + TITLE
    pen = Pen()
    x = (width - used) / 2
    for view, box in zip(views, reach, strict=True):
        # On one middle line: what stands under a low one costs no height.
        foot = OVER + TITLE + (high - 2 * OVER - TITLE - (box[3] - box[1]) * scale) / 2
        placing = Placing(scale, x + EDGE - box[0] * scale, foot - box[1] * scale)
        _put(pen, view, placing, (x, TITLE, x + 2 * EDGE + (box[2] - box[0]) * scale, high))
        x += 2 * EDGE + (box[2] - box[0]) * scale
    return pen.drawing(width, high, says, shows=solids.names)


def _marked(solids: Solids, cuts: Sequence[Cut]) -> list[_Elevation]:
    """The elevations that the details need, the cuts of some shown in those of others where that is possible."""
    wanted = [_side(cut.camera.toward) for cut in cuts]
    for axis in dict.fromkeys(SIDES[side][1] for side, cut in zip(wanted, cuts, strict=True) if cut.section is not None):
        if not any(SIDES[side][1] != axis for side in wanted):
            wanted.append(1 if axis != 0 else 0)
    views = {side: _Elevation(SIDES[side][0], camera(SIDES[side][0]), look(solids, camera(SIDES[side][0]))) for side in sorted(set(wanted))}
    for number, (side, cut) in enumerate(zip(wanted, cuts, strict=False), start=1):
        view = views[side]
        window = max(cut.window[2] - cut.window[0], cut.window[3] - cut.window[1])
        view.circles.append((number, view.camera.project(cut.middle), window))
        if cut.section is None:
            continue
        other = next(views[one] for one in views if SIDES[one][1] != SIDES[side][1])
        across = other.camera.project(cut.camera.toward)
        i = 0 if abs(across[0]) > 0.5 else 1
        other.planes.append((number, i, other.camera.project(cut.middle)[i], -1.0 if across[i] > 0 else 1.0))
    return list(views.values())


def _side(toward: Vector) -> int:
    axis = max(range(3), key=lambda i: abs(toward[i]))
    sign = 1 if toward[axis] > 0 else -1
    return next(k for k, (_, a, s) in enumerate(SIDES) if (a, s) == (axis, sign))


def _put(pen: Pen, view: _Elevation, placing: Placing, cell: Bounds) -> None:
    """An elevation in its cell, with circles, arrows and numbers."""
    box = view.seen.bounds
    assert box is not None
    paint(pen, view.seen, placing, "small", fills=False)
    (left, low), (right, high) = placing.point(box[:2]), placing.point(box[2:])
    targets = []
    groups: list[tuple[list[int], Point, float]] = []
    for number, at, window in view.circles:
        point = placing.point(at)
        radius = min(max(0.65 * window * placing.scale, CIRCLE[0]), CIRCLE[1])
        near = next((group for group in groups if abs(group[1][0] - point[0]) + abs(group[1][1] - point[1]) < 1.0), None)
        if near is not None:
            near[0].append(number)
        else:
            groups.append(([number], point, radius))
    taken = _arrows(pen, view, placing, (left, low, right, high), [shapely.Point(at).buffer(radius + 0.4) for _, at, radius in groups])
    for numbers, point, radius in groups:
        pen.circle(point, radius, "cut")
        ring = shapely.Point(point).buffer(radius, quad_segs=12)
        targets.append(balloons.Target(", ".join(map(str, numbers)), ring.exterior, ring))
    silhouette = shapely.box(left, low, right, high)
    circles = [shapely.Point(at).buffer(radius) for _, at, radius in groups]
    moved = [balloons.Target(t.letter, *(shapely.affinity.translate(shape, -cell[0], -cell[1]) for shape in (t.spots, t.own))) for t in targets]
    placed = balloons.place(moved, shapely.affinity.translate(silhouette, -cell[0], -cell[1]), cell[2] - cell[0], cell[3] - cell[1],
                            [shapely.affinity.translate(one, -cell[0], -cell[1]) for one in (*taken, *circles)])
    for balloon in placed:
        size = LARGE if text_width(balloon.letter, LARGE, "semibold") < 1.8 * RADIUS else SMALL
        x, y = balloon.centre[0] + cell[0], balloon.centre[1] + cell[1]
        half = text_width(balloon.letter, size, "semibold") / 2 + 0.8
        line = shapely.LineString([(px + cell[0], py + cell[1]) for px, py in balloon.leader])
        # Several numbers are wider than the ring that one would have.
        line = line.difference(shapely.box(x - half, y - size / 2 - 0.8, x + half, y + size / 2 + 0.8))
        pen.lines("leader", (tuple(piece.coords) for piece in getattr(line, "geoms", (line,)) if not piece.is_empty))
        at = (x, y - size / 2)
        pen.letter(letter(at, balloon.letter, size=size, anchor="middle", weight="semibold"))
    title = letter(((left + right) / 2, 0.0), view.words.upper(), anchor="middle", weight="semibold", role="title")
    reach = ((left + right - title.width) / 2 - 2.0, (left + right + title.width) / 2 + 2.0)
    # Under the outline, or under what stands there.
    rings = [shapely.Point(balloon.centre[0] + cell[0], balloon.centre[1] + cell[1]).buffer(RADIUS) for balloon in placed]
    under = [shape.bounds for shape in (*taken, *rings, *circles)]
    foot = min([low, *(one[1] for one in under if one[0] < reach[1] and one[2] > reach[0])])
    title = replace(title, at=(title.at[0], foot - SMALL - 2.0))
    pen.letter(title)


def _arrows(pen: Pen, view: _Elevation, placing: Placing, box: Bounds, circles: Sequence[shapely.Geometry]) -> list[shapely.Geometry]:
    """The ends of each cut: a stroke beyond the outline, an arrow the way the reader looks, the numbers, clear of the circles.

    Gives the room they take.
    """
    planes: list[tuple[list[int], int, float, float]] = []
    for number, i, place, way in sorted(view.planes, key=lambda plane: (plane[1], plane[3], plane[2])):
        on_paper = place * placing.scale + (placing.dx, placing.dy)[i]
        if planes and planes[-1][1] == i and planes[-1][3] == way and on_paper - planes[-1][2] < TOGETHER:
            planes[-1][0].append(number)
        else:
            planes.append(([number], i, on_paper, way))
    taken: list[shapely.Geometry] = []
    for numbers, i, place, way in planes:
        taken += cut_marks.mark(pen, i, place, way, ", ".join(map(str, sorted(numbers))), box, (*taken, *circles))
    return taken
