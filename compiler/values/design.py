"""The design of one edition: names resolved, lengths exact, copies expanded, components unfolded.

In: made by `check` from a Draft, the library and shop settings. Out: read by `assemble`, which gives letters and
makes the joints. Nothing here knows joint kinds: a joint is still a wish with its written parameters.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Angle, Length
from compiler.base.report import Spot
from compiler.base.showing import Units
from compiler.values.library import Item, Stock
from compiler.values.model import Assembly, Axis, Box, Edition, Face, PlanFacts, Trace
from compiler.values.shapes import Pose

Known = Length | Angle | Fraction | int | str


@dataclass(frozen=True, slots=True)
class Written:
    """A value as the maker wrote it: a text, a list of texts, or keys with texts; each with its place."""

    value: str | tuple[Written, ...] | tuple[tuple[str, Written], ...]
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What a size may name in one place of the plan: dotted names and their values, sorted by name.

    `id` is "" for the plan, the use's name (`left drawer`) for a component's use. `units` is the unit of bare numbers written
    in it, None for the plan's.
    """

    id: str
    values: tuple[tuple[str, Known], ...]
    units: Units | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingWish:
    """A working as written, mirrored already where the copy is: kind (`hole`), where (`right`, `top front`), parameters.

    `mirrored` are the axes this copy was mirrored on: places counted from left or right have been exchanged already.
    """

    kind: str
    where: tuple[str, ...]
    parameters: tuple[tuple[str, Written], ...]
    mirrored: tuple[Axis, ...] = ()
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignPart:
    """One piece, in its place. `base` is the name it is written under (`side`), `use` the component's use it stands in.

    `box` is the box as written. A level end of a tilted part lies beyond it: `reach` says by how much, along the part's own
    axis, to the far corner of the cut. `run_ends` are a run's ends: (face, `mitre` or `square`); the box reaches to long points.
    """

    name: str
    base: str
    kind: str
    assembly: tuple[str, ...]
    component: str = ""
    use: str = ""
    stock: Stock
    box: Box
    pose: Pose = Pose()
    level: tuple[str, ...] = ()
    reach: tuple[tuple[Face, Length], ...] = ()
    grain: Literal["across", "deep", "up", "any"]
    thickness_axis: Axis
    workings: tuple[WorkingWish, ...] = ()
    strips: int = 1
    band: tuple[tuple[str, str], ...] = ()
    hand: Literal["", "left", "right", "front", "back"] = ""
    mirrored: tuple[Axis, ...] = ()
    profile: str = ""
    run_ends: tuple[tuple[str, str], ...] = ()
    note: str = ""
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class JointWish:
    """A joint as written. `acting` and `receivers` hold one tuple of full part names per name that the maker wrote
    (a name means all its copies, an assembly all its parts), with the place of that name.
    """

    kind: str
    kind_at: Spot
    word: str
    word_at: Spot
    acting: tuple[tuple[tuple[str, ...], Spot], ...]
    receivers: tuple[tuple[tuple[str, ...], Spot], ...]
    parameters: tuple[tuple[str, Written], ...]
    scope: str
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareWish:
    """A piece of hardware as written, its item found. `parameters` are the remaining keys (count, per, on, from, to, at …),
    with the part names in them resolved in `names`.
    """

    item: Item
    names: tuple[tuple[str, tuple[str, ...]], ...]
    parameters: tuple[tuple[str, Written], ...]
    scope: str
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishWish:
    """A finish as written: kind, parts, coats, faces (none = all not covered)."""

    kind: str
    parts: tuple[tuple[str, ...], ...]
    coats: int
    faces: tuple[str, ...] = ()
    item: Item | None = None
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """All of it."""

    plan: PlanFacts
    edition: Edition
    parts: tuple[DesignPart, ...]
    assemblies: tuple[Assembly, ...]
    joints: tuple[JointWish, ...]
    hardware: tuple[HardwareWish, ...]
    finishes: tuple[FinishWish, ...]
    match: tuple[tuple[tuple[str, ...], Spot], ...]
    views: tuple[tuple[str, Written], ...]
    explode: tuple[tuple[str, Written], ...]
    scopes: tuple[Scope, ...]
    middles: tuple[tuple[str, Length], ...] = ()
    letters: tuple[tuple[str, str], ...] = ()
    letters_at: Spot | None = None
    items: tuple[Item, ...] = ()
    stocks: tuple[Stock, ...] = ()
    traces: tuple[Trace, ...] = ()
