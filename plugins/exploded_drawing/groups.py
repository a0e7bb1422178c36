"""Which sub-assemblies get a picture of their own.

In: the model. Out: for each, its name and the parts shown. Of equal ones (two drawers, two trestles) one stands for all.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from compiler.api import Assembly, Model

MANY = 14
"""A piece with fewer parts shows its groups in the whole view; only doors and drawers need their own."""


@dataclass(frozen=True)
class Shown:
    """A sub-assembly to draw."""

    name: str
    parts: tuple[str, ...]
    number: int = 1


def sub_assemblies(model: Model) -> tuple[Shown, ...]:
    """Sub-assemblies with a joint inside, each sort once, in plan order."""
    found: dict[object, Shown] = {}
    for group in model.assemblies:
        members = _members(model, group)
        if not group.component and len(model.parts) < MANY:
            continue
        inner = {other.path for other in model.assemblies if other.component and len(other.path) > len(group.path)
                 and other.path[: len(group.path)] == group.path}
        own = tuple(name for name in members if not any(model.part(name).assembly[: len(path)] == path for path in inner))
        bodies = _bodies(model, own if len(own) > 1 else members)
        if all(len(body) == 1 for body in bodies):
            continue
        parts = tuple(name for body in bodies for name in body)
        if not 1 < len(parts) < len(model.parts):
            continue
        kinds = frozenset(Counter(model.part(name).kind for name in parts).items())
        title = group.component or group.name
        if kinds in found:
            found[kinds] = Shown(title, found[kinds].parts, found[kinds].number + 1)
        else:
            found[kinds] = Shown(title, parts)
    return tuple(found.values())


def _members(model: Model, group: Assembly) -> tuple[str, ...]:
    return tuple(part.name for part in model.parts if part.assembly[: len(group.path)] == group.path)


def _bodies(model: Model, names: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """The parts that joints hold together, one body of each sort."""
    root = {name: name for name in names}

    def find(name: str) -> str:
        while root[name] != name:
            name = root[name]
        return name

    for joint in model.joints:
        if joint.acting in root and joint.receiver in root:
            root[find(joint.acting)] = find(joint.receiver)
    bodies: dict[str, list[str]] = {}
    for name in names:
        bodies.setdefault(find(name), []).append(name)
    sorts: dict[object, tuple[str, ...]] = {}
    for body in bodies.values():
        sorts.setdefault(frozenset(Counter(model.part(name).kind for name in body).items()), tuple(body))
    return tuple(sorts.values())
