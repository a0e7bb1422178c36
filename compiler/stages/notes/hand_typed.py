"""Measurements that were typed by hand: each must be one of the plan's own.

In: plain text and the model. Out: a warning with the nearest size for each that isn't. A fraction, or a number with a unit or an
inch or foot mark, is taken for a measurement; times and counts are not.
"""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.base.measures import Length, inch, mm
from compiler.base.report import Findings
from compiler.base.showing import Style, nearest, show
from compiler.stages.notes.page import Page
from compiler.values.model import AXES, FACES, Model

_HAND = re.compile(
    r"(?<![\w./])(\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)(\s?(?:mm|cm|in)\b|[\"″'′])?(?![\w/.]*\d)(?!\s*(?:h|hours?|min|minutes?|coats?|turns?)\b)"
)


class HandTyped:
    """Knows every size of one edition."""

    def __init__(self, model: Model, page: Page, found: Findings) -> None:
        self.model, self.page, self.found = model, page, found
        self.style = Style(model.edition.units, Fraction(1, 64) if model.edition.units == "inch" else Fraction(1, 2))
        self.known = _values(model)

    def judge(self, text: str, line: int) -> None:
        """Warn of a measurement typed by hand that equals no size of this edition."""
        for match in _HAND.finditer(text):
            number, unit = match.group(1), (match.group(2) or "").strip()
            if "/" not in number and not unit:
                continue
            if "/" in number and Fraction(number.split("/")[0].split()[-1]) == 0:
                continue
            if number.endswith("/0"):
                continue
            value = _typed(number, unit, self.model)
            if any(value == known or nearest(known.inches, Fraction(1, 64)) == value.inches for known in self.known):
                continue
            if not self.known:
                continue
            close = min(self.known, key=lambda known: (abs(known - value), known))
            name = self.known[close]
            self.found.warning(
                "hand-typed-size",
                f"{match.group().strip()} is no size of this plan; {name} is {show(close, self.style).text}.",
                self.page.find(match.group().strip(), line),
                f"Write {{{{ {name} }}}}; or {{{{ {number} }}}} if you mean it.",
            )


def _typed(number: str, unit: str, model: Model) -> Length:
    if unit == "mm":
        return mm(number)
    if unit == "cm":
        return mm(number) * 10
    if unit in ("'", "′"):
        return inch(number) * 12
    if unit in ("in", '"', "″") or model.edition.units == "inch":
        return inch(number)
    return mm(number)


def _values(model: Model) -> dict[Length, str]:
    """Every size and place that a step may speak of, with the first name it has."""
    found: dict[Length, str] = {}
    for name, length in model.measures:
        found.setdefault(length, name)
    for part in model.parts:
        for name, length in (("length", part.length), ("width", part.width), ("thickness", part.thickness)):
            found.setdefault(length, f"{part.kind}.{name}")
        for axis in AXES:
            found.setdefault(part.box.span(axis).size, f"{part.name}.{axis}")
        for face in FACES:
            found.setdefault(part.box.face(face), f"{part.name}.{face}")
        for working in part.workings:
            for name, value in working.values:
                if isinstance(value, Length):
                    found.setdefault(value, f"{part.kind} {working.kind} {name}")
    for joint in model.joints:
        for name, value in joint.values:
            if isinstance(value, Length):
                found.setdefault(value, f'joint("{joint.acting}", "{joint.receiver}").{name}')
    for use in model.hardware:
        for name, length in use.item.measures:
            found.setdefault(length, f"{use.item.name} {name}")
    return found
