"""Model and weights → how the piece stands, remarks on its fixing, hazards, and what the reader is told.

The centre of gravity is that of the parts' boxes, each with the weight of its solid; the footprint is that of parts that reach the floor. A piece that
is mounted to a wall does not stand. Doubtful is: a tip angle under 10 degrees (from memory of product standards), or a case 27 in and higher
without an anchor (height of the tip-over rule, SAF-09; bookcases are out of its scope, but fall as hard, SAF-16). No table or bench is held to
a wall.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    ZERO,
    Edition,
    Facts,
    Findings,
    Length,
    Model,
    Part,
    Settings,
    Volume,
    Weights,
    advice,
    ask,
    check,
    hazard,
    inch,
    task,
    warning,
)
from plugins.loads_and_movement.amounts import POUND, length, weight
from plugins.loads_and_movement.notes import UseNote

from .lifting import limit_for_piece
from .tipping import HIGH, drawer_volume, in_scope, pull_that_tips, tip_slope

ANCHOR = "anchor"
PINS = ("pin", "shelf support")
ON_WALL = "mount to wall"
SLOPE = Fraction(17633, 100000)
"""Tangent of 10 degrees."""
FLOOR = inch("1/8")


class StandingSettings(Settings):
    """What the piece is for, as far as it matters for tipping."""

    key = "standing"
    use: str = ask.word("any", "clothes: the rule on clothing storage is judged; any: only what is seen in the plan", of=("any", "clothes"))


@dataclass(frozen=True)
class Standing:
    """How a piece stands. `slope` is the tangent of its forward tip angle, None on a wall; `enclosed` is the volume of its drawers.

    `people` is how many lift it without its `loose` parts: drawers, doors, shelves on pins. Things are kept in a case, not in a table.
    """

    on_wall: bool
    anchored: bool
    height: Length
    depth: Length
    kilograms: Fraction
    slope: Fraction | None
    behind_front: Length
    enclosed: Volume
    loose: tuple[str, ...]
    people: int
    is_case: bool


@task
def standing(model: Model, weights: Weights) -> Standing:
    """Statics of the piece as drawn, empty."""
    heavy = dict(weights.parts)
    parts = [part for part in model.parts if heavy.get(part.name)]
    box, total = model.overall, weights.total
    on_wall = any(use.does == ON_WALL for use in model.operations)
    behind, slope = ZERO, None
    if parts and not on_wall:
        low = box.up.start
        front = min((part.box.deep.start for part in parts if part.box.up.start - low <= FLOOR), default=box.deep.start)
        back_of_front = Length(sum((_middle(part, "deep") * heavy[part.name] for part in parts), Fraction(0)) / total)
        up = Length(sum((_middle(part, "up") * heavy[part.name] for part in parts), Fraction(0)) / total) - low
        behind = back_of_front - front
        slope = tip_slope(behind, up)
    shallow = min(box.deep.size, box.across.size)
    loose = _loose(model)
    lifted = total - sum((heavy.get(name, Fraction(0)) for names in loose.values() for name in names), Fraction(0))
    people = -(-(lifted / POUND) // limit_for_piece(shallow))
    return Standing(on_wall=on_wall, anchored=any(use.item.kind == ANCHOR and not use.item.key.startswith("hollow") for use in model.hardware), height=box.up.size, depth=box.deep.size,
                    kilograms=total, slope=slope, behind_front=behind, enclosed=_enclosed(model), loose=tuple(word for word, names in loose.items() if names), people=max(people, 1), is_case=model.is_case)


def _middle(part: Part, axis: str) -> Fraction:
    span = part.box.deep if axis == "deep" else part.box.up
    return (span.start.inches + span.end.inches) / 2


def _loose(model: Model) -> dict[str, set[str]]:
    """What is taken out before it is lifted, in words of the trade with the parts: uses of drawers and doors, and what lies on pins."""
    found = {word: {part.name for part in model.parts if part.component.endswith(word)} for word in ("drawer", "door")}
    shelves = {use.on[0] for use in model.hardware if use.item.kind in PINS and use.on}
    mates: dict[str, set[str]] = {}
    for joint in model.joints:
        mates.setdefault(joint.acting, set()).add(joint.receiver)
        mates.setdefault(joint.receiver, set()).add(joint.acting)
    shelves |= {name for name, others in mates.items() if others <= shelves}
    return {"drawers": found["drawer"], "doors": found["door"], "loose shelves": shelves}


def _enclosed(model: Model) -> Volume:
    """Drawers: between their sides, front and back; what hinged doors close off is not reckoned, see the README."""
    total = Volume()
    uses: dict[tuple[str, ...], list[Part]] = {}
    for part in model.parts:
        if part.component and "drawer" in part.component:
            uses.setdefault(part.assembly, []).append(part)
    for parts in uses.values():
        sides = [part for part in parts if part.thickness_axis == "across"]
        bottoms = [part for part in parts if part.thickness_axis == "up"]
        if len(sides) >= 2 and bottoms:
            ordered = sorted(sides, key=lambda part: part.box.across.start)
            inside = ordered[-1].box.across.start - ordered[0].box.across.end
            height = max(side.box.up.end for side in sides) - min(bottom.box.up.end for bottom in bottoms)
            total += drawer_volume(height, inside, bottoms[0].box.deep.size)
    return total


@check
def tips_over(model: Model, edition: Edition, how: Standing, settings: StandingSettings) -> Findings:
    """A piece that tips too easily or is not held to the wall, and clothing storage by the measures of the rule."""
    if how.on_wall or how.slope is None:
        return
    if how.slope < SLOPE:
        yield hazard("tips easily", at=model)
        if not how.anchored:
            yield warning("Standing free, it tips at less than 10 degrees.", at=model,
                          hint="Give it a deeper stand or lower its weight, or hold it to the wall: {item: wall anchor, count: 2, on: …}.")
    elif how.is_case and how.height >= HIGH and not how.anchored:
        yield advice(f"It stands {length(how.height, edition)} high and nothing holds it to the wall.", at=model,
                      hint="Add {item: wall anchor, count: 2, on: …} to its hardware.")
    if settings.use == "clothes" and in_scope(how.height, how.kilograms, how.enclosed):
        yield hazard("clothing storage", at=model)


@task
def standing_notes(how: Standing, edition: Edition) -> tuple[UseNote, ...]:
    """Weight, hands, pull that tips it."""
    if not how.kilograms:
        return ()
    rows = [("Weight, empty", f"about {weight(how.kilograms, edition)}"), ("To lift it", _lift(how))]
    if how.slope is not None and how.height >= HIGH:
        pull = pull_that_tips(how.kilograms, how.behind_front, how.height)
        less = "; less with open drawers or a climbing child" if "drawers" in how.loose else "; less with a climbing child" if how.is_case else ""
        rows.append(("To tip it", f"empty and not fixed, a pull of about {weight(pull, edition)} at its upper edge{less}"))
    if how.anchored:
        rows.append(("Wall", "fix its anchors before you fill it; heavy things low"))
    return (UseNote("standing", "", (Facts(rows=tuple(rows)),)),)


def _lift(how: Standing) -> str:
    out = f", with {' and '.join((', '.join(how.loose[:-1]), how.loose[-1]) if len(how.loose) > 1 else how.loose)} out" if how.loose else ""
    if how.people <= 2:
        return f"{'one person can, close to the body' if how.people <= 1 else 'two people'}{out}"
    return f"{how.people} people or more, in parts, or on a dolly{out}"
