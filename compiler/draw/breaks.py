"""Cut faces in a window: their edges as outlines, a thin zigzag where the window breaks them off.

In: an area and the window, in paper millimetres. Out: lines on a pen. It must not know what the area is of.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from shapely.geometry.base import BaseGeometry

from compiler.draw.bounds import Bounds
from compiler.draw.pen import Pen
from compiler.values.figure import Point


def broken_outline(pen: Pen, face: BaseGeometry, frame: Bounds) -> None:
    """The face's edges, with a thin zigzag where the window breaks it off."""
    for polygon in getattr(face, "geoms", (face,)):
        if polygon.geom_type != "Polygon":
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            run: list[Point] = []
            for a, b in pairwise(ring.coords):
                if _on_frame(a, b, frame):
                    if len(run) > 1:
                        pen.lines("outline", [run])
                    run = []
                    pen.lines("break", [_zigzag((a[0], a[1]), (b[0], b[1]))])
                else:
                    run = run or [(a[0], a[1])]
                    run.append((b[0], b[1]))
            if len(run) > 1:
                pen.lines("outline", [run])


def _on_frame(a: Sequence[float], b: Sequence[float], frame: Bounds) -> bool:
    return any(abs(a[i % 2] - frame[i]) < 1e-6 and abs(b[i % 2] - frame[i]) < 1e-6 for i in range(4))


def _zigzag(a: Point, b: Point) -> tuple[Point, ...]:
    """A break line with one zigzag in its middle."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = (dx * dx + dy * dy) ** 0.5
    if long < 3:
        return a, b
    ux, uy = dx / long, dy / long
    nx, ny = -uy * 1.2, ux * 1.2
    m = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)

    def at(t: float, side: float) -> Point:
        return m[0] + ux * t + nx * side, m[1] + uy * t + ny * side

    return (a[0] - ux, a[1] - uy), at(-0.9, 0), at(-0.35, 1), at(0.35, -1), at(0.9, 0), (b[0] + ux, b[1] + uy)
