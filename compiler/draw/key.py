"""The key: each line, sign and mark of the drawings with its meaning.

In: nothing but the frame's width. Out: a Drawing. The samples are drawn by the same functions as the drawings themselves, so that
the key cannot promise what they don't show.
"""

from __future__ import annotations

from collections.abc import Callable

from shapely import box

from compiler.base.measures import inch
from compiler.draw.balloon_slots import RADIUS
from compiler.draw.face_marks import grain_arrow
from compiler.draw.lettering import LARGE, SMALL, letter
from compiler.draw.pen import Pen
from compiler.draw.projection import first_angle, third_angle
from compiler.draw.screw_places import mark
from compiler.draw.woodsigns import sign
from compiler.values.figure import Drawing, LineRole

WIDE = 22.0
HIGH = 8.0
ROW = 11.5
GUTTER = 4.0

Sample = Callable[[Pen, float, float], None]


def draw(width: float = 168.0, first_angle_views: bool = False) -> Drawing:
    """Two columns of samples with their meanings; the last tells the projection of this plan."""
    pen = Pen()
    entries = (*ENTRIES, FIRST if first_angle_views else THIRD)
    rows = (len(entries) + 1) // 2
    height = rows * ROW
    column = (width - GUTTER) / 2
    for index, (sample, words) in enumerate(entries):
        x = (index // rows) * (column + GUTTER)
        y = height - (index % rows + 1) * ROW + (ROW - HIGH) / 2
        sample(pen, x + 1, y)
        pen.letter(letter((x + WIDE + 5, y + HIGH / 2 - SMALL / 2), words, weight="regular", role="note"))
    return pen.drawing(width, height, "The key to the drawings: " + "; ".join(words for _, words in entries) + ".")


def _line(role: LineRole) -> Sample:
    def sample(pen: Pen, x: float, y: float) -> None:
        pen.line(role, (x, y + HIGH / 2), (x + WIDE, y + HIGH / 2))

    return sample


def _wood(what: str) -> Sample:
    def sample(pen: Pen, x: float, y: float) -> None:
        area = box(x, y, x + WIDE, y + HIGH)
        if what == "end":
            pen.lines("hatch", sign(area, "end"))
        elif what == "along":
            pen.lines("hatch", sign(area, "along"))
        elif what == "edge":
            pen.lines("hatch", sign(area, "edge", thickness=0.72))
        else:
            pen.lines("hatch", sign(area, "face"))
        pen.line("outline", *area.exterior.coords)

    return sample


def _dimension(pen: Pen, x: float, y: float) -> None:
    middle = y + HIGH / 2
    for end in (x, x + WIDE):
        pen.line("extension", (end, y), (end, y + HIGH))
    half = letter((0, 0), "12").width / 2 + 0.8
    centre = x + WIDE / 2
    pen.line("dimension", (x, middle), (centre - half, middle))
    pen.line("dimension", (centre + half, middle), (x + WIDE, middle))
    pen.arrow((x, middle), (x + WIDE, middle))
    pen.arrow((x + WIDE, middle), (x, middle))
    pen.letter(letter((centre, middle - SMALL / 2), "12", anchor="middle", role="dimension"))


def _ticked(pen: Pen, x: float, y: float) -> None:
    middle = y + HIGH / 2
    for end in (x + 1, x + WIDE - 1):
        pen.line("extension", (end, y), (end, y + HIGH))
        pen.line("tick", (end - 0.65, middle - 0.65), (end + 0.65, middle + 0.65))
    half = letter((0, 0), "36").width / 2 + 0.8
    centre = x + WIDE / 2
    pen.line("dimension", (x, middle), (centre - half, middle))
    pen.line("dimension", (centre + half, middle), (x + WIDE, middle))
    pen.letter(letter((centre, middle - SMALL / 2), "36", anchor="middle", role="dimension"))


def _balloon(pen: Pen, x: float, y: float) -> None:
    centre = (x + RADIUS, y + HIGH / 2)
    pen.line("leader", (centre[0] + RADIUS, centre[1]), (x + WIDE - 4, centre[1]))
    pen.dot((x + WIDE - 4, centre[1]))
    pen.circle(centre, RADIUS, "leader", "balloon")
    pen.letter(letter((centre[0], centre[1] - LARGE / 2), "A", size=LARGE, anchor="middle", weight="semibold", role="balloon"))


def _grain(pen: Pen, x: float, y: float) -> None:
    pen.lines("grain", grain_arrow((x + 1, y + HIGH / 2), (x + WIDE - 1, y + HIGH / 2)))


def _screw(pen: Pen, x: float, y: float) -> None:
    mark(pen, ((x + WIDE / 2, y + HIGH / 2),), inch("3/16"), 12.7)


def _added(pen: Pen, x: float, y: float) -> None:
    pen.area("done", ((x, y), (x + 9, y), (x + 9, y + HIGH), (x, y + HIGH)))
    pen.line("done-outline", (x, y), (x + 9, y), (x + 9, y + HIGH), (x, y + HIGH), (x, y))
    pen.area("added", ((x + 12, y), (x + WIDE, y), (x + WIDE, y + HIGH), (x + 12, y + HIGH)))
    pen.line("outline", (x + 12, y), (x + WIDE, y), (x + WIDE, y + HIGH), (x + 12, y + HIGH), (x + 12, y))


def _break(pen: Pen, x: float, y: float) -> None:
    middle = x + WIDE / 2
    pen.line("outline", (middle, y + HIGH), (x, y + HIGH), (x, y), (middle, y))
    pen.line("break", (middle, y - 0.6), (middle, y + HIGH / 2 - 0.9), (middle + 1.2, y + HIGH / 2 - 0.4), (middle - 1.2, y + HIGH / 2 + 0.4),
             (middle, y + HIGH / 2 + 0.9), (middle, y + HIGH + 0.6))


ENTRIES: tuple[tuple[Sample, str], ...] = (
    (_line("outline"), "outline of a part"),
    (_line("edge"), "edge inside a part"),
    (_line("hidden"), "edge out of sight"),
    (_line("centre"), "centre line"),
    (_line("trail"), "the way a part goes in"),
    (_break, "drawn broken off: the part runs on"),
    (_dimension, "size of a part or joint"),
    (_ticked, "size of the whole piece"),
    (_balloon, "letter of a part, as in the cut list"),
    (_grain, "direction of the grain"),
    (_screw, "clearance hole for a screw"),
    (_added, "light: done before; grey: added in this step"),
    (_wood("end"), "solid wood cut across the grain"),
    (_wood("along"), "solid wood cut along the grain"),
    (_wood("edge"), "plywood cut through its plies"),
    (_wood("face"), "board material in its plane"),
)

THIRD: tuple[Sample, str] = (lambda pen, x, y: third_angle(pen, x, y, 7.0), "third-angle projection: right side stands right")
FIRST: tuple[Sample, str] = (lambda pen, x, y: first_angle(pen, x, y, 7.0), "first-angle projection: left side stands right")
