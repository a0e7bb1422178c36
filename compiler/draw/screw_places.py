"""Where a part is bored for screws: the clearance holes that its joints drive screws through, as marks and notes on its drawing.

In: a model and a part. Out: places in the part's own directions (inches), then crosses on a pen and notes not yet placed. Pilot holes
follow when the parts stand together: through the clearance holes into the part beyond (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from compiler.base.measures import Length
from compiler.base.showing import Style
from compiler.draw.lettering import Runs, joined, size_runs
from compiler.draw.part_notes import MOST_TARGETS
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect
from compiler.draw.workings import blank
from compiler.values.figure import Point
from compiler.values.model import Model, Part
from compiler.values.shapes import Vector

CROSS = 1.3
LEAST = 0.35


@dataclass(frozen=True, slots=True)
class ScrewHoles:
    """Clearance holes of one size: the direction that they run in (0 length, 1 width, 2 thickness), plan points, slots or round."""

    called: str
    diameter: Length
    axis: int
    at: tuple[Vector, ...]
    slotted: bool = False


def screws_of(model: Model, part: Part) -> tuple[ScrewHoles, ...]:
    """The holes of a square part, those of one size and direction together, in the order of the joints."""
    if not part.pose.square:
        return ()
    axes = blank(part).axes
    found: dict[tuple[str, Length, int, bool], list[Vector]] = {}
    for use in model.driven_through(part.name):
        hole = use.item.measure("clearance hole")
        plan = next((i for i in range(3) if abs(use.toward[i]) > 1 - 1e-9), None)
        if hole is None or plan is None:
            continue
        gauge = use.item.name.partition(" x ")[0]
        gauge = f"{gauge} mm" if gauge.replace(".", "").isdigit() else gauge
        key = (gauge, hole, axes.index(plan), use.slotted == part.name)
        found.setdefault(key, []).extend((float(x), float(y), float(z)) for x, y, z in use.entry)
    return tuple(ScrewHoles(called, hole, axis, tuple(dict.fromkeys(at)), slotted) for (called, hole, axis, slotted), at in found.items() if at)


def words_of(holes: ScrewHoles, style: Style) -> Runs:
    """`Ø 11/64 for No. 8 screws, 4 places`; they go through."""
    kind = "slots " if holes.slotted else "Ø "
    count = f", {len(holes.at)} places" if len(holes.at) > 1 else ""
    # Drills come in steps of 1/64 in.
    fine = replace(style, step=Fraction(1, 64)) if style.units == "inch" else style
    return joined(kind, size_runs(holes.diameter, fine), f" for {holes.called} screws{count}")


def places_on(part: Part, holes: ScrewHoles, right: int, up: int) -> tuple[Point, ...]:
    """The places in a view's two directions."""
    axes = blank(part).axes
    return tuple((at[axes[right]], at[axes[up]]) for at in holes.at)


def mark(pen: Pen, places: Sequence[Point], diameter: Length, scale: float) -> list[Rect]:
    """A small circle with a cross at each place on paper; gives their room."""
    radius = max(float(diameter) * scale / 2, LEAST)
    reach = radius + CROSS
    for x, y in places:
        pen.circle((x, y), radius, "dimension")
        pen.line("dimension", (x - reach, y), (x + reach, y))
        pen.line("dimension", (x, y - reach), (x, y + reach))
    return [(x - reach, y - reach, x + reach, y + reach) for x, y in places]


def targets(places: Sequence[Point]) -> tuple[Point, ...]:
    """A few of the places, for a note to point at."""
    return tuple(places[:: max(1, len(places) // MOST_TARGETS)][:MOST_TARGETS])


