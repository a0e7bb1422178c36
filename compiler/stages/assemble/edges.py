"""Workings along edges and at ends: rabbet, notch, bevel, mitre, taper, chamfer, round-over, cove, profile.

In: a site and the faces that meet at the edge. Out: cuts in the frame of the edge: along from the first face inward,
across from the second face inward, swept over the edge. Lengths from angles are made exact (1/1024 in, 0.01 mm).
"""

from __future__ import annotations

from fractions import Fraction
from math import radians, tan

from compiler.base.measures import ZERO, Length
from compiler.stages.assemble.faces import stops
from compiler.stages.assemble.placing import (
    HIGH_FACE,
    LOW_FACE,
    face_on,
    is_low,
    made_exact,
    opposite,
    others,
)
from compiler.stages.assemble.profiles import profile_outline
from compiler.stages.assemble.site import Site
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Face
from compiler.values.shapes import Block, Feature, OutlinePoint, Prism

Edge = tuple[Face, Face]
Corner = tuple[OutlinePoint, ...]


def rabbet(site: Site, edge: Edge) -> list[Feature]:
    """A step: `depth` goes into the part's thickness, `width` across its face."""
    site.judge_keys(("width", "depth", "stopped"))
    width, depth = site.length("width"), site.length("depth")
    if width is None or depth is None:
        return []
    thick = site.standing.part.thickness_axis
    deep_face = next((face for face in edge if AXIS_OF[face] == thick), min(edge, key=lambda face: site.span(AXIS_OF[face]).size))
    sizes = {face: depth if face == deep_face else width for face in edge}
    if not _inside(site, sizes, {deep_face: "depth"}):
        return []
    frame, sweep = site.edge_frame(*edge)
    ends = stops(site, sweep)
    if ends is None:
        return []
    block = Block((ZERO, sizes[edge[0]]), (ZERO, sizes[edge[1]]), (ends[0], site.span(sweep).size - ends[1]))
    return [site.cut("rabbet", block, frame, deep_face)]


def _inside(site: Site, sizes: dict[Face, Length], keys: dict[Face, str]) -> bool:
    for face, size in sizes.items():
        whole = site.span(AXIS_OF[face]).size
        if size >= whole:
            site.error("working-outside", f"The {site.wish.kind} takes {site.said(size)} of `{site.name}`, which is {site.said(whole)} {AXIS_OF[face]}.",
                       keys.get(face, "width"), "Make it smaller.")
            return False
    return True


def notch(site: Site, faces: tuple[Face, ...]) -> list[Feature]:
    """A corner taken out: two or three of across, deep, up say how much of each axis goes."""
    site.judge_keys(("across", "deep", "up"))
    sizes: dict[Axis, Length] = {}
    for face in faces:
        axis = AXIS_OF[face]
        size = site.length(axis)
        if size is None:
            return []
        sizes[axis] = size
    for axis in AXES:
        if site.written(axis) is not None and axis not in sizes:
            size = site.length(axis)
            if size is None:
                return []
            sizes[axis] = size
    spans: dict[Axis, tuple[Length, Length]] = {}
    for axis in AXES:
        whole = site.span(axis).size
        size = sizes.get(axis, whole)
        if size > whole or (size == whole and axis in sizes):
            site.error("working-outside", f"The notch takes {site.said(size)} of `{site.name}`, which is {site.said(whole)} {axis}.", axis, "Make it smaller.")
            return []
        face = next((face for face in faces if AXIS_OF[face] == axis), LOW_FACE[axis])
        spans[axis] = (ZERO, size) if is_low(face) else (whole - size, whole)
    frame = site.face_frame("bottom")
    return [site.cut("notch", Block(spans["across"], spans["deep"], spans["up"]), frame, faces[0])]


def _sloped(site: Site, called: str, flat: Face, side: Face, across: Length, rise: Length) -> Feature:
    """A wedge along the edge of two faces: `across` of the flat face goes, `rise` of the side."""
    frame, sweep = site.edge_frame(side, flat)
    outline = (OutlinePoint(ZERO, ZERO), OutlinePoint(across, ZERO), OutlinePoint(ZERO, rise))
    return site.cut(called, Prism(outline, (ZERO, site.span(sweep).size)), frame, flat)


def bevel(site: Site, edge: Edge) -> list[Feature]:
    """A slanting edge: the angle counts from the edge that is bevelled.

    With `width` it takes that much of the broad face (the underside of a top); else it takes the whole edge, from
    nothing at the face it is `long at` to thickness × tan(angle) at the other.
    """
    site.judge_keys(("angle", "long at", "width"))
    angle = site.angle("angle")
    if angle is None:
        return []
    thick = site.standing.part.thickness_axis
    if site.written("width") is not None:
        width = site.length("width")
        if width is None:
            return []
        flat = next((face for face in edge if AXIS_OF[face] == thick), edge[0])
        side = next(face for face in edge if face != flat)
        rise = _times_tan(site, width, angle)
        if not _inside(site, {side: width, flat: rise}, {}):
            return []
        return [_sloped(site, "bevel", flat, side, width, rise)]
    side = next((face for face in edge if AXIS_OF[face] == thick), edge[1])
    flat = next(face for face in edge if face != side)
    long_at = site.word("long at", (side, opposite(side)), opposite(side))
    if long_at is None:
        return []
    if long_at == side:
        side = opposite(side)
    across = site.span(AXIS_OF[side]).size
    rise = _times_tan(site, across, angle)
    if not _inside(site, {flat: rise}, {flat: "angle"}):
        return []
    return [_sloped(site, "bevel", flat, side, across, rise)]


def mitre(site: Site, end: Face) -> list[Feature]:
    """An end cut at an angle: from nothing at the face it is `long at` to that side's width × tan(angle)."""
    site.judge_keys(("angle", "long at"))
    angle = site.angle("angle", Fraction(45))
    sides = tuple(face for face in FACES if AXIS_OF[face] != AXIS_OF[end])
    long_at = site.word("long at", sides)
    if angle is None or long_at is None:
        return []
    if not long_at:
        site.error("missing-key", "A mitre needs `long at`: the face where the part keeps its length.", hint="Write long at: front.")
        return []
    long_face = next(face for face in sides if face == long_at)
    across = site.span(AXIS_OF[long_face]).size
    back = _times_tan(site, across, angle)
    if not _inside(site, {end: back}, {end: "angle"}):
        return []
    return [_sloped(site, "mitre", end, opposite(long_face), across, back)]


def _times_tan(site: Site, length: Length, angle: Fraction) -> Length:
    """A length times the tangent of an angle in degrees; 45 is exact."""
    if angle == 45:
        return length
    return made_exact(float(length) * tan(radians(float(angle))), site.design.edition.units)


def taper(site: Site, faces: tuple[Face, ...]) -> list[Feature]:
    """Faces that slant from a place to the size that is left at an end: `from: 8 from bottom, to: 1 3/4 at bottom`."""
    site.judge_keys(("from", "to"))
    start, left = site.place("from"), site.place("to")
    if start is None or left is None or len(start) != 1 or len(left) != 1:
        if start is not None and left is not None:
            site.error("one-place", "A taper goes from one place to one end: from: 8 from bottom, to: 1 3/4 at bottom.")
        return []
    axis, begins = next(iter(start.items()))
    end_axis, kept = next(iter(left.items()))
    if axis != end_axis:
        site.error("taper-ends", f"The taper begins {axis} and ends {end_axis}.", "to", f"Write it at {LOW_FACE[axis]} or {HIGH_FACE[axis]}.")
        return []
    low_end = kept.anchor == "low"
    whole = site.span(axis).size
    size = kept.place if low_end else whole - kept.place
    run = begins.place if low_end else whole - begins.place
    if not ZERO < run <= whole:
        site.error("working-outside", f"The taper begins {site.said(begins.place)} from the {LOW_FACE[axis]} of `{site.name}`, which is {site.said(whole)} {axis}.", "from")
        return []
    site.values["from"], site.values["to"] = begins.place, size
    end = face_on(axis, low_end)
    features: list[Feature] = []
    for face in faces:
        if AXIS_OF[face] == axis:
            site.error("taper-ends", f"The {face} is an end of this taper.", hint="Name the faces that slant.")
            return []
        full = site.span(AXIS_OF[face]).size
        both = opposite(face) in faces
        goes = (full - size) / (2 if both else 1)
        if goes <= ZERO or size < ZERO:
            site.error("no-taper", f"Nothing is tapered: `{site.name}` is {site.said(full)} {AXIS_OF[face]} and {site.said(size)} is to be left.", "to")
            return []
        features.append(_sloped(site, "taper", face, end, run, goes))
    return features


def chamfer(site: Site, edges: tuple[Edge, ...]) -> list[Feature]:
    """Corners taken off at 45 degrees, `width` of each face."""
    site.judge_keys(("width", "stopped"))
    width = site.length("width")
    return [] if width is None else _along(site, edges, width, (OutlinePoint(ZERO, ZERO), OutlinePoint(width, ZERO), OutlinePoint(ZERO, width)), "width")


def round_over(site: Site, edges: tuple[Edge, ...]) -> list[Feature]:
    """Corners rounded with a radius."""
    site.judge_keys(("radius", "stopped"))
    radius = site.length("radius")
    if radius is None:
        return []
    return _along(site, edges, radius, (OutlinePoint(ZERO, ZERO), OutlinePoint(radius, ZERO), OutlinePoint(ZERO, radius, radius, -1)), "radius")


def cove(site: Site, edges: tuple[Edge, ...]) -> list[Feature]:
    """A hollow quarter round about the corner."""
    site.judge_keys(("radius", "stopped"))
    radius = site.length("radius")
    if radius is None:
        return []
    return _along(site, edges, radius, (OutlinePoint(ZERO, ZERO), OutlinePoint(radius, ZERO), OutlinePoint(ZERO, radius, radius, 1)), "radius")


def _along(site: Site, edges: tuple[Edge, ...], size: Length, outline: Corner, key: str) -> list[Feature]:
    features: list[Feature] = []
    for edge in edges:
        if not _inside(site, {edge[0]: size, edge[1]: size}, {edge[0]: key, edge[1]: key}):
            return []
        frame, sweep = site.edge_frame(*edge)
        ends = stops(site, sweep)
        if ends is None:
            return []
        features.append(site.cut(site.wish.kind, Prism(outline, (ends[0], site.span(sweep).size - ends[1])), frame, edge[0]))
    return features


def profile(site: Site, edge: Edge) -> list[Feature]:
    """A moulded edge by its name in the library: `profile: top front`, `profile name: ogee 3/4`, `side:` the broad face."""
    site.judge_keys(("profile", "side", "shape"))
    written = site.written("shape") or site.written("profile")
    side = site.word("side", edge, edge[0])
    if written is None or not isinstance(written.value, str) or side is None:
        site.error("missing-key", "A profile needs its shape: ogee 3/4.")
        return []
    broad: Face = edge[0] if side == edge[0] else edge[1]
    other = edge[1] if broad == edge[0] else edge[0]
    outline = profile_outline(written.value, site.design.edition.units)
    if outline is None:
        site.error("unknown-profile", f"There is no profile `{written.value}`.", "shape", "There are ogee, cove, round-over, bead, chamfer and step, each with a size.")
        return []
    site.values["shape"] = written.value
    size = {broad: max(p.x for p in outline), other: max(p.y for p in outline)}
    if not _inside(site, {broad: size[broad], other: size[other]}, {}):
        return []
    frame, sweep = site.edge_frame(broad, other)
    return [site.cut("profile", Prism(outline, (ZERO, site.span(sweep).size)), frame, broad)]


def edge_of(faces: tuple[Face, ...]) -> Edge | None:
    """Two neighbouring faces as an edge."""
    if len(faces) == 2 and AXIS_OF[faces[0]] != AXIS_OF[faces[1]]:
        return faces[0], faces[1]
    return None


def edges_round(face: Face) -> tuple[Edge, ...]:
    """The four edges of a face."""
    one, two = others(AXIS_OF[face])
    return tuple((face, end) for end in (LOW_FACE[one], HIGH_FACE[two], HIGH_FACE[one], LOW_FACE[two]))
