"""Full-size templates for curved parts, in sheets that are cut out and joined.

In: a part. Out: Drawings at 1 : 1, one for each sheet, with overlap, register crosses, the sheet's place, and a square to check the
print by: 2 in or 50 mm. It must not know pages; a sheet fits Letter and A4 at 100 %.
"""

from __future__ import annotations

import shapely

from compiler.base.showing import Units
from compiler.draw.bounds import Bounds
from compiler.draw.lettering import SMALL, letter
from compiler.draw.part_cameras import flat, main_camera
from compiler.draw.pen import Pen
from compiler.draw.views import Seen, look
from compiler.solid.building import build
from compiler.values.figure import Drawing
from compiler.values.model import Part
from compiler.values.tiles import AROUND, HIGH, OVERLAP, WIDE, tiles

FOOT = 57.0
"""Room at the foot of a sheet for its check square and words, below the cut."""

TALL = HIGH + FOOT
CHECK = {"inch": (50.8, "2 in"), "mm": (50.0, "50 mm")}


def draw(part: Part, number: int, units: Units, says: str = "") -> Drawing:
    """One sheet, counted from 1, rows from the top, each from the left. Raises IndexError beyond the last."""
    seen = _seen(part)
    region = _region(part, seen)
    columns, rows = tiles(part.length, part.width)
    if not 1 <= number <= columns * rows:
        raise IndexError(number)
    row, column = divmod(number - 1, columns)
    left = region[0] + column * (WIDE - OVERLAP)
    top = region[3] - row * (HIGH - OVERLAP)
    window = shapely.box(left, top - HIGH, left + WIDE, top)
    pen = Pen()
    for kind, role in (("edge", "edge"), ("tangent", "edge"), ("outline", "outline")):
        paths = []
        for line in seen.lines:
            if line.kind != kind or len(line.points) < 2:
                continue
            piece = shapely.LineString([(x * 25.4, y * 25.4) for x, y in line.points]).intersection(window)
            paths += [tuple((x - left, y - top + TALL) for x, y in part_.coords)
                      for part_ in getattr(piece, "geoms", (piece,)) if part_.geom_type == "LineString"]
        pen.lines(role, paths)  # type: ignore[arg-type]
    _register(pen, column, row, columns, rows)
    _foot(pen, part, number, columns * rows, column, row, units)
    return pen.drawing(WIDE, TALL, says, scale="1 : 1", letters=(part.letter,), shows=(part.name,))


def _seen(part: Part) -> Seen:
    return look(build((flat(part),), quality="fine"), main_camera(part))


def _region(part: Part, seen: Seen) -> Bounds:
    """The face with a margin, in mm on the picture."""
    assert seen.bounds is not None
    whole = tuple(v * 25.4 for v in seen.bounds)
    return whole[0] - AROUND / 2, whole[1] - AROUND / 2, whole[2] + AROUND / 2, whole[3] + AROUND / 2


def _register(pen: Pen, column: int, row: int, columns: int, rows: int) -> None:
    """Crosses in the middle of each overlap, the same place on both sheets; the edges to be joined are dashed."""
    area_low = FOOT
    half = OVERLAP / 2
    ys = (area_low + HIGH * 0.22, area_low + HIGH * 0.78)
    xs = (WIDE * 0.22, WIDE * 0.78)
    if column:
        _crosses(pen, [(half, y) for y in ys])
        pen.line("trail", (OVERLAP, area_low), (OVERLAP, TALL))
    if column < columns - 1:
        _crosses(pen, [(WIDE - half, y) for y in ys])
    if row:
        _crosses(pen, [(x, TALL - half) for x in xs])
        pen.line("trail", (0.0, TALL - OVERLAP), (WIDE, TALL - OVERLAP))
    if row < rows - 1:
        _crosses(pen, [(x, area_low + half) for x in xs])
    pen.line("frame", (0.1, area_low), (WIDE - 0.1, area_low), (WIDE - 0.1, TALL - 0.1), (0.1, TALL - 0.1), (0.1, area_low))


def _crosses(pen: Pen, at: list[tuple[float, float]]) -> None:
    for x, y in at:
        pen.lines("frame", [((x - 3, y), (x + 3, y)), ((x, y - 3), (x, y + 3))])
        pen.circle((x, y), 1.6, "frame")


def _foot(pen: Pen, part: Part, number: int, count: int, column: int, row: int, units: Units) -> None:
    side, words = CHECK[units]
    x, y = 1.0, FOOT - side - 5.0
    pen.line("frame", (x, y), (x + side, y), (x + side, y + side), (x, y + side), (x, y))
    pen.letter(letter((x + side / 2, y + side / 2 + 1.5), f"{words} square", anchor="middle", role="note"))
    pen.letter(letter((x + side / 2, y + side / 2 - 4.0), "measure it before cutting", anchor="middle", role="note"))
    lines = [
        f"{part.kind.capitalize()} ({part.letter}), full size, sheet {number} of {count}",
        f"Row {row + 1}, place {column + 1}. Print at 100 %.",
    ]
    if count > 1:
        lines += ["Cut along the frame. Lay the sheet on the next one", "up to its dashed line, cross on cross, and tape."]
    for index, line in enumerate(lines):
        pen.letter(letter((x + side + 8, y + side - SMALL - index * 6.0), line, weight="semibold" if not index else "regular",
                          role="title" if not index else "note"))
