"""Small models built by hand, for tests of what reads a model."""

from __future__ import annotations

from dataclasses import replace

from compiler.base.measures import Length, inch
from compiler.base.report import Spot
from compiler.values.library import Stock
from compiler.values.model import Box, Edition, JointUse, Kind, Model, Part, PlanFacts, Span
from compiler.values.shapes import Frame

PLY = Stock(key="birch plywood 3/4", name="birch plywood 3/4", called="ply", kind="sheet", thickness=inch("23/32"))
PINE = Stock(key="pine 4/4", name="pine 4/4", called="pine", kind="board", thickness=inch("3/4"), rough=inch(1))


def span(start: str | int, end: str | int) -> Span:
    """From one place to another, in inches."""
    return Span(inch(start), inch(end))


def part(name: str, kind: str, letter: str, across: Span, deep: Span, up: Span, **more: object) -> Part:
    """A plain part whose grain runs along its longest side."""
    box = Box(across, deep, up)
    sizes = {"across": across.size, "deep": deep.size, "up": up.size}
    order = sorted(sizes, key=lambda axis: sizes[axis])
    made = Part(
        name=name, kind=kind, letter=letter, assembly=(), stock=PLY, box=box, grain=order[2], thickness_axis=order[0],
        length=sizes[order[2]], width=sizes[order[1]], thickness=sizes[order[0]], at=Spot("design.yaml", ("parts", kind)),
    )  # fmt: skip
    return replace(made, **more)


def case() -> Model:
    """Two sides with a shelf between them in dadoes 1/4 deep; 24 wide, 10 deep, 20 high, sides 23/32 thick."""
    left = part("left side", "side", "A", span(0, "23/32"), span(0, 10), span(0, 20), assembly=("case",))
    right = part("right side", "side", "A", span("23 9/32", 24), span(0, 10), span(0, 20), assembly=("case",))
    shelf = part(
        "shelf", "shelf", "B", span("23/32", "23 9/32"), span(0, 10), span(8, "8 23/32"), length=inch("23 1/16"),
        assembly=("case",),
    )  # fmt: skip
    joint = JointUse(
        id="joint 1", kind="dado", family="into", acting="shelf", receiver="left side", frame=Frame(), length=inch(10),
        width=inch("23/32"), values=(("depth", inch("1/4")),),
    )  # fmt: skip
    measures: tuple[tuple[str, Length], ...] = (("width", inch(24)), ("height", inch(20)), ("housing", inch("1/4")))
    return Model(
        plan=PlanFacts(title="Small case", number="3", issue=1, date="2026-11-02", units="inch"),
        edition=Edition(units="inch", paper="letter"),
        parts=(left, right, shelf),
        kinds=(
            Kind(letter="A", name="side", parts=("left side", "right side"), hands=(("left", 1), ("right", 1))),
            Kind(letter="B", name="shelf", parts=("shelf",)),
        ),
        joints=(joint,),
        measures=measures,
    )
