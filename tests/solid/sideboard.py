"""A large case piece by hand: 120 parts, some 330 workings, joints cut true and no part running into another.

In: nothing. Out: parts as the assemble stage would make them. Doors with raised panels, drawers with half-blind
dovetails, a face frame with tenons, tapered legs, arched aprons, mitred cove mouldings, shelves on pins.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction as F

from compiler.values.model import Part
from compiler.values.shapes import Feature
from tests.solid.pieces import (
    ALONG_X,
    ALONG_Y,
    ALONG_Z,
    Number,
    cut,
    grow,
    hole,
    part,
    peg,
    point,
    shaped,
)

WIDTH, DEPTH, FOOT, TOP = F(72), F(20), F(8), F(35)
BAYS = 3
SHEET = F(3, 4)
FLOOR, MIDDLE = F(17, 2), F(24)
PINS = tuple(F(111, 8) + 1 * step for step in range(6))


def sideboard() -> tuple[Part, ...]:
    """All 120 parts."""
    return (*_case(), *_frame(), *(each for bay in range(BAYS) for each in _bay(bay)), *_stand(), *_trim())


def _left(bay: int) -> F:
    """The left face of a bay's clear width."""
    return SHEET + bay * _pitch()


def _pitch() -> F:
    return (WIDTH - SHEET) / BAYS


def _right(bay: int) -> F:
    return _left(bay + 1) - SHEET


def _wall_workings(x: F, low_side: bool, high_side: bool) -> list[Feature]:
    """Dadoes and pin holes of an upright whose left face is at x, on the sides that face a bay."""
    made = []
    for face, inward, wanted in ((x, 1, low_side), (x + SHEET, -1, high_side)):
        if not wanted:
            continue
        a, b = sorted((face, face + inward * F(1, 4)))
        made.append(cut("dado", (a, 0, MIDDLE), (b, F(79, 4), MIDDLE + SHEET)))
        for y in (F(3), F(17)):
            made.extend(hole("x", (y, z), F(1, 4), *sorted((face, face + inward * F(5, 16)))) for z in PINS)
    return made


def _case() -> Iterator[Part]:
    for name, x, inner in (("left end", F(0), False), ("right end", WIDTH - SHEET, True)):
        a, b = (x - 1, x + F(3, 8)) if inner else (x + F(3, 8), x + 1)
        c, d = (x - 1, x + F(1, 4)) if inner else (x + F(1, 2), x + 1)
        yield part(name, (x, SHEET, FOOT), (x + SHEET, DEPTH, TOP),
                   cut("rabbet", (a, F(79, 4), 0), (b, 21, 40)), cut("dado", (c, 0, FLOOR), (d, F(79, 4), FLOOR + SHEET)),
                   *_wall_workings(x, inner, not inner))
    dividers = [_right(bay) for bay in range(BAYS - 1)]
    yield part("floor", (F(1, 2), SHEET, FLOOR), (WIDTH - F(1, 2), F(79, 4), FLOOR + SHEET),
               *(cut("dado", (x, 0, FLOOR + F(1, 2)), (x + SHEET, 20, 10)) for x in dividers))
    for number, x in enumerate(dividers):
        yield part(f"divider {number}", (x, SHEET, FLOOR + F(1, 2)), (x + SHEET, F(79, 4), TOP),
                   *_wall_workings(x, True, True))
    middles = [F(3, 8), *(x + SHEET / 2 for x in dividers), WIDTH - F(3, 8)]
    for bay in range(BAYS):
        yield part(f"bay {bay} middle", (_left(bay) - F(1, 4), SHEET, MIDDLE),
                   (_right(bay) + F(1, 4), F(79, 4), MIDDLE + SHEET))
        yield part(f"bay {bay} back", (middles[bay], F(79, 4), FOOT), (middles[bay + 1], DEPTH, TOP))
    edge = [(-1, TOP + F(1, 2)), (-1, 37), (-1 + F(1, 2), 37), (-1 + F(1, 2), TOP + 1), point(-1, TOP + F(1, 2), F(1, 2))]
    yield part("top", (-1, -1, TOP), (WIDTH + 1, DEPTH, TOP + 1),
               shaped("cut", "round-over", ALONG_X, edge, -2, 80), shaped("cut", "round-over", ALONG_Y, edge, -2, 30),
               shaped("cut", "chamfer", ALONG_X, [(-1, TOP + F(1, 4)), (-F(3, 4), TOP), (-1, TOP)], -2, 80))


def _frame() -> Iterator[Part]:
    """Face frame, 3/4 thick, in front of the case: tenons 3/8 thick."""
    low, high = F(1, 4), F(1, 2)
    rails = ((FOOT, F(37, 4)), (F(67, 2), TOP))
    for name, x in (("left stile", F(0)), ("right stile", WIDTH - 2)):
        inward = (x, x + 1) if x else (x + 1, x + 2)
        yield part(name, (x, 0, FOOT), (x + 2, SHEET, TOP),
                   *(cut("mortise", (inward[0], low, a + F(1, 4)), (inward[1], high, b - F(1, 4))) for a, b in rails),
                   cut("mortise", (inward[0], low, MIDDLE), (inward[1], high, MIDDLE + F(1, 2))))
    mullions = [_right(bay) + SHEET / 2 for bay in range(BAYS - 1)]
    for name, (a, b) in zip(("bottom rail", "top rail"), rails, strict=True):
        inner = (b - 1, b) if a == FOOT else (a, a + 1)
        yield part(name, (2, 0, a), (WIDTH - 2, SHEET, b),
                   grow("tenon", (1, low, a + F(1, 4)), (2, high, b - F(1, 4))),
                   grow("tenon", (WIDTH - 2, low, a + F(1, 4)), (WIDTH - 1, high, b - F(1, 4))),
                   *(cut("mortise", (x - F(1, 2), low, inner[0]), (x + F(1, 2), high, inner[1])) for x in mullions))
    for number, x in enumerate(mullions):
        yield part(f"mullion {number}", (x - 1, 0, F(37, 4)), (x + 1, SHEET, F(67, 2)),
                   grow("tenon", (x - F(1, 2), low, F(33, 4)), (x + F(1, 2), high, F(37, 4))),
                   grow("tenon", (x - F(1, 2), low, F(67, 2)), (x + F(1, 2), high, F(69, 2))),
                   *(cut("mortise", (min(x + way, x + way * F(1, 8)), low, MIDDLE),
                         (max(x + way, x + way * F(1, 8)), high, MIDDLE + F(1, 2))) for way in (-1, 1)))
    for bay in range(BAYS):
        a, b = _opening(bay)
        yield part(f"bay {bay} rail", (a, 0, MIDDLE - F(1, 4)), (b, SHEET, MIDDLE + SHEET),
                   grow("tenon", (a - F(7, 8), low, MIDDLE), (a, high, MIDDLE + F(1, 2))),
                   grow("tenon", (b, low, MIDDLE), (b + F(7, 8), high, MIDDLE + F(1, 2))))


def _opening(bay: int) -> tuple[F, F]:
    """From face to face of the frame's uprights."""
    a = F(2) if bay == 0 else _left(bay) - SHEET / 2 + 1
    b = WIDTH - 2 if bay == BAYS - 1 else _right(bay) + SHEET / 2 - 1
    return a, b


def _bay(bay: int) -> Iterator[Part]:
    a, b = _opening(bay)
    gap = F(1, 16)
    yield from _door(f"bay {bay} door", a + gap, b - gap, F(37, 4) + gap, MIDDLE - F(1, 4) - gap)
    for row in range(2):
        low = MIDDLE + SHEET + row * F(35, 8) + gap
        yield from _drawer(f"bay {bay} drawer {row}", bay, a + gap, b - gap, low, low + F(17, 4))
    x0, x1 = _left(bay), _right(bay)
    yield part(f"bay {bay} shelf", (x0 + gap, 1, 16), (x1 - gap, F(39, 2), F(67, 4)))
    for y in (F(3), F(17)):
        z = PINS[2]
        for side, start, end in (("left", x0 - F(5, 16), x0 + F(1, 2)), ("right", x1 - F(1, 2), x1 + F(5, 16))):
            yield part(f"bay {bay} pin {side} {y}", (start, y - F(1, 32), z - F(1, 32)), (end, y + F(1, 32), z + F(1, 32)),
                       peg("x", (y, z), F(1, 4), start, end))


def _door(name: str, a: F, b: F, low: F, high: F) -> Iterator[Part]:
    wide = F(9, 4)
    groove = (F(1, 4), F(1, 2))
    tenon = F(5, 4)
    for side, x, inner in (("left", a, True), ("right", b - wide, False)):
        near = (x + wide - F(3, 8), x + wide + 1) if inner else (x - 1, x + F(3, 8))
        deep = (x + wide - tenon, x + wide + 1) if inner else (x - 1, x + tenon)
        mortises = [cut("mortise", (deep[0], groove[0], z), (deep[1], groove[1], z + F(3, 2)))
                    for z in (low + F(3, 8), high - F(15, 8))]
        knob = [hole("y", (x + wide / 2, (low + high) / 2), F(3, 8), 0, F(1, 2))] if not inner else []
        yield part(f"{name} {side} stile", (x, 0, low), (x + wide, SHEET, high),
                   cut("groove", (near[0], groove[0], low + wide - F(3, 8)), (near[1], groove[1], high - wide + F(3, 8))),
                   *mortises, *knob)
    for side, z, above in (("bottom", low, True), ("top", high - wide, False)):
        near = (z + wide - F(3, 8), z + wide + 1) if above else (z - 1, z + F(3, 8))
        c, d = (z + F(3, 8), z + F(15, 8))
        yield part(f"{name} {side} rail", (a + wide, 0, z), (b - wide, SHEET, z + wide),
                   grow("tenon", (a + wide - tenon, groove[0], c), (a + wide, groove[1], d)),
                   grow("tenon", (b - wide, groove[0], c), (b - wide + tenon, groove[1], d)),
                   cut("groove", (a, groove[0], near[0]), (b, groove[1], near[1])))
    yield _panel(f"{name} panel", a + wide - F(5, 16), b - wide + F(5, 16), low + wide - F(5, 16), high - wide + F(5, 16))
    yield _knob(f"{name} knob", b - wide / 2, (low + high) / 2)


def _panel(name: str, a: F, b: F, low: F, high: F) -> Part:
    """A raised panel: a tongue as thick as the groove, a fillet, a bevel of 8 degrees."""
    run, rise = F(7, 4), F(1, 4)
    section = [(-1, rise), (-1, -1), (run + F(3, 8), -1), (run + F(3, 8), 0), (F(3, 8), rise)]

    def profile(at: F, way: int, swap: bool) -> list[tuple[Number, Number]]:
        return [(y, at + way * d) if swap else (at + way * d, y) for d, y in section]

    return part(name, (a, 0, low), (b, F(1, 2), high),
                shaped("cut", "bevel", ALONG_X, profile(low, 1, True), a - 1, b + 1),
                shaped("cut", "bevel", ALONG_X, profile(high, -1, True), a - 1, b + 1),
                shaped("cut", "bevel", ALONG_Z, profile(a, 1, False), low - 1, high + 1),
                shaped("cut", "bevel", ALONG_Z, profile(b, -1, False), low - 1, high + 1))


def _knob(name: str, x: F, z: F) -> Part:
    thin = F(1, 16)
    return part(name, (x - thin, -1, z - thin), (x + thin, F(1, 2), z + thin), peg("y", (x, z), F(3, 8), 0, F(1, 2)),
                peg("y", (x, z), F(1, 2), F(-1, 2), 0), peg("y", (x, z), 1, -1, F(-1, 2)))


def _drawer(name: str, bay: int, a: F, b: F, low: F, high: F) -> Iterator[Part]:
    left, right = _left(bay) + F(3, 8), _right(bay) - F(3, 8)
    left, right = max(left, a), min(right, b)
    thick, back = F(1, 2), F(18)
    z0, z1 = low + F(1, 4), high - F(1, 4)
    tails = [z0 + F(1, 4) + step * F(9, 8) for step in range(3)]
    bottom = (z0 + F(1, 4), z0 + F(1, 2))

    def tail(z: F, start: F, end: F, op: str) -> Feature:
        slope = F(1, 12)
        points = [(SHEET, z + slope), (F(1, 4), z), (F(1, 4), z + F(3, 4)), (SHEET, z + F(3, 4) - slope)]
        return shaped(op, "dovetail", ALONG_X, points, start, end)

    yield part(f"{name} front", (a, 0, low), (b, SHEET, high),
               *(tail(z, x, x + thick, "cut") for x in (left, right - thick) for z in tails),
               cut("groove", (left + thick, F(1, 2), bottom[0]), (right - thick, 1, bottom[1])),
               hole("y", ((a + b) / 2, (low + high) / 2), F(3, 8), 0, F(1, 2)))
    for side, x, inner, outer in (
        ("left", left, (left + F(1, 4), left + 1), (left - 1, left + F(3, 16))),
        ("right", right - thick, (right - 1, right - F(1, 4)), (right - F(3, 16), right + 1)),
    ):
        yield part(f"{name} {side} side", (x, SHEET, z0), (x + thick, back, z1),
                   *(tail(z, x, x + thick, "grow") for z in tails),
                   cut("groove", (inner[0], SHEET, bottom[0]), (inner[1], 19, bottom[1])),
                   cut("dado", (inner[0], F(33, 2), bottom[1]), (inner[1], 17, z1 + 1)),
                   cut("groove", (outer[0], SHEET, z0 + 2), (outer[1], 19, z0 + F(11, 4))))
    yield part(f"{name} back", (left + F(1, 4), F(33, 2), bottom[1]), (right - F(1, 4), 17, z1))
    yield part(f"{name} bottom", (left + F(1, 4), F(1, 2), bottom[0]), (right - F(1, 4), F(35, 2), bottom[1]),
               *(cut("notch", (x - F(1, 4), 0, low), (x + F(1, 4), SHEET, high)) for x in (left + F(1, 4), right - F(1, 4))))
    yield _knob(f"{name} knob", (a + b) / 2, (low + high) / 2)
    for side, start, end in (("left", _left(bay), left + F(5, 32)), ("right", right - F(5, 32), _right(bay))):
        yield part(f"{name} {side} runner", (start, SHEET, z0 + F(65, 32)), (end, 17, z0 + F(87, 32)))


def _stand() -> Iterator[Part]:
    for name, x, y in (("front left", F(0), F(0)), ("front right", WIDTH - 2, F(0)), ("back left", F(0), DEPTH - 2),
                       ("back right", WIDTH - 2, DEPTH - 2)):
        inside_x, inside_y = (x + 2, -1) if not x else (x, 1), (y + 2, -1) if not y else (y, 1)
        made = [shaped("cut", "taper", frame, [(edge, 0), (edge + way * F(3, 4), 0), (edge, 5)], start - 1, start + 3)
                for frame, (edge, way), start in ((ALONG_Y, inside_x, y), (ALONG_X, inside_y, x))]
        mortise_x = (x + 1, x + 2) if not x else (x, x + 1)
        mortise_y = (y + F(5, 4), y + 2) if not y else (y, y + F(3, 4))
        front, side = y + F(3, 4), x + F(3, 4)
        yield part(f"{name} leg", (x, y, 0), (x + 2, y + 2, FOOT), *made,
                   cut("mortise", (mortise_x[0], front, 6), (mortise_x[1], front + F(1, 2), F(15, 2))),
                   cut("mortise", (side, mortise_y[0], 6), (side + F(1, 2), mortise_y[1], F(15, 2))))
    for name, y in (("front apron", F(1, 2)), ("back apron", DEPTH - F(3, 2))):
        tenon_y = F(3, 4) if name == "front apron" else DEPTH - F(5, 4)
        yield part(name, (2, y, F(11, 2)), (WIDTH - 2, y + 1, FOOT),
                   grow("tenon", (1, tenon_y, 6), (2, tenon_y + F(1, 2), F(15, 2))),
                   grow("tenon", (WIDTH - 2, tenon_y, 6), (WIDTH - 1, tenon_y + F(1, 2), F(15, 2))),
                   shaped("cut", "arc", ALONG_Y, [(6, F(11, 2)), (6, 5), (WIDTH - 6, 5), (WIDTH - 6, F(11, 2)),
                                                  point(6, F(11, 2), 500)], y - 1, y + 2))
    for name, x in (("left apron", F(1, 2)), ("right apron", WIDTH - F(3, 2))):
        yield part(name, (x, 2, F(11, 2)), (x + 1, DEPTH - 2, FOOT),
                   grow("tenon", (x + F(1, 4), F(5, 4), 6), (x + F(3, 4), 2, F(15, 2))),
                   grow("tenon", (x + F(1, 4), DEPTH - 2, 6), (x + F(3, 4), DEPTH - F(5, 4), F(15, 2))))
    for number in range(3):
        x = F(18) * (number + 1)
        yield part(f"brace {number}", (x - 1, F(3, 2), F(29, 4)), (x + 1, DEPTH - F(3, 2), FOOT))
    for number, (x, y) in enumerate(((F(2), F(2)), (WIDTH - 2, F(2)), (F(2), DEPTH - 2), (WIDTH - 2, DEPTH - 2))):
        i, j = (1 if x == 2 else -1), (1 if y == 2 else -1)
        corner = [(x, y), (x + 2 * i, y), (x, y + 2 * j)]
        a, b = min(x, x + 2 * i), min(y, y + 2 * j)
        yield part(f"corner block {number}", (a, b, 6), (a + 2, b + 2, F(29, 4)),
                   shaped("cut", "bevel", ALONG_Z, [corner[1], (x + 3 * i, y), (x + 3 * i, y + 3 * j), (x, y + 3 * j),
                                                    corner[2]], 5, 8))


def _trim() -> Iterator[Part]:
    """A cove moulding round three sides at the case's foot, mitred at the front corners."""
    wide, high = SHEET, F(3, 2)

    def cove(at: F, way: int) -> list[object]:
        edge = at + way * wide
        top = FOOT + high
        return [(edge, top - 1), point(edge - way * F(1, 2), top - F(1, 2), F(1, 2), way), (edge - way * F(1, 2), top + 1),
                (edge + way, top + 1), (edge + way, top - 1)]

    yield part("front moulding", (-wide, -wide, FOOT), (WIDTH + wide, 0, FOOT + high),
               shaped("cut", "cove", ALONG_X, cove(F(0), -1), -2, 80),  # type: ignore[arg-type]
               shaped("cut", "mitre", ALONG_Z, [(-2, -2), (0, 0), (-2, 0)], 7, 12),
               shaped("cut", "mitre", ALONG_Z, [(WIDTH + 2, -2), (WIDTH + 2, 0), (WIDTH, 0)], 7, 12))
    for name, at, way in (("left", F(0), -1), ("right", WIDTH, 1)):
        a, b = sorted((at, at + way * wide))
        yield part(f"{name} moulding", (a, -wide, FOOT), (b, DEPTH, FOOT + high),
                   shaped("cut", "cove", ALONG_Y, cove(at, way), -2, 30),  # type: ignore[arg-type]
                   shaped("cut", "mitre", ALONG_Z, [(at, 0), (at, -2), (at + 2 * way, -2)], 7, 12))

