"""How far apart the author wants parts in an exploded drawing: `explode: {top: up 6, drawer: front}`.

In: the entries of `explode` in the plan's scope. Out: names with a direction and, where one is written, a distance in inches.
Errors at their place: a part that isn't there, a direction that is none, a distance that is none.
"""

from __future__ import annotations

from compiler.base.measures import ZERO, Length
from compiler.base.report import Spot
from compiler.language import Unsolved, did_you_mean, house_spelling
from compiler.stages.check.keys import mapping, text
from compiler.stages.check.rules import Sized
from compiler.stages.check.scope import Scope
from compiler.stages.check.wishes import Wishes
from compiler.values.design import Written
from compiler.values.draft import Node

DIRECTIONS = ("up", "down", "left", "right", "front", "back")


def explosion(plan: Scope, node: Node | None, at: Spot) -> tuple[tuple[str, Written], ...]:
    """The author's directions: `up`, or `up 13/2` where the distance is in inches whatever the plan's units are."""
    group = mapping(node, "explode", at, plan.work.findings)
    found: list[tuple[str, Written]] = []
    for key, value in group.entries if group else ():
        spot = at.key(key.text)
        name = house_spelling(key.text)
        parts = Wishes(plan).named(name, Spot(spot.file, spot.path, on_key=True))
        words = text(value, key.text, spot, plan.work.findings)
        way = _way(plan, words.text, spot) if words is not None else None
        if parts and way is not None:
            found.append((name, Written(way, spot)))
    return tuple(found)


def _way(plan: Scope, words: str, at: Spot) -> str | None:
    first, _, rest = words.strip().partition(" ")
    direction = "front" if first == "forward" else first
    if direction not in DIRECTIONS:
        near = did_you_mean(first, DIRECTIONS)
        plan.work.findings.error("no-direction", f"`{first}` is no direction to move a part in.", at.within(0, len(first)),
                                 f"Did you mean {near}?" if near else f"Write {', '.join(DIRECTIONS[:-1])} or {DIRECTIONS[-1]}, and how far: up 6.")
        return None
    if not rest.strip():
        return direction
    start = words.index(rest)
    try:
        distance = plan.work.value(Sized(rest, at.within(start)), plan.lookup(), "length")
    except Unsolved:
        return None
    if not isinstance(distance, Length) or distance <= ZERO:
        plan.work.findings.error("no-distance", f"A part can't be moved {direction} by {rest.strip()}.", at.within(start),
                                 "Write a distance more than nothing, or the opposite direction.")
        return None
    return f"{direction} {distance.inches}"
