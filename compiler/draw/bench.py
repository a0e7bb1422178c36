"""Parts on the bench: each as it lies there, one beside the other, with its letter.

In: a model, its solids, names of parts. Out: a Drawing without scale. It must not know the notes or the numbers of steps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from compiler.draw.balloon_slots import RADIUS
from compiler.draw.cut_faces import piece_of
from compiler.draw.lettering import LARGE, SMALL, letter, text_width
from compiler.draw.paint import Placing, fitted, paint
from compiler.draw.part_cameras import flat, main_camera
from compiler.draw.pen import Pen
from compiler.draw.views import camera, look
from compiler.solid.building import Solids, build
from compiler.values.figure import Drawing
from compiler.values.model import Model
from compiler.values.shapes import Pose

CORNER = "front right top"
MOST_KINDS = 7
BESIDE = 7.0
CAPTION = 10.5


def lying(solids: Solids) -> Solids:
    """Each part as it lies on the bench: its length across, the face with most work on it up."""
    parts = []
    for solid in solids.parts:
        view = main_camera(solid.part)
        parts.append(replace(flat(solid.part), pose=Pose((view.right, view.up, view.toward))))
    return build(tuple(parts), quality=solids.quality)


def side_by_side(model: Model, solids: Solids, names: Sequence[str], *, width: float, says: str = "") -> Drawing:
    """Parts that are worked on one by one: each kind once, at one scale, in rows, with its letter. Many kinds: the whole piece."""
    kinds: dict[str, str] = {}
    for name in names:
        kinds.setdefault(piece_of(model, name).kind, name)
    look_from = camera(CORNER)
    if len(kinds) > MOST_KINDS:
        whole = look(solids, look_from)
        assert whole.bounds is not None
        pen = Pen()
        paint(pen, whole, fitted(whole.bounds, (2.0, 2.0, width - 2.0, 0.8 * width)), "picture")
        return pen.drawing(width, 0.82 * width, says, shows=whole.names)
    views = [(piece_of(model, name), look(lying(solids.only((name,))), look_from)) for name in kinds.values()]
    boxes = [seen.bounds for _, seen in views]
    sizes = [(box[2] - box[0], box[3] - box[1]) for box in boxes if box is not None]
    scale = min(0.62 * width / max(s[0] for s in sizes), 0.5 * width / max(s[1] for s in sizes))
    while True:
        rows = _rows(sizes, scale, width)
        high = sum(max(sizes[i][1] * scale for i in row) + CAPTION for row in rows)
        if high <= 0.84 * width and all(sum(sizes[i][0] * scale + BESIDE for i in row) <= width + BESIDE for row in rows):
            break
        scale *= 0.93
    pen = Pen()
    y = high
    letters = []
    for row in rows:
        tall = max(sizes[i][1] * scale for i in row)
        x = (width - sum(sizes[i][0] * scale + BESIDE for i in row) + BESIDE) / 2
        y -= tall + CAPTION
        for i in row:
            part, seen = views[i]
            box = seen.bounds
            assert box is not None
            paint(pen, seen, Placing(scale, x - box[0] * scale, y + CAPTION - box[1] * scale), "picture")
            centre = (x + sizes[i][0] * scale / 2, y + RADIUS + 1.0)
            pen.circle(centre, RADIUS, "leader", "balloon")
            size = LARGE if text_width(part.letter, LARGE, "semibold") < 1.7 * RADIUS else SMALL
            pen.letter(letter((centre[0], centre[1] - size / 2), part.letter, size=size, anchor="middle", weight="semibold", role="balloon"))
            letters.append(part.letter)
            x += sizes[i][0] * scale + BESIDE
    return pen.drawing(width, high + 1.0, says, letters=tuple(letters), shows=tuple(kinds.values()))


def _rows(sizes: Sequence[tuple[float, float]], scale: float, width: float) -> list[list[int]]:
    """Pictures in reading order, as many to a row as fit."""
    rows: list[list[int]] = [[]]
    used = 0.0
    for i, (wide, _) in enumerate(sizes):
        need = wide * scale + BESIDE
        if rows[-1] and used + need > width + BESIDE:
            rows.append([])
            used = 0.0
        rows[-1].append(i)
        used += need
    return rows
