"""The DXF of parts, read by a reader of its own: group codes and values, as the DXF reference describes them.

Sources: `$INSUNITS` 1 = inches, 4 = millimetres, FIL-01 (CAD vendor's reference page for the variable, read); `$ACADVER` AC1024 is
release 2010, FIL-02 (vendor and library enumerations, read); `$MEASUREMENT` 0 = imperial, 1 = metric, FIL-05 (from memory); two
builds of one input are byte-identical, FIL-12 (practice). Group codes: 0 kind, 8 layer, 10 and 20 a point, 40 a radius, 70 flags (1 =
closed), from memory of the DXF reference.
"""

from __future__ import annotations

from itertools import pairwise
from math import pi

import pytest

from compiler.base.showing import Units
from compiler.draw.flat_parts import flat_parts
from compiler.values.model import Model
from tests.made import ROOT, attempt, own_plugins

FOLDERS = tuple(sorted(path.parent for root in ("projects", "shared/starters") for path in (ROOT / root).glob("*/design.yaml")))
Tag = tuple[int, str]


def model(name: str, units: Units) -> Model:
    """A plan's model in these units."""
    folder = next(folder for folder in FOLDERS if folder.name == name)
    made, report = attempt((folder / "design.yaml").read_text(encoding="utf-8"), units, *own_plugins(folder))
    assert made is not None, [fault.says for fault in report.errors]
    return made


def tags(text: str) -> list[Tag]:
    """Pairs of a group code and a value, one a line each."""
    lines = text.splitlines()
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def variable(found: list[Tag], name: str) -> str:
    """The value of a header variable."""
    return found[found.index((9, name)) + 1][1]


def entities(found: list[Tag]) -> list[list[Tag]]:
    """The entities of the drawing, each a list of pairs that begins with its kind."""
    start = found.index((2, "ENTITIES"))
    groups: list[list[Tag]] = []
    for code, value in found[start + 1:]:
        if code == 0:
            if value == "ENDSEC":
                break
            groups.append([])
        groups[-1].append((code, value))
    return groups


def values(entity: list[Tag], code: int) -> list[float]:
    """All numbers of one code."""
    return [float(value) for number, value in entity if number == code]


def layer(entity: list[Tag]) -> str:
    """Its layer."""
    return next(value for code, value in entity if code == 8)


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("name", [folder.name for folder in FOLDERS])
def test_the_header_says_what_the_numbers_are(name: str, units: Units) -> None:
    """Units, measurement system and release; the same text twice."""
    made = model(name, units)
    text = flat_parts(made)
    found = tags(text)
    assert variable(found, "$INSUNITS") == {"inch": "1", "mm": "4"}[units]
    assert variable(found, "$MEASUREMENT") == {"inch": "0", "mm": "1"}[units]
    assert variable(found, "$ACADVER") == "AC1024"
    assert flat_parts(made) == text


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("name", [folder.name for folder in FOLDERS])
def test_outlines_are_closed_and_as_large_as_the_parts(name: str, units: Units) -> None:
    """One part after another: the outline reaches as far as the part is long and wide, in the header's unit."""
    made = model(name, units)
    factor = 1.0 if units == "inch" else 25.4
    rings = [entity for entity in entities(tags(flat_parts(made))) if layer(entity) == "outline"]
    assert all(entity[0] == (0, "LWPOLYLINE") and int(values(entity, 70)[0]) & 1 for entity in rings)
    sizes = [sorted((max(values(ring, 10)) - min(values(ring, 10)), max(values(ring, 20)) - min(values(ring, 20)))) for ring in rings]
    for kind in made.kinds:
        part = made.part(kind.parts[0])
        wanted = sorted((float(part.length) * factor, float(part.width) * factor))
        # The list gives the blank: a taper may take its longest corner.
        short = 0.25 if any(working.kind == "taper" for working in part.workings) else 0.002
        assert any(all(-short * factor < a - b < 0.002 * factor for a, b in zip(size, wanted, strict=True)) for size in sizes), (kind.name, wanted)


def test_areas_and_holes_of_the_bookcase() -> None:
    """The side: its own area less nothing, and one circle for each pin hole of the library's diameter (1/4 in)."""
    made = model("low-bookcase", "inch")
    side = made.part("left side")
    found = entities(tags(flat_parts(made)))
    ring = max((entity for entity in found if layer(entity) == "outline"),
               key=lambda entity: abs(_area(entity)) if abs(_width(entity) - float(side.length)) < 1e-6 or abs(_width(entity) - float(side.width)) < 1e-6 else 0)
    assert abs(_area(ring)) == pytest.approx(float(side.length) * float(side.width), rel=1e-6)
    low, high = min(values(ring, 20)), max(values(ring, 20))
    holes = [entity for entity in found if entity[0] == (0, "CIRCLE") and low < values(entity, 20)[0] < high]
    assert len(holes) == sum(feature.called == "hole" for feature in side.features)
    assert {round(pi * values(hole, 40)[0] ** 2, 6) for hole in holes} == {round(pi / 64, 6)}


def _width(ring: list[Tag]) -> float:
    return max(values(ring, 10)) - min(values(ring, 10))


def _area(ring: list[Tag]) -> float:
    points = list(zip(values(ring, 10), values(ring, 20), strict=True))
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise([*points, points[0]])) / 2
