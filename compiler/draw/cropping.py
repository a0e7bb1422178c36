"""Frames that fit: a drawing without the white that nothing needs, and a view cut to a window.

In: a finished drawing, or what is seen and a window. Out: the same with a smaller frame. Millimetres and inches as given.
"""

from __future__ import annotations

from dataclasses import replace

from compiler.draw.bounds import bounds
from compiler.draw.pen import moved
from compiler.values.figure import Drawing


def cropped(drawing: Drawing, margin: float = 1.0, keep_width: bool = True) -> Drawing:
    """The drawing in a frame as high as its marks (and as wide, unless its width is kept and the marks centred)."""
    box = bounds(drawing.marks)
    if box is None:
        return drawing
    width = drawing.width if keep_width else box[2] - box[0] + 2 * margin
    height = box[3] - box[1] + 2 * margin
    dx = (width - (box[2] - box[0])) / 2 - box[0] if keep_width else margin - box[0]
    by = (dx, margin - box[1])
    return replace(drawing, width=width, height=height, marks=tuple(moved(mark, by) for mark in drawing.marks))
