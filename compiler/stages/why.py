"""Why a quantity is what it is: the chain of sizes, places and joints behind it.

In: a model with its traces, a name (`shelf.length`, `left side.right`, `F`). Out: a `Reason`, a tree that ends in what
the maker or the library wrote; or the fault that nothing is called so. `lines` writes it for a terminal. Nothing is worked
out here.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.base.measures import Angle, Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Style, Units, show
from compiler.language import did_you_mean
from compiler.values.model import Model, Trace

SIZES = ("length", "width", "thickness")
_FINE: dict[Units, Fraction] = {"inch": Fraction(1, 1024), "mm": Fraction(1, 100)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One quantity and what it stands on. `told` = its own chain was told above."""

    name: str
    value: Length | Angle | int | str | None
    text: str = ""
    because: str = ""
    at: Spot | None = None
    needs: tuple[Reason, ...] = ()
    told: bool = False


def why(model: Model, quantity: str) -> Outcome[Reason]:
    """The chain behind a quantity. A part, a kind or a letter alone means its length, width and thickness."""
    traces = {trace.name: trace for trace in model.traces}
    findings = Findings()
    wanted = quantity.strip()
    told: set[str] = set()
    found = _find(model, traces, wanted)
    if found is not None:
        return Outcome(_reason(traces, found, told), findings.report())
    sizes = [_reason(traces, trace.name, told) for size in SIZES if (trace := traces.get(_find(model, traces, f"{wanted}.{size}") or "")) is not None]
    if sizes:
        return Outcome(Reason(name=wanted, value=None, needs=tuple(sizes), because=_what(model, wanted)), findings.report())
    near = did_you_mean(wanted, tuple(traces))
    findings.error("unknown-quantity", f"There is no `{wanted}` in this plan.", None,
                   f"Did you mean {near}?" if near else "Ask for a size (width), a place (left side.right), a part's length, or a letter.")
    return Outcome(None, findings.report())


def _find(model: Model, traces: dict[str, Trace], name: str) -> str | None:
    """The trace that a name means: its own, its kind's (`drawer.front.length` = drawer front.length), its letter's."""
    owner, dot, last = name.rpartition(".")
    letter = f"{owner.upper()}.{last}" if owner.isalpha() and any(kind.letter == owner.upper() for kind in model.kinds) else ""
    spoken = f"{owner.replace('.', ' ')}.{last}" if dot else ""
    return next((each for each in (name, letter, spoken) if each in traces), None)


def _what(model: Model, name: str) -> str:
    kind = next((kind for kind in model.kinds if name.upper() == kind.letter or name == kind.name), None)
    return f"{kind.name} ({kind.letter}), {len(kind.parts)} of them" if kind else ""


def _reason(traces: dict[str, Trace], name: str, told: set[str]) -> Reason:
    """A quantity with everything below it, each told once."""
    trace = traces.get(name)
    if trace is None:
        return Reason(name=name, value=None)
    if name in told:
        return Reason(name=name, value=trace.value, text=trace.text, told=bool(trace.needs))
    told.add(name)
    needs = tuple(_reason(traces, need, told) for need in dict.fromkeys(trace.needs))
    return Reason(name=name, value=trace.value, text=trace.text, because=trace.because, at=trace.at, needs=needs)


def lines(reason: Reason, units: Units, depth: int = 0) -> tuple[str, ...]:
    """The chain as lines, what a quantity stands on below it and further in."""
    words = reason.name if reason.value is None else f"{reason.name} = {_said(reason.value, units)}"
    if reason.text and reason.value is not None and reason.text != _said(reason.value, units):
        words += f" = {reason.text}"
    if reason.because:
        words += f"  ({reason.because})"
    if reason.told:
        words += "  (as above)"
    found = ["  " * depth + words]
    for need in reason.needs:
        found.extend(lines(need, units, depth + 1))
    return tuple(found)


def _said(value: Length | Angle | int | str, units: Units) -> str:
    match value:
        case Length():
            text = show(value, Style(units, _FINE[units])).text.replace("−", "-")
            return f"{text} mm" if units == "mm" else text
        case Angle():
            return f"{float(value.degrees):g} deg"
        case _:
            return str(value)


def explain(model: Model, quantity: str) -> Outcome[tuple[str, ...]]:
    """The chain behind a quantity as lines for a terminal, in the edition's unit."""
    outcome = why(model, quantity)
    told = lines(outcome.value, model.edition.units) if outcome.value is not None else None
    return Outcome(told, outcome.report)
