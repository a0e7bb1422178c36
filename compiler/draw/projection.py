"""The symbol of the projection that drawings are arranged in.

In: a place and a size in millimetres. Out: marks on a pen. It must not know what is projected.
"""

from __future__ import annotations

from compiler.draw.pen import Pen

HIGH = 8.0


def third_angle(pen: Pen, x: float, y: float, high: float = HIGH) -> None:
    """The symbol of third-angle projection (ISO 5456-2): a cone cut short, seen from its small end on the left."""
    r = high / 2
    middle = y + r
    pen.circle((x + r, middle), r, "outline")
    pen.circle((x + r, middle), r / 2, "outline")
    left, right = x + 2 * r + 3, x + 4 * r + 4
    pen.line("outline", (left, middle - r / 2), (right, middle - r), (right, middle + r), (left, middle + r / 2), (left, middle - r / 2))
    pen.line("centre", (x - 1.0, middle), (right + 1.5, middle))


def first_angle(pen: Pen, x: float, y: float, high: float = HIGH) -> None:
    """The symbol of first-angle projection (ISO 5456-2): the same cone, its circles on the side of its large end."""
    r = high / 2
    middle = y + r
    left, right = x, x + 2 * r + 1
    pen.line("outline", (left, middle - r / 2), (right, middle - r), (right, middle + r), (left, middle + r / 2), (left, middle - r / 2))
    centre = (right + 3 + r, middle)
    pen.circle(centre, r, "outline")
    pen.circle(centre, r / 2, "outline")
    pen.line("centre", (x - 1.0, middle), (centre[0] + r + 1.5, middle))


def wide(high: float = HIGH) -> float:
    """How far the symbol reaches across."""
    return 2 * high + 5.5
