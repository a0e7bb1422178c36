"""Part drawings: each part that is more than a plain box, with all sizes of its workings."""

from typing import Literal

from compiler.api import (
    Blocks,
    Cells,
    DrawingSettings,
    Figure,
    Inlines,
    Kind,
    Model,
    Paragraph,
    Part,
    Plugin,
    Prism,
    Ref,
    View,
    hook,
    section,
)

THIRD, HALF, LOW, WIDE, LARGE = (50, 42), (82, 46), (168, 56), (168, 72), (168, 82)
"""The most of a drawing in mm, across and up: a third of a row, half of one, a row, one for joints,
and one for what takes several views or many notes."""

PROFILE = (82, 66)
"""The same for a moulded edge, which is drawn at full size or twice that."""

LONG = 3
"""A part so many times as long as it is wide would be a line in a third of a row."""

VIEWS = ("mortise", "tenon", "profile", "bevelled end", "level end")
"""Features whose sizes take more views than one."""


@section("Part drawings", after="sizes", name="part drawings")
def part_drawings(model: Model, drawing: DrawingSettings) -> Blocks:
    """In the order of their letters, each as large as the work on it asks; a moulded edge after the first part that has it."""
    drawn = [(kind, model.part(kind.parts[0])) for kind in model.kinds]
    drawn = [(kind, part) for kind, part in drawn if part.features]
    if not drawn:
        return
    yield Paragraph(
        content=(
            "Length lies across; the foot, the left end or the front edge is the datum. A letter on a face tells which part it is,",
            " the arrow runs with the grain. Parts that are not here are plain: cut them to the cut list.",
        )
    )
    # Scales in inches are near each other; the next metric one is half as large: a third of a row would show little.
    least = THIRD if model.edition.units == "inch" else HALF
    rooms = {part.name: max(_room(part), HALF if _screwed(model, part) else least) for _, part in drawn}
    profiles = profiles_of(model)
    figures: list[Figure] = []
    for kind, part in drawn:
        figures.append(_figure(model, kind, part, rooms[part.name], drawing))
        figures += [_profile(names, of) for names, of in profiles if names[0] == kind.name]
    yield Cells(figures=tuple(figures), across=1)


def _profile(names: tuple[str, ...], part: Part) -> Figure:
    view = View(f"profile {part.name}", width=PROFILE[0], height=PROFILE[1])
    return Figure(f"Profile of the {' and '.join(names)}", view, name=f"{part.kind} profile", placing="cell")


def _figure(model: Model, kind: Kind, part: Part, most: tuple[int, int], drawing: DrawingSettings) -> Figure:
    placing: Literal["text", "cell"] = "text" if most[0] == WIDE[0] else "cell"
    view = View(f"part {part.name}", width=most[0], height=most[1], both_units=drawing.both, first_angle=drawing.first)
    return Figure(_caption(model, kind, part), view, name=kind.name, placing=placing)


def _screwed(model: Model, part: Part) -> bool:
    """True when screws go through a part: its drawing shows their holes."""
    return any(use.through == part.name and use.item.measure("clearance hole") is not None for joint in model.joints for use in joint.fasteners)


def _room(part: Part) -> tuple[int, int]:
    """How much paper the notes and views of its cuts ask for."""
    cuts = {feature.called for feature in part.features if feature.op == "cut"}
    if len(cuts) > 2 or any(feature.called in VIEWS or not feature.frame.square for feature in part.features):
        return LARGE
    # A tongue as wide as its part is told by sizes alone; what needs words needs room for them.
    noted = any(feature.called != "tongue" for feature in part.features)
    if len(cuts) > 1:
        return WIDE if any(feature.by.startswith("joint") for feature in part.features) else LOW
    return HALF if cuts or noted or part.length > part.width * LONG else THIRD


def _caption(model: Model, kind: Kind, part: Part) -> Inlines:
    number = len(kind.parts)
    pieces = f", {number} pieces" if number > 1 else ""
    hands = " and ".join(f"{count} {hand}" for hand, count in kind.hands) if kind.hands else ""
    drawn = f"; drawn: the {part.hand} one" if kind.hands and part.hand else ""
    hands = f" ({hands}{drawn})" if hands else ""
    profile = next((names for names, other in profiles_of(model) if kind.name in names), ())
    shape: Inlines = ("; its profile is ", Ref("figure", f"{profile[0]} profile")) if profile else ()
    return (f"{kind.letter} {kind.name}{pieces}{hands}, ", part.thickness, " thick", *shape)


def profiles_of(model: Model) -> tuple[tuple[tuple[str, ...], Part], ...]:
    """Each moulded edge once: the kinds that have it, and a part to draw it from."""
    found: dict[object, tuple[list[str], Part]] = {}
    for kind in model.kinds:
        part = model.part(kind.parts[0])
        for feature in part.features:
            if feature.called == "profile" and isinstance(feature.shape, Prism):
                key = (feature.shape.outline, part.thickness)
                found.setdefault(key, ([], part))[0].append(kind.name)
                break
    return tuple((tuple(names), part) for names, part in found.values())


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(part_drawings,))
