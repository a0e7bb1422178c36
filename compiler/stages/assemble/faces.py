"""Workings in a face: dado, groove, arc, cut-out.

In: a site and a face. Out: cuts in the frame of the face. Stopped cuts get the round end that the cutter leaves.
"""

from __future__ import annotations

from compiler.base.measures import ZERO, Length
from compiler.language import Refused, diagnostic, parse_place
from compiler.language.trees import Offset
from compiler.stages.assemble.placing import LOW_FACE, face_on, is_low, others
from compiler.stages.assemble.site import At, Site
from compiler.values.model import AXIS_OF, Axis, Face
from compiler.values.shapes import Block, Bore, Feature, Frame, OutlinePoint, Prism


def trench(site: Site, face: Face) -> list[Feature]:
    """A dado or groove: its place across, width, depth; it runs right through unless stopped."""
    site.judge_keys(("at", "width", "depth", "going", "stopped"))
    one, two = others(AXIS_OF[face])
    place, width, depth = site.place("at", face), site.length("width"), site.length("depth")
    if place is None or width is None or depth is None:
        return []
    default = next((axis for axis in (one, two) if axis not in place), max((one, two), key=lambda axis: site.span(axis).size))
    going = site.word("going", (one, two), default)
    if going is None:
        return []
    run: Axis = one if going == one else two
    side: Axis = two if run == one else one
    if side not in place:
        site.error("half-a-place", f"`at` doesn't say where the {site.wish.kind} is {side}.", "at", f"Write 4 from {face_on(side, True)}.")
        return []
    thickness = site.span(AXIS_OF[face]).size
    if depth >= thickness:
        site.error("goes-through", f"The {site.wish.kind} would go through `{site.name}`: {site.said(depth)} deep in {site.said(thickness)}.", "depth")
        return []
    low = near_edge(place[side], width)
    if low < ZERO or low + width > site.span(side).size:
        beyond = -low if low < ZERO else low + width - site.span(side).size
        site.error("working-outside", f"The {site.wish.kind} is {site.said(beyond)} outside `{site.name}` ({side}).", "at", "Move it inside.")
        return []
    site.values["at"] = low
    ends = stops(site, run)
    if ends is None:
        return []
    frame = site.face_frame(face)
    start, end = ends[0], site.span(run).size - ends[1]
    if not ends[0] and not ends[1]:
        along, across = ((start, end), (low, low + width)) if run == one else ((low, low + width), (start, end))
        return [site.cut(site.wish.kind, Block(along, across, (ZERO, depth)), frame, face)]
    outline = round_ended(start, end, low, low + width, bool(ends[0]), bool(ends[1]))
    if run == two:
        outline = mirrored(outline)
    return [site.cut(site.wish.kind, Prism(outline, (ZERO, depth)), frame, face)]


def near_edge(at: At, width: Length) -> Length:
    """The low edge of something so wide: an `at` counts to its near edge, a centre to its middle."""
    if at.anchor == "middle":
        return at.place - width / 2
    return at.place if at.anchor == "low" else at.place - width


def stops(site: Site, axis: Axis) -> tuple[Length, Length] | None:
    """How far a working stops short of the low and high end of an axis."""
    written = site.written("stopped")
    if written is None or not isinstance(written.value, str) or written.value == "no":
        return ZERO, ZERO
    try:
        tree = parse_place(written.value)
    except Refused as fault:
        site.findings.add(diagnostic(fault, written.at))
        return None
    ends = {True: ZERO, False: ZERO}
    for spot in tree.spots:
        if not isinstance(spot, Offset) or AXIS_OF[spot.face] != axis:
            site.error("stopped-across", f"This {site.wish.kind} runs {axis}: it can stop short of {face_on(axis, True)} and {face_on(axis, False)} only.", "stopped")
            return None
        length = site.length_of(spot.size, written)
        if length is None:
            return None
        ends[is_low(spot.face)] = length
        site.values[f"stopped from {spot.face}"] = length
    if ends[True] + ends[False] >= site.span(axis).size:
        site.error("stopped-too-far", f"Nothing is left of the {site.wish.kind}: `{site.name}` is {site.said(site.span(axis).size)} {axis}.", "stopped")
        return None
    return ends[True], ends[False]


def round_ended(start: Length, end: Length, low: Length, high: Length, round_start: bool, round_end: bool) -> tuple[OutlinePoint, ...]:
    """A slot with the cutter's half round at its stopped ends; a slot shorter than wide stays square."""
    radius = (high - low) / 2
    if end - start < radius * 2:
        round_start = round_end = False
    first = start + radius if round_start else start
    last = end - radius if round_end else end
    middle = low + radius
    points = [OutlinePoint(first, low), OutlinePoint(last, low)]
    if round_end:
        points += [OutlinePoint(end, middle, radius, 1), OutlinePoint(last, high, radius, 1)]
    else:
        points.append(OutlinePoint(last, high))
    points.append(OutlinePoint(first, high))
    if round_start:
        points.append(OutlinePoint(start, middle, radius, 1))
        points[0] = OutlinePoint(first, low, radius, 1)
    return tuple(points)


def mirrored(outline: tuple[OutlinePoint, ...]) -> tuple[OutlinePoint, ...]:
    """The outline with its two axes exchanged."""
    return tuple(OutlinePoint(p.y, p.x, p.radius, -1 if p.bulge == 1 else 1, p.long) for p in outline)


def arc(site: Site, face: Face) -> list[Feature]:
    """A curved edge: a hollow of `rise` between `from` and `to`, or (rise below nothing) a bow that keeps the middle.

    Radius by the sagitta: (half chord² + rise²) / (2 × rise).
    """
    site.judge_keys(("rise", "from", "to"))
    rise = site.length("rise", least=None)
    axis = AXIS_OF[face]
    first, last = _on_edge(site, "from", face), _on_edge(site, "to", face)
    if rise is None or first is None or last is None:
        return []
    along = first[0]
    start, end = sorted((first[1], last[1]))
    half = (end - start) / 2
    if not rise or not half:
        site.error("flat-arc", "This arc is flat: it needs a rise and two ends.", "rise")
        return []
    if abs(rise) >= site.span(axis).size:
        site.error("working-outside", f"The arc rises {site.said(abs(rise))}; `{site.name}` is {site.said(site.span(axis).size)} {axis}.", "rise")
        return []
    if abs(rise) > half:
        site.error("steep-arc", f"The arc rises {site.said(abs(rise))} over half a width of {site.said(half)}: it is more than a half circle.", "rise", "Less rise, or a wider arc.")
        return []
    site.values["from"], site.values["to"] = start, end
    radius = Length((half.inches**2 + rise.inches**2) / (2 * abs(rise.inches)))
    site.values["radius"] = radius
    frame, sweep = _edge_plane(site, face, along)
    span = (ZERO, site.span(sweep).size)
    if rise > ZERO:
        return [site.cut("arc", _hollow(start, end, half, rise, radius, span), frame, face)]
    return [site.cut("arc", shape, frame, face) for shape in _bow(start, end, half, -rise, radius, span)]


def _hollow(start: Length, end: Length, half: Length, rise: Length, radius: Length, span: tuple[Length, Length]) -> Prism:
    """The wood under an arch: the chord on the edge and the arc over it."""
    top = OutlinePoint(start + half, rise, radius, 1)
    return Prism((OutlinePoint(start, ZERO, radius, 1), OutlinePoint(end, ZERO), top), span)


def _bow(start: Length, end: Length, half: Length, rise: Length, radius: Length, span: tuple[Length, Length]) -> tuple[Prism, Prism]:
    """What is cut off at both ends so that the edge bows outward."""
    middle = start + half
    left = Prism((OutlinePoint(start, ZERO), OutlinePoint(middle, ZERO), OutlinePoint(start, rise, radius, -1)), span)
    right = Prism((OutlinePoint(middle, ZERO), OutlinePoint(end, ZERO), OutlinePoint(end, rise), OutlinePoint(middle, ZERO, radius, -1)), span)
    return left, right


def _on_edge(site: Site, key: str, face: Face) -> tuple[Axis, Length] | None:
    """One coordinate along a face."""
    place = site.place(key, face)
    if place is None:
        return None
    if len(place) != 1:
        site.error("one-place", f"`{key}` takes one place: 3 from left.", key)
        return None
    axis, at = next(iter(place.items()))
    if not ZERO <= at.place <= site.span(axis).size:
        site.error("working-outside", f"The {site.wish.kind} runs out of `{site.name}` ({axis}).", key)
        return None
    return axis, at.place


def _edge_plane(site: Site, face: Face, along: Axis) -> tuple[Frame, Axis]:
    """The frame whose along runs on a face and whose across goes into it; swept over the third axis."""
    frame, sweep = site.edge_frame(LOW_FACE[along], face)
    return frame, sweep


def cut_out(site: Site, face: Face) -> list[Feature]:
    """An opening right through: a size with inside radii, or a diameter."""
    site.judge_keys(("at", "size", "diameter", "radius"))
    place = site.place("at", face)
    one, two = others(AXIS_OF[face])
    if place is None:
        return []
    if one not in place or two not in place:
        site.error("half-a-place", "`at` needs both ways: centre across and 0 from top.", "at")
        return []
    frame, reach = site.face_frame(face), site.span(AXIS_OF[face]).size
    if site.written("diameter") is not None:
        diameter = site.length("diameter")
        if diameter is None or not _fits(site, place, {one: diameter, two: diameter}):
            return []
        middle = tuple(near_edge(place[axis], diameter) + diameter / 2 for axis in (one, two))
        return [site.cut("cut-out", Bore("into", (middle[0], middle[1]), diameter, (ZERO, reach)), frame, face)]
    size, radius = site.two_sizes("size"), site.length("radius", ZERO)
    if size is None or radius is None or not _fits(site, place, {one: size[0], two: size[1]}):
        return []
    if radius * 2 > min(size):
        site.error("radius-too-big", f"Two radii of {site.said(radius)} don't fit in {site.said(min(size))}.", "radius")
        return []
    site.values["size across"], site.values["size along"] = size
    low = (near_edge(place[one], size[0]), near_edge(place[two], size[1]))
    outline = rounded_rectangle(low, size, radius, (site.span(one).size, site.span(two).size))
    return [site.cut("cut-out", Prism(outline, (ZERO, reach)), frame, face)]


def _fits(site: Site, place: dict[Axis, At], sizes: dict[Axis, Length]) -> bool:
    for axis, size in sizes.items():
        low, whole = near_edge(place[axis], size), site.span(axis).size
        if low < ZERO or low + size > whole:
            beyond = -low if low < ZERO else low + size - whole
            site.error("working-outside", f"The cut-out is {site.said(beyond)} outside `{site.name}` ({axis}).", "at", "Move it inside, or make it smaller.")
            return False
    return True


def rounded_rectangle(low: tuple[Length, Length], size: tuple[Length, Length], radius: Length,
                      whole: tuple[Length, Length]) -> tuple[OutlinePoint, ...]:
    """A rectangle with its inside corners rounded; corners on the part's own edge stay square."""
    x, y = low
    right, top = x + size[0], y + size[1]

    def open_at(px: Length, py: Length) -> bool:
        return px in (ZERO, whole[0]) or py in (ZERO, whole[1])

    # Going round against the clock: each corner with the way that leads to it and the way that leads on.
    corners = ((x, y, (0, -1), (1, 0)), (right, y, (1, 0), (0, 1)), (right, top, (0, 1), (-1, 0)), (x, top, (-1, 0), (0, -1)))
    points: list[OutlinePoint] = []
    for px, py, come, go in corners:
        if not radius or open_at(px, py):
            points.append(OutlinePoint(px, py))
            continue
        points.append(OutlinePoint(px - radius * come[0], py - radius * come[1]))
        points.append(OutlinePoint(px + radius * go[0], py + radius * go[1], radius, 1))
    return tuple(points)
