"""A plan's rules: each part, size and group as written, its spoken texts read, nothing worked out.

In: made by `ruling` from trees. Out: read by everything else in `check`. Frozen; knows no library and no lengths.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from compiler.base.report import Spot
from compiler.base.showing import Units
from compiler.language import Want
from compiler.language.trees import Copies, Extent, Thing, Tilt
from compiler.values.draft import Mapping
from compiler.values.model import Axis


@dataclass(frozen=True, slots=True)
class Sized:
    """A size as written, its place, and the unit of its bare numbers (None: the plan's)."""

    text: str
    at: Spot
    units: Units | None = None


@dataclass(frozen=True, slots=True)
class Spoken[T]:
    """A spoken text that was read."""

    tree: T
    sized: Sized

    @property
    def at(self) -> Spot:
        """Its place."""
        return self.sized.at


@dataclass(frozen=True, slots=True)
class RunRule:
    """Pieces wrapped round a group: the faces, and the names of what is wrapped."""

    faces: tuple[tuple[str, Spot], ...]
    of: tuple[tuple[Thing, Spot], ...]
    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRule:
    """A part, a use of a component, or a run, as written."""

    name: str
    at: Spot
    assembly: tuple[str, ...] = ()
    stock: tuple[str, Spot] | None = None
    extents: dict[Axis, Spoken[Extent]] = field(default_factory=dict)
    copies: Spoken[Copies] | None = None
    component: tuple[str, Spot] | None = None
    given: tuple[tuple[str, Sized], ...] = ()
    run: RunRule | None = None
    grain: tuple[str, Spot] | None = None
    plane: tuple[str, Spot] | None = None
    tilts: tuple[Spoken[Tilt], ...] = ()
    level: tuple[tuple[str, Spot], ...] = ()
    workings: tuple[tuple[Mapping, Spot], ...] = ()
    band: tuple[tuple[str, Spot, tuple[tuple[str, Spot], ...]], ...] = ()
    strips: tuple[str, Spot] | None = None
    profile: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyRule:
    """A group: its name, its path (itself last), and the parts written in it."""

    name: str
    path: tuple[str, ...]
    parts: tuple[str, ...]
    at: Spot


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry of a list, not yet judged: its keys and its place."""

    node: Mapping
    at: Spot


@dataclass(frozen=True, slots=True)
class Limits:
    """What a size of a plugin's component may be: its kind, what it is, and its limits as sizes of the component ("" for none)."""

    want: Want
    says: str
    least: str = ""
    most: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeRules:
    """Everything that one set of names is for: the plan's, or a component's. `units` is that of bare numbers, None for the plan's."""

    name: str = ""
    sizes: dict[str, Sized] = field(default_factory=dict)
    numbers: dict[str, Sized] = field(default_factory=dict)
    middle: dict[Axis, Sized] = field(default_factory=dict)
    materials: dict[str, Sized] = field(default_factory=dict)
    parts: dict[str, PartRule] = field(default_factory=dict)
    assemblies: dict[str, AssemblyRule] = field(default_factory=dict)
    joints: tuple[Entry, ...] = ()
    hardware: tuple[Entry, ...] = ()
    faulty: set[str] = field(default_factory=set)
    limits: dict[str, Limits] = field(default_factory=dict)
    units: Units | None = None
    at: Spot
