"""What a plugin finds: faults, remarks and hazards, with the thing they are about instead of a place in a file.

In: a sentence, and a part, a joint, an entry or the model. Out: `Finding` and `Hazard`, which the stages turn into
diagnostics and cautions. A plugin yields them; it never raises.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol

from compiler.base.measures import Length
from compiler.base.report import Severity, Spot
from compiler.values.model import Model


class Placed(Protocol):
    """Anything that knows where it is written: a part, a joint, a piece of hardware."""

    @property
    def at(self) -> Spot | None: ...


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault or remark. `key` is a key below the place: `depth`, `edge distance`. `lengths` go into the `{}` of `says`."""

    severity: Severity
    says: str
    at: Spot | None = None
    key: str = ""
    hint: str = ""
    lengths: tuple[Length, ...] = ()

    def __post_init__(self) -> None:
        if self.lengths and self.says.count("{}") != len(self.lengths):
            raise ValueError(f"{len(self.lengths)} lengths for {self.says.count('{}')} places {{}} in “{self.says}”")

    def sentence(self, show: Callable[[Length], str]) -> str:
        """What it says, its lengths as `show` writes them."""
        return self.says.format(*map(show, self.lengths)) if self.lengths else self.says


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard of the finished piece or of its making that safety rules answer: `tip-over`, `heavy`."""

    name: str
    at: Spot | None = None


Findings = Iterator[Finding | Hazard]
"""What checks and a joint's `check` give: they `yield` errors, warnings, advice and hazards."""


def error(says: str, *, at: Placed | Model | Spot | None = None, key: str = "", hint: str = "", lengths: tuple[Length, ...] = ()) -> Finding:
    """A fault that stops the edition. `lengths` are written into the `{}` of the sentence, in the unit of the edition."""
    return Finding(Severity.ERROR, says, _spot(at), key, hint, lengths)


def warning(says: str, *, at: Placed | Model | Spot | None = None, key: str = "", hint: str = "", lengths: tuple[Length, ...] = ()) -> Finding:
    """A fault that does not stop the edition."""
    return Finding(Severity.WARNING, says, _spot(at), key, hint, lengths)


def advice(says: str, *, at: Placed | Model | Spot | None = None, key: str = "", hint: str = "", lengths: tuple[Length, ...] = ()) -> Finding:
    """A remark."""
    return Finding(Severity.ADVICE, says, _spot(at), key, hint, lengths)


def hazard(name: str, *, at: Placed | Model | Spot | None = None) -> Hazard:
    """A hazard: safety rules of this name answer it; one that no rule answers is a warning."""
    return Hazard(name, _spot(at))


def _spot(thing: Placed | Model | Spot | None) -> Spot | None:
    if thing is None or isinstance(thing, Spot):
        return thing
    return getattr(thing, "at", None) or Spot("design.yaml")
