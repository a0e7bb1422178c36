"""Which extent is a part's thickness, which way its grain runs, how many boards it takes.

In: a part's rule, with its three sizes. Out: axes and counts, or a fault that names the sizes seen. Boards may be planed thinner
than their stock, never be thicker; a sheet has its thickness from the mill.
"""

from __future__ import annotations

import re
from typing import Literal, cast

from compiler.base.measures import ZERO, Length, inch, mm
from compiler.base.report import Spot
from compiler.language import say
from compiler.library import entries, find_stock
from compiler.stages.check.copies import Copy
from compiler.stages.check.placing import open_axes
from compiler.stages.check.rules import PartRule
from compiler.stages.check.scope import Scope
from compiler.values.library import Stock
from compiler.values.model import AXES, Axis

TRIMMED = {"inch": inch("1/4"), "mm": mm(6)}
JOINTED = {"inch": inch("5/8"), "mm": mm(16)}
"""What a part loses of a rough board's width, two edges trimmed; and a strip, two edges jointed besides and the shop's allowance (common
practice, no source). The layouts' own settings begin with the same."""

Grain = Literal["across", "deep", "up", "any"]


def thickness_of(scope: Scope, rule: PartRule, copy: Copy) -> Length:
    """The part's own thickness."""
    name = f"{scope.prefix}{copy.called(scope.flipped)}.thickness"
    return scope.work.solve(("thickness", scope.id, rule.name, copy.index), name, rule.at,
                            lambda: scope.span_size(rule, copy, thickness_axis(scope, rule)))


def thickness_axis(scope: Scope, rule: PartRule) -> Axis:
    """The axis of the thickness. Raises `Unsolved` after reporting a thickness that the stock can't have."""
    return scope.work.solve(("thickness axis", scope.id, rule.name), "", rule.at, lambda: _axis(scope, rule), called=f"the thickness of {rule.name}")


def _axis(scope: Scope, rule: PartRule) -> Axis:
    stock = scope.stock(rule)
    waiting = open_axes(rule)
    copy = scope.copies(rule)[0]
    if rule.run is not None:
        from_faces: dict[str, Axis] = {"left": "across", "right": "across", "front": "deep", "back": "deep", "bottom": "up", "top": "up"}
        return from_faces[copy.face]
    if waiting:
        return waiting[0]
    sizes = {axis: scope.span_size(rule, copy, axis) for axis in AXES}
    if rule.plane is not None:
        word, at = rule.plane
        if word not in AXES:
            raise scope.work.refuse("unknown-axis", f"`plane` names an axis: across, deep or up; `{word}` is none.", at, "Write plane: deep.")
        chosen = word
    else:
        equal = [axis for axis in AXES if sizes[axis] == stock.thickness]
        smallest = min(AXES, key=lambda axis: sizes[axis])
        chosen = smallest if not equal or smallest in equal else equal[0]
        if stock.kind in ("sheet", "moulding") and not equal:
            raise _no_thickness(scope, rule, stock, sizes)
    if sizes[chosen] > stock.thickness:
        raise _too_thick(scope, rule, stock, chosen, sizes[chosen])
    return chosen


def fits_section(scope: Scope, rule: PartRule, copy: Copy, thick: Axis) -> None:
    """Judge a moulding or rod against its section: it can be ripped narrower, never made wider. Raises `Unsolved` after reporting."""
    stock = scope.stock(rule)
    if stock.kind not in ("moulding", "rod") or stock.width is None:
        return
    rest: dict[Axis, Length] = {axis: scope.span_size(rule, copy, axis) for axis in AXES if axis != thick}
    axis = min(rest, key=lambda each: rest[each])
    if rest[axis] > stock.width:
        units = scope.work.edition
        at = rule.extents[axis].at if axis in rule.extents else rule.at
        raise scope.work.refuse("too-wide", f"`{rule.name}` is {say(rest[axis], units)} wide ({axis}), {stock.name} is {say(stock.width, units)}.", at,
                                "Leave out an end, or take a wider one.")


def _no_thickness(scope: Scope, rule: PartRule, stock: Stock, sizes: dict[Axis, Length]) -> Exception:
    units = scope.work.edition
    nearest = min(AXES, key=lambda axis: abs(sizes[axis] - stock.thickness))
    shown = " × ".join(say(sizes[axis], units) for axis in sorted(AXES, key=lambda axis: sizes[axis], reverse=True))
    at = rule.extents[nearest].at if nearest in rule.extents else rule.at
    return scope.work.refuse("thickness", f"No extent of `{rule.name}` is {say(stock.thickness, units)}, the thickness of {stock.name}: {shown}.", at,
                             f"Leave out an end of `{nearest}`: {nearest}: from …, or to ….")


def _too_thick(scope: Scope, rule: PartRule, stock: Stock, axis: Axis, size: Length) -> Exception:
    units = scope.work.edition
    thicker = _thicker(scope, stock, size)
    hint = f"`{thicker.name}` planes to {say(thicker.thickness, units)}, or glue up." if thicker else "Glue it up from thinner pieces, or take a thicker stock."
    at = rule.stock[1] if rule.stock else rule.at
    verb = "is" if stock.kind in ("sheet", "rod", "moulding") else "planes to"
    return scope.work.refuse("too-thick", f"`{rule.name}` is {say(size, units)} thick ({axis}), {stock.name} {verb} {say(stock.thickness, units)}.", at, hint)


def _thicker(scope: Scope, stock: Stock, size: Length) -> Stock | None:
    """The thinnest stock of the same wood that is thick enough."""
    family = stock.key.rpartition(" ")[0]
    found = [other for entry in entries(scope.work.library) if family and entry.key.startswith(family + " ") and entry.kind == stock.kind
             and (other := find_stock(scope.work.library, entry.key, scope.work.edition).value) is not None and other.thickness >= size]
    return min(found, key=lambda each: each.thickness) if found else None


def grain_of(scope: Scope, rule: PartRule, copy: Copy) -> Grain:
    """The way the grain runs: as written, else along the longest extent that is not the thickness."""
    thick = thickness_axis(scope, rule)
    if rule.grain is None:
        return max((axis for axis in AXES if axis != thick), key=lambda axis: scope.span_size(rule, copy, axis))
    word, at = rule.grain
    if word not in (*AXES, "any"):
        raise scope.work.refuse("unknown-axis", f"`grain` is across, deep, up or any; `{word}` is none.", at, "Write grain: up.")
    if word == thick:
        raise scope.work.refuse("grain-through", f"Grain can't run through the thickness: `{word}` is that of `{rule.name}`.", at,
                                f"Write {' or '.join(axis for axis in AXES if axis != thick)}.")
    return cast(Grain, word)


def strips_of(scope: Scope, rule: PartRule, copy: Copy, grain: Grain) -> int:
    """How many boards a part is glued up from; 1 where one is wide enough. Strips are less wide than boards: their edges are jointed."""
    stock = scope.stock(rule)
    if rule.strips is not None:
        text, at = rule.strips
        found = re.fullmatch(r"(\d+) strips?", text)
        if found is None or not 1 <= int(found[1]) <= 99:
            raise scope.work.refuse("glue-up", f"`glue-up` counts strips; `{text}` does not.", at, "Write glue-up: 4 strips.")
        return int(found[1])
    if stock.kind != "board" or stock.widest is None or grain == "any":
        return 1
    thick = thickness_axis(scope, rule)
    across = next(axis for axis in AXES if axis not in (thick, grain))
    width = scope.span_size(rule, copy, across)
    units = scope.work.edition
    if width <= stock.widest - (ZERO if stock.dressed else TRIMMED[units]):
        return 1
    parts = width / max(stock.widest - JOINTED[units], stock.widest / 2)
    count = -(-parts.numerator // parts.denominator)
    if rule.grain is not None and width > scope.span_size(rule, copy, grain):
        says = f"`{rule.name}` is {say(width, units)} wide across the grain of a {say(stock.widest, units)} board: {count} strips."
        scope.work.findings.advice("wide-across-grain", says, rule.grain[1], "Let the grain run the long way, or say glue-up: with the strips you want.")
    return count


def key_of(rule: PartRule) -> Spot:
    """The place of a part's name."""
    return Spot(rule.at.file, rule.at.path, on_key=True)
