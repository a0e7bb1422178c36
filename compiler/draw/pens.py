"""Pens: the plain set, and a theme's wishes laid over it.

In: a theme's mapping of roles (widths and dashes in millimetres, colours). Out: a PenStyle. The plain set follows
ISO 128: widths of the series 0.18, 0.25, 0.35, 0.5 (0.13 for the finest), wide to narrow 2 : 1; dashes 12 and 3 line widths.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

from compiler.values.figure import LetterRole, LinePen, LineRole, PenStyle


def _line(width: float, dash: tuple[float, ...] = (), colour: str = "#000000") -> LinePen:
    return LinePen(width=width, dash=tuple(round(part * width, 3) for part in dash), colour=colour)


DASHED = (12.0, 3.0)
DASHED_DOTTED = (24.0, 3.0, 0.5, 3.0)

PLAIN = PenStyle(
    lines=(
        ("outline", _line(0.5)),
        ("edge", _line(0.25)),
        ("picture-outline", _line(0.35)),
        ("picture-edge", _line(0.18)),
        ("small-outline", _line(0.25)),
        ("small-edge", _line(0.13)),
        ("done-outline", _line(0.25, colour="#6e6e6e")),
        ("done-edge", _line(0.13, colour="#6e6e6e")),
        ("hidden", _line(0.25, DASHED)),
        ("centre", _line(0.18, DASHED_DOTTED)),
        ("dimension", _line(0.18)),
        ("extension", _line(0.18)),
        ("leader", _line(0.25)),
        ("trail", _line(0.18, (9.0, 4.5))),
        ("hatch", _line(0.13)),
        ("cut", _line(0.5, (24.0, 3.0, 3.0, 3.0))),
        ("break", _line(0.18)),
        ("frame", _line(0.18)),
        ("grain", _line(0.25)),
        ("tick", _line(0.35)),
    ),
    fills=(
        ("paper", "#ffffff"),
        ("top", "#ffffff"),
        ("front", "#f4f4f4"),
        ("side", "#e2e2e2"),
        ("added-top", "#d4d4d4"),
        ("added", "#c2c2c2"),
        ("added-side", "#acacac"),
        ("done", "#f4f4f4"),
        ("cut", "#d9d9d9"),
        ("deep-cut", "#8f8f8f"),
        ("arrow", "#000000"),
        ("dot", "#000000"),
        ("offcut", "#ffffff"),
        ("balloon", "#ffffff"),
        ("number", "#000000"),
    ),
    letters=(("cut", "#ffffff"),),
)


def styled(lines: Mapping[str, Mapping[str, Any]], fills: Mapping[str, str], letters: Mapping[str, str] | None = None,
           family: str = "", cap_height: float = 0.7, base: PenStyle = PLAIN) -> PenStyle:
    """The plain pens with a theme's wishes over them: `{"outline": {"width": 0.5, "dash": [], "colour": "#000000"}}`.

    Raises KeyError for a role that no drawing has.
    """
    pens, colours, inks = dict(base.lines), dict(base.fills), dict(base.letters)
    for role, wish in lines.items():
        old = pens[cast(LineRole, role)]
        pens[cast(LineRole, role)] = LinePen(
            width=float(wish.get("width", old.width)),
            dash=tuple(float(part) for part in wish.get("dash", old.dash)),
            colour=str(wish.get("colour", old.colour)),
        )
    for role, colour in fills.items():
        if role not in colours:
            raise KeyError(role)
        colours[role] = colour
    for role, colour in (letters or {}).items():
        inks[cast(LetterRole, role)] = colour
    return PenStyle(lines=tuple(pens.items()), fills=tuple(colours.items()), letters=tuple(inks.items()),
                    family=family or base.family, cap_height=cap_height)
