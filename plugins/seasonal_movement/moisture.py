"""Humidity → moisture content of wood → its change of size across the grain.

In: relative humidity in per cent, degrees Celsius, exact lengths. Out: per cent of moisture content, exact lengths.
Sources: equilibrium moisture content by the Hailwood-Horrobin equation with the constants of USDA FPL-RN-0268 (degrees Celsius, as quoted in
an open-source conservation-science library); change of size by Wood Handbook FPL-GTR-190, equation 13-2, valid from 6 to 14 %.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Length

VALID = (Fraction(6), Fraction(14))


def equilibrium(humidity: Fraction, celsius: Fraction) -> Fraction:
    """Moisture content in per cent, to 1/1000, of wood kept at a relative humidity (per cent) and a temperature."""
    t, h = celsius, humidity / 100
    w = 349 + Fraction("1.29") * t + Fraction("0.0135") * t**2
    k = Fraction("0.805") + Fraction("0.000736") * t - Fraction("0.00000273") * t**2
    k1 = Fraction("6.27") - Fraction("0.00938") * t - Fraction("0.000303") * t**2
    k2 = Fraction("1.91") + Fraction("0.0407") * t - Fraction("0.000293") * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return round(1800 / w * (kh / (1 - kh) + bound), 3)


def change(width: Length, coefficient: Fraction, first: Fraction, then: Fraction) -> Length:
    """How much wider it gets from one moisture content to another; negative when it dries."""
    return width * (coefficient * (then - first))


def within_range(first: Fraction, then: Fraction) -> bool:
    """True when equation 13-2 holds for both; beyond it is an estimate outside its range."""
    return all(VALID[0] <= content <= VALID[1] for content in (first, then))
