"""Model → advice where a case has neither back nor frame.

A case is two upright panels that face each other with a flat part joined to both. It stays square when something that stands across, joined
to both panels or to the flat parts between them, is tall enough: a back, a rail, a kick board. A fifth of the height in all is enough, and a
wall that it is mounted to counts as none. Common practice, no source.
"""

from __future__ import annotations

from compiler.api import ZERO, Findings, Length, Model, Part, advice, check, inch

ENOUGH = 5
PANEL = inch(6)


@check
def racks(model: Model) -> Findings:
    """An open case without a back or a frame."""
    mates: dict[str, set[str]] = {}
    for joint in model.joints:
        if joint.family != "on":
            mates.setdefault(joint.acting, set()).add(joint.receiver)
            mates.setdefault(joint.receiver, set()).add(joint.acting)
    parts = {part.name: part for part in model.parts}
    panels = [part for part in model.parts if _panel(part)]
    for at, one in enumerate(panels):
        for two in panels[at + 1 :]:
            shared = mates.get(one.name, set()) & mates.get(two.name, set())
            flat = {name for name in shared if name in parts and parts[name].thickness_axis == "up"}
            if not flat or one.component != two.component or one.component:
                continue
            bracing = {name for name in {other for name in (*flat, one.name, two.name) for other in mates.get(name, ())}
                       if name in parts and parts[name].thickness_axis == "deep" and _between(parts[name], one, two)}
            if _height([parts[name] for name in bracing]) * ENOUGH < min(one.box.up.size, two.box.up.size):
                yield advice(f"Nothing keeps the case between `{one.name}` and `{two.name}` square: it has neither a back nor a frame.", at=one,
                             hint="Add a back in a groove or rabbet, a face frame, or a rail at its upper and lower end.")


def _panel(part: Part) -> bool:
    return part.thickness_axis == "across" and part.pose.square and min(part.box.deep.size, part.box.up.size) >= PANEL


def _between(part: Part, one: Part, two: Part) -> bool:
    """It covers most of the width between the two."""
    low, high = sorted((one.box.across.end, two.box.across.start)) if one.box.across.start < two.box.across.start else \
        sorted((two.box.across.end, one.box.across.start))
    return (min(part.box.across.end, high) - max(part.box.across.start, low)) * 4 >= (high - low) * 3


def _height(parts: list[Part]) -> Length:
    """Of all of them on the scale of heights, overlaps counted once."""
    total, reached = ZERO, None
    for start, end in sorted((part.box.up.start, part.box.up.end) for part in parts):
        if reached is None or start >= reached:
            total, reached = total + (end - start), end
        elif end > reached:
            total, reached = total + (end - reached), end
    return total
