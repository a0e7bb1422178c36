"""The sizes that a joint names itself: its tongue, its tenon, its groove.

In: a joint that is cut through, the cut. Out: dimensions in paper millimetres for those that lie in the picture, notes for those that
lead into it, and for all of a joint that leans. Neither is placed yet.
"""

from __future__ import annotations

from math import acos, degrees

import shapely

from compiler.base.showing import Style
from compiler.draw.dimensions import Dimension
from compiler.draw.joint_cuts import Cut
from compiler.draw.lettering import Runs, joined, size_runs
from compiler.draw.notes import Note
from compiler.values.figure import Point
from compiler.values.model import DetailMeasure, JointUse, Model
from compiler.values.shapes import AxisName, Block, Feature, Vector

SAYS = {"along": " wide", "across": " thick", "into": " long"}
AXES: tuple[AxisName, ...] = ("along", "across", "into")


def measured(model: Model, joint: JointUse, cut: Cut, scale: float, style: Style) -> tuple[list[Dimension], list[Note]]:
    """Dimensions and notes, in the joint's own order; what two parts of it share is given once."""
    wanted: list[Dimension] = []
    told: dict[str, tuple[list[DetailMeasure], Point, bool]] = {}
    for measure in joint.measures:
        feature = _shown(model, joint, measure)
        if feature is None:
            continue
        size = None
        if level(model, joint):
            size = _dimension(feature, measure, cut, scale, style)
        if size is None:
            part = joint.acting if feature.op == "grow" else joint.receiver if feature in model.part(joint.receiver).features else joint.acting
            told.setdefault(measure.called.partition(",")[0], ([], _target(feature, part, cut, scale), feature.op == "cut"))[0].append(measure)
        elif not any(one.axis == size.axis and one.runs == size.runs for one in wanted):
            wanted.append(size)
    return wanted, [Note(_words(model, joint, name, measures, cutting, style), (at,)) for name, (measures, at, cutting) in told.items()]


def level(model: Model, joint: JointUse) -> bool:
    """True when both parts stand square in the plan, so that the picture's axes are the joint's."""
    return joint.frame.square and model.part(joint.acting).pose.square and model.part(joint.receiver).pose.square


def _shown(model: Model, joint: JointUse, measure: DetailMeasure) -> Feature | None:
    """The block of the joint that has the measure's name and, in a level joint, its size."""
    name = measure.called.partition(",")[0]
    axis = next((axis for axis in AXES if axis == measure.axis), None)
    for part in (model.part(joint.acting), model.part(joint.receiver)):
        for feature in part.features:
            if axis is None or feature.by != joint.id or not isinstance(feature.shape, Block) or feature.called != name:
                continue
            # What leans is led back to the leaning face: its block is longer than the size it is known by.
            if not level(model, joint) or measure.value in (feature.shape.long(axis), feature.shape.long(axis, "far")):
                return feature
    return None


def _place(feature: Feature, along: float, across: float, into: float) -> Vector:
    frame = feature.frame
    found = [float(frame.origin[i]) + along * frame.along[i] + across * frame.across[i] + into * frame.into[i] for i in range(3)]
    return found[0], found[1], found[2]


def _middles(feature: Feature) -> list[float]:
    block = feature.shape
    assert isinstance(block, Block)
    return [float(start + end) / 2 for start, end in (block.along, block.across, block.into)]


def _target(feature: Feature, name: str, cut: Cut, scale: float) -> Point:
    """Where a note points: into the wood of the part within the block, or its middle where none is seen."""
    block = feature.shape
    assert isinstance(block, Block)
    spans = [block.span(axis) for axis in AXES]
    corners = [cut.camera.project(_place(feature, *(float(spans[axis][corner >> axis & 1]) for axis in range(3)))) for corner in range(8)]
    room = shapely.MultiPoint(corners).envelope.intersection(shapely.box(*cut.window))
    wood = [face.intersection(room) for part, face in cut.faces if part == name]
    seen = [piece for shape in wood for piece in getattr(shape, "geoms", (shape,)) if piece.geom_type == "Polygon" and piece.area > 0]
    if seen:
        x, y = max(seen, key=lambda piece: piece.area).representative_point().coords[0]
        return x * scale, y * scale
    x, y = cut.camera.project(_place(feature, *_middles(feature)))
    left, low, right, high = cut.window
    return min(max(x, left), right) * scale, min(max(y, low), high) * scale


def _dimension(feature: Feature, measure: DetailMeasure, cut: Cut, scale: float, style: Style) -> Dimension | None:
    """The size on the picture's axis that it runs on; None when it leads into the picture or out of the window."""
    block = feature.shape
    assert isinstance(block, Block)
    k = AXES.index(measure.axis)
    spans = [block.span(axis) for axis in AXES]
    ends, others = [], []
    for place in spans[k]:
        at = _middles(feature)
        at[k] = float(place)
        ends.append(cut.camera.project(_place(feature, *at)))
    i = 0 if abs(ends[1][0] - ends[0][0]) > abs(ends[1][1] - ends[0][1]) else 1
    if abs(abs(ends[1][i] - ends[0][i]) - float(measure.value)) > 1e-3:
        return None
    for corner in range(8):
        point = _place(feature, *(float(spans[axis][corner >> axis & 1]) for axis in range(3)))
        others.append(cut.camera.project(point)[1 - i])
    start, end = sorted(point[i] for point in ends)
    low, high = max(min(others), cut.window[1 - i]), min(max(others), cut.window[3 - i])
    if start < cut.window[i] - 1e-6 or end > cut.window[i + 2] + 1e-6 or high <= low:
        return None
    reach = (low * scale, high * scale)
    return Dimension(axis="x" if i == 0 else "y", start=start * scale, end=end * scale, runs=size_runs(measure.value, style), reach=(reach, reach))


def _words(model: Model, joint: JointUse, name: str, measures: list[DetailMeasure], cutting: bool, style: Style) -> Runs:
    """`tenon 5/8 thick, 2 1/2 wide, at 10 deg`; of a cut `mortise 5/8 × 2 1/2 × 1 3/4 deep`."""
    words: Runs = (name,)
    for number, measure in enumerate(sorted(measures, key=lambda one: ("across", "along", "into").index(one.axis))):
        where = measure.called.partition(",")[2]
        says = (" deep" if measure.axis == "into" and not where else "") if cutting else SAYS[measure.axis]
        words = joined(words, " " if not number else " × " if cutting else ", ", size_runs(measure.value, style), says, where)
    lean = "" if level(model, joint) else _lean(joint)
    return joined(words, f", at {lean}°") if lean else words


def _lean(joint: JointUse) -> str:
    """How far the joint's way in leans from the nearest axis of the plan, in degrees; nothing when it does not."""
    steepest = max(abs(value) for value in joint.frame.into)
    angle = degrees(acos(min(1.0, steepest)))
    return f"{angle:.1f}".removesuffix(".0") if angle > 0.05 else ""


