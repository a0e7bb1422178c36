"""Small pictures of a part for lists: its face at one scale, with the grain.

In: a part. Out: a Drawing without letters or sizes. All rows of a list share a scale, so that they can be compared.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.base.measures import Length
from compiler.base.showing import Units
from compiler.draw.face_marks import grain_arrow
from compiler.draw.paint import Placing, paint
from compiler.draw.part_cameras import flat, main_camera
from compiler.draw.pen import Pen
from compiler.draw.scales import Scale, series
from compiler.draw.views import look
from compiler.solid.building import build
from compiler.values.figure import Drawing
from compiler.values.model import Part

MOST_WIDE = 42.0
MOST_HIGH = 26.0


def scale_for(largest: tuple[Length, Length], units: Units, width: float = MOST_WIDE, height: float = MOST_HIGH) -> Scale:
    """The largest scale of the series at which every part fits. `largest` are the greatest length and width among them."""
    long, wide = (float(size) for size in largest)
    usable = [scale for scale in series(units) if scale.ratio <= Fraction(1, 2)]
    for scale in usable:
        if long * scale.mm_per_inch <= width and wide * scale.mm_per_inch <= height:
            return scale
    return usable[-1]


def draw(part: Part, scale: Scale, says: str = "") -> Drawing:
    """The part's face with its length across."""
    seen = look(build((flat(part),), quality="coarse"), main_camera(part), fills=False)
    box = seen.bounds
    assert box is not None
    edge = 0.4
    placing = Placing(scale.mm_per_inch, edge - box[0] * scale.mm_per_inch, edge - box[1] * scale.mm_per_inch)
    width, height = (box[2] - box[0]) * scale.mm_per_inch + 2 * edge, (box[3] - box[1]) * scale.mm_per_inch + 2 * edge
    pen = Pen()
    paint(pen, seen, placing, "small", fills=False)
    long = min(8.0, 0.4 * width)
    if part.grain != "any" and long > 2.5 and height > 2.4:
        y = height / 2
        pen.lines("grain", grain_arrow((width / 2 - long / 2, y), (width / 2 + long / 2, y), 0.8))
    return pen.drawing(width, height, says, scale=scale.words, shows=(part.name,))
