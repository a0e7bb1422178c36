"""A section through the piece: cut faces with the sign of their wood, what lies behind them in thin lines.

In: a model, its solids, a place and a side to look from. Out: a Drawing at scale with its sizes, or, of a step, one without scale in
which the parts added are tinted and lettered. It must not know pages.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

import shapely

from compiler.base.measures import Length, inch, mm
from compiler.base.showing import Style
from compiler.draw import balloons, dimensions
from compiler.draw.bounds import Bounds, beyond, bounds
from compiler.draw.cut_faces import piece_of, sign_of
from compiler.draw.dimension_places import lay_out
from compiler.draw.dimensions import Dimension, Manner, Room
from compiler.draw.elevation_sizes import AxisLetter, Interval, places_of, sizes
from compiler.draw.exploded import areas_of, room_of, targets
from compiler.draw.lettering import size_runs
from compiler.draw.paint import Placing, area_of, fitted
from compiler.draw.patches import Patch
from compiler.draw.pen import Pen
from compiler.draw.scales import Scale, largest
from compiler.draw.views import Camera, Section, Seen, camera, look
from compiler.draw.woodsigns import sign
from compiler.solid.building import Solids
from compiler.values.figure import Drawing
from compiler.values.model import AXES, AXIS_OF, Model

TALLER = 1.8
FACES = ("left", "right", "front", "back", "bottom", "top")


def plane_of(model: Model, words: str) -> tuple[Camera, Section]:
    """The plane of `at 18 from the front`, `at middle from the right`, `at shelf.top from the top`.

    Raises ValueError when the words name no place or no side.
    """
    match = re.fullmatch(r"(?:at )?(.+?) (?:seen )?from the (\w+)(?: side)?", words.strip())
    if match is None or match[2] not in FACES:
        raise ValueError(f"“section {words}” is no section; write “section at PLACE from the front”.")
    view = camera(match[2])
    axis = AXIS_OF[match[2]]
    place = _place(model, match[1], axis)
    span = model.overall.span(axis)
    if not span.start < place < span.end:
        raise ValueError(f"The section at {match[1]} misses the piece.")
    index = AXES.index(axis)
    sign_ = 1.0 if view.toward[index] > 0 else -1.0
    # A hair off the place, so that a cut along a face is a cut and not a touch.
    return view, Section(view.toward, sign_ * float(place) - 1e-4)


def _place(model: Model, words: str, axis: str) -> Length:
    box = model.overall.span(axis)  # type: ignore[arg-type]
    if words in ("middle", "the middle", "centre"):
        return (box.start + box.end) / 2
    measure = model.measure(words)
    if measure is not None:
        return measure
    if "." in words:
        name, _, face = words.rpartition(".")
        found = model.named(name)
        if found and face in FACES:
            return model.part(found[0]).box.face(face)  # type: ignore[arg-type]
        if found and face in ("middle", "centre"):
            span = model.part(found[0]).box.span(axis)  # type: ignore[arg-type]
            return (span.start + span.end) / 2
    found = model.named(words)
    if found:
        span = model.part(found[0]).box.span(axis)  # type: ignore[arg-type]
        return (span.start + span.end) / 2
    try:
        return inch(words) if model.edition.units == "inch" else mm(words)
    except (ValueError, ZeroDivisionError) as fault:
        raise ValueError(f"“{words}” is no place of this plan.") from fault


def draw_section(model: Model, solids: Solids, words: str, *, width: float, height: float, style: Style, says: str = "") -> Drawing:
    """The section at the largest scale that fits."""
    view, section = plane_of(model, words)
    seen = look(solids, view, section=section)
    if not seen.caps:
        raise ValueError(f"The section {words} cuts nothing.")
    whole, room = seen.bounds, (width - 1, height - 1)
    assert whole is not None
    known = {part.thickness.inches for part in model.parts}
    intervals: list[tuple[AxisLetter, Interval]] = [("x", one) for one in sizes(seen, "x", places_of(model, view, 0), known)]
    intervals += [("y", one) for one in sizes(seen, "y", places_of(model, view, 1), known)]

    def fits(scale: Scale) -> bool:
        if (whole[2] - whole[0]) * scale.mm_per_inch > width:
            return False
        # What lies inside the outline takes no room of its own.
        reach = bounds(_sized(whole, intervals, scale.mm_per_inch, style).marks)
        left, low, right, high = (value * scale.mm_per_inch for value in whole)
        if reach is not None:
            left, low, right, high = min(reach[0], left), min(reach[1], low), max(reach[2], right), max(reach[3], high)
        return not beyond((left, low, right, high), room)

    scale = largest(model.edition.units, fits)
    pen = _sized(whole, intervals, scale.mm_per_inch, style)
    _cut(pen, model, seen, view, Placing(scale.mm_per_inch), seen.caps)
    box = bounds(pen.marks)
    assert box is not None
    final = Pen()
    final.add(pen.marks, ((width - (box[2] - box[0])) / 2 - box[0], 0.5 - box[1]))
    return final.drawing(width, box[3] - box[1] + 1, says, scale=scale.words, shows=seen.names)


def draw_added(model: Model, solids: Solids, words: str, added: Collection[str], *, width: float, height: float, says: str = "") -> Drawing:
    """The section as a step's picture: the parts added tinted, each with its letter. A tall one takes up to `TALLER` of its height."""
    view, section = plane_of(model, words)
    seen = look(solids, view, section=section)
    if not seen.caps or seen.bounds is None:
        raise ValueError(f"The section {words} cuts nothing.")
    # Letters stand above and below only: across, a section is as wide as its frame.
    edge, height = room_of(width), TALLER * height
    placing = fitted(seen.bounds, (2.0, edge, width - 2.0, height - edge))
    pen = Pen()
    for patch in (*seen.fills, *seen.caps):
        if patch.part in added:
            pen.area("added" if patch.shade == "cut" else "added-top", *(placing.path(ring) for ring in patch.rings))
    _cut(pen, model, seen, view, placing, [patch for patch in seen.caps if patch.part not in added])
    areas = areas_of(seen, placing)
    wanted, _ = targets(model, areas, added)
    silhouette = shapely.union_all(list(areas.values()))
    placed = balloons.place(wanted, silhouette, width, height, [silhouette])
    balloons.draw(pen, placed)
    return pen.drawing(width, height, says, letters=tuple(balloon.letter for balloon in placed), shows=seen.names)


def _sized(whole: Bounds, intervals: Sequence[tuple[AxisLetter, Interval]], scale: float, style: Style) -> Pen:
    """The sizes round a section at a scale."""
    pen = Pen()
    wanted = []
    for axis, interval in intervals:
        reach = tuple((low * scale, high * scale) for low, high in interval.reach)
        wanted.append(Dimension(axis=axis, start=interval.start * scale, end=interval.end * scale,
                                runs=size_runs(interval.length, style), reach=(reach[0], reach[1]), outermost=interval.overall))
    left, low, right, high = (value * scale for value in whole)
    layout = lay_out((left, low, right, high), wanted, Manner(ticks=True), Room())
    dimensions.draw(pen, layout, Manner(ticks=True))
    return pen


def _cut(pen: Pen, model: Model, seen: Seen, view: Camera, placing: Placing, hatched: Sequence[Patch]) -> None:
    """What lies behind in thin lines, the signs of the woods, the outlines of what is cut."""
    caps = {patch.part for patch in seen.caps}
    pen.lines("edge", (placing.path(line.points) for line in seen.lines if line.part not in caps and line.beyond not in caps))
    for turn, patch in enumerate(hatched):
        part = piece_of(model, patch.part)
        what, angle = sign_of(part, view)
        area = area_of(patch, placing)
        for piece in getattr(area, "geoms", (area,)):
            if isinstance(piece, shapely.Polygon):
                pen.lines("hatch", sign(piece, what, angle=angle, turn=turn, thickness=float(part.thickness)))
    pen.lines("edge", (placing.path(line.points) for line in seen.lines
                       if (line.part in caps or line.beyond in caps) and line.kind != "outline"))
    pen.lines("outline", (placing.path(line.points) for line in seen.lines
                          if (line.part in caps or line.beyond in caps) and line.kind == "outline"))
