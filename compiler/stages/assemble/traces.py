"""How finished sizes came about: `shelf.length` = written extent + what each joint made it longer by.

In: parts, what their joints grew, the traces of the design. Out: traces of lengths, widths and thicknesses, each with the
quantities that it stands on. Nothing is worked out here that isn't in the model.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.base.measures import ZERO
from compiler.base.showing import Units
from compiler.stages.assemble.growth import bounds_of
from compiler.stages.assemble.placing import HIGH_FACE, LOW_FACE, Standing
from compiler.stages.assemble.wording import said, said_value
from compiler.values.model import Axis, JointUse, Kind, Part, Trace


def size_traces(parts: Sequence[Part], kinds: Sequence[Kind], standing: Mapping[str, Standing], joints: Sequence[JointUse],
                units: Units) -> tuple[Trace, ...]:
    """Traces of the finished sizes of every part, by its full name, by its kind's name and by its letter."""
    by_id = {joint.id: joint for joint in joints}
    found: dict[str, Trace] = {}
    for part in parts:
        for word, axis in (("length", part.length_axis), ("width", part.width_axis), ("thickness", part.thickness_axis)):
            trace = _trace(part, word, axis, standing[part.name], by_id, units)
            found[trace.name] = trace
            for step in _steps(part, axis, standing[part.name], by_id, units):
                found.setdefault(step.name, step)
    for joint in joints:
        for trace in _joint_traces(joint, units):
            found.setdefault(trace.name, trace)
    for kind in kinds:
        for word in ("length", "width", "thickness"):
            whole = found[f"{kind.parts[0]}.{word}"]
            for name in (kind.name, kind.letter):
                found.setdefault(f"{name}.{word}", Trace(name=f"{name}.{word}", text=whole.name, value=whole.value, needs=(whole.name,),
                                                         because=f"{kind.name} ({kind.letter}) is {kind.parts[0]}", at=whole.at))
    return tuple(found.values())


def _trace(part: Part, word: str, axis: Axis, standing: Standing, joints: Mapping[str, JointUse], units: Units) -> Trace:
    size = getattr(part, word)
    steps = _steps(part, axis, standing, joints, units)
    written = part.box.span(axis).size
    terms = [said(written, units), *(said_value(step.value, units) for step in steps)]
    return Trace(name=f"{part.name}.{word}", text=" + ".join(terms), value=size,
                 needs=(f"{part.name}.{axis}", *(step.name for step in steps)),
                 because=f"{axis} as written" + (", and what it is let into others by" if steps else ""), at=part.at)


def _steps(part: Part, axis: Axis, standing: Standing, joints: Mapping[str, JointUse], units: Units) -> list[Trace]:
    """What was added at each end of an axis: the farthest growth there, with the joint that made it."""
    steps: list[Trace] = []
    for face in (LOW_FACE[axis], HIGH_FACE[axis]):
        best, reason = ZERO, ""
        needs: tuple[str, ...] = ()
        for feature in part.features:
            bounds = bounds_of(feature.shape, feature.frame) if feature.op == "grow" else None
            if bounds is None:
                continue
            written = part.box.face(face)
            grown = written - bounds.face(face) if face in LOW_FACE.values() else bounds.face(face) - written
            if grown > best:
                joint = joints.get(feature.by)
                best = grown
                reason = f"{joint.kind} of {joint.acting} into {joint.receiver}" if joint else "cut level, so longer by the slant"
                needs = (joint.id,) if joint else ()
        if best > ZERO:
            steps.append(Trace(name=f"{part.name}.{feature_word(reason)} at {face}", text=said(best, units), value=best, needs=needs, because=reason, at=part.at))
    return steps


def feature_word(reason: str) -> str:
    """The first word of a reason: what the growth is called."""
    return "level end" if reason.startswith("cut level") else reason.partition(" of ")[0]


def _joint_traces(joint: JointUse, units: Units) -> list[Trace]:
    """A joint and its values."""
    name = joint.id
    inner = [Trace(name=f"{name}.{key}", text=said_value(value, units) if not isinstance(value, str) else value, value=value,
                   because=f"{key} of the {joint.kind}", at=joint.at) for key, value in joint.values]
    whole = Trace(name=name, text=f"{joint.kind}: {joint.acting}, {joint.family}: {joint.receiver}", value=joint.kind,
                  needs=tuple(trace.name for trace in inner), because=f"contact {said(joint.length, units)} × {said(joint.width, units)}", at=joint.at)
    return [whole, *inner]
