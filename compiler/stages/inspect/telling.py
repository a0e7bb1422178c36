"""How this stage tells its faults: lengths to a sensible fineness, equal faults of copies once.

In: faults as they are found, with the parts that have them. Out: a report. It knows no geometry.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from compiler.base.measures import Length
from compiler.base.report import Diagnostic, Report, Severity, Spot
from compiler.base.showing import Style, Units, show
from compiler.values.shapes import Vector

_FINE: dict[Units, Fraction] = {"inch": Fraction(1, 64), "mm": Fraction(1, 10)}
_FINER: dict[Units, Fraction] = {"inch": Fraction(1, 1024), "mm": Fraction(1, 100)}
CUBIC_INCH = 16.387064
"""Cubic centimetres, exact."""


@dataclass(slots=True)
class Telling:
    """Gathers faults; one place in the design is told once for each fault, with the number of parts that have it."""

    units: Units
    _found: dict[tuple[str, Spot | None, tuple[Spot, ...]], tuple[Diagnostic, int]] = field(default_factory=dict)

    def tell(self, severity: Severity, code: str, says: str, at: Spot | None, hint: str, *, also: tuple[Spot | None, ...] = ()) -> None:
        """Record a fault. The first at a place speaks for all of its kind there."""
        others = tuple(spot for spot in dict.fromkeys(also) if spot is not None and spot != at)
        key = (code, at, others)
        first, count = self._found.get(key, (Diagnostic(code, says, at, hint, severity, others), 0))
        self._found[key] = (first, count + 1)

    def error(self, code: str, says: str, at: Spot | None, hint: str, *, also: tuple[Spot | None, ...] = ()) -> None:
        """A fault that the piece can't be built with."""
        self.tell(Severity.ERROR, code, says, at, hint, also=also)

    def warning(self, code: str, says: str, at: Spot | None, hint: str, *, also: tuple[Spot | None, ...] = ()) -> None:
        """A fault that it can be built with."""
        self.tell(Severity.WARNING, code, says, at, hint, also=also)

    def report(self) -> Report:
        """All faults, in the order they were found."""
        return Report(tuple(_counted(fault, count) for fault, count in self._found.values()))

    def length(self, inches: float) -> str:
        """A length to 1/64 in or 0.1 mm; one that would be shown as nothing, to 1/1024 in or 0.01 mm: `1/8`, `3.2`."""
        exact = Length(Fraction(inches).limit_denominator(1 << 20))
        text = show(exact, Style(self.units, _FINE[self.units])).text
        if text.lstrip("−") == "0" and inches:
            text = show(exact, Style(self.units, _FINER[self.units])).text
        return text.replace("−", "-")

    def volume(self, cubic_inches: float) -> str:
        """A volume to two figures that mean something: `0.12 cubic inches`, `1.9 cubic centimetres`."""
        number, unit = (cubic_inches, "cubic inches") if self.units == "inch" else (cubic_inches * CUBIC_INCH, "cubic centimetres")
        return f"{number:.2g} {unit}" if number < 100 else f"{number:.0f} {unit}"

    def place(self, point: Vector) -> str:
        """A place in the plan: `3 across, 2 1/2 deep, 14 up`."""
        across, deep, up = (self.length(value) for value in point)
        return f"{across} across, {deep} deep, {up} up"


def _counted(fault: Diagnostic, count: int) -> Diagnostic:
    if count == 1:
        return fault
    says = f"{fault.says} The same in {count - 1} more place{'s' if count > 2 else ''}."
    return Diagnostic(fault.code, says, fault.at, fault.hint, fault.severity, fault.also)
