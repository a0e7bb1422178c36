"""Joint details: a joint cut through and drawn large, with its own sizes and the sign of each wood.

In: a model, its solids, one joint. Out: a Drawing at 1 : 1 or so: the cut faces in a window round the joint, broken off where the
parts run on. It must not know pages. Where a joint is cut, and which sizes it has, is decided before (joint_cuts, joint_sizes,
joint_faces).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import inf

import shapely
from shapely.geometry.base import BaseGeometry

from compiler.base.showing import Style
from compiler.draw import dimensions, notes
from compiler.draw.bounds import Bounds, beyond, bounds
from compiler.draw.breaks import broken_outline
from compiler.draw.cut_faces import piece_of, sign_of
from compiler.draw.dimension_places import lay_out
from compiler.draw.dimensions import Manner, Room
from compiler.draw.joint_cuts import Cut, cut_of, faced
from compiler.draw.joint_faces import sizes_of_face
from compiler.draw.joint_measures import measured
from compiler.draw.joint_sizes import places_of, sizes_of_cut
from compiler.draw.lettering import SMALL, letter
from compiler.draw.notes import Note
from compiler.draw.paint import Placing
from compiler.draw.pen import Pen
from compiler.draw.places import Places
from compiler.draw.rectangles import meets
from compiler.draw.scales import Scale, legible
from compiler.draw.woodsigns import sign
from compiler.solid.building import Solids
from compiler.values.figure import Drawing, Point
from compiler.values.model import JointUse, Model

MOST = 5
LEAST_SCALE = Fraction(1, 4)
FACE_SCALE = Fraction(1, 2)
DISC = 2.7
MANNER = Manner(first=10.0, pitch=7.5)


def draw(model: Model, solids: Solids, joint: JointUse, *, width: float, height: float, style: Style, says: str = "") -> Drawing:
    """The detail at the largest scale that fits, from twice full size down to 1 : 4 (or 1 : 5)."""
    cut = cut_of(model, solids, joint)
    places = () if faced(joint) else (places_of(model, cut, 0), places_of(model, cut, 1))
    made: dict[tuple[Scale, int], _Sheet] = {}

    def attempt(scale: Scale, most: int, room: tuple[float, float]) -> _Sheet:
        """The sheet, or as much of it as proves that it takes more than `room`."""
        if (scale, most) not in made or not (made[scale, most].done or beyond(made[scale, most].reach, room)):
            made[scale, most] = _drawn(model, joint, cut, places, scale.mm_per_inch, style, most, room)
        return made[scale, most]

    def fits(most_high: float, most: int) -> Callable[[Scale], bool]:
        def judge(scale: Scale) -> bool:
            if (cut.window[2] - cut.window[0]) * scale.mm_per_inch > width:
                return False
            room = (width - 1, most_high - 1)
            return not beyond(attempt(scale, most, room).reach, room)

        return judge

    # Sizes that part drawings give too are left out where that makes the detail larger than it would be with them.
    least = 1.5 if faced(joint) else 2.0
    scale, most = legible(model.edition.units, lambda high: fits(high, MOST), height, least), MOST
    enough = FACE_SCALE if faced(joint) else LEAST_SCALE
    for fewer in (3, 2):
        if scale.ratio >= enough:
            break
        larger = legible(model.edition.units, lambda high, fewer=fewer: fits(high, fewer), height, least)  # type: ignore[misc]
        if larger.ratio > scale.ratio:
            scale, most = larger, fewer
    sheet = attempt(scale, most, (inf, inf))
    box = sheet.reach
    width = max(width, box[2] - box[0] + 1)
    final = Pen()
    final.add(sheet.pen.marks, ((width - (box[2] - box[0])) / 2 - box[0], 0.5 - box[1]))
    names = tuple(dict.fromkeys(name for name, _ in cut.faces))
    return final.drawing(width, box[3] - box[1] + 1, says, scale=scale.words, shows=names,
                         letters=sheet.letters)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A drawing at one scale: its marks, the room they take (at least, when it is not `done`), the letters in it."""

    pen: Pen
    reach: Bounds
    letters: tuple[str, ...] = ()
    done: bool = True


def _drawn(model: Model, joint: JointUse, cut: Cut, places: Sequence[Places], scale: float, style: Style, most: int,
           room_for: tuple[float, float]) -> _Sheet:
    """The detail at a scale; unfinished when its sizes and the rows of its notes take more than there is room for."""
    pen, room = Pen(), Room()
    placing = Placing(scale)
    window = tuple(v * scale for v in cut.window)
    frame = (window[0], window[1], window[2], window[3])
    asked: list[Note] = []
    if faced(joint):
        wanted, asked = sizes_of_face(model, joint, cut, scale, style, most == MOST)
    else:
        named, asked = measured(model, joint, cut, scale, style)
        wanted = sizes_of_cut(model, joint, cut, places, scale, style, most, named)
    solid = shapely.union_all([face for _, face in cut.faces]).bounds
    view = tuple(v * scale for v in solid)
    box = (view[0], view[1], view[2], view[3])
    layout = lay_out(box, wanted, MANNER, room)
    dimensions.draw(pen, layout, MANNER)
    taken = bounds(pen.marks)
    if taken is not None and asked:
        taken = (taken[0], taken[1], taken[2], max(taken[3], notes.least_reach(box, len(asked), room)))
    if taken is not None and beyond(taken, room_for):
        return _Sheet(pen, taken, done=False)
    for turn, (name, face) in enumerate(cut.faces):
        part = piece_of(model, name)
        paper = shapely.affinity.scale(face, scale, scale, origin=(0, 0))
        for piece in getattr(paper, "geoms", (paper,)):
            if piece.geom_type != "Polygon":
                continue
            what, angle = sign_of(part, cut.camera)
            if not faced(joint) or what == "end":
                pen.lines("hatch", sign(piece, what, angle=angle, turn=turn, thickness=float(part.thickness)))
    if faced(joint):
        _face_lines(pen, cut, placing, frame)
    for _, face in cut.faces:
        broken_outline(pen, shapely.affinity.scale(face, scale, scale, origin=(0, 0)), frame)
    letters = _letters(pen, model, cut, scale, room)
    notes.draw(pen, notes.lay_out(box, asked, room))
    reach = bounds(pen.marks)
    assert reach is not None
    return _Sheet(pen, reach, letters)


def _face_lines(pen: Pen, cut: Cut, placing: Placing, frame: Bounds) -> None:
    window = shapely.box(*frame)
    for line in cut.seen.lines:
        piece = shapely.LineString(placing.path(line.points)).intersection(window)
        pen.lines("edge", (tuple(part.coords) for part in getattr(piece, "geoms", (piece,)) if part.geom_type == "LineString"))


def _letters(pen: Pen, model: Model, cut: Cut, scale: float, room: Room) -> tuple[str, ...]:
    """The letter of each part in its cut face on a white disc, away from the joint and from all lines; gives those drawn."""
    drawn: list[str] = []
    middle = ((cut.window[0] + cut.window[2]) / 2 * scale, (cut.window[1] + cut.window[3]) / 2 * scale)
    for name, face in cut.faces:
        part = piece_of(model, name)
        if not part.letter or part.letter in drawn:
            continue
        spot = _spot(shapely.affinity.scale(face, scale, scale, origin=(0, 0)).buffer(-DISC - 0.2), middle, room)
        if spot is None:
            continue
        pen.circle(spot, DISC, "leader", "balloon")
        pen.letter(letter((spot[0], spot[1] - SMALL / 2), part.letter, anchor="middle", weight="semibold", role="balloon"))
        room.texts.append((spot[0] - DISC, spot[1] - DISC, spot[0] + DISC, spot[1] + DISC))
        drawn.append(part.letter)
    return tuple(drawn)


def _spot(area: BaseGeometry, middle: Point, room: Room) -> Point | None:
    """The place in an area farthest from the joint that no line or number touches."""
    if area.is_empty:
        return None
    left, low, right, high = area.bounds
    spots = [(left + (right - left) * i / 12, low + (high - low) * j / 12) for i in range(13) for j in range(13)]
    within = shapely.contains_xy(area.buffer(1e-6), spots).tolist()
    taken = (*room.texts, *room.lines, *room.thin)
    best: tuple[float, Point] | None = None
    for at, inside in zip(spots, within, strict=True):
        away = (at[0] - middle[0]) ** 2 + (at[1] - middle[1]) ** 2
        if not inside or (best is not None and away <= best[0]):
            continue
        rect = (at[0] - DISC - 0.4, at[1] - DISC - 0.4, at[0] + DISC + 0.4, at[1] + DISC + 0.4)
        if not any(meets(rect, other) for other in taken):
            best = (away, at)
    return best[1] if best else None
