"""Pictures of the piece from a corner or square on, with its overall sizes as real dimension lines.

In: a model, its solids, a camera, the parts to show. Out: a Drawing. It must not know why the picture is wanted.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import atan2, cos, hypot, sin

from compiler.base.measures import Length
from compiler.base.showing import Style
from compiler.draw.bounds import Bounds, bounds
from compiler.draw.dimensions import GAP, PAST
from compiler.draw.lettering import SMALL, letter, reach, runs_width, size_runs
from compiler.draw.paint import Manner, Placing, fitted, paint
from compiler.draw.pen import Pen
from compiler.draw.views import Camera, look
from compiler.solid.building import PartSolid, Solids
from compiler.values.figure import Drawing, Point
from compiler.values.shapes import Vector

OFF = 9.0


def picture(solids: Solids, camera: Camera, *, width: float, height: float, names: Collection[str] | None = None,
            tinted: Collection[str] = (), manner: Manner = "picture", sizes: Sequence[Length] = (), style: Style | None = None,
            says: str = "") -> Drawing:
    """The piece in a frame at most `width` by `height`; `sizes` are across, deep, up to be dimensioned.

    The frame shrinks to the drawing's height, never below what lettering needs.
    """
    seen = look(solids, camera, names=names)
    reach_ = seen.bounds
    if reach_ is None:
        raise ValueError("Nothing is to be seen.")
    margin = 2.0 if not sizes else 16.0
    placing = fitted(reach_, (margin, margin, width - margin, height - margin))
    chosen = [solid for solid in solids.parts if names is None or solid.name in names]
    for _ in range(4 if sizes else 0):
        # The dimensions' room does not shrink with the picture: fit what is left of the frame.
        box = _joined(placing.point(reach_[:2]), placing.point(reach_[2:]), bounds(_sized(chosen, camera, placing, sizes, style or Style()).marks))
        grow = min((width - 2 - (box[2] - box[0])) / _wide(reach_), (height - 2 - (box[3] - box[1])) / _high(reach_))
        if abs(grow) < 0.002 * placing.scale:
            break
        placing = Placing(placing.scale + grow, placing.dx, placing.dy)
    pen = Pen()
    paint(pen, seen, placing, manner, tinted)
    if sizes:
        pen.add(_sized(chosen, camera, placing, sizes, style or Style()).marks)
    whole = bounds(pen.marks)
    assert whole is not None
    final = Pen()
    final_height = min(height, whole[3] - whole[1] + 2)
    final.add(pen.marks, ((width - (whole[2] - whole[0])) / 2 - whole[0], (final_height - (whole[3] - whole[1])) / 2 - whole[1]))
    return final.drawing(width, final_height, says, shows=seen.names)


def _wide(box: tuple[float, float, float, float]) -> float:
    return max(box[2] - box[0], 1e-6)


def _high(box: tuple[float, float, float, float]) -> float:
    return max(box[3] - box[1], 1e-6)


def _joined(low: Point, high: Point, other: Bounds | None) -> Bounds:
    """The box round two corners and another box."""
    if other is None:
        return *low, *high
    return min(low[0], other[0]), min(low[1], other[1]), max(high[0], other[2]), max(high[1], other[3])


def _sized(chosen: Sequence[PartSolid], camera: Camera, placing: Placing, sizes: Sequence[Length], style: Style) -> Pen:
    """The overall sizes of some solids."""
    pen = Pen()
    low = tuple(min(solid.low[i] for solid in chosen) for i in range(3))
    high = tuple(max(solid.high[i] for solid in chosen) for i in range(3))
    _overall(pen, camera, placing, (low[0], low[1], low[2]), (high[0], high[1], high[2]), sizes, style)
    return pen


def _overall(pen: Pen, camera: Camera, placing: Placing, low: Vector, high: Vector, sizes: Sequence[Length], style: Style) -> None:
    """Width and depth along the nearest lower edges, height along the outer upright edge of the front."""
    toward = camera.toward
    near = tuple(high[i] if toward[i] > 0 else low[i] for i in range(3))
    far = tuple(low[i] if toward[i] > 0 else high[i] for i in range(3))
    foot = low[2]
    # Axis measured, the two other coordinates of its edge, the axis its extension lines run on (and which way).
    wide = ((low[0], near[1], foot), (high[0], near[1], foot), (0.0, -1.0 if toward[1] < 0 else 1.0, 0.0), sizes[0])
    deep = ((near[0], low[1], foot), (near[0], high[1], foot), (1.0 if toward[0] > 0 else -1.0, 0.0, 0.0), sizes[1])
    tall = ((far[0], near[1], foot), (far[0], near[1], high[2]), (-1.0 if toward[0] > 0 else 1.0, 0.0, 0.0), sizes[2])
    for start, end, way, length in (wide, deep, tall):
        a, b = placing.point(camera.project(start)), placing.point(camera.project(end))
        if hypot(a[0] - b[0], a[1] - b[1]) < 4:
            continue
        out = camera.project(way)
        if hypot(*out) < 0.05:
            out = (0.0, -1.0) if abs(a[0] - b[0]) > abs(a[1] - b[1]) else (-1.0, 0.0)
        _slanted(pen, a, b, out, length, style)


def _slanted(pen: Pen, a: Point, b: Point, out: Point, length: Length, style: Style) -> None:
    """A dimension along a-b, its extension lines in the direction `out`."""
    size = hypot(*out)
    ox, oy = out[0] / size, out[1] / size
    p, q = (a[0] + ox * OFF, a[1] + oy * OFF), (b[0] + ox * OFF, b[1] + oy * OFF)
    for start, end in ((a, p), (b, q)):
        pen.line("extension", (start[0] + ox * 1.5, start[1] + oy * 1.5), (end[0] + ox * PAST, end[1] + oy * PAST))
    runs = size_runs(length, style)
    width = runs_width(runs, SMALL)
    low, high = reach(runs, SMALL)
    angle = atan2(q[1] - p[1], q[0] - p[0])
    half_wide, half_high = width / 2 + GAP, max(high - SMALL / 2, SMALL / 2 - low) + GAP
    c, s = abs(cos(angle)), abs(sin(angle))
    half = min(half_wide / c if c > 1e-6 else 1e9, half_high / s if s > 1e-6 else 1e9)
    middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
    ux, uy = cos(angle), sin(angle)
    pen.line("dimension", p, (middle[0] - ux * half, middle[1] - uy * half))
    pen.line("dimension", (middle[0] + ux * half, middle[1] + uy * half), q)
    pen.arrow(p, q)
    pen.arrow(q, p)
    pen.letter(letter((middle[0], middle[1] - SMALL / 2), runs, anchor="middle", role="dimension"))
