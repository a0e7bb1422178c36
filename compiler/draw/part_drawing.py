"""The drawing of one part: its face with all sizes and notes, edges where they tell more, grain arrow and letter.

In: a part, the number made of it. Out: a Drawing at a scale of the plan's units, views in third-angle projection. Length lies across
the sheet, the foot (or left end) on the left. A tilted part is drawn square, as it lies on the bench.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import inf

from compiler.base.showing import Style, Units
from compiler.draw import dimensions, notes
from compiler.draw.bounds import Bounds, beyond, bounds
from compiler.draw.dimension_places import lay_out
from compiler.draw.dimensions import Dimension, Manner, Room
from compiler.draw.face_marks import face_marks, line_boxes
from compiler.draw.hole_table import draw_table, mark_holes
from compiler.draw.notes import Note
from compiler.draw.paint import Placing, paint
from compiler.draw.part_cameras import Turned, cameras, flat
from compiler.draw.part_sizes import part_views
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect
from compiler.draw.scales import Scale, legible
from compiler.draw.screw_places import ScrewHoles, mark, places_on, targets, words_of
from compiler.draw.workings import Blank, blank, shapings
from compiler.solid.building import build
from compiler.values.figure import Drawing, Point
from compiler.values.model import Part

BETWEEN = 6.0
BESIDE = 12.0
LEAST: dict[Units, float] = {"inch": 2.0, "mm": 1.9}
"""A part that a low frame would draw so much smaller than it could be takes more height; the next metric scale is half as large."""


def worth_drawing(part: Part) -> bool:
    """True when a part is more than a plain box."""
    return bool(part.features)


def draw(part: Part, *, width: float, height: float, style: Style, units: Units, count: int = 1, manner: Manner | None = None,
         first_angle: bool = False, screws: Sequence[ScrewHoles] = (), says: str = "") -> Drawing:
    """The drawing at the largest scale that fits `width` by `height`, at most full size. `screws` are marked on the view they run into."""
    how = manner or Manner()
    lying = flat(part)
    solids = build((lying,), quality="coarse")
    within = blank(part)
    turned = cameras(within, part_views(within, shapings(part, within), style), solids)
    made: dict[Scale, tuple[Pen, Bounds, bool]] = {}

    def attempt(scale: Scale, most: tuple[float, float]) -> tuple[Pen, Bounds]:
        """The sheet, or as much of it as proves that it takes more than `most`."""
        if scale not in made or not (made[scale][2] or beyond(made[scale][1], most)):
            made[scale] = _sheet(part, turned, within, scale.mm_per_inch, style, how, count, first_angle, screws, most)
        pen, reach, _ = made[scale]
        return pen, reach

    def fits(most_high: float) -> Callable[[Scale], bool]:
        def judge(scale: Scale) -> bool:
            most = (width - 1, most_high - 1)
            return not beyond(_least(turned, scale.mm_per_inch, screws), most) and not beyond(attempt(scale, most)[1], most)

        return judge

    scale = legible(units, fits, height, LEAST[units])
    pen, box = attempt(scale, (inf, inf))
    if screws and box[2] - box[0] > width:
        # The words on the screws are too wide for this frame: the joints' drawings and the steps tell them too.
        return draw(part, width=width, height=height, style=style, units=units, count=count, manner=manner, first_angle=first_angle, says=says)
    final = Pen()
    final.add(pen.marks, ((width - (box[2] - box[0])) / 2 - box[0], 0.5 - box[1]))
    return final.drawing(width, box[3] - box[1] + 1, says, scale=scale.words, letters=(part.letter,), shows=(part.name,))


def _least(turned: Sequence[Turned], scale: float, screws: Sequence[ScrewHoles]) -> Bounds:
    """The least room of a sheet at a scale: its views beside and above each other, and the rows of their notes."""
    wide = high = 0.0
    for number, view in enumerate(turned):
        box, direction = view.seen.bounds, view.view.side[0]
        if box is None:
            continue
        told = len(view.view.notes) + (0 if any(one.view.side[0] == direction for one in turned[:number])
                                       else sum(holes.axis == direction for holes in screws))
        if number == 0 or direction != 0:
            high += (box[3] - box[1]) * scale + (BETWEEN if number else 0.0) + notes.least_height(told)
        if number == 0 or direction == 0:
            wide += (box[2] - box[0]) * scale + (BESIDE if number else 0.0)
    return 0.0, 0.0, wide, high


def _sheet(part: Part, turned: Sequence[Turned], within: Blank, scale: float, style: Style, manner: Manner, count: int, first: bool,
           screws: Sequence[ScrewHoles], most: tuple[float, float]) -> tuple[Pen, Bounds, bool]:
    """The sheet with its bounds and True; as soon as it takes more than `most` it is left unfinished, and False."""
    pen, room = Pen(), Room()
    main = turned[0]
    main_box, least = _put(pen, room, main, within, scale, (0.0, 0.0), style, manner, part, count, screws, most)
    for number, other in enumerate(turned[1:], start=1):
        reach = least or bounds(pen.marks)
        assert reach is not None
        if beyond(reach, most):
            return pen, reach, False
        own = other.seen.bounds
        if own is None:
            continue
        direction, sign = other.view.side
        # In the plan's sense the edge at the picture's top belongs above, wherever its axis runs.
        above = direction == 1 and (sign * main.up > 0) != first
        extra = BESIDE + (10.0 if other.view.sizes["y"] or other.view.sizes["x"] else 0.0)
        if direction == 0 and (sign > 0) != first:
            at = (reach[2] + extra - own[0] * scale, 0.0)
        elif direction == 0:
            at = (reach[0] - extra - own[2] * scale, 0.0)
        elif above:
            at = (0.0, reach[3] + BETWEEN + _depth_below(other, manner) - own[1] * scale)
        else:
            at = (0.0, reach[1] - BETWEEN - _depth_above(other) - own[3] * scale)
        _, least = _put(pen, room, other, within, scale, at, style, manner, part, count, [] if any(view.view.side[0] == direction for view in turned[:number]) else screws,
             most, main=False, below=direction != 0 and not above)
    for view in turned:
        if view.view.holes and least is None:
            reach = bounds(pen.marks)
            assert reach is not None
            draw_table(pen, view.view.holes, (main_box[0], reach[1] - BETWEEN), style)
    reach = least or bounds(pen.marks)
    assert reach is not None
    return pen, reach, least is None


def _depth_below(view: Turned, manner: Manner) -> float:
    """Room for the dimensions under a view that stands above the face."""
    levels = len(view.view.sizes["x"])
    return (manner.first + levels * manner.pitch) if levels else 2.0


def _depth_above(view: Turned) -> float:
    return 8.0 if view.view.sizes["x"] else 5.0


def _put(pen: Pen, room: Room, turned: Turned, within: Blank, scale: float, at: tuple[float, float], style: Style, manner: Manner,
         part: Part, count: int, screws: Sequence[ScrewHoles], most: tuple[float, float], main: bool = True, below: bool = False) -> tuple[Bounds, Bounds | None]:
    """A view with all that stands round it; gives its box. Where its sizes or notes prove to take more than `most`, they are not drawn to
    the end, and the room that the sheet takes at least is given, too."""
    assert turned.seen.bounds is not None
    placing = Placing(scale, *at)
    left, low = placing.point(turned.seen.bounds[:2])
    right, high = placing.point(turned.seen.bounds[2:])
    wanted: list[Dimension] = []
    for axis, sizes in turned.view.sizes.items():
        i = 0 if axis == "x" else 1
        own, cross = (turned.right, turned.up) if axis == "x" else (turned.up, turned.right)
        for size in sizes:
            ends = []
            for place, reach in ((size.start, size.reach[0]), (size.end, size.reach[1])):
                beside = sorted(cross * float(value) * scale + at[1 - i] for value in reach)
                ends.append((own * float(place) * scale + at[i], (beside[0], beside[1])))
            ends.sort(key=lambda end: end[0])
            wanted.append(Dimension(axis=axis, start=ends[0][0], end=ends[1][0], runs=size.runs, reach=(ends[0][1], ends[1][1]),
                                    outermost=size.overall, side=_side(ends, axis, (left, low, right, high))))
    layout = lay_out((left, low, right, high), wanted, manner, room)
    dimensions.draw(pen, layout, manner)
    paint(pen, turned.seen, placing, "plain", fills=False)
    box = (left, low, right, high)
    taken = bounds(pen.marks)
    assert taken is not None
    told = len(turned.view.notes) + sum(holes.axis == turned.view.side[0] for holes in screws)
    end = notes.least_reach(box, told, room, below)
    least = (taken[0], min(taken[1], end), taken[2], max(taken[3], end))
    if beyond(least, most):
        return box, least
    asked = [Note(words.runs, tuple(placing.point(turned.point(*target)) for target in words.targets)) for words in turned.view.notes]
    # A note with one place to point at needs its way up free.
    ways = [(x - 1.5, y - 1.0, x + 3.5, high) for note in asked if len(note.targets) == 1 for x, y in note.targets]
    for holes in screws:
        if holes.axis == turned.view.side[0]:
            flat_places = places_on(part, holes, turned.view.right, turned.view.up)
            places = [placing.point(turned.point(*place)) for place in flat_places]
            ways += mark(pen, places, holes.diameter, scale)
            asked.append(Note(words_of(holes, style), targets(places)))
    if main:
        face_marks(pen, room, part, turned.seen, placing, (left, low, right, high), count, ways)
    if turned.view.holes:
        start = (within.low[turned.view.right], within.low[turned.view.up])

        def paper(along: Fraction, across: Fraction) -> Point:
            return placing.point(turned.point(float(start[0] + along), float(start[1] + across)))

        mark_holes(pen, turned.view.holes, paper, scale, room.texts, line_boxes(turned.seen, placing))
    notes.draw(pen, notes.lay_out(box, asked, room, below))
    return box, None


def _side(ends: Sequence[tuple[float, tuple[float, float]]], axis: str, view: Rect) -> dimensions.SideName:
    """Below and left, unless the features all lie in the far third."""
    low, high = (view[1], view[3]) if axis == "x" else (view[0], view[2])
    nearest = max(end[1][0] for end in ends)
    return "high" if nearest > low + 0.66 * (high - low) else "low"
