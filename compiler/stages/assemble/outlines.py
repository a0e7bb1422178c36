"""A part's outline from points and arcs: all outside it goes.

In: a site and a face. Out: two features: the whole box goes, the shape comes back. They stand first among a part's features.
"""

from __future__ import annotations

from typing import cast

from compiler.base.measures import ZERO, Length
from compiler.stages.assemble.growth import block_feature
from compiler.stages.assemble.placing import others
from compiler.stages.assemble.site import Site
from compiler.values.design import Written
from compiler.values.model import AXIS_OF, Face
from compiler.values.shapes import Feature, OutlinePoint, Prism


def outline(site: Site, face: Face) -> list[Feature]:
    """The part's shape seen on a face, from points and arcs; all outside it goes.

    Points count from the left (or front) and the bottom (or front) edge. On a mirrored copy they count from the other side.
    """
    site.judge_keys(("points",))
    written = site.written("points")
    if written is None or not isinstance(written.value, tuple):
        site.error("missing-key", "An outline needs points: [[0, 0], [4, 0], …].", "points")
        return []
    one, two = others(AXIS_OF[face])
    points: list[OutlinePoint] = []
    for entry in cast("tuple[Written, ...]", written.value):
        point = _point(site, entry)
        if point is None:
            return []
        points.append(point)
    if len(points) < 3:
        site.error("few-points", f"An outline needs at least 3 points; this has {len(points)}.", "points")
        return []
    for axis, number in ((one, 0), (two, 1)):
        size = site.span(axis).size
        places = [(point.x, point.y)[number] for point in points]
        beyond = max(-min(places), max(places) - size)
        if beyond > ZERO:
            site.error("working-outside", f"The outline is {site.said(beyond)} outside `{site.name}` ({axis}).", "points")
            return []
        if axis in site.wish.mirrored:
            points = [_turned(point, size, number) for point in points]
    reach = site.span(AXIS_OF[face]).size
    whole = block_feature("cut", "outline", site.standing.box, site.by, face)
    shaped = Feature("grow", "outline", Prism(tuple(points), (ZERO, reach)), site.face_frame(face), site.by, face=face)
    return [whole, shaped]


def _turned(point: OutlinePoint, size: Length, number: int) -> OutlinePoint:
    """The point counted from the other end of one axis."""
    x, y = (size - point.x, point.y) if number == 0 else (point.x, size - point.y)
    return OutlinePoint(x, y, point.radius, -1 if point.bulge == 1 else 1, point.long)


def _point(site: Site, entry: Written) -> OutlinePoint | None:
    """`[4, 0]` or `{arc: [6, 2], radius: 8}`; a radius below nothing bends the arc the other way."""
    value = entry.value
    if isinstance(value, tuple) and value and isinstance(value[0], tuple):
        keys = dict(value)
        end, radius = keys.get("arc"), keys.get("radius")
        if end is None or radius is None or not isinstance(radius.value, str):
            site.findings.error("outline-point", "An arc is {arc: [6, 2], radius: 8}.", entry.at)
            return None
        pair, size = _pair(site, end), site.value(radius.value, radius.at, "length")
        if pair is None or not isinstance(size, Length) or not size:
            return None
        return OutlinePoint(*pair, abs(size), 1 if size > ZERO else -1)
    pair = _pair(site, entry)
    return None if pair is None else OutlinePoint(*pair)


def _pair(site: Site, entry: Written) -> tuple[Length, Length] | None:
    if not isinstance(entry.value, tuple) or len(entry.value) != 2:
        site.findings.error("outline-point", "A point is two sizes: [4, 0].", entry.at)
        return None
    sizes: list[Length] = []
    for item in cast("tuple[Written, ...]", entry.value):
        value = site.value(item.value, item.at, "length") if isinstance(item.value, str) else None
        if not isinstance(value, Length):
            return None
        sizes.append(value)
    return sizes[0], sizes[1]
