"""Step pictures: the piece as built so far, drawn back, with the added parts set off and moved out along their joints.

In: a model, its solids, the parts shown and those added. Out: a Drawing with the letters of the added parts, and what cannot be put
in. It must not know the notes or the numbers of steps.

The corner is the author's, else the usual one; the page turns only where another corner shows the added parts far better, so
that left stays left through a plan.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import shapely

from compiler.draw import balloons
from compiler.draw.exploded import as_sawn, come_apart, spread_with, targets, trails
from compiler.draw.paint import Placing, area_of, fitted, paint
from compiler.draw.pen import Pen
from compiler.draw.views import Seen, camera, look, shares
from compiler.solid.building import Solids
from compiler.solid.contacts import contacts
from compiler.values.figure import Drawing
from compiler.values.model import Model
from compiler.values.shapes import Vector

USUAL = "front right top"
CORNERS = (USUAL, "front left top", "back right top", "back left top")
FROM_BELOW = ("front right bottom", "front left bottom")
TURN_FOR = 0.3
FEW_UNITS = 14
GAP = 9.0
ROOM = 13.0


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
         says: str = "") -> tuple[Drawing, tuple[str, ...]]:
    """The picture, and the added parts that cannot be put in (nothing moves them out of what they touch)."""
    chosen = as_sawn(solids.only(shown))
    done = [name for name in chosen.names if name not in added]
    groups = bodies(chosen, done) if done else ()
    units = len(groups) + len(added)
    apart = come_apart(model, chosen, groups) if 1 < units <= FEW_UNITS and added else None
    corner = words or best_corner(chosen, chosen.names, added, None)
    look_from = camera(corner)
    moves: dict[str, Vector] = {}
    room = (ROOM, 2.0, width - ROOM, height - 2.0)
    if apart is not None:
        moves, placing = spread_with(apart, chosen, look_from, (ROOM, ROOM, width - ROOM, height - ROOM), GAP, 0.6 * min(width, height))
        if not words:
            turned = best_corner(chosen, chosen.names, added, moves)
            if turned != corner:
                look_from = camera(turned)
                moves, placing = spread_with(apart, chosen, look_from, (ROOM, ROOM, width - ROOM, height - ROOM), GAP, 0.6 * min(width, height))
        seen = look(chosen, look_from, offsets=moves, threads=trails(apart, moves, placing.scale, look_from))
    else:
        seen = look(chosen, look_from)
    if seen.bounds is None:
        raise ValueError("nothing to see")
    placing = fitted(seen.bounds, (room[0], ROOM, room[2], height - ROOM))
    pen = Pen()
    paint(pen, seen, placing, "step" if added and done else "picture", added if done else ())
    pen.lines("trail", ((placing.point(start), placing.point(end)) for _, start, end in seen.threads))
    lettered = set(added) if added else set(chosen.names)
    letters = _letters(pen, model, seen, placing, lettered, width, height)
    stuck = tuple(name for group in apart.stuck for name in group if name in added) if apart is not None else ()
    return pen.drawing(width, height, says, letters=letters, shows=chosen.names), stuck


def _letters(pen: Pen, model: Model, seen: Seen, placing: Placing, names: Collection[str], width: float, height: float) -> tuple[str, ...]:
    wanted, _ = targets(model, seen, placing, names)
    silhouette = shapely.union_all([area_of(region, placing) for region in seen.regions])
    placed = balloons.place(wanted, silhouette, width, height)
    balloons.draw(pen, placed)
    return tuple(balloon.letter for balloon in placed)
