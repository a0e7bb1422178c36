"""How far a drawing reaches, and what in it overlaps: measured on the finished marks.

In: a Drawing. Out: boxes of marks and a list of clashes in words. The tests of every figure stand on this, so it reads the
marks and nothing that placed them.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import cast

from shapely import LineString, Polygon, STRtree, box
from shapely.geometry.base import BaseGeometry

from compiler.draw.lettering import box_of
from compiler.values.figure import Circle, Drawing, Lettering, LineRole, Mark, Point, Stroke

Bounds = tuple[float, float, float, float]

# Lines that may not run through lettering. Outlines and edges may lie under a label that is set in a face.
THIN: tuple[LineRole, ...] = ("dimension", "extension", "leader")


def points_of(mark: Mark) -> Iterable[Point]:
    """The points that bound a mark."""
    if isinstance(mark, Stroke):
        for path in mark.paths:
            yield from path
    elif isinstance(mark, Lettering):
        yield from box_of(mark)
    elif isinstance(mark, Circle):
        (x, y), r = mark.centre, mark.radius
        yield from ((x - r, y - r), (x + r, y + r))
    else:
        for ring in mark.rings:
            yield from ring


def bounds(marks: Iterable[Mark]) -> Bounds | None:
    """Left, low, right, high of all marks; None when there are none."""
    points = [point for mark in marks for point in points_of(mark)]
    if not points:
        return None
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def beyond(box: Bounds, most: tuple[float, float]) -> bool:
    """Whether a box is wider or higher than `most`."""
    return box[2] - box[0] > most[0] or box[3] - box[1] > most[1]


def letter_shape(mark: Lettering, margin: float = 0.0) -> Polygon:
    """The room of a lettering as a polygon."""
    shape = Polygon(box_of(mark))
    return cast(Polygon, shape.buffer(margin, join_style="mitre")) if margin else shape


def clashes(drawing: Drawing, slack: float = 0.05) -> tuple[str, ...]:
    """What no drawing may have, in words: text on text, text on a balloon or a leader, a leader through a balloon, marks outside the frame.

    `slack` in mm is how much two marks may touch. A balloon is a circle with the fill `balloon`; the lettering inside it is its own.
    """
    texts = [mark for mark in drawing.marks if isinstance(mark, Lettering)]
    shapes = [letter_shape(text, -slack) for text in texts]
    balloons = [mark for mark in drawing.marks if isinstance(mark, Circle) and mark.fill == "balloon"]
    rounds: list[BaseGeometry] = [_disc(mark, -slack) for mark in balloons]
    found = [f"{texts[i].text!r} overlaps {texts[j].text!r}" for i, j in _pairs(shapes)]
    for text, shape in zip(texts, shapes, strict=True):
        for disc in rounds:
            if disc.intersects(shape) and not disc.buffer(0.3).contains(shape):
                found.append(f"{text.text!r} lies on a balloon")
    found += [f"balloons overlap near {balloons[i].centre}" for i, _ in _pairs(rounds)]
    lines: list[BaseGeometry] = []
    roles: list[LineRole] = []
    for mark in drawing.marks:
        if isinstance(mark, Stroke) and mark.role in THIN:
            for path in mark.paths:
                for start, end in pairwise(path):
                    if start != end:
                        lines.append(LineString((start, end)))
                        roles.append(mark.role)
    if lines:
        tree = STRtree(lines)
        for text, shape in zip(texts, shapes, strict=True):
            for index in tree.query(shape, predicate="intersects"):
                found.append(f"{roles[int(index)]} line runs through {text.text!r}")
        for balloon, disc in zip(balloons, rounds, strict=True):
            for index in tree.query(disc, predicate="intersects"):
                found.append(f"{roles[int(index)]} line runs through the balloon at {balloon.centre}")
    reach = bounds(drawing.marks)
    if reach is not None:
        frame = box(-slack, -slack, drawing.width + slack, drawing.height + slack)
        if not frame.covers(box(*reach)):
            found.append(f"reaches {tuple(round(v, 2) for v in reach)} outside its frame {drawing.width:.2f} x {drawing.height:.2f}")
    return tuple(found)


def _disc(mark: Circle, grown: float) -> BaseGeometry:
    return LineString((mark.centre, mark.centre)).buffer(max(mark.radius + grown, 0.01))


def _pairs(shapes: list[BaseGeometry] | list[Polygon]) -> list[tuple[int, int]]:
    if len(shapes) < 2:
        return []
    tree = STRtree(shapes)
    return sorted((int(a), int(b)) for a, b in tree.query(shapes, predicate="intersects").T if a < b)
