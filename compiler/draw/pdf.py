"""A drawing as PDF operators, ready before the page is laid out.

In: a Drawing and the theme's pens. Out: an object that the page layout takes in place of an image
(`render(cache={"figure:7": PaperFigure(...)})`, `<img src="figure:7" alt="…">`). Lines of one role are one block of
operators; lettering goes through the text engine and stays text. It leans on inner parts of WeasyPrint 70, all of them
in this module; tests/draw/test_writers.py fails when they move.

Units: the page's own unit is 1/96 in, y runs down.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import contextmanager
from functools import cache
from math import cos, inf, pi, radians, sin
from typing import Any

from tinycss2.color5 import parse_color  # type: ignore[import-untyped]

from compiler.draw.lettering import spell
from compiler.draw.typesetter import Matrix, draw_first_line, split_first_line
from compiler.values.figure import Circle, Drawing, Lettering, PenStyle, Point, Region, Stroke

PER_MM = 96 / 25.4
WEIGHTS = {"regular": 400, "medium": 500, "semibold": 600}
# Four cubic curves make a circle; the handle's length for a radius of 1.
HANDLE = 4 * (2**0.5 - 1) / 3


class _TextBox:
    """What the text engine wants of a line: its layout, style and text."""

    def __init__(self, layout: Any, style: Any, text: str, baseline: float) -> None:
        self.pango_layout = layout
        self.style = style
        self.text = text
        self.baseline = baseline


class TextSetting:
    """What laying out a line wants of a page: fonts and hyphenation."""

    def __init__(self, font_config: Any) -> None:
        self.font_config = font_config
        self.dictionaries: dict[str, Any] = {}


class _Letters:
    """The lettering of a figure: a style for each size and weight, made once."""

    def __init__(self, style: Any, pens: PenStyle) -> None:
        self._style, self._pens, self._made = style, pens, dict[tuple[float, str], Any]()
        self.setting = TextSetting(style.font_config)

    def style(self, size: float, weight: str) -> Any:
        """The page's style with the letters of a figure; `size` is the height of its capitals in millimetres."""
        own = self._made.get((size, weight))
        if own is None:
            own = self._made[size, weight] = self._style.copy()
            own["font_size"] = size / self._pens.cap_height * PER_MM
            own["font_weight"] = WEIGHTS[weight]
            own["white_space"] = "pre"
            if self._pens.family:
                own["font_family"] = (self._pens.family, *self._style["font_family"])
        return own


class PaperFigure:
    """A drawing that draws itself on a page. `drawing` is kept to be measured again."""

    def __init__(self, drawing: Drawing, pens: PenStyle) -> None:
        self.drawing = drawing
        self._pens = pens
        self._steps = _compile(drawing, pens)

    def get_intrinsic_size(self, resolution: Any, font_size: Any) -> tuple[float, float, float]:
        """Width, height in the page's unit, and their ratio."""
        width, height = self.drawing.width * PER_MM, self.drawing.height * PER_MM
        return width, height, width / height

    def draw(self, stream: Any, width: float, height: float, style: Any, *_: Any) -> None:
        """Put the drawing into the page's content, `width` by `height`."""
        letters = _Letters(style, self._pens)
        with stream.stacked():
            factor = width / (self.drawing.width * PER_MM)
            if abs(factor - 1) > 1e-9:
                stream.transform(a=factor, d=factor)
            for step in self._steps:
                if isinstance(step, Lettering):
                    _set_letters(stream, step, self._pens, self.drawing.height, letters)
                else:
                    with _pen_state(stream):
                        stream.stream.append(step)


@contextmanager
def _pen_state(stream: Any) -> Any:
    """Keep a block's colour and width from leaking: the stream remembers colours it has set."""
    stream.push_state()
    try:
        yield
    finally:
        stream.pop_state()


def _n(value: float) -> str:
    text = "%.2f" % value  # noqa: UP031 - the quickest way, and it is gone tens of thousands of times
    if text[-1] == "0":
        text = text[:-3] if text[-2] == "0" else text[:-1]
    return "0" if text == "-0" else text


_ZEROS = re.compile(r"\.?0+(?= )|-(?=0\.00 )")
"""What `_n` leaves out of a number with two places, when a blank follows."""
_parsed = cache(parse_color)


@cache
def _rgb(colour: str) -> str:
    """The colour as three numbers from 0 to 1. Raises ValueError when it is none."""
    parsed = _parsed(colour)
    if parsed is None or parsed == "currentcolor":
        raise ValueError(f"{colour!r} is no colour")
    return " ".join(_n(part) for part in parsed.to("srgb").coordinates)


def _compile(drawing: Drawing, pens: PenStyle) -> tuple[bytes | Lettering, ...]:
    """Operator blocks and lettering in painting order; neighbouring blocks are joined."""
    steps: list[bytes | Lettering] = []
    for mark in drawing.marks:
        if isinstance(mark, Lettering):
            steps.append(mark)
            continue
        block = "\n".join(_operators(mark, pens, drawing.height)).encode()
        if not block:
            continue
        if steps and isinstance(steps[-1], bytes):
            steps[-1] += b"\n" + block
        else:
            steps.append(block)
    return tuple(steps)


def _operators(mark: Stroke | Region | Circle, pens: PenStyle, height: float) -> Iterable[str]:
    if isinstance(mark, Stroke):
        pen = pens.line(mark.role)
        if pen is not None:
            yield from _pen(pen.width, pen.dash, pen.colour)
            yield _paths(mark.paths, height)
            yield "S"
    elif isinstance(mark, Region):
        colour = pens.fill(mark.role)
        if colour:
            yield f"{_rgb(colour)} rg"
            for ring in mark.rings:
                yield _paths((ring,), height) + " h"
            yield "f*"
    else:
        pen = pens.line(mark.role) if mark.role else None
        colour = pens.fill(mark.fill) if mark.fill else None
        if pen is not None:
            yield from _pen(pen.width, pen.dash, pen.colour)
        if colour:
            yield f"{_rgb(colour)} rg"
        if pen is not None or colour:
            yield _circle(mark.centre, mark.radius, height)
            yield "B" if pen is not None and colour else "S" if pen is not None else "f"


def _pen(width: float, dash: tuple[float, ...], colour: str) -> Iterable[str]:
    yield f"{_rgb(colour)} RG {_n(width * PER_MM)} w 1 J 1 j"
    yield f"[{' '.join(_n(part * PER_MM) for part in dash)}] 0 d"


def _paths(paths: Iterable[tuple[Point, ...]], height: float) -> str:
    """Paths as operators, a line each; a path that ends where it began is closed."""
    forms: list[str] = []
    values: list[float] = []
    for points in paths:
        flat = [value for x, y in points for value in (x * PER_MM, (height - y) * PER_MM)]
        count = len(points)
        closed = count > 2 and _n(flat[0]) == _n(flat[-2]) and _n(flat[1]) == _n(flat[-1])
        if closed:
            del flat[-2:]
        forms.append(_form(count - closed, closed))
        values += flat
    return _ZEROS.sub("", "\n".join(forms) % tuple(values))


@cache
def _form(count: int, closed: bool) -> str:
    return "%.2f %.2f m " + " ".join(["%.2f %.2f l"] * (count - 1)) + (" h" if closed else "")


def _circle(centre: Point, radius: float, height: float) -> str:
    x, y = centre[0] * PER_MM, (height - centre[1]) * PER_MM
    r = radius * PER_MM
    out = [f"{_n(x + r)} {_n(y)} m"]
    for quarter in range(4):
        a, b = quarter * pi / 2, (quarter + 1) * pi / 2
        points = (
            (x + r * (cos(a) - HANDLE * sin(a)), y + r * (sin(a) + HANDLE * cos(a))),
            (x + r * (cos(b) + HANDLE * sin(b)), y + r * (sin(b) - HANDLE * cos(b))),
            (x + r * cos(b), y + r * sin(b)),
        )
        out.append(" ".join(f"{_n(px)} {_n(py)}" for px, py in points) + " c")
    return " ".join(out) + " h"


def _set_letters(stream: Any, mark: Lettering, pens: PenStyle, height: float, letters: _Letters) -> None:
    pieces, bars = spell(mark)
    colour = _parsed(pens.letter(mark.role))
    c, s = cos(radians(mark.angle)), sin(radians(mark.angle))
    at_x, at_y = mark.at[0] * PER_MM, (height - mark.at[1]) * PER_MM
    with stream.stacked():
        stream.set_color(colour)
        for piece in pieces:
            own = letters.style(piece.size, mark.weight)
            layout, _, _, width, _, baseline = split_first_line(piece.text, own, letters.setting, inf, 0)
            room = piece.width * PER_MM
            narrow = room / width if width > room * 1.01 else 1.0
            dx, dy = piece.x * PER_MM, piece.y * PER_MM
            x, y = at_x + dx * c - dy * s, at_y - dx * s - dy * c
            box = _TextBox(layout, own, piece.text, baseline)
            layout.reactivate(own)
            stream.begin_text()
            draw_first_line(stream, box, "none", "none", Matrix(a=narrow * c, b=-narrow * s, c=-s, d=-c, e=x, f=y))
            stream.end_text()
            layout.deactivate()
        for start, end, level in bars:
            x0, x1, yb = start * PER_MM, end * PER_MM, level * PER_MM
            points = [(at_x + x * c - yb * s, at_y - x * s - yb * c) for x in (x0, x1)]
            (ax, ay), (bx, by) = points
            stream.stream.append(
                f"{_rgb(pens.letter(mark.role))} RG {_n(mark.size * 0.072 * PER_MM)} w 0 J [] 0 d "
                f"{_n(ax)} {_n(ay)} m {_n(bx)} {_n(by)} l S".encode())
