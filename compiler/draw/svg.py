"""A drawing as SVG, its size true in millimetres.

In: a Drawing and the theme's pens. Out: the text of an SVG image, one path per stroke. Lettering stays text, each piece
anchored at its start, since middle and end anchors become groups in some readers.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from compiler.draw.lettering import spell
from compiler.values.figure import Circle, Drawing, Lettering, PenStyle, Point, Region, Stroke

WEIGHTS = {"regular": 400, "medium": 500, "semibold": 600}


def number(value: float) -> str:
    """A coordinate with at most three decimals, never `-0`."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def write(drawing: Drawing, pens: PenStyle) -> str:
    """The SVG text; y is turned to run down."""
    height = drawing.height
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(drawing.width)}mm" height="{number(height)}mm" '
        f'viewBox="0 0 {number(drawing.width)} {number(height)}" role="img" aria-label={quoteattr(drawing.says)}>'
    ]
    for mark in drawing.marks:
        if isinstance(mark, Stroke):
            out.extend(_stroke(mark, pens, height))
        elif isinstance(mark, Region):
            colour = pens.fill(mark.role)
            if colour:
                path = "".join(_path(ring, height, closed=True) for ring in mark.rings)
                out.append(f'<path d="{path}" fill="{colour}" fill-rule="evenodd"/>')
        elif isinstance(mark, Circle):
            out.append(_circle(mark, pens, height))
        else:
            out.extend(_letter(mark, pens, height))
    out.append("</svg>\n")
    return "\n".join(out)


def _path(points: Iterable[Point], height: float, closed: bool = False) -> str:
    steps = [f"{number(x)} {number(height - y)}" for x, y in points]
    if not closed and len(steps) > 2 and steps[0] == steps[-1]:
        closed = True
        steps.pop()
    return "M" + "L".join(steps) + ("Z" if closed else "")


def _stroke(mark: Stroke, pens: PenStyle, height: float) -> Iterable[str]:
    pen = pens.line(mark.role)
    if pen is None:
        return
    dash = f' stroke-dasharray="{" ".join(number(part) for part in pen.dash)}"' if pen.dash else ""
    path = "".join(_path(points, height) for points in mark.paths)
    yield (f'<path d="{path}" fill="none" stroke="{pen.colour}" stroke-width="{number(pen.width)}" '
           f'stroke-linecap="round" stroke-linejoin="round"{dash}/>')


def _circle(mark: Circle, pens: PenStyle, height: float) -> str:
    pen = pens.line(mark.role) if mark.role else None
    fill = (pens.fill(mark.fill) if mark.fill else None) or "none"
    stroke = f' stroke="{pen.colour}" stroke-width="{number(pen.width)}"' if pen else ""
    return (f'<circle cx="{number(mark.centre[0])}" cy="{number(height - mark.centre[1])}" r="{number(mark.radius)}" '
            f'fill="{fill}"{stroke}/>')


def _letter(mark: Lettering, pens: PenStyle, height: float) -> Iterable[str]:
    pieces, bars = spell(mark)
    x, y = mark.at
    colour = pens.letter(mark.role)
    family = f" font-family={quoteattr(pens.family)}" if pens.family else ""
    turn = f" rotate({number(-mark.angle)})" if mark.angle else ""
    yield f'<g transform="translate({number(x)} {number(height - y)}){turn}" fill="{colour}"{family} font-weight="{WEIGHTS[mark.weight]}">'
    for piece in pieces:
        yield (f'<text x="{number(piece.x)}" y="{number(-piece.y)}" font-size="{number(piece.size / pens.cap_height)}" '
               f'xml:space="preserve">{escape(piece.text)}</text>')
    for start, end, level in bars:
        yield (f'<path d="M{number(start)} {number(-level)}L{number(end)} {number(-level)}" stroke="{colour}" '
               f'stroke-width="{number(mark.size * 0.072)}"/>')
    yield "</g>"
