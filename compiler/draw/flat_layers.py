"""Outlines and words at 1 : 1, for machines and drawing programs: a door to DXF that plugins can hold without its weight.

In: layers of points in the edition's unit. Out: DXF text. What writes it is imported when it is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

FlatPoint = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatLayer:
    """What belongs together: closed `outlines`, open `lines`, and `words` with where they start and how high they are."""

    name: str
    colour: int = 7
    outlines: tuple[tuple[FlatPoint, ...], ...] = ()
    lines: tuple[tuple[FlatPoint, ...], ...] = ()
    words: tuple[tuple[FlatPoint, str, float], ...] = ()


def flat_layers(layers: tuple[FlatLayer, ...], units: Literal["inch", "mm"], title: str = "") -> str:
    """The DXF of the layers, its header in the unit; empty when nothing lies on any of them."""
    from compiler.draw import dxf

    written = []
    for layer in layers:
        closed = tuple(dxf.Outline(points) for points in layer.outlines)
        opened = tuple(dxf.Outline(points, closed=False) for points in layer.lines)
        words = tuple(dxf.Words(at, text, height) for at, text, height in layer.words)
        written.append(dxf.Layer(layer.name, layer.colour, (*closed, *opened, *words)))
    return dxf.write(tuple(written), units, title) if any(layer.things for layer in written) else ""
