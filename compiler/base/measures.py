"""Exact lengths, areas, volumes and angles.

In: whole numbers and fractions. Out: frozen values that know their dimension. A float never gets in
here by itself: geometry and drawing convert on their own side of the border.

One inch is 25.4 mm exactly (international yard and pound agreement of 1959), so both units are exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import overload

MM_PER_INCH = Fraction(254, 10)

Exact = int | Fraction


def exact(number: Exact | str) -> Fraction:
    """The number as a fraction; texts may be `3/4`, `2 1/2` or `1.25`.

    Raises TypeError for a float: 0.1 has no exact length.
    """
    if isinstance(number, bool) or not isinstance(number, (int, Fraction, str)):
        raise TypeError(f"{number!r} is not an exact number; write a whole number, a Fraction or a text")
    if isinstance(number, str):
        parts = number.split()
        if not 1 <= len(parts) <= 2:
            raise ValueError(f"{number!r} is no number")
        whole = Fraction(parts[0])
        return (
            whole if len(parts) == 1 else whole + (-1 if parts[0].startswith("-") else 1) * Fraction(parts[1])
        )
    return Fraction(number)


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length, kept as exact inches."""

    inches: Fraction

    @property
    def mm(self) -> Fraction:
        """The same length in millimetres, exact."""
        return self.inches * MM_PER_INCH

    def __float__(self) -> float:
        """Inches, for geometry and drawing only."""
        numerator, denominator = self.inches.as_integer_ratio()  # twice as fast as float() of a Fraction
        return numerator / denominator

    def __add__(self, other: Length) -> Length:
        try:
            return Length(self.inches + other.inches)
        except AttributeError:
            raise TypeError(_no_length(other)) from None

    def __radd__(self, other: object) -> Length:
        raise TypeError(f"{_no_length(other)}; a sum of lengths begins with one: sum(…, ZERO)")

    def __sub__(self, other: Length) -> Length:
        try:
            return Length(self.inches - other.inches)
        except AttributeError:
            raise TypeError(_no_length(other)) from None

    def __neg__(self) -> Length:
        return Length(-self.inches)

    def __abs__(self) -> Length:
        return Length(abs(self.inches))

    @overload
    def __mul__(self, other: Length) -> Area: ...
    @overload
    def __mul__(self, other: Exact) -> Length: ...
    def __mul__(self, other: Length | Exact) -> Length | Area:
        if isinstance(other, Length):
            return Area(self.inches * other.inches)
        return Length(self.inches * exact(other))

    def __rmul__(self, other: Exact) -> Length:
        return Length(self.inches * exact(other))

    @overload
    def __truediv__(self, other: Length) -> Fraction: ...
    @overload
    def __truediv__(self, other: Exact) -> Length: ...
    def __truediv__(self, other: Length | Exact) -> Length | Fraction:
        if isinstance(other, Length):
            return self.inches / other.inches
        return Length(self.inches / exact(other))

    def __bool__(self) -> bool:
        return self.inches != 0


def _no_length(other: object) -> str:
    number = isinstance(other, (int, float, Fraction))
    return f"{other} is no length; write inch(…) or mm(…)" if number else f"a {type(other).__name__} is no length"


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """An area, kept as exact square inches."""

    square_inches: Fraction = Fraction(0)

    @property
    def square_feet(self) -> Fraction:
        """Exact square feet."""
        return self.square_inches / 144

    @property
    def square_metres(self) -> Fraction:
        """Exact square metres."""
        return self.square_inches * MM_PER_INCH**2 / 1_000_000

    def __add__(self, other: Area) -> Area:
        return Area(self.square_inches + other.square_inches)

    def __sub__(self, other: Area) -> Area:
        return Area(self.square_inches - other.square_inches)

    @overload
    def __mul__(self, other: Length) -> Volume: ...
    @overload
    def __mul__(self, other: Exact) -> Area: ...
    def __mul__(self, other: Length | Exact) -> Area | Volume:
        if isinstance(other, Length):
            return Volume(self.square_inches * other.inches)
        return Area(self.square_inches * exact(other))

    def __truediv__(self, other: Exact) -> Area:
        return Area(self.square_inches / exact(other))

    def __bool__(self) -> bool:
        return self.square_inches != 0


@dataclass(frozen=True, slots=True, order=True)
class Volume:
    """A volume, kept as exact cubic inches."""

    cubic_inches: Fraction = Fraction(0)

    @property
    def board_feet(self) -> Fraction:
        """Exact board feet: 144 cubic inches each (a board 12 in x 12 in x 1 in)."""
        return self.cubic_inches / 144

    @property
    def cubic_metres(self) -> Fraction:
        """Exact cubic metres."""
        return self.cubic_inches * MM_PER_INCH**3 / 1_000_000_000

    def __add__(self, other: Volume) -> Volume:
        return Volume(self.cubic_inches + other.cubic_inches)

    def __sub__(self, other: Volume) -> Volume:
        return Volume(self.cubic_inches - other.cubic_inches)

    def __mul__(self, other: Exact) -> Volume:
        return Volume(self.cubic_inches * exact(other))

    def __truediv__(self, other: Exact) -> Volume:
        return Volume(self.cubic_inches / exact(other))

    def __bool__(self) -> bool:
        return self.cubic_inches != 0


@dataclass(frozen=True, slots=True, order=True)
class Angle:
    """An angle, kept as exact degrees."""

    degrees: Fraction

    def __float__(self) -> float:
        """Degrees, for geometry and drawing only."""
        return float(self.degrees)

    def __neg__(self) -> Angle:
        return Angle(-self.degrees)


ZERO = Length(Fraction(0))


def inch(number: Exact | str) -> Length:
    """A true length in inches: `inch("3/4")`, `inch(2)`."""
    return Length(exact(number))


def mm(number: Exact | str) -> Length:
    """A true length in millimetres: `mm(18)`, `mm("0.5")`."""
    return Length(exact(number) / MM_PER_INCH)


def degrees(number: Exact | str) -> Angle:
    """An angle in degrees."""
    return Angle(exact(number))
