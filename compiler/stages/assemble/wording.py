"""How the sentences of this stage write lengths, angles and counts.

In: values. Out: texts. It knows no parts and no joints.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.base.measures import Angle, Length
from compiler.base.showing import Style, Units, show

_FINE: dict[Units, Fraction] = {"inch": Fraction(1, 1024), "mm": Fraction(1, 100)}


def said(length: Length, units: Units, *, unit: bool = False) -> str:
    """A length in a sentence, finer than any rule so that no fault hides in rounding: `11 3/8`, `353.5`."""
    text = show(length, Style(units, _FINE[units])).text.replace("−", "-")
    return f"{text} {'in' if units == 'inch' else 'mm'}" if unit else text


def said_value(value: Length | Angle | Fraction | int | str, units: Units) -> str:
    """A value in a sentence: a length as above, an angle with its unit, a ratio as a fraction."""
    match value:
        case Length():
            return said(value, units)
        case Angle():
            return f"{float(value.degrees):g} deg"
        case _:
            return str(value)


def counted(number: int, one: str, many: str = "") -> str:
    """`1 hole`, `14 holes`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
