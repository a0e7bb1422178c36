"""The solids of a model under watch: who looks at a solid has read its part, who asks where parts stand only the answer.

In: a model under watch, with its parts' twins. Out: Solids for the drawings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from compiler import solid
from compiler.solid.building import Solids
from compiler.store.watching import Watched
from compiler.values.model import Model, Part
from compiler.values.shapes import Vector


def built(model: Model) -> Solids:
    """The coarse solids of all parts and pieces."""
    return solid.build((*model.parts, *model.pieces), quality="coarse")


def solids_of(model: Watched, twins: dict[str, tuple[Part, ...]]) -> Solids:
    """Every solid, each under watch as its part is; the kernel itself is given the plain parts."""
    plain = iter(built(model.plain).parts)
    return _Asked("coarse", tuple(
        model.made_of(f"{home}/{twin.name}", next(plain), part=twin) for home, of_home in twins.items() for twin in of_home
    ), model)


@dataclass(frozen=True)
class _Asked(Solids):
    """Solids of which the places are asked, not looked up."""

    model: Watched

    def near(self, low: Vector, high: Vector) -> tuple[str, ...]:
        return cast("tuple[str, ...]", self.model.ask("near", low, high))

    def side(self, point: Vector, direction: Vector) -> float:
        return cast("float", self.model.ask("side", point, direction))
