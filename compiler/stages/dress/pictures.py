"""Pictures of a document: drawings, photographs, marks, codes, each given a name the pages can show it by.

In: drawings and image bytes. Out: `<img>` elements, and the drawings and files behind them. A drawing keeps its printed
size unless a template asks for room; one that states a scale is never enlarged or reduced.
"""

from __future__ import annotations

from html import escape

from compiler.values import document as doc
from compiler.values.figure import Drawing

PER_MM = 72 / 25.4
LEAST_REDUCTION = 0.75
"""Lettering of 10 pt may shrink to the least size on a page, 7.5 pt."""


class Pictures:
    """Names pictures in the order in which they are shown; the same one twice has one name."""

    def __init__(self) -> None:
        self.figures: list[Drawing] = []
        self.files: list[tuple[str, bytes]] = []
        self._names: dict[int, str] = {}

    def drawing(self, drawing: Drawing, width: float = 0, height: float = 0, enlarge: float = 1) -> str:
        """A drawing as an image. `width`, `height` are the room in points, 0 = as drawn; `enlarge` the most it may grow."""
        name = self._names.get(id(drawing))
        if name is None:
            name = self._names[id(drawing)] = f"fig:{len(self.figures)}"
            self.figures.append(drawing)
        own_width, own_height = drawing.width * PER_MM, drawing.height * PER_MM
        factor = 1.0
        if not drawing.scale and (width or height):
            fits = [room / own for room, own in ((width, own_width), (height, own_height)) if room]
            factor = max(LEAST_REDUCTION, min([enlarge, *fits]))
        size = f"width:{own_width * factor:.2f}pt;height:{own_height * factor:.2f}pt"
        return f'<img src="{name}" alt="{escape(drawing.says or "Drawing")}" style="{size}"/>'

    def photo(self, photo: doc.Photo, width: float, height: float) -> str:
        """A photograph, as large as it fits the room in points, at most 150 dots an inch short of its own size."""
        factor = min(width / photo.width, height / photo.height, 72 / 100)
        size = f"width:{photo.width * factor:.2f}pt;height:{photo.height * factor:.2f}pt"
        return f'<img class="shot" src="{self._file(photo.image, photo.kind)}" alt="{escape(photo.says or "Photograph")}" style="{size}"/>'

    def mark(self, image: bytes, says: str, height: float) -> str:
        """A shop's or sponsor's mark (SVG, PNG or JPEG), by its height in points."""
        kind = "png" if image.startswith(b"\x89PNG") else "jpeg" if image.startswith(b"\xff\xd8") else "svg"
        return f'<img src="{self._file(image, kind)}" alt="{escape(says)}" style="height:{height:g}pt"/>'

    def code(self, block: doc.CodeMark, size: float) -> str:
        """A two-dimensional code with its quiet zone of four modules (ISO/IEC 18004), `size` points wide."""
        rows = block.modules
        side = len(rows) + 8
        path = "".join(f"M{start + 4} {row + 4}h{length}v1h-{length}z" for row, modules in enumerate(rows)
                       for start, length in _stretches(modules))
        svg = (f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}" height="{side}" viewBox="0 0 {side} {side}">'
               f'<path d="{path}" fill="#000"/></svg>')
        name = self._file(svg.encode(), "svg")
        return f'<img src="{name}" alt="Code for {escape(block.address)}" style="width:{size:g}pt;height:{size:g}pt"/>'

    def of_theme(self, name: str, says: str) -> str:
        """A picture of the theme's own, by its name in theme.toml."""
        return f'<img src="theme:{escape(name)}" alt="{escape(says)}"/>'

    def _file(self, content: bytes, kind: str) -> str:
        for name, known in self.files:
            if known == content:
                return name
        name = f"file:{len(self.files)}.{kind}"
        self.files.append((name, content))
        return name


def _stretches(modules: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Dark stretches of a row: (start, length)."""
    out: list[tuple[int, int]] = []
    start: int | None = None
    for place, dark in enumerate((*modules, False)):
        if dark and start is None:
            start = place
        elif not dark and start is not None:
            out.append((start, place - start))
            start = None
    return out
