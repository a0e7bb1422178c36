"""The same parts in a general CAD kernel (cadquery-ocp-novtk 8), timed at its own exact hidden-line removal.

Run as a program in a process of its own: prints one line of JSON, the milliseconds of each view, or the words
`not installed`. Nothing in the project needs that kernel.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Sequence
from typing import Any

from compiler.values.model import Part
from compiler.values.shapes import Block, Bore, Feature, Frame, Shape


def solid_of(part: Part) -> Any:
    """A part of straight blocks, bores and prisms as the kernel's shape."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.collections import List_TopoDS_Shape
    from OCP.gp import gp_Trsf

    spans = [(span.start, span.end) for span in (part.box.across, part.box.deep, part.box.up)]
    shape = _primitive(Block(*spans), Frame())
    runs: list[tuple[str, list[Feature]]] = []
    for feature in part.features:
        if runs and runs[-1][0] == feature.op:
            runs[-1][1].append(feature)
        else:
            runs.append((feature.op, [feature]))
    for op, features in runs:
        tools, bases = List_TopoDS_Shape(), List_TopoDS_Shape()
        bases.Append(shape)
        for feature in features:
            tools.Append(_primitive(feature.shape, feature.frame))
        work = BRepAlgoAPI_Fuse() if op == "grow" else BRepAlgoAPI_Cut()
        work.SetArguments(bases)
        work.SetTools(tools)
        work.Build()
        work.SimplifyResult()
        shape = work.Shape()
    if not part.pose.square:
        turn = gp_Trsf()
        turn.SetValues(*(value for row, shift in zip(part.pose.rotation, part.pose.shift, strict=True)
                         for value in (*row, shift)))
        shape = BRepBuilderAPI_Transform(shape, turn, True).Shape()
    return shape


def _primitive(shape: Shape, frame: Frame) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Vec

    origin = [float(value) for value in frame.origin]
    axes = (frame.along, frame.across, frame.into)

    def place(*local: float) -> Any:
        return gp_Pnt(*(origin[i] + sum(local[k] * axes[k][i] for k in range(3)) for i in range(3)))

    if isinstance(shape, Bore):
        toward = ("along", "across", "into").index(shape.toward)
        start, end = sorted(map(float, shape.span))
        foot = [float(value) for value in shape.at]
        foot.insert(toward, start)
        ax = gp_Ax2(place(*foot), gp_Dir(*axes[toward]))
        return BRepPrimAPI_MakeCylinder(ax, float(shape.diameter) / 2, end - start).Shape()
    if isinstance(shape, Block):
        (x0, x1), (y0, y1), (z0, z1) = (sorted(map(float, span)) for span in (shape.along, shape.across, shape.into))
        corners: list[tuple[float, float, float | None, int]] = [
            (x0, y0, None, 0), (x1, y0, None, 0), (x1, y1, None, 0), (x0, y1, None, 0)]
        low, high = z0, z1
    else:
        corners = [(float(p.x), float(p.y), None if p.radius is None else float(p.radius), p.bulge) for p in shape.outline]
        low, high = sorted(map(float, shape.span))
    face = _face(corners, low, place)
    way = [(high - low) * value for value in frame.into]
    return BRepPrimAPI_MakePrism(face, gp_Vec(*way)).Shape()


def _face(corners: Sequence[tuple[float, float, float | None, int]], low: float, place: Any) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle

    wire = BRepBuilderAPI_MakeWire()
    for index, (x, y, radius, bulge) in enumerate(corners):
        a, b, *_ = corners[index - 1]
        if (a, b) == (x, y):
            continue
        if radius is None:
            wire.Add(BRepBuilderAPI_MakeEdge(place(a, b, low), place(x, y, low)).Edge())
            continue
        chord = ((x - a) ** 2 + (y - b) ** 2) ** 0.5
        rise = (radius - max(radius**2 - chord**2 / 4, 0.0) ** 0.5) * -bulge / chord
        middle = place((a + x) / 2 - (y - b) * rise, (b + y) / 2 + (x - a) * rise, low)
        arc = GC_MakeArcOfCircle(place(a, b, low), middle, place(x, y, low)).Value()
        wire.Add(BRepBuilderAPI_MakeEdge(arc).Edge())
    return BRepBuilderAPI_MakeFace(wire.Wire()).Face()


def compound(shapes: Sequence[Any]) -> Any:
    """All shapes as one: the kernel is several times faster with one shape than with many."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    builder, whole = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(whole)
    for shape in shapes:
        builder.Add(whole, shape)
    return whole


def view_ms(shape: Any, toward: Sequence[float], right: Sequence[float]) -> float:
    """Milliseconds of one exact view with its visible lines."""
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    start = time.perf_counter()
    work = HLRBRep_Algo()
    work.Add(shape, 0)
    work.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*toward), gp_Dir(*right))))
    work.Update()
    work.Hide()
    lines = HLRBRep_HLRToShape(work)
    for visible in (lines.VCompound, lines.OutLineVCompound, lines.Rg1LineVCompound):
        visible()
    return (time.perf_counter() - start) * 1000


def main() -> None:
    """Time the views whose directions and page axes stand on the command line as JSON."""
    try:
        import OCP.HLRBRep  # noqa: F401
    except ImportError:
        print(json.dumps("not installed"))
        return
    from tests.solid.sideboard import sideboard

    whole = compound([solid_of(part) for part in sideboard()])
    print(json.dumps([view_ms(whole, toward, right) for toward, right in json.loads(sys.argv[1])]))


if __name__ == "__main__":
    main()
