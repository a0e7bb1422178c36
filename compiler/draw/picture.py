"""Every drawing that a plan asks for, by its words.

In: a `View` (words and wishes), the model, its solids. Out: an Outcome with the Drawing; words that mean nothing, a view with
nothing in it, a section that misses, are errors at the place that asked. This is the only module of compiler.draw that knows all kinds.

Words:
    front right top · isometric · front · left side …      a picture, with its overall sizes if asked
    exploded [corner]                                        parts moved apart, with letters
    step [made] [corner]                                     only = shown, tinted = added (made before: uses of components whole)
    sizes [with PLACE from the FACE; …]                      front, side and top with sizes, planes of sections marked A, B …
    details ID, ID …                                         where joint details were taken, numbered
    part NAME · profile NAME · joint ID · thumb NAME · template NAME N      one part, one joint, a list's picture, one sheet full size
    detail of NAME · section at PLACE from the FACE          as authors write them; … without NAME and NAME
    key                                                      what lines and signs mean
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from compiler.base.measures import Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Style, show
from compiler.draw import (
    bench,
    elevations,
    exploded,
    joint_details,
    joint_marks,
    key,
    outlines,
    part_drawing,
    pictorial,
    profile_drawing,
    steps,
    templates,
)
from compiler.draw.apart import WORDS
from compiler.draw.cropping import cropped
from compiler.draw.cut_faces import piece_of
from compiler.draw.paint import Manner
from compiler.draw.places import of_parts
from compiler.draw.screw_places import screws_of
from compiler.draw.sections import draw_added, draw_section, plane_of
from compiler.draw.views import Camera, camera, look
from compiler.solid.building import Solids
from compiler.values.document import View
from compiler.values.figure import Drawing
from compiler.values.model import Model, Part

TEXT_WIDTH = 168.0
PAGE_HIGH = 205.0
MANY_UNITS = 26


@dataclass(frozen=True, slots=True)
class Request:
    """A view with all that is needed to draw it. `names` are the parts shown."""

    model: Model
    solids: Solids
    view: View
    names: tuple[str, ...]
    rest: str
    width: float
    at: Spot | None
    found: Findings

    def high(self, usual: float) -> float:
        """The most that the drawing may take in height: the view's own wish, or what is usual for its kind."""
        return float(self.view.height) or usual

    @property
    def style(self) -> Style:
        """How lengths are shown."""
        return replace(style_of(self.model), both=self.view.both_units)


def _names(view: View, model: Model, solids: Solids) -> tuple[str, ...]:
    """The parts shown, in plan order; loose pieces (wedges, keys) come with the joint that brings them."""
    only = set(view.only)
    shown = (name for name in (part.name for home in (model.parts, model.pieces) for part in home) if name in solids and (not only or name in only))
    return tuple(dict.fromkeys(shown))


def style_of(model: Model) -> Style:
    """The edition's way to show lengths: to 1/32 in, or to 1/2 mm."""
    return Style() if model.edition.units == "inch" else Style().other


def picture(view: View, model: Model, solids: Solids, at: Spot | None = None) -> Outcome[Drawing]:
    """The drawing that a view asks for. `solids` are the coarse solids of the model's parts and pieces."""
    found = Findings()
    if at is None:
        at = next((Spot("design.yaml", ("views", name)) for name, words in model.views if words == view.words), None)
    words, *dropped = view.words.strip().split(" without ")
    if dropped:
        away = {name for one in re.split(r",| and ", dropped[0]) for name in model.named(one.strip())}
        if not away:
            found.error("no-such-part", f"“{dropped[0]}” is no part of this plan.", at)
            return Outcome(None, found.report())
        kept = view.only or tuple(part.name for part in model.parts)
        view = replace(view, words=words, only=tuple(name for name in kept if name not in away))
        if not view.only:
            found.error("empty-view", "Nothing is left to see in this view.", at)
            return Outcome(None, found.report())
    first, _, rest = words.partition(" ")
    hand = _HANDS.get(first)
    request = Request(model, solids, view, _names(view, model, solids), (rest if hand else words).strip(), float(view.width) or TEXT_WIDTH, at, found)
    if not request.names:
        found.error("empty-view", "Nothing is to be seen in this view.", at)
        return Outcome(None, found.report())
    try:
        drawing = (hand or _pictorial)(request)
    except ValueError as fault:
        found.error("no-view", str(fault), at)
        return Outcome(None, found.report())
    return Outcome(drawing, found.report())


def _pictorial(r: Request) -> Drawing | None:
    if r.view.exploded:
        return _exploded(r)
    look_from = camera(r.rest)
    sizes: tuple[Length, ...] = ()
    if r.view.dimensions:
        sizes = _extents(r)
    manner: Manner = "small" if r.width < 60 else "picture"
    drawing = pictorial.picture(r.solids, look_from, width=r.width, height=r.high(min(r.width * 1.02, 160.0)), names=r.names, tinted=r.view.tinted,
                                manner="step" if r.view.tinted else manner, sizes=sizes, style=r.style,
                                says=_says(r, f"The piece seen from the {r.rest}"))
    return drawing


def _extents(r: Request) -> tuple[Length, ...]:
    """How far the parts shown reach across, deep and up, tilts and tenons included."""
    chosen = [r.solids[name] for name in r.names]
    found = []
    for axis in range(3):
        places = of_parts((solid.part for solid in chosen), axis)
        found.append(places.between(min(solid.low[axis] for solid in chosen), max(solid.high[axis] for solid in chosen)))
    return tuple(found)


def _exploded(r: Request) -> Drawing | None:
    words = r.rest.removeprefix("exploded").strip() or "front right top"
    for name, wish in r.model.explode:
        here = Spot("design.yaml", ("explode", name))
        if not r.model.named(name):
            r.found.error("explode-nowhere", f"“{name}” is no part of this plan.", here)
        if wish.split(" ")[0] not in WORDS:
            r.found.error("explode-nowhere", f"“{wish}” leads nowhere.", here, "Write up, down, left, right, front or back, and how many inches.")
    names = r.names
    closed = closed_groups(r.model, names)
    # A picture narrower than the text shares its page with another.
    height = r.high(min(PAGE_HIGH, 1.2 * r.width) if r.width > 150 else 0.93 * r.width)
    lettered = _lettered(r, names, closed, camera(words))
    drawing, missing = exploded.draw(r.model, r.solids, camera(words), width=r.width, height=height, names=names, closed=closed,
                                     lettered=lettered, says=_says(r, f"Exploded view of {len(names)} parts"))
    # What the whole hides, the picture of its sub-assembly shows.
    if missing and (r.view.only or not r.model.assemblies):
        r.found.advice("letter-not-seen", f"The exploded view hides {_list(missing)}.", r.at,
                       "Another corner, or an entry under explode, may show it.")
    return cropped(drawing)


def closed_groups(model: Model, names: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Sub-assemblies that stay together: uses of components (doors, drawers), and other groups while there are too many parts.

    None when the names are those of one sub-assembly itself.
    """
    shown = set(names)
    whole: list[tuple[str, ...]] = []
    for group in model.assemblies:
        members = members_of(model, group.path)
        inside = tuple(name for name in members if name in shown)
        if group.component and 1 < len(inside) < len(shown) and set(inside) == set(members):
            whole.append(inside)
    whole = [group for group in whole if not any(set(group) < set(other) for other in whole)]
    taken = {name for group in whole for name in group}
    others = sorted((group for group in model.assemblies if not group.component), key=lambda g: (-len(g.path), g.path))
    for group in others:
        units = len(whole) + len(shown - taken)
        if units <= MANY_UNITS:
            break
        inside = tuple(name for name in members_of(model, group.path) if name in shown and name not in taken)
        if 2 < len(inside) < len(shown - taken) / 2:
            whole.append(inside)
            taken |= set(inside)
    return tuple(whole)


def members_of(model: Model, path: tuple[str, ...]) -> tuple[str, ...]:
    """All parts of a group, inner groups included, in plan order."""
    return tuple(part.name for part in model.parts if part.assembly[:len(path)] == path)


def _lettered(r: Request, names: tuple[str, ...], closed: tuple[tuple[str, ...], ...], look_from: Camera) -> tuple[str, ...]:
    """Parts that get letters: of a group that stays together only the part that shows most, which stands for it.

    A group without a joint inside gets no picture of its own, so all its parts have their letters here.
    """
    inside = {name for group in closed for name in group}
    chosen = [name for name in names if name not in inside]
    for group in closed:
        if not any(joint.acting in group and joint.receiver in group for joint in r.model.joints):
            chosen += group
            continue
        regions = look(r.solids, look_from, names=group).regions
        most = max(regions, key=lambda region: region.area).part if regions else group[0]
        kind = piece_of(r.model, most).kind
        chosen += [name for name in group if piece_of(r.model, name).kind == kind]
    return tuple(chosen)


def _step(r: Request) -> Drawing | None:
    added = [name for name in r.view.tinted if name in r.names]
    says = _says(r, "The work so far")
    if not added and r.view.only and len(steps.bodies(r.solids, r.names)) > 1:
        return cropped(bench.side_by_side(r.model, r.solids, r.names, width=r.width, says=says))
    made = r.rest == "made" or r.rest.startswith("made ")
    drawing, stuck = steps.draw(r.model, r.solids, shown=r.names, added=added, words=r.rest.removeprefix("made").strip() if made else r.rest,
                                width=r.width, height=r.high(0.86 * r.width), says=says, made=made)
    if stuck:
        r.found.warning("cannot-be-put-in", f"{_list(tuple(f'`{name}`' for name in stuck))} cannot be put in straight at this step: what is built already is in the way.", r.at,
                        "Change the order of the steps. Only straight ways were tried: what is turned or sprung in on the bench may stay.")
    return cropped(drawing)


def _sizes(r: Request) -> Drawing | None:
    """`sizes with PLACE from the FACE; …`: the planes of sections, marked A, B … where a view shows them edge-on."""
    cuts = [plane_of(r.model, words)[1] for words in r.rest.removeprefix("with ").split("; ") if words]
    return elevations.draw(r.model, r.solids.only(r.names), width=r.width, height=r.high(PAGE_HIGH), style=r.style,
                           first_angle=r.view.first_angle, cuts=cuts, says=_says(r, "Front, side and top with sizes"))


def _part_of(r: Request, name: str) -> Part:
    names = r.model.named(name)
    if not names:
        raise ValueError(f"“{name}” is no part of this plan.")
    return r.model.part(names[0])


def _part(r: Request) -> Drawing | None:
    part = _part_of(r, r.rest)
    count = len(r.model.kind(part.kind).parts)
    return part_drawing.draw(part, width=r.width, height=r.high(PAGE_HIGH * 0.7), style=r.style, units=r.model.edition.units, count=count,
                             first_angle=r.view.first_angle, screws=screws_of(r.model, part), says=f"{part.kind.capitalize()}, {count} wanted: {_size(r, part.length)} long, {_size(r, part.width)} wide, "
                                  f"{_size(r, part.thickness)} thick, with all its workings.")


def _profile(r: Request) -> Drawing | None:
    part = _part_of(r, r.rest)
    return profile_drawing.draw(part, width=r.width, height=r.high(80.0), style=r.style, units=r.model.edition.units,
                                says=f"The moulded edge of the {part.kind} cut across, with its sizes.")


def _thumb(r: Request) -> Drawing | None:
    part = _part_of(r, r.rest)
    scale = outlines.scale_for(r.model.largest_face, r.model.edition.units)
    return outlines.draw(part, scale, f"Outline of the {part.kind} with its grain.")


def _joint(r: Request) -> Drawing | None:
    joint = next((one for one in r.model.joints if one.id == r.rest), None)
    if joint is None:
        raise ValueError(f"“{r.rest}” is no joint of this plan.")
    return joint_details.draw(r.model, r.solids, joint, width=r.width, height=r.high(min(1.25 * r.width, 110.0)), style=r.style,
                              says=f"{joint.kind.capitalize()} of {joint.acting} and {joint.receiver}, cut through.")


def _details(r: Request) -> Drawing | None:
    by_id = {joint.id: joint for joint in r.model.joints}
    wanted = [word.strip() for word in r.rest.split(",")]
    unknown = [word for word in wanted if word not in by_id]
    if unknown:
        raise ValueError(f"“{unknown[0]}” is no joint of this plan.")
    return cropped(joint_marks.draw(r.model, r.solids, [by_id[word] for word in wanted], width=r.width, height=r.high(90.0),
                                    says="Where each joint detail was taken, by number, and the way its cut is looked at."))


def _detail(r: Request) -> Drawing | None:
    name = re.sub(r" from the \w+( side)?$", "", r.rest.removeprefix("of").strip())
    part = _part_of(r, name)
    joints = [one for one in r.model.joints if part.name in (one.acting, one.receiver)]
    joints.sort(key=lambda one: one.family not in ("into", "with"))
    if not joints:
        raise ValueError(f"`{part.name}` has no joint to show in a detail.")
    return joint_details.draw(r.model, r.solids, joints[0], width=r.width, height=r.high(min(1.25 * r.width, 110.0)), style=r.style,
                              says=f"{joints[0].kind.capitalize()} of {joints[0].acting} and {joints[0].receiver}, cut through.")


def _template(r: Request) -> Drawing | None:
    name, _, number = r.rest.rpartition(" ")
    part = _part_of(r, name)
    return templates.draw(part, int(number), r.model.edition.units, f"Full-size template of the {part.kind}, sheet {number}.")


def _section(r: Request) -> Drawing | None:
    if r.view.tinted and not r.view.dimensions:
        return cropped(draw_added(r.model, r.solids.only(r.names), r.rest, r.view.tinted, width=r.width, height=r.high(PAGE_HIGH),
                                  says=_says(r, f"Section {r.rest}")))
    return draw_section(r.model, r.solids.only(r.names), r.rest, width=r.width, height=r.high(PAGE_HIGH), style=r.style,
                        says=_says(r, f"Section {r.rest}"))


def _key(r: Request) -> Drawing | None:
    return key.draw(r.width, r.view.first_angle)


_HANDS: dict[str, Callable[[Request], Drawing | None]] = {
    "exploded": _exploded, "step": _step, "sizes": _sizes, "part": _part, "profile": _profile, "thumb": _thumb, "joint": _joint, "details": _details, "detail": _detail,
    "template": _template, "section": _section, "key": _key,
}


def _size(r: Request, length: Length) -> str:
    unit = "in" if r.model.edition.units == "inch" else "mm"
    return f"{show(length, r.style).text} {unit}"


def _says(r: Request, start: str) -> str:
    """A description made from the model: what is shown, and how large it is."""
    kinds = dict.fromkeys(piece_of(r.model, name).kind for name in r.names)
    listed = list(kinds)
    shown = _list(tuple(listed[:8])) + (f" and {len(listed) - 8} more kinds" if len(listed) > 8 else "")
    added = dict.fromkeys(piece_of(r.model, name).kind for name in r.view.tinted if name in r.names)
    tail = f" Added: {_list(tuple(added))}." if added else ""
    return f"{start}: {shown}.{tail}"


def _list(words: tuple[str, ...]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else "nothing"
