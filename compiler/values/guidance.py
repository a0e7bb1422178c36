"""Products that guide the reader through the work: cautions, tools, and the pictures of the steps.

In: made by bundled plugins from the model, the notes and the library. Out: read by the sections that print them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.base.showing import Units
from compiler.values.document import Signal
from compiler.values.figure import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class StepCautions:
    """The signals printed before one step, named by its heading."""

    step: str
    signals: tuple[Signal, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautions:
    """Every caution that the plan asks for: before its step, or (when no step does it) at the front.

    `notice` says that codes and licensed practice come first; `protection` is what to wear, in sentences;
    `placing` are those about moving, fixing and using the finished piece.
    """

    notice: str
    protection: tuple[str, ...] = ()
    general: tuple[Signal, ...] = ()
    placing: tuple[Signal, ...] = ()
    steps: tuple[StepCautions, ...] = ()

    def before(self, step: str) -> tuple[Signal, ...]:
        """The signals of one step, by its heading."""
        return next((entry.signals for entry in self.steps if entry.step == step), ())


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolNeed:
    """One tool, or the first of several that do the same; `steps` are the headings of steps that use it."""

    name: str
    others: tuple[str, ...] = ()
    kind: str = ""
    steps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolList:
    """Tools by need: `must` can't be done without, `good` make the work easier."""

    must: tuple[ToolNeed, ...] = ()
    good: tuple[ToolNeed, ...] = ()

    def of_step(self, step: str) -> tuple[str, ...]:
        """The tools that one step uses."""
        return tuple(need.name for need in self.must if step in need.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPictures:
    """One picture a step, by its heading; a step without one is not in it."""

    pictures: tuple[tuple[str, Drawing], ...] = ()

    def of(self, step: str) -> Drawing | None:
        """The picture of a step."""
        return dict(self.pictures).get(step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """Weight of each part and of the whole piece, in kilograms, finished; `unknown` names stock without a density."""

    parts: tuple[tuple[str, Fraction], ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def total(self) -> Fraction:
        """The whole piece."""
        return sum((weight for _, weight in self.parts), Fraction(0))

    def shown(self, units: Units) -> str:
        """Rounded to five pounds or two kilograms: wood varies by more than that."""
        if units == "inch":
            pounds = self.total / POUND
            return f"{max(int((pounds + Fraction(5, 2)) // 5 * 5), 1)} lb"
        return f"{max(int((self.total + 1) // 2 * 2), 1)} kg"


POUND = Fraction(45359237, 100_000_000)
"""Kilograms in a pound, exact by the international agreement of 1959."""
