"""Drawings for the sample document: made by hand from boxes, so that pages can be tested without a model.

In: sizes in inches. Out: Drawings of a printed size. A box is seen from the front right and above (oblique, half depth).
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.values.figure import (
    Circle,
    Drawing,
    FillRole,
    Lettering,
    Mark,
    Point,
    Region,
    StackedFraction,
    Stroke,
)

SLANT = 0.38


class Sheet:
    """Collects marks; inches become millimetres of paper by `scale`, moved by `left`, `foot`."""

    def __init__(self, width: float, height: float, scale: float = 1.0, left: float = 0.0, foot: float = 0.0) -> None:
        self.width, self.height = width, height
        self.scale, self.left, self.foot = scale, left, foot
        self.marks: list[Mark] = []

    def at(self, x: float, y: float, z: float = 0.0) -> Point:
        """A point of the piece on paper: x right, y up, z away from the reader."""
        return (self.left + (x + z * SLANT) * self.scale, self.foot + (y + z * SLANT) * self.scale)

    def block(self, x: float, y: float, z: float, wide: float, high: float, deep: float, *, tint: bool = False,
              small: bool = False) -> None:
        """A box with three visible faces."""
        at = self.at
        front = (at(x, y, z), at(x + wide, y, z), at(x + wide, y + high, z), at(x, y + high, z))
        top = (at(x, y + high, z), at(x + wide, y + high, z), at(x + wide, y + high, z + deep), at(x, y + high, z + deep))
        side = (at(x + wide, y, z), at(x + wide, y, z + deep), at(x + wide, y + high, z + deep), at(x + wide, y + high, z))
        roles: tuple[FillRole, ...] = ("added", "added-top", "added-side") if tint else ("paper", "top", "side")
        for role, ring in zip(roles, (front, top, side), strict=True):
            self.marks.append(Region(role, (ring,)))
        line = "picture-outline" if not small else "small-outline"
        self.marks.append(Stroke(line, tuple((*ring, ring[0]) for ring in (front, top, side))))

    def balloon(self, letter: str, place: Point, target: Point) -> None:
        """A ringed letter with a leader that ends in a dot."""
        self.marks.append(Stroke("leader", ((place, target),)))
        self.marks.append(Circle(target, 0.6, None, "dot"))
        self.marks.append(Circle(place, 3.75, "outline", "balloon"))
        self.marks.append(Lettering((place[0], place[1] - 1.75), (letter,), 3.5, 6, "middle", weight="semibold", role="balloon"))

    def dimension(self, start: Point, end: Point, runs: tuple[str | StackedFraction, ...], off: float = 0.0) -> None:
        """A dimension line, level or upright, with its number in a gap."""
        (x0, y0), (x1, y1) = start, end
        level = abs(y1 - y0) < abs(x1 - x0)
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        gap = 6.0
        if level:
            lines = ((start, (middle[0] - gap, y0)), ((middle[0] + gap, y0), end))
            self._arrow(start, 1, 0)
            self._arrow(end, -1, 0)
        else:
            lines = ((start, (x0, middle[1] - 3.6)), ((x0, middle[1] + 3.6), end))
            self._arrow(start, 0, 1)
            self._arrow(end, 0, -1)
        self.marks.append(Stroke("dimension", lines))
        self.marks.append(Lettering((middle[0], middle[1] - 1.25), runs, 2.5, 12, "middle", role="dimension"))

    def _arrow(self, tip: Point, dx: float, dy: float) -> None:
        x, y = tip
        wings = ((x + 3 * dx - 0.45 * dy, y + 3 * dy + 0.45 * dx), (x + 3 * dx + 0.45 * dy, y + 3 * dy - 0.45 * dx))
        self.marks.append(Region("arrow", ((tip, *wings),)))

    def words(self, place: Point, text: str, size: float = 2.5, anchor: str = "start") -> None:
        """Lettering."""
        self.marks.append(Lettering(place, (text,), size, len(text) * size * 0.62, anchor, role="note"))  # type: ignore[arg-type]

    def done(self, says: str, scale: str = "", letters: tuple[str, ...] = ()) -> Drawing:
        """The finished drawing."""
        return Drawing(width=self.width, height=self.height, marks=tuple(self.marks), says=says, scale=scale, letters=letters)


PARTS = {
    # letter: x, y, z, wide, high, deep of the tote, inches
    "A": (0, 0, 0, 0.75, 11, 9), "B": (0.75, 0.5, 0, 22.5, 0.75, 9), "D": (0.75, 1.25, 8.5, 22.5, 6, 0.5),
    "E": (11.625, 1.25, 0.5, 0.75, 6, 8), "C": (0.75, 1.25, 0, 22.5, 4, 0.5), "F": (0.75, 9.5, 4, 22.5, 1, 1),
    "A2": (23.25, 0, 0, 0.75, 11, 9),
}


AIM = {"B": 0.75, "C": 0.3, "D": 0.12, "F": 0.8}
"""Where on a part's width its leader ends."""


def ring(sheet: Sheet, points: dict[str, Point]) -> None:
    """Balloons in two columns in the order of their targets, so that leaders do not cross."""
    middle = sheet.width / 2
    for left in (True, False):
        column = sorted((name for name, point in points.items() if (point[0] < middle) == left), key=lambda name: -points[name][1])
        levels: list[float] = []
        for name in column:
            levels.append(min([sheet.height - 5.0, max(5.0, points[name][1] + 8), *[level - 9.5 for level in levels[-1:]]]))
        lift = max(0.0, 5.0 - min(levels, default=5.0))
        for name, level in zip(column, levels, strict=True):
            sheet.balloon(name, (4.5 if left else sheet.width - 4.5, level + lift), points[name])


def tote(width: float, height: float, scale: float, tinted: Iterable[str] = (), without: Iterable[str] = (), *,
         letters: bool = True, sizes: bool = False, small: bool = False) -> Drawing:
    """The tote, whole or in part."""
    sheet = Sheet(width, height, scale, left=(width - (24 + 9 * SLANT) * scale) / 2, foot=10 if sizes else 4)
    shown = [name for name in PARTS if name not in set(without)]
    for name in shown:
        sheet.block(*PARTS[name], tint=name in set(tinted), small=small)
    if letters:
        points = {}
        for name in (name for name in shown if name != "A2"):
            x, y, z, wide, high, _ = PARTS[name]
            points[name] = sheet.at(x + wide * AIM.get(name, 0.5), y + high / 2, z)
        ring(sheet, points)
    if sizes:
        low = sheet.at(0, 0)[1] - 5
        sheet.dimension((sheet.at(0, 0)[0], low), (sheet.at(24, 0)[0], low), ("24",))
        left = sheet.at(0, 0)[0] - 6
        sheet.dimension((left, sheet.at(0, 0)[1]), (left, sheet.at(0, 11)[1]), ("11",))
    names = ", ".join(name for name in shown if name != "A2")
    return sheet.done(f"The tote from the front right, parts {names}", letters=tuple(name for name in shown if name != "A2"))


def exploded(width: float, height: float) -> Drawing:
    """Parts pulled apart, with balloons."""
    sheet = Sheet(width, height, 4.0, left=22, foot=16)
    away = {"A": (-4, 0, 0), "A2": (4, 0, 0), "B": (0, -2, 0), "C": (0, 0, -6), "D": (0, 0, 14), "E": (0, 6, 2), "F": (0, 14, 0)}
    for name in ("D", "A", "B", "E", "F", "A2", "C"):
        x, y, z, wide, high, deep = PARTS[name]
        dx, dy, dz = away[name]
        sheet.block(x + dx, y + dy, z + dz, wide, high, deep)
    points = {}
    for name in ("A", "B", "C", "D", "E", "F"):
        x, y, z, wide, high, _ = PARTS[name]
        dx, dy, dz = away[name]
        points[name] = sheet.at(x + dx + wide * AIM.get(name, 0.5), y + dy + high / 2, z + dz)
    ring(sheet, points)
    return sheet.done("Exploded view of the tote, parts A to F", letters=("A", "B", "C", "D", "E", "F"))


def views(width: float, height: float) -> Drawing:
    """Front and side with their sizes."""
    sheet = Sheet(width, height, 25.4 / 6, left=16, foot=20)
    at = sheet.at
    for x, y, wide, high in ((0, 0, 0.75, 11), (23.25, 0, 0.75, 11), (0.75, 1.25, 22.5, 4), (0.75, 9.5, 22.5, 1)):
        ring = (at(x, y), at(x + wide, y), at(x + wide, y + high), at(x, y + high), at(x, y))
        sheet.marks.append(Stroke("outline", (ring,)))
    sheet.marks.append(Stroke("hidden", ((at(0.75, 0.5), at(23.25, 0.5)), (at(11.625, 1.25), at(11.625, 7.25)))))
    sheet.dimension((at(0, 0)[0], 9), (at(24, 0)[0], 9), ("24",))
    sheet.dimension((at(0.75, 0)[0], 15.5), (at(23.25, 0)[0], 15.5), ("22 ", StackedFraction("1", "2")))
    sheet.dimension((8, at(0, 0)[1]), (8, at(0, 11)[1]), ("11",))
    sheet.words((at(0, 0)[0], at(0, 12)[1]), "FRONT", 3.5)
    return sheet.done("Front view of the tote, 24 wide and 11 high, with its sizes", scale="1 : 6")


def part(name: str, width: float = 82, height: float = 46, scale: float = 2.6) -> Drawing:
    """One part, flat, with two sizes."""
    _, _, _, wide, high, deep = PARTS[name]
    long, across = (max(wide, high), deep) if name != "C" else (wide, high)
    sheet = Sheet(width, height, scale, left=14, foot=14)
    at = sheet.at
    sheet.marks.append(Stroke("outline", ((at(0, 0), at(long, 0), at(long, across), at(0, across), at(0, 0)),)))
    sheet.marks.append(Stroke("grain", ((at(long * 0.35, across / 2), at(long * 0.65, across / 2)),)))
    sheet.dimension((at(0, 0)[0], 6), (at(long, 0)[0], 6), (f"{long:g}",) if long % 1 == 0 else ("22 ", StackedFraction("1", "2")))
    return sheet.done(f"Part {name}, {long:g} by {across:g}", scale="1 : 10")


def outline(long: float, across: float) -> Drawing:
    """A small outline for a list, grain along."""
    scale = 1.45
    sheet = Sheet(38, max(4, across * scale + 2), scale, left=1, foot=1)
    at = sheet.at
    sheet.marks.append(Stroke("small-outline", ((at(0, 0), at(long, 0), at(long, across), at(0, across), at(0, 0)),)))
    if across > 2:
        middle = across / 2
        sheet.marks.append(Stroke("grain", ((at(long * 0.35, middle), at(long * 0.65, middle)),)))
    return sheet.done(f"Outline, {long:g} by {across:g}, grain along")


def layout(width: float = 170, height: float = 92) -> Drawing:
    """A sheet with pieces to cut and an offcut."""
    sheet = Sheet(width, height, 25.4 / 15, left=4, foot=6)
    at = sheet.at
    sheet.marks.append(Stroke("outline", ((at(0, 0), at(96, 0), at(96, 48), at(0, 48), at(0, 0)),)))
    for x, y, wide, high, name in ((0, 39, 22.5, 9, "B"), (22.6, 39, 11, 9, "A"), (33.7, 39, 11, 9, "A"), (0, 32.9, 22.5, 6, "D")):
        sheet.marks.append(Stroke("edge", ((at(x, y), at(x + wide, y), at(x + wide, y + high), at(x, y + high), at(x, y)),)))
        sheet.marks.append(Lettering(at(x + 0.6, y + high - 2.7), (name,), 3.5, 4, weight="semibold", role="label"))
    hatch = tuple((at(x, 0), at(min(96, x + 32), min(32, 96 - x))) for x in range(0, 96, 6))
    sheet.marks.append(Stroke("hatch", hatch))
    return sheet.done("Cutting layout of one plywood sheet: B, two A and D along the upper edge; the rest is kept", scale="1 : 15")


def sign(kind: str) -> Drawing:
    """A sign for the key."""
    sheet = Sheet(34, 10)
    if kind == "balloon":
        sheet.balloon("B", (6, 5), (24, 5))
    elif kind == "added":
        sheet.marks.append(Region("added", (((6, 1), (28, 1), (28, 9), (6, 9)),)))
    else:
        sheet.marks.append(Stroke(kind, (((3, 5), (31, 5)),)))  # type: ignore[arg-type]
    return sheet.done(f"Sign: {kind}")


def template(width: float = 170, height: float = 150) -> Drawing:
    """A full-size pattern with its check square."""
    sheet = Sheet(width, height)
    sheet.marks.append(Stroke("outline", (((10, 20), (150, 20), (150, 90), (118, 132), (42, 132), (10, 90), (10, 20)),)))
    sheet.marks.append(Stroke("frame", (((60, 40), (110.8, 40), (110.8, 90.8), (60, 90.8), (60, 40)),)))
    sheet.words((64, 63), "side of this square 2 in")
    sheet.words((64, 112), "A  end, upper half, full size", 3.5)
    return sheet.done("Full-size pattern of the upper half of end A, with a square of 2 inches to check the print", scale="1 : 1")
