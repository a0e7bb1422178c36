"""Model and the shop's humidity → the movement of every solid part, and remarks where it has no room.

Rule: width across the grain times the wood's coefficient times the change of moisture content between the dry and the damp season
(Wood Handbook FPL-GTR-190, equation 13-2, coefficients of Table 13-5). The shop's `humidity: 30 to 60` gives the seasons; without
it these two figures stand (usual indoors, common practice). Held over more than moves by 3/32 in or 2.5 mm, wood can split (common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    ZERO,
    Edition,
    Findings,
    JointUse,
    Length,
    Model,
    Part,
    Settings,
    Shop,
    advice,
    ask,
    check,
    task,
    warning,
)
from plugins.loads_and_movement.amounts import length

from .holding import holding
from .moisture import change, equilibrium, within_range

INDOORS = (Fraction(30), Fraction(60))


class MovementSettings(Settings):
    """How boards are sawn, how warm it is, and what a fixed joint can take."""

    key = "seasonal movement"
    sawn: str = ask.word("flat", "flat-sawn boards move most, quarter-sawn least", of=("flat", "quarter"))
    celsius: Fraction = ask.ratio("21", "room temperature in degrees Celsius", least="4", most="40")
    taken_up: Length = ask.size("3/32", "movement that a glued or fastened joint takes up", metric="2.5", least="0", most="1/2")
    told_from: Length = ask.size("1/16", "smaller movements are not told to the reader", metric="1.5", least="0", most="1")


@dataclass(frozen=True)
class Give:
    """Fasteners that let wood move: their kind, the part with slots for them ("" when they give by themselves), the hole they need."""

    kind: str
    slotted: str
    hole: Length


@dataclass(frozen=True)
class Movement:
    """One kind of solid part: how wide it is across the grain and how much wider in the damp season than in the dry.

    `held` is the width that it is held over, `held_moves` what moves in it; `room` is that of its grooves, both sides. `gives` are slots
    and buttons, `reach_moves` what moves at the farthest of them from where the part is held (from its middle, when nowhere).
    """

    part: str
    letter: str
    name: str
    width: Length
    moves: Length
    held: Length
    held_moves: Length
    room: Length | None
    glued_groove: bool
    gives: tuple[Give, ...]
    reach_moves: Length


@dataclass(frozen=True)
class Movements:
    """All kinds of solid parts in plan order, with the moisture content of the dry and of the damp season in per cent.

    `unknown` are woods that the library knows no movement of; `valid` tells whether both seasons lie where the equation holds.
    """

    rows: tuple[Movement, ...]
    dry: Fraction
    damp: Fraction
    humidity: tuple[Fraction, Fraction]
    valid: bool
    unknown: tuple[str, ...]


@task
def movements(model: Model, shop: Shop, settings: MovementSettings) -> Movements:
    """The movement of every kind of solid part."""
    humidity = shop.humidity or INDOORS
    dry, damp = (equilibrium(one, settings.celsius) for one in humidity)
    parts = {part.name: part for part in model.parts}
    joints: dict[str, list[JointUse]] = {}
    for joint in model.joints:
        for name in (joint.acting, joint.receiver):
            joints.setdefault(name, []).append(joint)
    rows: dict[str, Movement] = {}
    unknown: dict[str, None] = {}
    for part in model.parts:
        if part.stock.kind == "sheet" or part.grain == "any" or not part.pose.square:
            continue
        wood = part.stock.species
        coefficient = (wood.radial if settings.sawn == "quarter" else wood.tangential) if wood is not None else None
        if coefficient is None:
            unknown[wood.name if wood is not None else part.stock.name] = None
            continue
        row = _movement(part, joints.get(part.name, []), parts, coefficient, dry, damp)
        if part.kind not in rows or row.held_moves > rows[part.kind].held_moves:
            rows[part.kind] = row
    return Movements(tuple(rows.values()), dry, damp, humidity, within_range(dry, damp), tuple(unknown))


def _movement(part: Part, joints: list[JointUse], parts: dict[str, Part], coefficient: Fraction, dry: Fraction, damp: Fraction) -> Movement:
    how = holding(part, joints, parts)
    span = part.box.span(part.width_axis)
    fixed = how.held or ((span.start + span.end) / 2,) * 2
    axis = ("across", "deep", "up").index(part.width_axis)
    reach = max((max(fixed[0] - point[axis], point[axis] - fixed[1]) for joint in how.gives for use in joint.fasteners for point in use.entry),
                default=ZERO)
    held = fixed[1] - fixed[0]
    gives = tuple(dict.fromkeys(Give(use.item.kind, parts[use.slotted].kind if use.slotted in parts else "",
                                     use.item.measure("clearance hole") or use.item.measure("diameter") or ZERO)
                                for joint in how.gives for use in joint.fasteners))
    return Movement(part=part.name, letter=part.letter, name=part.kind, width=part.width, moves=change(part.width, coefficient, dry, damp), held=held,
                    held_moves=change(held, coefficient, dry, damp), room=how.room, glued_groove=how.glued_groove, gives=gives,
                    reach_moves=change(max(reach, ZERO), coefficient, dry, damp))


@check
def held_across(model: Model, edition: Edition, found: Movements, settings: MovementSettings) -> Findings:
    """Wood that is held across its grain, or a panel without room in its groove."""
    for row in found.rows:
        part = model.part(row.part)
        if row.held_moves > settings.taken_up:
            yield warning(
                f"`{row.name}` is held over {length(row.held, edition)} of its width, which moves {length(row.held_moves, edition)} with the"
                f" seasons: it can split, or push what holds it apart.", at=part,
                hint="Fix it along one line only; slot the other holes (slotted: …), or use buttons.")
        if row.room is not None and row.glued_groove and row.moves > settings.taken_up:
            yield warning(f"`{row.name}` is glued into its grooves and moves {length(row.moves, edition)} with the seasons.", at=part,
                          hint="Write glue: no for its groove, and room for it to move.")
        elif row.room is not None and row.moves > row.room:
            yield advice(f"`{row.name}` moves {length(row.moves, edition)} with the seasons; its grooves leave {length(row.room, edition)}.", at=part,
                         hint="Write more room for its groove, or tell in the step in which season to fit it tight.")
    if not found.valid and found.rows:
        yield advice(f"Wood goes from {float(found.dry):.1f} to {float(found.damp):.1f} % of moisture content here; the equation holds from 6 to 14 %,"
                     " so that its movement is an estimate outside its range.", at=model)
    for name in found.unknown:
        wide = [part for part in model.parts if part.stock.species is not None and part.stock.species.name == name and part.width > part.thickness * 6]
        if wide:
            yield advice(f"The library knows no movement of {name}: `{wide[0].kind}` is not reckoned.", at=wide[0])
