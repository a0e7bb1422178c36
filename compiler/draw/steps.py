"""Step pictures: the piece as built so far, drawn back, with the added parts set off and moved out along their joints.

In: a model, its solids, the parts shown and those added. Out: a Drawing with the letters of the added parts, and what cannot be put
in. It must not know the notes or the numbers of steps.

The corner is the author's, else the usual one; the page turns only where another corner shows the added parts far better, so
that left stays left through a plan.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from itertools import product

import shapely

from compiler.draw import balloons
from compiler.draw.apart import Apart, as_sawn, come_apart
from compiler.draw.cut_faces import piece_of
from compiler.draw.exploded import spread_with, targets, trails
from compiler.draw.lettering import LARGE, SMALL, letter, text_width
from compiler.draw.paint import Placing, area_of, fitted, paint
from compiler.draw.part_drawing import flat, main_camera
from compiler.draw.pen import Pen
from compiler.draw.views import Camera, Seen, camera, look, shares
from compiler.solid.building import Solids, build
from compiler.solid.contacts import contacts
from compiler.values.figure import Drawing
from compiler.values.model import Model
from compiler.values.shapes import Pose, Vector

USUAL = "front right top"
CORNERS = (USUAL, "front left top", "back right top", "back left top")
FROM_BELOW = ("front right bottom", "front left bottom")
TURN_FOR = 0.3
FEW_UNITS = 14
GAP = 9.0
LEAST_GAP = 4.5
ROOM = 13.0
ROOM_OVER = 11.6
MOST_KINDS = 7
BESIDE = 7.0
CAPTION = 10.5
HIDDEN = 0.05
"""A part of which less is seen counts as hidden."""
TALLER = (1.0, 1.25, 1.5, 1.8)
SEEN, BARELY_SEEN = 30.0, 20.0
"""The larger side of the piece on paper (mm): enough to tell parts apart, and the least at which moving them out still helps."""


def bodies(solids: Solids, names: Collection[str]) -> tuple[tuple[str, ...], ...]:
    """Parts that hang together, as groups."""
    chosen = solids.only(names)
    root = {name: name for name in chosen.names}

    def find(name: str) -> str:
        while root[name] != name:
            name = root[name]
        return name

    for contact in contacts(chosen):
        root[find(contact.second)] = find(contact.first)
    groups: dict[str, list[str]] = {}
    for name in chosen.names:
        groups.setdefault(find(name), []).append(name)
    return tuple(tuple(group) for group in groups.values())


def lying(solids: Solids) -> Solids:
    """Each part as it lies on the bench: its length across, the face with most work on it up."""
    parts = []
    for solid in solids.parts:
        view = main_camera(solid.part)
        parts.append(replace(flat(solid.part), pose=Pose((view.right, view.up, view.toward))))
    return build(tuple(parts), quality=solids.quality)


def best_corner(solids: Solids, names: Collection[str], added: Collection[str], moves: Mapping[str, Vector] | None) -> str:
    """The usual corner, or another one if the added parts show far better from there."""
    if not added:
        return USUAL
    scores: dict[str, float] = {}
    for words in (*CORNERS, *FROM_BELOW):
        seen = shares(solids, camera(words), names=names, offsets=moves)
        values = [min(1.0, seen.get(name, 0.0) / 0.6) for name in added]
        score = 0.7 * sum(values) / len(values) + 0.3 * min(values)
        scores[words] = score - (0.1 if "back" in words else 0.0) - (0.3 if "bottom" in words else 0.0)
        if words == USUAL and score > 0.75:
            return USUAL
    best = max(scores, key=lambda words: (scores[words], -list(scores).index(words)))
    return best if scores[best] > scores[USUAL] + TURN_FOR else USUAL


def draw(model: Model, solids: Solids, *, shown: Sequence[str], added: Collection[str], words: str = "", width: float, height: float,
         says: str = "", made: bool = False) -> tuple[Drawing, tuple[str, ...]]:
    """The picture, and the added parts that cannot be put in (nothing moves them out of what they touch).

    `made`: the added parts were made before: uses of a component come whole. A picture that would be too small to see takes up to
    `TALLER` of its height; parts that are too small even so stay in their places and are only tinted.
    """
    if not made:
        shown, added = _one_of_many(model, shown, added)
    chosen = as_sawn(solids.only(shown))
    if len(chosen.parts) == 1 and not added and not words:
        chosen = lying(chosen)
    chosen = _opened(model, chosen, added)
    done = [name for name in chosen.names if name not in added]
    groups = bodies(chosen, done) if done else ()
    if made:
        groups += _uses(model, added)
    units = len(chosen.parts) - sum(len(group) - 1 for group in groups)
    apart = come_apart(model, chosen, groups) if 1 < units <= FEW_UNITS and added else None
    corner = words or best_corner(chosen, chosen.names, added, None)
    look_from = camera(corner)
    moves: dict[str, Vector] = {}
    if apart is not None:
        moves, height = _spread(apart, chosen, look_from, width, height)
        if moves and not words:
            turned = best_corner(chosen, chosen.names, added, moves)
            if turned != corner:
                look_from = camera(turned)
                moves, height = _spread(apart, chosen, look_from, width, height)
    room = (ROOM, ROOM_OVER, width - ROOM, height - ROOM_OVER)
    if apart is not None and moves:
        scale = fitted(_reach(chosen, look_from, moves), room).scale
        seen = look(chosen, look_from, offsets=moves, threads=trails(apart, moves, scale, look_from))
    else:
        seen = look(chosen, look_from)
    if seen.bounds is None:
        raise ValueError("nothing to see")
    placing = fitted(seen.bounds, room)
    pen = Pen()
    paint(pen, seen, placing, "step" if added and done else "picture", added if done else ())
    pen.lines("trail", ((placing.point(start), placing.point(end)) for _, start, end in seen.threads))
    lettered = set(added) if added else set(chosen.names)
    letters = _letters(pen, model, seen, placing, lettered, width, height)
    stuck = _stuck(model, chosen, apart, done, added) if apart is not None else ()
    return pen.drawing(width, height, says, letters=letters, shows=chosen.names), stuck


def _opened(model: Model, chosen: Solids, added: Collection[str]) -> Solids:
    """Without the doors and lids that hide what is added inside: they stand open."""
    hung = [model.part(use.on[0]) for use in model.hardware if use.item.kind == "hinge" and use.on]
    doors = {part.name for part in model.parts if any(part.name == one.name or (one.component and part.assembly == one.assembly) for one in hung)}
    inside = [name for name in added if name not in doors]
    if not inside or not doors & set(chosen.names):
        return chosen
    seen = shares(chosen, camera(USUAL))
    if all(seen.get(name, 0.0) > HIDDEN for name in inside):
        return chosen
    return chosen.only(name for name in chosen.names if name not in doors or name in added)


def _spread(apart: Apart, chosen: Solids, look_from: Camera, width: float, height: float) -> tuple[dict[str, Vector], float]:
    """How far parts move and the height that takes: more of it while the piece itself would be too small; no moves when all is too little."""
    closed = _reach(chosen, look_from, {})
    size = max(closed[2] - closed[0], closed[3] - closed[1])
    for more in TALLER:
        high = min(height * more, max(height, 1.05 * width))
        room = (ROOM, ROOM_OVER, width - ROOM, high - ROOM_OVER)
        gap = min(GAP, max(LEAST_GAP, 0.085 * min(width, high)))
        moves, placing = spread_with(apart, chosen, look_from, room, gap, 0.6 * min(width, high))
        if placing.scale * size >= SEEN:
            return moves, high
    if placing.scale * size >= BARELY_SEEN:
        return moves, high
    return {}, height


def _reach(chosen: Solids, look_from: Camera, moves: Mapping[str, Vector]) -> tuple[float, float, float, float]:
    """The box of the picture in plan inches, from the corners of the parts' boxes."""
    points = []
    for solid in chosen.parts:
        move = moves.get(solid.name, (0.0, 0.0, 0.0))
        for corner in product(*zip(solid.low, solid.high, strict=True)):
            points.append(look_from.project((corner[0] + move[0], corner[1] + move[1], corner[2] + move[2])))
    return min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points)


def _uses(model: Model, added: Collection[str]) -> tuple[tuple[str, ...], ...]:
    """The parts of each use of a component among the added ones."""
    uses: dict[tuple[str, ...], list[str]] = {}
    for name in added:
        part = model.part(name)
        if part.component:
            uses.setdefault(part.assembly, []).append(name)
    return tuple(tuple(names) for names in uses.values() if len(names) > 1)


def _stuck(model: Model, chosen: Solids, apart: Apart, done: Sequence[str], added: Collection[str]) -> tuple[str, ...]:
    """Added parts that are joined to the rest and have no straight way in.

    What only rests in the piece (a loose shelf) is tilted in; doors and drawers that hang in it are opened, so they block nobody.
    """
    links = [(j.acting, j.receiver) for j in model.joints if j.family != "on"]
    found = [name for group in apart.stuck for name in group if name in added]
    late: list[str] = []
    for name in found:
        frame = {other for pair in links if name in pair for other in pair if other in done}
        if not frame:
            continue
        while True:
            more = {other for pair in links for other in pair if set(pair) & frame and other in done} - frame
            if not more:
                break
            frame |= more
        core = chosen.only({*frame, name})
        again = come_apart(model, core, bodies(core, sorted(frame)))
        if any(name in group for group in again.stuck):
            late.append(name)
    return tuple(late)


def _one_of_many(model: Model, shown: Sequence[str], added: Collection[str]) -> tuple[Sequence[str], Collection[str]]:
    """When all uses of a component are built in one step (two drawers), one of them is shown, alone, as on the bench."""
    uses: dict[tuple[str, ...], list[str]] = {}
    for name in added:
        part = model.part(name)
        if not part.component:
            return shown, added
        uses.setdefault(part.assembly, []).append(name)
    if len(uses) < 2:
        return shown, added
    first = next(iter(uses.values()))
    if len(first) < 2:
        return shown, added
    return first, first


def side_by_side(model: Model, solids: Solids, names: Sequence[str], *, width: float, says: str = "") -> Drawing:
    """Parts that are worked on one by one: each kind once, at one scale, in rows, with its letter. Many kinds: the whole piece."""
    kinds: dict[str, str] = {}
    for name in names:
        kinds.setdefault(piece_of(model, name).kind, name)
    look_from = camera(USUAL)
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
            centre = (x + sizes[i][0] * scale / 2, y + balloons.RADIUS + 1.0)
            pen.circle(centre, balloons.RADIUS, "leader", "balloon")
            size = LARGE if text_width(part.letter, LARGE, "semibold") < 1.7 * balloons.RADIUS else SMALL
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


def _letters(pen: Pen, model: Model, seen: Seen, placing: Placing, names: Collection[str], width: float, height: float) -> tuple[str, ...]:
    wanted, _ = targets(model, seen, placing, names)
    silhouette = shapely.union_all([area_of(region, placing) for region in seen.regions])
    placed = balloons.place(wanted, silhouette, width, height)
    balloons.draw(pen, placed)
    return tuple(balloon.letter for balloon in placed)
