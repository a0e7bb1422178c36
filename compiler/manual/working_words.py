"""Workings: what each kind does, its keys, and an example on a board.

In: nothing. Out: a table. Tests hold the keys against those that the compiler itself names when one is wrong, and every example is made.
"""

from __future__ import annotations

from typing import NamedTuple


class WorkingWords(NamedTuple):
    """A kind of working: what stands behind its word, what it is, its keys, an example."""

    kind: str
    on: str
    says: str
    keys: tuple[str, ...]
    example: str


HOLE = ("diameter", "depth", "countersink", "counterbore", "for")

WORKINGS = (
    WorkingWords("hole", "face", "One hole, through unless it has a depth; `for` takes its sizes from hardware.", ("at", *HOLE),
                 "{hole: top, at: 2 from left and 1 from front, diameter: 1/4}"),
    WorkingWords("holes", "face", "A row of holes.", ("first", "going", "every", "count", *HOLE),
                 "{holes: top, first: 2 from left and 1 from front, going: across, every: 2, count: 4, diameter: 1/4, depth: 3/8}"),
    WorkingWords("dado", "face", "A trench across the grain.", ("at", "width", "depth", "going", "stopped"),
                 "{dado: top, at: 6 from left, width: 1/2, depth: 1/4}"),
    WorkingWords("groove", "face", "A trench along the grain.", ("at", "width", "depth", "going", "stopped"),
                 "{groove: top, at: 1 from front, width: 1/4, depth: 1/4, going: across}"),
    WorkingWords("rabbet", "edge", "A step along an edge.", ("width", "depth", "stopped"), "{rabbet: top front, width: 3/8, depth: 1/4}"),
    WorkingWords("notch", "edge at a corner", "A block cut out of a corner: two of its sizes.", ("across", "deep", "up"),
                 "{notch: front left, across: 1, deep: 2}"),
    WorkingWords("bevel", "edge", "A slanting edge: its angle, and which face stays long, or its width.", ("angle", "long at", "width"),
                 "{bevel: bottom front, angle: 20 deg, width: 1/2}"),
    WorkingWords("mitre", "end", "An end cut at an angle; the face named stays long.", ("angle", "long at"),
                 "{mitre: right, angle: 45 deg, long at: back}"),
    WorkingWords("taper", "faces", "Narrower towards an end, from a place on.", ("from", "to"),
                 "{taper: front, from: 4 from left, to: 4 at right}"),
    WorkingWords("chamfer", "edges", "An edge taken off at 45 degrees.", ("width", "stopped"), "{chamfer: [top front, top back], width: 1/8}"),
    WorkingWords("round-over", "edges", "A rounded edge.", ("radius", "stopped"), "{round-over: all round top, radius: 1/4}"),
    WorkingWords("cove", "edges", "A hollow edge.", ("radius", "stopped"), "{cove: top front, radius: 1/4}"),
    WorkingWords("arc", "edge face", "An arch into the part, or with a minus outward.", ("rise", "from", "to"),
                 "{arc: front, rise: 1/2, from: 2 from left, to: 2 from right}"),
    WorkingWords("cut-out", "face", "An opening, square or round.", ("at", "size", "diameter", "radius"),
                 "{cut-out: top, at: centre, size: 3 x 1, radius: 1/4}"),
    WorkingWords("outline", "face", "The shape seen from a face: points from its left or front and bottom edge, with arcs.", ("points",),
                 "{outline: top, points: [[0, 0], [12, 0], [12, 4], [10, 6], [0, 6]]}"),
    WorkingWords("profile", "edge", "A moulded edge, by a profile of the library.", ("profile", "side", "shape"),
                 "{profile: top front, shape: ogee 1/4}"),
)
