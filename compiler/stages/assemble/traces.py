"""How finished sizes came about: `shelf.length` = written extent + what each joint made it longer by.

In: parts, what their joints grew, the traces of the design. Out: traces of lengths, widths and thicknesses, each with the
quantities that it stands on. Nothing is worked out here that isn't in the model.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.base.measures import ZERO
from compiler.base.showing import Units
from compiler.language import Refused, parse_size
from compiler.language.trees import Negative, Number, Pick, Product, Reference, Rounded, Size, Sum
from compiler.stages.assemble.growth import bounds_of
from compiler.stages.assemble.joints import Made
from compiler.stages.assemble.placing import HIGH_FACE, LOW_FACE, Standing
from compiler.stages.assemble.wording import said, said_value
from compiler.values.model import Axis, JointUse, Kind, Part, Trace


def size_traces(parts: Sequence[Part], kinds: Sequence[Kind], standing: Mapping[str, Standing], made: Sequence[Made],
                units: Units) -> tuple[Trace, ...]:
    """Traces of the finished sizes of every part, by its full name, by its kind's name and by its letter."""
    by_id = {joint.use.id: joint.use for joint in made}
    found: dict[str, Trace] = {}
    for part in parts:
        for word, axis in (("length", part.length_axis), ("width", part.width_axis), ("thickness", part.thickness_axis)):
            trace = _trace(part, word, axis, standing[part.name], by_id, units)
            found[trace.name] = trace
            for step in _steps(part, axis, standing[part.name], by_id, units):
                found.setdefault(step.name, step)
    for joint in made:
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
    grown_on = [(feature, bounds) for feature in part.features
                if feature.op == "grow" and (bounds := bounds_of(feature.shape, feature.frame)) is not None]
    for face in (LOW_FACE[axis], HIGH_FACE[axis]):
        best, reason = ZERO, ""
        needs: tuple[str, ...] = ()
        for feature, bounds in grown_on:
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


def _joint_traces(made: Made, units: Units) -> list[Trace]:
    """A joint and its values: each as the maker wrote it, or by the kind's own rule."""
    use, wish = made.use, made.wish
    written = {key: each for key, each in wish.parameters if isinstance(each.value, str)}
    defaults = {asked.key: asked.default or "" for asked in made.joint.asks}
    inner: list[Trace] = []
    for key, value in use.values:
        mine = written.get(key)
        text = str(mine.value) if mine else defaults.get(key, "")
        inner.append(Trace(name=f"{use.id}.{key}", text=text, value=value, needs=_named(text, wish.scope) if mine else (),
                           because="as written" if mine else f"the rule of every {use.kind}", at=mine.at if mine else use.at))
    whole = Trace(name=use.id, text="", value=f"{use.kind} of {use.acting} {use.family} {use.receiver}",
                  needs=tuple(trace.name for trace in inner), because=f"they meet over {said(use.length, units)} × {said(use.width, units)}", at=use.at)
    return [whole, *inner]


def _named(text: str, scope: str) -> tuple[str, ...]:
    """The names in a size, as the traces of a scope call them."""
    try:
        tree = parse_size(text)
    except Refused:
        return ()
    prefix = f"{scope}." if scope else ""
    return tuple(prefix + name for name in _references(tree))


def _references(tree: Size) -> list[str]:
    match tree:
        case Reference():
            return [tree.thing.text]
        case Number():
            return []
        case Negative():
            return _references(tree.of)
        case Sum() | Product():
            return _references(tree.left) + _references(tree.right)
        case Pick():
            return [name for size in tree.of for name in _references(size)]
        case Rounded():
            return _references(tree.of)
