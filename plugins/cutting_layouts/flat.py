"""Sheets and boards flat at 1 : 1 as DXF, for drawing programs and machines that cut.

In: the layouts. Out: DXF text: every layout once, below each other, with its edge, parts, offcuts and numbered cuts on layers of their own.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.api import Edition, FlatLayer, Model, export, flat_layers

from .answers import Answer, CuttingLayouts
from .job import Way
from .layout import Box, Cut, Sheet

Point = tuple[float, float]


@export(".sheets.dxf")
def sheets_dxf(layouts: CuttingLayouts, model: Model, edition: Edition) -> str:
    """One file with every sheet and board."""
    flat = _Flat(edition)
    for answer in (*layouts.of("sheet"), *layouts.of("board")):
        for number, sheet in enumerate(answer.layout.sheets, 1):
            flat.add(answer, sheet, number)
    return flat_layers(tuple(flat.layers()), edition.units, model.plan.title)


class _Flat:
    """Layers that grow downwards, one layout below the other."""

    def __init__(self, edition: Edition) -> None:
        self._edition = edition
        self._inch = 1.0 if edition.units == "inch" else 25.4
        self._low = 0.0
        self._outlines: dict[str, list[tuple[Point, ...]]] = {"sheet": [], "parts": [], "offcuts": []}
        self._cuts: list[tuple[Point, ...]] = []
        self._words: dict[str, list[tuple[Point, str, float]]] = {"names": [], "cut numbers": []}

    def add(self, answer: Answer, sheet: Sheet, number: int) -> None:
        """One layout below those before."""
        unit = answer.question.unit
        scale = float(unit.mm if self._edition.units == "mm" else unit.inches)
        self._low -= sheet.width * scale + 4 * self._inch
        height = self._inch

        def at(x: float, y: float) -> Point:
            return (x * scale, self._low + y * scale)

        def corners(box: Box) -> tuple[Point, ...]:
            x1, y1 = box.x + box.length, box.y + box.width
            return (at(box.x, box.y), at(x1, box.y), at(x1, y1), at(box.x, y1))

        self._outlines["sheet"].append(corners(Box(0, 0, sheet.length, sheet.width)))
        alike = f", saw {sheet.copies} alike" if sheet.copies > 1 else ""
        self._words["names"].append((at(0, sheet.width + height / scale), f"{answer.question.stock.name}, layout {number}{alike}", height))
        for place in sheet.placements:
            self._outlines["parts"].append(corners(place.box))
            low = min(height, place.box.width * scale / 2)
            self._words["names"].append((at(place.box.x + low / scale / 2, place.box.y + low / scale / 2), place.piece, low))
        for offcut in sheet.offcuts:
            if offcut.keep:
                self._outlines["offcuts"].append(corners(offcut.box))
        for cut in sheet.cuts:
            line = tuple(at(*point) for point in _on_the_board(cut))
            self._cuts.append(line)
            self._words["cut numbers"].append((line[0], str(cut.number), height / 2))

    def layers(self) -> Iterator[FlatLayer]:
        """Each with a colour of its own."""
        for colour, (name, outlines) in enumerate(self._outlines.items(), 1):
            yield FlatLayer(name=name, colour=colour, outlines=tuple(outlines))
        yield FlatLayer(name="cuts", colour=5, lines=tuple(self._cuts))
        for colour, (name, words) in enumerate(self._words.items(), 6):
            yield FlatLayer(name=name, colour=colour, words=tuple(words))


def _on_the_board(cut: Cut) -> tuple[tuple[int, int], tuple[int, int]]:
    """The cut's line; where a thin factory edge lets the blade overhang, along the edge."""
    if cut.runs is Way.ACROSS:
        x = max(cut.start[0], cut.hand.x)
        return ((x, cut.start[1]), (x, cut.end[1]))
    y = max(cut.start[1], cut.hand.y)
    return ((cut.start[0], y), (cut.end[0], y))
