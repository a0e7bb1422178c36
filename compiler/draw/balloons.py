"""Balloons: ringed letters round a picture, each with one straight leader to its part.

In: for each letter the areas in which its leader may end, the picture's silhouette and the frame. Out: a place for each
balloon, leaders that cross neither each other nor a balloon. It must not know parts, views or themes. Millimetres on paper.

Method: slots on a ring round the silhouette, a linear assignment of letters to slots by leader length and by the way
over other parts. By length alone no two leaders of a best assignment cross, since swapping them would shorten both
together; where the second term makes two cross they are swapped, and the sum of lengths falls, so that it ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Literal

import numpy as np
import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from compiler.draw import assigning
from compiler.draw.assigning import assignment, cross
from compiler.draw.balloon_slots import RADIUS, rings_round, slots_on
from compiler.draw.inside import Inside
from compiler.draw.lettering import LARGE, SMALL, letter, text_width
from compiler.draw.pen import Pen
from compiler.draw.rectangles import Rect, distance, holds, meets, passes
from compiler.values import figure

ROOM = 17.0
ROOM_OF_SMALL = 13.5
PHASES = 4
OVER_FRAME = 1.2
"""How far a quantity may stand over the frame's foot or head: pictures with balloons are cropped to their marks (mm)."""
OVER_OTHERS = 0.7
NEAREST = 16
THROUGH_TAKEN = 60.0
"""What a leader through room that is taken costs, in mm of its length."""
COUNT_OFF = 1.0
COUNT_CLEAR = 2.6
"""How far a quantity keeps off the balloons of other letters (mm), so that it is read with its own."""

CountSide = Literal["below", "above", "right", "left"]


@dataclass(frozen=True, slots=True)
class Target:
    """A letter to be shown: where its leader may end, and what of the picture is its own."""

    letter: str
    spots: BaseGeometry
    own: BaseGeometry
    count: int = 1


@dataclass(frozen=True, slots=True)
class Balloon:
    """A placed balloon; `anchor` is the dot at the leader's end, `count_side` tells where ×n stands."""

    letter: str
    centre: figure.Point
    anchor: figure.Point
    count: int = 1
    count_side: CountSide = "below"

    @property
    def leader(self) -> tuple[figure.Point, figure.Point]:
        """From the dot to the ring."""
        (ax, ay), (cx, cy) = self.anchor, self.centre
        distance = hypot(ax - cx, ay - cy)
        share = RADIUS / distance if distance else 0.0
        return self.anchor, (cx + (ax - cx) * share, cy + (ay - cy) * share)


def place(targets: Sequence[Target], silhouette: BaseGeometry, width: float, height: float,
          taken: Sequence[BaseGeometry] = ()) -> tuple[Balloon, ...]:
    """A balloon for each target, in the targets' order. `taken` is room that no balloon may have.

    The frame is `width` by `height`; keep ROOM of it free round the picture.
    """
    if not targets:
        return ()
    best: tuple[tuple[int, float], tuple[Balloon, ...]] | None = None
    rings = rings_round(silhouette, width, height)
    others = [Inside(silhouette.difference(target.own.buffer(0.05))) for target in targets]
    shapely.prepare(silhouette)
    frame = (0.3, 0.3, width - 0.3, height - 0.3)
    for phase in range(PHASES):
        slots = slots_on(rings, phase / PHASES, taken, len(targets))
        if len(slots) < len(targets):
            continue
        balloons = _assigned(targets, others, silhouette, slots, taken, frame)
        faults = _faults(balloons)
        length = sum(hypot(b.anchor[0] - b.centre[0], b.anchor[1] - b.centre[1]) for b in balloons)
        if best is None or (faults, length) < best[0]:
            best = ((faults, length), balloons)
    return best[1] if best else ()


def draw(pen: Pen, balloons: Sequence[Balloon]) -> None:
    """Leaders with their dots, then rings with letters, then quantities."""
    for balloon in balloons:
        pen.line("leader", *balloon.leader)
    for balloon in balloons:
        pen.dot(balloon.anchor)
    for balloon in balloons:
        x, y = balloon.centre
        pen.circle(balloon.centre, RADIUS, "leader", "balloon")
        size = LARGE if text_width(balloon.letter, LARGE, "semibold") < 1.7 * RADIUS else SMALL
        pen.letter(letter((x, y - size / 2), balloon.letter, size=size, anchor="middle", weight="semibold", role="balloon"))
        if balloon.count > 1:
            pen.letter(letter(_count_at(balloon), f"×{balloon.count}", anchor="middle", role="label"))


def _count_at(balloon: Balloon) -> figure.Point:
    """The middle of the quantity, on its baseline."""
    x, y = balloon.centre
    aside = RADIUS + COUNT_OFF + text_width(f"×{balloon.count}", SMALL) / 2
    return {"below": (x, y - RADIUS - COUNT_OFF - SMALL), "above": (x, y + RADIUS + COUNT_OFF), "right": (x + aside, y - SMALL / 2),
            "left": (x - aside, y - SMALL / 2)}[balloon.count_side]


def _assigned(targets: Sequence[Target], others: Sequence[Inside], silhouette: BaseGeometry, slots: list[figure.Point],
              taken: Sequence[BaseGeometry], frame: Rect) -> tuple[Balloon, ...]:
    """A balloon for each target in one of the slots. `others` is what of the picture is not a target's own."""
    anchors: list[list[figure.Point]] = []
    costs: list[list[float]] = []
    points, places = shapely.points(slots), np.array(slots)
    for target, other in zip(targets, others, strict=True):
        ways = shapely.shortest_line(target.spots, points)
        ends = shapely.get_coordinates(ways)[::2]
        row_anchors: list[figure.Point] = [(x, y) for x, y in ends.tolist()]
        lengths = [hypot(a[0] - s[0], a[1] - s[1]) for a, s in zip(row_anchors, slots, strict=True)]
        near = sorted(range(len(slots)), key=lambda i: (lengths[i], i))[:NEAREST]
        over = dict(zip(near, other.lengths(ends[near], places[near]).tolist(), strict=True))
        row = [length + OVER_OTHERS * over.get(i, length) for i, length in enumerate(lengths)]
        for area in taken:
            if not area.intersects(target.spots):
                row = [cost + THROUGH_TAKEN * met for cost, met in zip(row, shapely.intersects(ways, area).tolist(), strict=True)]
        anchors.append(row_anchors)
        costs.append(row)
    chosen = assignment(costs)
    for _ in range(4):
        _uncross(chosen, anchors, slots)
        hits = _through_balloons(chosen, anchors, slots)
        if not hits:
            break
        for index in hits:
            costs[index][chosen[index]] += 400.0
        chosen = assignment(costs)
    _uncross(chosen, anchors, slots)
    placed = [Balloon(t.letter, slots[s], anchors[i][s], t.count) for i, (t, s) in enumerate(zip(targets, chosen, strict=True))]
    for index, balloon in enumerate(placed):
        placed[index] = _with_count(balloon, placed, placed[:index], frame, silhouette)
    return tuple(placed)


def _count_room(balloon: Balloon) -> Rect:
    x, y = _count_at(balloon)
    half = text_width(f"×{balloon.count}", SMALL) / 2 + 0.3
    return x - half, y - 0.3, x + half, y + SMALL + 0.3


def _with_count(balloon: Balloon, placed: list[Balloon], settled: list[Balloon], frame: Rect, silhouette: BaseGeometry) -> Balloon:
    """The quantity stands below, or above when the leader goes down; else where it is free: off the picture, and off other letters."""
    if balloon.count < 2:
        return balloon
    upright: tuple[CountSide, ...] = ("below", "above") if balloon.anchor[1] >= balloon.centre[1] else ("above", "below")
    left, low, right, high = frame
    higher = (left, low - OVER_FRAME, right, high + OVER_FRAME)

    def cost(option: Balloon) -> float:
        room = _count_room(option)
        doubtful = any(other.letter != balloon.letter and distance(room, other.centre) < RADIUS + COUNT_CLEAR for other in placed)
        outside = 0 if holds(frame, room) else 1 if holds(higher, room) else 8
        near = bool(shapely.dwithin(silhouette, box(*room), COUNT_OFF))
        return 8 * _hits_of_count(option, placed, settled) + outside + 4 * near + 2 * doubtful

    return min((replace(balloon, count_side=side) for side in (*upright, "right", "left")), key=cost)


def _hits_of_count(balloon: Balloon, placed: Sequence[Balloon], settled: Sequence[Balloon]) -> int:
    """How many leaders, balloons and settled quantities a balloon's own quantity would meet."""
    room = _count_room(balloon)
    found = sum(1 for other in settled if other.count > 1 and meets(room, _count_room(other)))
    for other in placed:
        found += other.letter != balloon.letter and distance(room, other.centre) < RADIUS
        found += passes(*other.leader, room)
    return found


def _uncross(chosen: list[int], anchors: list[list[figure.Point]], slots: list[figure.Point]) -> None:
    again = True
    rounds = 0
    while again and rounds < 200:
        again = False
        rounds += 1
        for i in range(len(chosen)):
            for j in range(i):
                a, b = chosen[i], chosen[j]
                if cross((anchors[i][a], slots[a]), (anchors[j][b], slots[b])):
                    chosen[i], chosen[j] = b, a
                    again = True


def _through_balloons(chosen: list[int], anchors: list[list[figure.Point]], slots: list[figure.Point]) -> list[int]:
    hits = []
    for i, slot in enumerate(chosen):
        line = (anchors[i][slot], slots[slot])
        if any(j != i and assigning.distance(line, slots[other]) < RADIUS + 0.4 for j, other in enumerate(chosen)):
            hits.append(i)
    return hits


def _faults(balloons: tuple[Balloon, ...]) -> int:
    count = 0
    for i, one in enumerate(balloons):
        for other in balloons[:i]:
            count += cross((one.anchor, one.centre), (other.anchor, other.centre))
            for a, b in ((one, other), (other, one)):
                count += assigning.distance(a.leader, b.centre) < RADIUS
        if one.count > 1:
            count += _hits_of_count(one, balloons, balloons[:i])
    return count
