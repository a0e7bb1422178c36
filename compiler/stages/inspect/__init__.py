"""Model and solids → what can only be seen once every part is a solid.

In: a model and the fine solids of its parts and loose pieces. Out: a report: solids that are broken, parts that run into each
other, parts that float, joints whose parts don't meet, fasteners that come out or bite too little. This stage must not know
plan files, pages or plugins.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from compiler.base.report import Diagnostic, Report, Spot
from compiler.stages.inspect.telling import Telling
from compiler.stages.inspect.viewing import judge_views
from compiler.values.model import Model

if TYPE_CHECKING:
    from compiler.solid import Solids

__all__ = ["besides", "inspect", "judge_views"]


def inspect(model: Model, solids: Solids) -> Report:
    """What is wrong with the solids, each fault at its place in the design."""
    # The kernel is loaded only when there is something to inspect: most checks find their result kept.
    from compiler.stages.inspect.driving import judge_fasteners
    from compiler.stages.inspect.soundness import judge_solids
    from compiler.stages.inspect.standing import judge_standing

    telling = Telling(model.edition.units)
    broken = judge_solids(model, solids, telling)
    sound = solids.only(name for name in solids.names if name not in broken)
    judge_standing(model, sound, telling, whole=not broken)
    judge_fasteners(model, sound, telling)
    return telling.report()


def besides(found: Report, told: Report) -> Report:
    """What was found beside what is told already: a fault at a place that has an error is that error's consequence."""
    return Report(tuple(fault for fault in found if not any(_follows(fault, error) for error in told.errors)))


def _follows(fault: Diagnostic, error: Diagnostic) -> bool:
    # What touches nothing on its faces may still run right through another part.
    if fault.code == "collision" and error.code == "floating":
        return False
    return any(_same(spot, place) for spot in _places(error) for place in _places(fault))


def _places(fault: Diagnostic) -> tuple[Spot, ...]:
    return tuple(spot for spot in (fault.at, *fault.also) if spot is not None)


def _same(one: Spot, two: Spot) -> bool:
    """The same entry of the design: one place holds the other."""
    shorter, longer = sorted((one.path, two.path), key=len)
    return one.file == two.file and bool(shorter) and longer[: len(shorter)] == shorter
