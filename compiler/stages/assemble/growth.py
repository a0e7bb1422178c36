"""What the joints of one part do together: how far it grows, trenches that run out through tongues, corners of panels.

In: all joints as made. Out: for each part its box with everything that grew, and its features in order. A single joint
knows one contact; a groove has to run through the tongue that another joint grew on its part, and a panel let
into four grooves is a whole rectangle though each groove grows one side of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from compiler.base.measures import ZERO, Length
from compiler.stages.assemble.joints import Made
from compiler.stages.assemble.placing import Standing, is_low, unit, with_span
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Box, Face, Span
from compiler.values.shapes import AXIS_NAMES, Block, Bore, Feature, Frame, Prism, Shape


def grown_box(standing: Standing, features: Iterable[Feature]) -> Box:
    """The smallest box along the part's own axes that holds it with all that grew on it."""
    box = standing.box
    for feature in features:
        if feature.op == "grow":
            bounds = bounds_of(feature.shape, feature.frame)
            if bounds is not None:
                box = _around(box, bounds)
    return box


def _around(one: Box, two: Box) -> Box:
    across, deep, up = (Span(min(one.span(axis).start, two.span(axis).start), max(one.span(axis).end, two.span(axis).end))
                        for axis in AXES)
    return Box(across, deep, up)


def bounds_of(shape: Shape, frame: Frame) -> Box | None:
    """The box round a shape in a square frame, exact; None when the frame is askew."""
    if not frame.square:
        return None
    spans = dict(zip(AXIS_NAMES, _spans(shape), strict=True))
    found: dict[Axis, Span] = {}
    for name, axis in zip(AXIS_NAMES, (frame.along, frame.across, frame.into), strict=True):
        index = next(i for i in range(3) if axis[i])
        start, end = spans[name]
        if axis[index] < 0:
            start, end = -end, -start
        found[AXES[index]] = Span(frame.origin[index] + start, frame.origin[index] + end)
    return Box(found["across"], found["deep"], found["up"])


def _spans(shape: Shape) -> tuple[tuple[Length, Length], ...]:
    match shape:
        case Block():
            spans: list[tuple[Length, Length]] = []
            for name in AXIS_NAMES:
                start, end = shape.span(name)
                if shape.toward is not None and name != shape.toward:
                    rest = [axis for axis in AXIS_NAMES if axis != shape.toward]
                    wider = shape.flare[rest.index(name)]
                    start, end = min(start, start - wider.low), max(end, end + wider.high)
                spans.append((start, end))
            return tuple(spans)
        case Bore():
            radius = max(shape.diameter, shape.end_diameter or ZERO) / 2
            one, two = ((place - radius, place + radius) for place in shape.at)
            named = dict(zip((name for name in AXIS_NAMES if name != shape.toward), (one, two), strict=True))
            return tuple(named.get(name, shape.span) for name in AXIS_NAMES)
        case Prism():
            xs, ys = [point.x for point in shape.outline], [point.y for point in shape.outline]
            return (min(xs), max(xs)), (min(ys), max(ys)), shape.span


def joined_features(standing: Mapping[str, Standing], made: Sequence[Made]) -> dict[str, tuple[Feature, ...]]:
    """The features that joints give each part: what grows first, then what is cut, each in the order of the joints."""
    grows: dict[str, list[Feature]] = {name: [] for name in standing}
    for joint in made:
        grows[joint.use.acting].extend(feature for feature in joint.on_acting if feature.op == "grow")
    grown = {name: grown_box(standing[name], features) for name, features in grows.items()}
    for name, features in grows.items():
        features.extend(_corners(standing[name], features))
    cuts: dict[str, list[Feature]] = {name: [] for name in standing}
    for joint in made:
        cuts[joint.use.acting].extend(feature for feature in joint.on_acting if feature.op == "cut")
        cuts[joint.use.receiver].extend(_run_out(feature, joint, standing, grown) for feature in joint.on_receiver)
    return {name: (*grows[name], *cuts[name]) for name in standing}


def _run_out(feature: Feature, joint: Made, standing: Mapping[str, Standing], grown: Mapping[str, Box]) -> Feature:
    """A trench that reaches an end of its part runs out through what grew there; one that ends with the part
    that goes in is as much longer as that part grew.
    """
    shape = feature.shape
    if not isinstance(shape, Block) or shape.toward is not None or not feature.frame.square or joint.use.family != "into":
        return feature
    acting, receiver = joint.use.acting, joint.use.receiver
    low, high = shape.along
    mine = _growth(joint, standing[receiver], grown[receiver])
    theirs = _growth(joint, standing[acting], grown[acting])
    ends = joint.contact.receiver.along
    own = joint.contact.acting.along
    if low <= ends[0]:
        low = low - mine[0]
    elif low == ZERO == own[0]:
        low = low - theirs[0]
    if high >= ends[1]:
        high = high + mine[1]
    elif high == joint.contact.length == own[1]:
        high = high + theirs[1]
    return replace(feature, shape=shape.at("along", low, high))


def _growth(joint: Made, standing: Standing, grown: Box) -> tuple[Length, Length]:
    """How much a square part has grown beyond its low and high end along the contact."""
    if not standing.square:
        return ZERO, ZERO
    axis = joint.meeting.axes[0]
    was, now = standing.box.span(axis), grown.span(axis)
    return was.start - now.start, now.end - was.end


def _corners(standing: Standing, grows: Sequence[Feature]) -> list[Feature]:
    """Between two tongues on neighbouring sides, equally thick and both reaching the corner, the corner is wood too."""
    tongues = [(face, bounds) for feature in grows if feature.called == "tongue"
               for face, bounds in (_side(standing, feature),) if face is not None and bounds is not None]
    corners: list[Feature] = []
    for number, (face, bounds) in enumerate(tongues):
        for other, more in tongues[number + 1:]:
            one, two = AXIS_OF[face], AXIS_OF[other]
            if one == two:
                continue
            third = next(axis for axis in AXES if axis not in (one, two))
            alike = bounds.span(third) == more.span(third)
            if alike and _reaches(bounds, other, standing.box) and _reaches(more, face, standing.box):
                box = with_span(with_span(bounds, two, more.span(two)), one, bounds.span(one))
                by = next(feature.by for feature in grows if feature.called == "tongue")
                corners.append(block_feature("grow", "tongue", box, by))
    return corners


def _side(standing: Standing, feature: Feature) -> tuple[Face | None, Box | None]:
    """The face of the part that a tongue grows from."""
    bounds = bounds_of(feature.shape, feature.frame)
    if bounds is None:
        return None, None
    for face in FACES:
        span, place = bounds.span(AXIS_OF[face]), standing.box.face(face)
        if (span.end if is_low(face) else span.start) == place:
            return face, bounds
    return None, None


def _reaches(bounds: Box, face: Face, box: Box) -> bool:
    """True when a tongue runs to that end of its side."""
    return bounds.face(face) == box.face(face)


def block_feature(op: str, called: str, box: Box, by: str, face: str = "") -> Feature:
    """A box in the part's own coordinates as a feature."""
    frame = Frame((box.across.start, box.deep.start, box.up.start), unit("across"), unit("deep"), unit("up"))
    shape = Block((ZERO, box.across.size), (ZERO, box.deep.size), (ZERO, box.up.size))
    return Feature("grow" if op == "grow" else "cut", called, shape, frame, by, face=face)
