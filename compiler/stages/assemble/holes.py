"""Holes: single, in rows with a pitch, countersunk or counterbored, through or blind, for pins of the library.

In: a site. Out: bores in the frame of the face. Errors: a hole outside its part, bigger than it, deeper than it.
"""

from __future__ import annotations

from compiler.base.measures import ZERO, Length
from compiler.stages.assemble.placing import face_on, others
from compiler.stages.assemble.site import At, Site
from compiler.values.design import Written
from compiler.values.library import Item
from compiler.values.model import AXIS_OF, Axis, Face
from compiler.values.shapes import Bore, Feature

HOLE = ("diameter", "depth", "countersink", "counterbore", "for")


def hole(site: Site, face: Face) -> list[Feature]:
    """One hole: at, diameter, depth (none = through)."""
    site.judge_keys(("at", *HOLE))
    place = _both(site, "at", face)
    size = _size(site, face)
    if place is None or size is None:
        return []
    return _bores(site, face, [place], size)


def holes(site: Site, face: Face) -> list[Feature]:
    """A row of holes: first (a place), going (an axis), every, count."""
    site.judge_keys(("first", "going", "every", "count", *HOLE))
    first, size = _both(site, "first", face), _size(site, face)
    every, count = site.length("every"), site.count("count")
    one, two = others(AXIS_OF[face])
    going = site.word("going", (one, two), max((one, two), key=lambda axis: site.span(axis).size))
    if first is None or size is None or every is None or count is None or going is None:
        return []
    axis: Axis = one if going == one else two
    # A row counted from the high end runs towards the low one.
    step = -every if first[axis].anchor == "high" else every
    site.values.setdefault("going", axis)
    places: list[dict[Axis, At]] = [{**first, axis: At(first[axis].place + step * number, first[axis].anchor)} for number in range(count)]
    return _bores(site, face, places, size, axis)


def _both(site: Site, key: str, face: Face) -> dict[Axis, At] | None:
    place = site.place(key, face)
    if place is None:
        return None
    missing = [axis for axis in others(AXIS_OF[face]) if axis not in place]
    if missing:
        site.error("half-a-place", f"`{key}` doesn't say where the {site.wish.kind} is {missing[0]}.", key,
                   f"Add: and 2 from {face_on(missing[0], True)}, or centre {missing[0]}.")
        return None
    for axis, at in place.items():
        site.values[f"{key} {axis}"] = at.place
    return place


def _size(site: Site, face: Face) -> tuple[Length, Length | None] | None:
    """Diameter and depth (None = through), from the hardware it is for where one is named."""
    item = _item(site)
    if site.written("for") is not None and item is None:
        return None
    diameter = site.length("diameter", item.measure("diameter") if item else None)
    depth = site.length("depth", item.measure("depth") if item and item.measure("depth") else ZERO)
    if diameter is None or depth is None:
        return None
    site.values.setdefault("diameter", diameter)
    thickness = site.span(AXIS_OF[face]).size
    if depth > thickness or (depth == thickness and site.written("depth") is not None):
        site.error("too-deep", f"The {site.wish.kind} goes {site.said(depth)} into `{site.name}`, which is {site.said(thickness)} thick there.",
                   "depth", "Leave depth out for a hole right through.")
        return None
    if depth:
        site.values.setdefault("depth", depth)
    return diameter, depth or None


def _item(site: Site) -> Item | None:
    written = site.written("for")
    if written is None or not isinstance(written.value, str):
        return None
    item = site.items.find(written.value, scope=site.standing.part.use)
    if item is None:
        site.findings.add(site.items.fault(written.value, "", written.at))
    else:
        site.values["for"] = item.name
    return item


def _bores(site: Site, face: Face, places: list[dict[Axis, At]], size: tuple[Length, Length | None],
           going: Axis | None = None) -> list[Feature]:
    diameter, depth = size
    axis = AXIS_OF[face]
    one, two = others(axis)
    bigger = next((name for name in (one, two) if diameter >= site.span(name).size), None)
    if bigger is not None:
        site.error("hole-too-big", f"A hole of {site.said(diameter)} is as big as `{site.name}`, which is {site.said(site.span(bigger).size)} {bigger}.",
                   "diameter", "Take a smaller one.")
        return []
    for number, place in enumerate(places):
        if not _inside(site, place, diameter, number, going, len(places)):
            return []
    frame = site.face_frame(face)
    reach = depth or site.span(axis).size
    mouths = _mouths(site, diameter, reach)
    features: list[Feature] = []
    for place in places:
        at = (place[one].place, place[two].place)
        features.append(site.cut("hole", Bore("into", at, diameter, (ZERO, reach)), frame, face))
        for called, wide, narrow, deep in mouths:
            features.append(site.cut(called, Bore("into", at, wide, (ZERO, deep), narrow), frame, face))
    return features


def _inside(site: Site, place: dict[Axis, At], diameter: Length, number: int, going: Axis | None, count: int) -> bool:
    """True when a hole lies within its face; the first that doesn't is reported."""
    for axis, at in place.items():
        size = site.span(axis).size
        if at.place - diameter / 2 >= ZERO and at.place + diameter / 2 <= size:
            continue
        low = at.place < diameter / 2
        end = face_on(axis, low)
        beyond = -at.place if low else at.place - size
        way = {"left": "left of", "right": "right of", "front": "in front of", "back": "behind", "bottom": "below", "top": "above"}[end]
        edge = {"bottom": "the foot", "top": "the top"}.get(end, f"the {end} edge")
        which = f"The {ordinal(number + 1)} hole" if count > 1 else "The hole"
        if beyond > ZERO:
            says = f"{which} is {site.said(beyond)} {way} {edge} of `{site.name}`."
        else:
            inside = f"{site.said(-beyond)} from it" if beyond else "on it"
            says = f"{which} cuts {edge} of `{site.name}`: its middle is {inside}."
        fit = f"{number} fit." if going == axis and number else "Move it inside."
        site.error("hole-outside", says, "count" if going == axis and number else ("first" if going else "at"), fit)
        return False
    return True


def _mouths(site: Site, diameter: Length, reach: Length) -> list[tuple[str, Length, Length | None, Length]]:
    """Countersink (a cone) and counterbore (a cylinder) at the mouth: wide, narrow, depth."""
    found: list[tuple[str, Length, Length | None, Length]] = []
    for called in ("countersink", "counterbore"):
        keys = site.keys(called)
        if not keys:
            continue
        wide, deep = _under(site, keys, "diameter"), _under(site, keys, "depth")
        if wide is None or deep is None:
            site.error("missing-key", f"A {called} needs diameter and depth.", called)
            continue
        if wide <= diameter:
            site.error("narrow-mouth", f"The {called} is {site.said(wide)} wide, the hole {site.said(diameter)}.", called, "Make it wider than the hole.")
            continue
        if deep > reach:
            site.error("too-deep", f"The {called} is {site.said(deep)} deep, the hole {site.said(reach)}.", called)
            continue
        site.values[f"{called} diameter"], site.values[f"{called} depth"] = wide, deep
        found.append((called, wide, diameter if called == "countersink" else None, deep))
    return found


def _under(site: Site, keys: object, key: str) -> Length | None:
    written = keys.get(key) if isinstance(keys, dict) else None
    if not isinstance(written, Written) or not isinstance(written.value, str):
        return None
    value = site.value(written.value, written.at, "length")
    return value if isinstance(value, Length) and value > ZERO else None


def ordinal(number: int) -> str:
    """`1st`, `2nd`, `3rd`, `15th`."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"
