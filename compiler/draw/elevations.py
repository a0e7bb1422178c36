"""Dimensioned views of the whole piece: front, side and top, aligned, at one scale.

In: a model and its solids. Out: a Drawing at a scale of the plan's units, in third- or first-angle projection. Which sizes it shows is
decided in elevation_sizes. It must not know pages or themes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import shapely

from compiler.base.showing import Style
from compiler.draw import cut_marks, dimensions, projection
from compiler.draw.bounds import Bounds, beyond, bounds
from compiler.draw.dimension_places import lay_out
from compiler.draw.dimensions import Dimension, Manner, Room
from compiler.draw.elevation_sizes import AxisLetter, Interval, places_of, sizes
from compiler.draw.lettering import SMALL, letter, size_runs
from compiler.draw.paint import Placing, paint
from compiler.draw.pen import Pen
from compiler.draw.rectangles import meets
from compiler.draw.scales import Scale, largest
from compiler.draw.views import Camera, Section, Seen, camera, look
from compiler.solid.building import Solids
from compiler.values.figure import Drawing
from compiler.values.model import Model

BETWEEN = 9.0
TITLE_OFF = 2.2
SYMBOL = 7.0


@dataclass(frozen=True, slots=True)
class Plane:
    """A cutting plane seen edge-on: its letter, its place on the picture's axis 0 (across) or 1 (up), and the way of looking there."""

    letter: str
    axis: int
    place: float
    way: float


@dataclass(frozen=True, slots=True)
class View:
    """One view of the sheet: what is seen and the sizes it shows on each axis."""

    title: str
    seen: Seen
    sizes: dict[AxisLetter, tuple[Interval, ...]] = field(default_factory=dict)
    planes: tuple[Plane, ...] = ()


def views_of(model: Model, solids: Solids, first_angle_views: bool = False, cuts: Sequence[Section] = ()) -> tuple[View, ...]:
    """Front, side and top with the sizes each shows: widths and heights in front, depths at the side.

    The side that stands on the right is the right one in third-angle projection, the left one in first-angle projection. `cuts` are
    marked A, B … in the first view that shows them edge-on.
    """
    known = {part.thickness.inches for part in model.parts}
    made = []
    marked: set[int] = set()
    side = ("left side", "LEFT SIDE", "x") if first_angle_views else ("right side", "RIGHT SIDE", "x")
    for words, title, shown in (("front", "FRONT", "xy"), side, ("top", "TOP", "")):
        view = camera(words)
        seen = look(solids, view)
        found: dict[AxisLetter, tuple[Interval, ...]] = {}
        if "x" in shown:
            found["x"] = sizes(seen, "x", places_of(model, view, 0), known)
        if "y" in shown:
            found["y"] = sizes(seen, "y", places_of(model, view, 1), known)
        made.append(View(title, seen, found, _planes(view, cuts, marked)))
    return tuple(made)


def _planes(view: Camera, cuts: Sequence[Section], marked: set[int]) -> tuple[Plane, ...]:
    """The planes that a view shows edge-on and no view before it has shown; their numbers join `marked`."""
    found = []
    for number, cut in enumerate(cuts):
        across = view.project(cut.normal)
        if number in marked or max(map(abs, across)) < 1 - 1e-9:
            continue
        marked.add(number)
        i = 0 if abs(across[0]) > 0.5 else 1
        # The reader looks against the plane's normal.
        found.append(Plane(chr(ord("A") + number), i, cut.at * across[i], -across[i]))
    return tuple(found)


def draw(model: Model, solids: Solids, *, width: float, height: float, style: Style, manner: Manner | None = None,
         first_angle: bool = False, cuts: Sequence[Section] = (), says: str = "") -> Drawing:
    """The sheet of views at the largest scale that fits `width` by `height`."""
    how = manner or Manner(ticks=True)
    views = views_of(model, solids, first_angle, cuts)
    made: dict[Scale, tuple[Pen, Bounds]] = {}

    def attempt(scale: Scale) -> tuple[Pen, Bounds]:
        if scale not in made:
            pen = _sheet(views, scale.mm_per_inch, style, how, first_angle)
            reach = bounds(pen.marks)
            assert reach is not None
            made[scale] = (pen, reach)
        return made[scale]

    def fits(scale: Scale) -> bool:
        if views[0].seen.bounds is None:
            return True
        room = (width - 1, height - 1)
        return not beyond(_least(views, scale.mm_per_inch), room) and not beyond(attempt(scale)[1], room)

    scale = largest(model.edition.units, fits)
    pen, box_ = attempt(scale)
    final = Pen()
    final.add(pen.marks, ((width - (box_[2] - box_[0])) / 2 - box_[0], 0.5 - box_[1]))
    return final.drawing(width, box_[3] - box_[1] + 1, says, scale=scale.words, shows=solids.names)


def _least(views: Sequence[View], scale: float) -> Bounds:
    """The least room of a sheet at a scale: its views with the white between them."""
    front, side, top = (view.seen.bounds or (0.0, 0.0, 0.0, 0.0) for view in views)
    return (0.0, 0.0, (front[2] - front[0] + side[2] - side[0]) * scale + (BETWEEN if views[1].seen.bounds else 0.0),
            (front[3] - front[1] + top[3] - top[1]) * scale + (BETWEEN if views[2].seen.bounds else 0.0))


def _sheet(views: Sequence[View], scale: float, style: Style, manner: Manner, first: bool) -> Pen:
    """Front at the origin, the side to its right on the same foot, the top above (in first-angle projection below) on the same left."""
    front, side, top = views
    pen, room = Pen(), Room()
    front_box = _put(pen, room, front, scale, (0.0, 0.0), style, manner)
    reach = bounds(pen.marks)
    assert reach is not None and front.seen.bounds is not None
    if side.seen.bounds is not None:
        x = max(reach[2], front_box[2]) + BETWEEN + 4.0 - side.seen.bounds[0] * scale
        _put(pen, room, side, scale, (x, 0.0), style, manner)
    if top.seen.bounds is not None and first:
        under = min([front_box[1], *(rect[1] for rect in room.texts if rect[0] < front_box[2]),
                     *(min(s[1], s[3]) for s in (*room.lines, *room.thin) if min(s[0], s[2]) < front_box[2])])
        _put(pen, room, top, scale, (0.0, under - TITLE_OFF - SMALL - 6.0 - top.seen.bounds[3] * scale), style, manner)
    elif top.seen.bounds is not None:
        above = max([front_box[3] + 10, *(rect[3] for rect in room.texts if rect[0] < front_box[2]),
                     *(max(s[1], s[3]) for s in (*room.lines, *room.thin) if min(s[0], s[2]) < front_box[2])])
        _put(pen, room, top, scale, (0.0, above + 6.0 - top.seen.bounds[1] * scale), style, manner)
    _symbol(pen, room, front_box, first)
    return pen


def _symbol(pen: Pen, room: Room, front: Bounds, first: bool) -> None:
    """The sign of the projection in the quarter of the sheet that no view takes: above the side view, or below it."""
    reach = bounds(pen.marks)
    assert reach is not None
    x, y = reach[2] - projection.wide(SYMBOL), reach[1] if first else reach[3] - SYMBOL
    place = (x - 2.0, y - 2.0, reach[2], y + SYMBOL + 2.0)
    taken = (*room.texts, *room.lines, *room.thin, *room.solid)
    if x > front[0] and not any(meets(place, other) for other in taken):
        (projection.first_angle if first else projection.third_angle)(pen, x, y, SYMBOL)


def _put(pen: Pen, room: Room, view: View, scale: float, at: tuple[float, float], style: Style, manner: Manner) -> Bounds:
    """A view with its title and dimensions; gives its box on paper."""
    assert view.seen.bounds is not None
    placing = Placing(scale, *at)
    left, low = placing.point(view.seen.bounds[:2])
    right, high = placing.point(view.seen.bounds[2:])
    title = letter((left, high + TITLE_OFF), view.title, weight="semibold", role="title")
    room.texts.append((left, high + TITLE_OFF, left + title.width, high + TITLE_OFF + SMALL))
    title_room = shapely.box(left - 1.0, high + TITLE_OFF - 1.0, left + title.width + 1.0, high + TITLE_OFF + SMALL + 1.0)
    for plane in view.planes:
        for taken in cut_marks.mark(pen, plane.axis, plane.place * scale + at[plane.axis], plane.way, plane.letter, (left, low, right, high), (title_room,)):
            room.texts.append(taken.bounds)
    wanted = []
    for axis, intervals in view.sizes.items():
        i = 0 if axis == "x" else 1
        shift = at[i]
        for interval in intervals:
            reach = tuple((r[0] * scale + at[1 - i], r[1] * scale + at[1 - i]) for r in interval.reach)
            wanted.append(Dimension(axis=axis, start=interval.start * scale + shift, end=interval.end * scale + shift,
                                    runs=size_runs(interval.length, style), reach=(reach[0], reach[1]), outermost=interval.overall))
    layout = lay_out((left, low, right, high), wanted, manner, room)
    dimensions.draw(pen, layout, manner)
    paint(pen, view.seen, placing, "plain", fills=False)
    pen.letter(title)
    return left, low, right, high
