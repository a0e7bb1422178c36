"""A small bench by hand: splayed tapered legs in front, turned legs behind, a curved stretcher with through tenons.

In: nothing. Out: parts as the assemble stage would make them; what is tilted is cut level by frames turned back.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction as F

from compiler.base.measures import Length
from compiler.values.model import Part
from compiler.values.shapes import Bore, Feature, Frame, Pose, Vector
from tests.solid.pieces import ALONG_X, ALONG_Y, Triple, block, cut, grow, length, part, point, shaped, turned

SPLAY = 10.0
BEARER_BOTTOM, SEAT_BOTTOM = F(55, 4), F(65, 4)


def bench() -> tuple[Part, ...]:
    """Nine parts."""
    legs = [leg for left in (F(6), F(161, 4)) for leg in (_square_leg(left), _turned_leg(left))]
    mortises = [feature for _, feature in legs]
    return (_seat(), _bearer("left bearer", F(6), mortises[:2]), _bearer("right bearer", F(161, 4), mortises[2:]),
            *(leg for leg, _ in legs), *_stretcher())


def _seat() -> Part:
    top, radius = F(18), F(1, 4)
    made = []
    for edge, way in ((F(0), 1), (F(14), -1)):
        made.append(shaped("cut", "round-over", ALONG_X,
                           [(edge, top - radius), (edge - way, top - radius), (edge - way, top + 1), (edge + way * radius, top + 1),
                            (edge + way * radius, top), point(edge, top - radius, radius, way)], -1, 49))
    for edge, way in ((F(0), 1), (F(48), -1)):
        made.append(shaped("cut", "round-over", ALONG_Y,
                           [(edge, top - radius), (edge - way, top - radius), (edge - way, top + 1), (edge + way * radius, top + 1),
                            (edge + way * radius, top), point(edge, top - radius, radius, way)], -1, 15))
    return part("seat", (0, 0, SEAT_BOTTOM), (48, 14, 18), *made)


def _bearer(name: str, left: F, mortises: list[Feature]) -> Part:
    wide = F(7, 4)
    return part(name, (left, 1, BEARER_BOTTOM), (left + wide, 13, SEAT_BOTTOM),
                shaped("cut", "chamfer", ALONG_X, [(0, 14), (0, 13), (F(7, 4), 13), (1, F(58, 4))], left - 1, left + 3),
                shaped("cut", "chamfer", ALONG_X, [(14, 14), (13, F(58, 4)), (F(49, 4), 13), (14, 13)], left - 1, left + 3),
                cut("mortise", (left - 1, F(25, 4), F(29, 2)), (left + 3, F(31, 4), F(31, 2))), *mortises)


def _frame_of(pose: Pose, pivot: Triple, back: bool) -> Frame:
    """Axes turned as the pose does, or back, with the origin in the pivot."""
    rows = pose.rotation
    columns: tuple[Vector, Vector, Vector] = tuple((rows[0][i], rows[1][i], rows[2][i]) for i in range(3))  # type: ignore[assignment]
    axes = rows if back else columns
    return Frame(tuple(length(value) for value in pivot), *axes)  # type: ignore[arg-type]


def _level(pose: Pose, pivot: Triple, leg_bottom: bool) -> Feature:
    """Cuts a tilted leg level at the pivot's height or on the floor."""
    depth = -F(length(pivot[2]).inches)
    shape = block((-9, -9, depth - 9), (9, 9, depth)) if leg_bottom else block((-9, -9, 0), (9, 9, 9))
    return Feature("cut", "end", shape, _frame_of(pose, pivot, True), "level")


def _square_leg(left: F) -> tuple[Part, Feature]:
    """A leg that leans to the front, and its mortise."""
    front = F(9, 4)
    pivot: Triple = (left, front, BEARER_BOTTOM)
    pose = turned("x", -SPLAY, (float(left), float(front), float(BEARER_BOTTOM)))
    leg = part(f"front leg {left}", (left, front, -1), (left + F(7, 4), front + F(5, 2), 15),
               shaped("cut", "taper", ALONG_X, [(front - 1, 8), (front, 8), (front + F(3, 4), -1), (front + F(3, 4), -2), (front - 1, -2)],
                      left - 1, left + 3),
               _level(pose, pivot, False), _level(pose, pivot, True),
               grow("tenon", (left + F(9, 16), front + F(1, 2), 13), (left + F(19, 16), front + 2, F(61, 4))), pose=pose)
    mortise = block((F(9, 16), F(1, 2), -2), (F(19, 16), 2, F(3, 2)))
    return leg, Feature("cut", "mortise", mortise, _frame_of(pose, pivot, False), "joint")


def _turned_leg(left: F) -> tuple[Part, Feature]:
    """A turned leg that leans to the back, thicker at its top, with a round tenon, and the hole for it."""
    x, y = left + F(7, 8), F(10)
    pivot: Triple = (x, y, BEARER_BOTTOM)
    pose = turned("x", SPLAY, (float(x), float(y), float(BEARER_BOTTOM)))

    def round_piece(low: F, high: F, start: Length, end: Length) -> Feature:
        return Feature("grow", "turned", Bore("into", (length(x), length(y)), start, (length(low), length(high)), end),
                       Frame(), "turning")

    small = F(1, 4)
    tenon = F(3, 4)
    leg = part(f"back leg {left}", (x - small, y - small, -1), (x + small, y + small, BEARER_BOTTOM),
               round_piece(F(-1), F(15), length(1), length(F(7, 4))),
               _level(pose, pivot, False), _level(pose, pivot, True),
               round_piece(F(12), F(15), length(tenon), length(tenon)), pose=pose)
    bored = Bore("into", (length(0), length(0)), length(tenon), (length(-2), length(F(5, 4))))
    return leg, Feature("cut", "mortise", bored, _frame_of(pose, pivot, False), "joint")


def _stretcher() -> Iterator[Part]:
    low, high, a, b = F(14), F(16), F(31, 4), F(161, 4)
    wedge = [(b + F(7, 4) - 1, F(15)), (b + 2, F(119, 8)), (b + 2, F(121, 8))]
    yield part("stretcher", (a, F(25, 4), low), (b, F(31, 4), high),
               grow("tenon", (a - F(15, 8), F(25, 4), F(29, 2)), (a, F(31, 4), F(31, 2))),
               grow("tenon", (b, F(25, 4), F(29, 2)), (b + F(15, 8), F(31, 4), F(31, 2))),
               shaped("cut", "arc", ALONG_Y, [(a + 3, low), (a + 3, low - 1), (b - 3, low - 1), (b - 3, low), point(a + 3, low, 100)], 5, 9),
               shaped("cut", "wedge slot", ALONG_Y, wedge, 5, 9))
    yield part("wedge", (b + F(7, 4) - 1, F(25, 4), F(119, 8)), (b + F(15, 8), F(31, 4), F(121, 8)),
               shaped("cut", "slope", ALONG_Y, [(b + F(3, 4), F(15)), (b + 2, F(121, 8)), (b + F(3, 4), F(121, 8))], 5, 9),
               shaped("cut", "slope", ALONG_Y, [(b + F(3, 4), F(15)), (b + F(3, 4), F(119, 8)), (b + 2, F(119, 8))], 5, 9))


