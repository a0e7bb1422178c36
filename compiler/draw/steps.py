"""Step pictures: the piece as built so far, drawn back, with the added parts set off and moved out along their joints.

In: a model, its solids, the parts shown and those added. Out: a Drawing with the letters of the added parts, and what cannot be put
in. It must not know the notes or the numbers of steps.

The corner is the author's, else the usual one; the page turns only where another corner shows the added parts far better, so
that left stays left through a plan.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import product

import shapely

from compiler.draw import balloons, closer
from compiler.draw.apart import Apart, as_sawn, come_apart
from compiler.draw.bench import lying
from compiler.draw.cut_faces import piece_of
from compiler.draw.exploded import areas_of, spread_with, targets, trails
from compiler.draw.paint import fitted, paint
from compiler.draw.pen import Pen
from compiler.draw.views import Camera, Seen, camera, look, shares
from compiler.solid.building import Solids
from compiler.solid.contacts import contacts
from compiler.values.figure import Drawing
from compiler.values.model import Model
from compiler.values.shapes import Vector

USUAL = "front right top"
CORNERS = (USUAL, "front left top", "back right top", "back left top")
FROM_BELOW = ("front right bottom", "front left bottom")
EVERY = (*CORNERS, *FROM_BELOW, "back right bottom", "back left bottom")
TURN_FOR = 0.3
FEW_UNITS = 14
GAP = 9.0
LEAST_GAP = 4.5
ROOM = 13.0
ROOM_OVER = 11.6
HIDDEN = 0.05
"""A part of which less is seen counts as hidden."""
TALLER = (1.0, 1.25, 1.5, 1.8)
SECOND = 50.0
"""The height of a second picture (mm), for what the first one hides."""
LEAST_SEEN = 1.5
"""A letter needs so much of its part to point at (square mm)."""
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
    added_here = added if done else ()
    lettered = [name for name in chosen.names if not added or name in added]
    seen = _looked(chosen, look_from, moves, apart, (width, height))
    drawing, hidden = _drawn(model, seen, added_here, lettered, width, height, says)
    if hidden and added and not words:
        for other in EVERY:
            turned_seen = _looked(chosen, camera(other), moves, apart, (width, height))
            turned_drawing, still = _drawn(model, turned_seen, added_here, lettered, width, height, says)
            if not still:
                drawing, hidden = turned_drawing, ()
                break
    if hidden and added:
        drawing = _second(model, chosen, moves, apart, added_here, hidden, drawing)
    stuck = _stuck(model, chosen, apart, done, added) if apart is not None else ()
    return drawing, stuck


def _looked(chosen: Solids, look_from: Camera, moves: Mapping[str, Vector], apart: Apart | None, frame: tuple[float, float]) -> Seen:
    """What is seen, with trails where parts have moved."""
    if apart is None or not moves:
        seen = look(chosen, look_from)
    else:
        room = (ROOM, ROOM_OVER, frame[0] - ROOM, frame[1] - ROOM_OVER)
        scale = fitted(_reach(chosen, look_from, moves), room).scale
        seen = look(chosen, look_from, offsets=moves, threads=trails(apart, moves, scale, look_from))
    if seen.bounds is None:
        raise ValueError("Nothing is to be seen.")
    return seen


def _drawn(model: Model, seen: Seen, added: Collection[str], lettered: Collection[str], width: float, height: float,
           says: str) -> tuple[Drawing, tuple[str, ...]]:
    """The picture with its letters, closer where the added parts are small; and the parts of which too little is seen for a letter."""
    room = (ROOM, ROOM_OVER, width - ROOM, height - ROOM_OVER)
    window = closer.window_of(seen, added, room)
    shown = closer.within(seen, window) if window is not None else seen
    assert seen.bounds is not None
    placing = fitted(window or seen.bounds, room)
    pen = Pen()
    paint(pen, shown, placing, "step" if added else "picture", added)
    pen.lines("trail", ((placing.point(start), placing.point(end)) for _, start, end in shown.threads))
    areas = areas_of(shown, placing)
    wanted, missing = targets(model, areas, lettered)
    slight = {target.letter for target in wanted if target.own.area < LEAST_SEEN}
    wanted = [target for target in wanted if target.letter not in slight]
    silhouette = shapely.union_all(list(areas.values()))
    if window is not None:
        (left, low), (right, high) = placing.point(window[:2]), placing.point(window[2:])
        pen.line("leader", (left, low), (right, low), (right, high), (left, high), (left, low))
        silhouette = shapely.box(left, low, right, high)
    placed = balloons.place(wanted, silhouette, width, height)
    balloons.draw(pen, placed)
    drawing = pen.drawing(width, height, says, letters=tuple(balloon.letter for balloon in placed), shows=seen.names)
    if window is not None:
        drawing = closer.one_under_other(drawing, closer.key_of(seen, window, width))
    hidden = {*missing, *slight}
    return drawing, tuple(name for name in lettered if piece_of(model, name).letter in hidden)


def _second(model: Model, chosen: Solids, moves: Mapping[str, Vector], apart: Apart | None, added: Collection[str], hidden: Collection[str],
            first: Drawing) -> Drawing:
    """The first picture, and under it the corner that shows most of what the first one hides."""
    best: tuple[tuple[int, float], Seen] | None = None
    frame = (first.width, SECOND)
    for words in EVERY:
        seen = _looked(chosen, camera(words), moves, apart, frame)
        areas = {name: region.area for name in hidden if (region := seen.region(name)) is not None}
        worth = (len({piece_of(model, name).letter for name in areas}), sum(areas.values()))
        if best is None or worth > best[0]:
            best = (worth, seen)
    assert best is not None
    if not best[0][0]:
        return first
    second, _ = _drawn(model, best[1], added, hidden, *frame, "")
    return closer.one_under_other(first, second) if second.letters else first


def _opened(model: Model, chosen: Solids, added: Collection[str]) -> Solids:
    """Without the doors and lids that hide what is added inside: they stand open."""
    hung = [model.part(on[0]) for kind, _, on in model.hung if kind == "hinge" and on]
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
