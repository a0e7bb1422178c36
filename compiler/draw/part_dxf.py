"""A part flat at 1 : 1 as DXF: its outline and each working on a layer of its own, by kind and depth.

In: a part. Out: DXF text in the plan's units, the lower left corner of the face at 0, 0. Workings open to the back or to an edge come
on layers that say so; those in a turned frame can't be laid flat and are listed as words.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import shapely

from compiler.base.measures import Length
from compiler.base.showing import Style, Units, show
from compiler.draw import dxf
from compiler.draw.arcs import with_arcs
from compiler.draw.dxf import Disc, Layer, Outline
from compiler.draw.paint import Placing, area_of
from compiler.draw.part_cameras import flat, main_camera
from compiler.draw.part_sizes import part_views
from compiler.draw.views import look
from compiler.draw.workings import Blank, Shaping, blank, opens, shapings
from compiler.solid.building import build
from compiler.values.model import Model, Part

Thing = Outline | Disc | dxf.Words
COLOURS = (1, 3, 5, 6, 4, 30, 94, 150)


def write(part: Part, units: Units) -> str:
    """The DXF of one part."""
    things, _ = flat_things(part, units)
    return dxf.write(_layers(things), units, f"{part.letter} {part.kind}".strip())


def together(model: Model) -> str:
    """One DXF with every kind of part once, below each other, each with its letter, name and number."""
    units = model.edition.units
    factor = 1.0 if units == "inch" else 25.4
    gap, height = 2.0 * factor, 0.5 * factor
    all_things: dict[str, list[Thing]] = {"outline": [], "names": []}
    y = 0.0
    for kind in model.kinds:
        part = model.part(kind.parts[0])
        things, (_, high) = flat_things(part, units)
        y -= high + gap
        for name, found in things.items():
            all_things.setdefault(name, []).extend(_moved(thing, y) for thing in found)
        words = f"{kind.letter} {kind.name}, {len(kind.parts)} of {show(part.thickness, _style(units)).text} {part.stock.name}"
        all_things["names"].append(dxf.Words((0.0, y + high + 0.3 * height), words, height))
    return dxf.write(_layers(all_things), units, model.plan.title)


def flat_things(part: Part, units: Units) -> tuple[dict[str, list[Thing]], tuple[float, float]]:
    """What is cut, by layer, and the part's size across and up."""
    within = blank(part)
    found = shapings(part, within)
    view = part_views(within, found, Style())[0]
    camera = main_camera(part)
    factor = 1.0 if units == "inch" else 25.4
    seen = look(build((flat(part),), quality="fine"), camera)
    assert seen.bounds is not None
    left, low, right, high = seen.bounds
    silhouette = shapely.union_all([area_of(region, Placing(1.0)) for region in seen.regions])
    things: dict[str, list[Thing]] = {"outline": []}
    for polygon in getattr(silhouette, "geoms", (silhouette,)):
        for ring in (polygon.exterior, *polygon.interiors):
            points, bulges = with_arcs([((x - left) * factor, (y - low) * factor) for x, y in ring.simplify(1e-6).coords[:-1]], factor)
            things["outline"].append(Outline(points, bulges=bulges))
    right_sign = 1 if camera.right[within.axes[0]] > 0 else -1
    up_sign = 1 if camera.up[within.axes[1]] > 0 else -1

    def flat_point(along: float, across: float) -> tuple[float, float]:
        return (right_sign * along - left) * factor, (up_sign * across - low) * factor

    for s in found:
        if s.op == "cut":
            things.setdefault(_layer(s, within, view.side, _style(units)), []).append(_thing(s, flat_point, factor))
    return things, ((right - left) * factor, (high - low) * factor)


def _style(units: Units) -> Style:
    return Style() if units == "inch" else Style(units="mm", step=Fraction(1, 10))


def _layers(things: dict[str, list[Thing]]) -> tuple[Layer, ...]:
    return tuple(Layer(name, 7 if name in ("outline", "names") else COLOURS[i % len(COLOURS)], tuple(found))
                 for i, (name, found) in enumerate(things.items()))


def _moved(thing: Thing, by: float) -> Thing:
    if isinstance(thing, Disc):
        return Disc((thing.centre[0], thing.centre[1] + by), thing.radius)
    if isinstance(thing, dxf.Words):
        return dxf.Words((thing.at[0], thing.at[1] + by), thing.text, thing.height)
    return Outline(tuple((x, y + by) for x, y in thing.points), thing.closed, thing.bulges)


def _layer(s: Shaping, within: Blank, side: tuple[int, int], style: Style) -> str:
    """`dado 1-4 deep`, `hole through`, `mortise from edge 1 1-2 deep`."""
    if s.sort == "turned":
        return f"{s.called} tilted"
    sides = opens(s, within)
    direction = side[0]
    through = (direction, 1) in sides and (direction, -1) in sides
    if through:
        return f"{s.called} through"
    if side in sides:
        return f"{s.called} {_plain(s, direction, style)} deep"
    if (direction, -side[1]) in sides:
        return f"back {s.called} {_plain(s, direction, style)} deep"
    first = min(sides) if sides else (direction, 1)
    return f"edge {s.called} {_plain(s, first[0], style)} deep"


def _plain(s: Shaping, direction: int, style: Style) -> str:
    return show(Length(s.size(direction)), style).text.replace("/", "-")


def _thing(s: Shaping, at: Callable[[float, float], tuple[float, float]], factor: float) -> Thing:
    x0, x1, y0, y1 = (float(v) for v in (s.low[0], s.high[0], s.low[1], s.high[1]))
    if s.sort == "turned":
        return dxf.Words(at(x0, y0), f"{s.called}: see part drawing", 0.2 * factor)
    if s.sort == "hole" and s.axis == 2:
        return Disc(at((x0 + x1) / 2, (y0 + y1) / 2), float(s.diameter) / 2 * factor)
    if s.sort == "prism" and s.axis == 2:
        points, bulges = with_arcs([at(x, y) for x, y in s.curve], factor)
        return Outline(points, bulges=bulges)
    return Outline(tuple(at(x, y) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))))
