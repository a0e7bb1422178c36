"""Flat drawings at 1 : 1 as DXF, for machines that cut.

In: layers of lines, circles and arcs in inches or millimetres. Out: the text of a DXF file (AutoCAD 2010, `AC1024`) whose header
states its unit, with the same text each time. It must not know where the lines come from.

Source of the unit codes: the DXF reference, `$INSUNITS` 1 = inches, 4 = millimetres; a new file says metres until told.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Literal

from ezdxf._options import options
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

Point = tuple[float, float]
INSUNITS = {"inch": 1, "mm": 4}
MEASUREMENT = {"inch": 0, "mm": 1}


@dataclass(frozen=True, slots=True)
class Outline:
    """A line through points; the edge that leaves point i is an arc with `bulges[i]` = tan(a quarter of its angle), counterclockwise."""

    points: tuple[Point, ...]
    closed: bool = True
    bulges: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Disc:
    """A full circle."""

    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text, its height in drawing units."""

    at: Point
    text: str
    height: float


@dataclass(frozen=True, slots=True)
class Layer:
    """What is cut with one tool to one depth. `colour` is a colour index (7 = black on white)."""

    name: str
    colour: int = 7
    things: tuple[Outline | Disc | Words, ...] = field(default=())


def write(layers: tuple[Layer, ...], units: Literal["inch", "mm"], title: str = "") -> str:
    """The DXF text. Layer names may hold letters, digits, blanks, `-` and `_`; others become `_`."""
    with _no_clock():
        document = new("R2010", setup=False)
        document.header["$INSUNITS"] = INSUNITS[units]
        document.header["$MEASUREMENT"] = MEASUREMENT[units]
        space = document.modelspace()
        for layer in layers:
            name = layer_name(layer.name)
            if name not in document.layers:
                document.layers.add(name, color=layer.colour)
            for thing in layer.things:
                _add(space, name, thing)
        if title:
            document.header.custom_vars.append("Title", title)
        # The library adds classes in the order of a set; those that are there already keep their place.
        for used in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(used)
        out = io.StringIO()
        document.write(out)
        return out.getvalue()


@contextmanager
def _no_clock() -> Iterator[None]:
    """Keep the clock and fresh identifiers out of a file: the library's only switch for it is a global one."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def layer_name(words: str) -> str:
    """A name every reader takes."""
    return "".join(c if c.isalnum() or c in " -_" else "_" for c in words).strip() or "0"


def _add(space: Modelspace, layer: str, thing: Outline | Disc | Words) -> None:
    where = {"layer": layer}
    if isinstance(thing, Disc):
        space.add_circle(thing.centre, thing.radius, dxfattribs=where)
    elif isinstance(thing, Words):
        space.add_text(thing.text, height=thing.height, dxfattribs={**where, "insert": thing.at})
    else:
        bulges = thing.bulges or (0.0,) * len(thing.points)
        rows = [(x, y, bulge) for (x, y), bulge in zip(thing.points, bulges, strict=True)]
        space.add_lwpolyline(rows, format="xyb", close=thing.closed, dxfattribs=where)
