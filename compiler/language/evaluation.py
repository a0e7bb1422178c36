"""A size becomes an exact value, by way of a lookup that knows the names.

In: a tree from `trees`, a `Lookup`, the unit the plan is written in and that of the edition. Out: a Length, an Angle,
a Fraction (a plain number), or a bare number that may still be either. Raises `Refused` for what can't stand.
Values are exact; nothing here knows parts, stock or files.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol, assert_never

from compiler.base.measures import Angle, Length
from compiler.base.showing import Units, nearest
from compiler.language.faults import Refused
from compiler.language.resizing import bare_length, say, true_length
from compiler.language.trees import Negative, Number, Pick, Product, Reference, Rounded, Size, Sum, Thing
from compiler.values.design import Known

Want = Literal["any", "length", "angle", "number", "count"]


class Lookup(Protocol):
    """What names mean in one place of a plan."""

    def find(self, thing: Thing) -> Known:
        """The value of a name. Raises `Refused` (unknown, ambiguous) or `Unsolved` (reported already)."""
        ...


@dataclass(frozen=True, slots=True)
class Reading:
    """The unit that bare numbers are written in, and that of the edition at hand."""

    written: Units
    edition: Units


@dataclass(frozen=True, slots=True)
class Bare:
    """A number without a unit: a plain number, or a length in the plan's unit, as its neighbours ask."""

    plain: Fraction
    length: Length


Value = Length | Angle | Fraction | Bare


def value_of(tree: Size, lookup: Lookup, reading: Reading) -> Value:
    """The value of a size. Raises `Refused`, `Unsolved`."""
    match tree:
        case Number():
            return _number(tree, reading)
        case Reference():
            return _found(tree, lookup)
        case Negative():
            return _scaled(value_of(tree.of, lookup, reading), Fraction(-1), reading)
        case Sum():
            return _sum(tree, value_of(tree.left, lookup, reading), value_of(tree.right, lookup, reading))
        case Product():
            left, right = value_of(tree.left, lookup, reading), value_of(tree.right, lookup, reading)
            return _times(tree, left, right, reading) if tree.sign == "*" else _over(tree, left, right, reading)
        case Pick():
            return _pick(tree, [value_of(size, lookup, reading) for size in tree.of])
        case Rounded():
            return _rounded(tree, value_of(tree.of, lookup, reading), value_of(tree.step, lookup, reading))
        case _:
            assert_never(tree)


def wanted(value: Value, want: Want, tree: Size, text: str) -> Length | Angle | Fraction | int:
    """The value as the kind of thing that is asked for. Raises `Refused`."""
    start, end = tree.start, tree.end
    if want in ("any", "length"):
        if isinstance(value, Bare):
            return value.length
        if want == "any" or isinstance(value, Length):
            return value
        kind = "an angle" if isinstance(value, Angle) else "a plain number"
        raise Refused("not-a-length", f"`{text[start:end]}` is {kind}; this should be a length.",
                      "A number under `numbers` is never converted; a length stands under `sizes`."
                      if isinstance(value, Fraction) else "", start, end)
    if want == "angle":
        if isinstance(value, Angle):
            return value
        raise Refused("angle-needs-deg", f"An angle needs deg: `{text[start:end]}` has none.",
                      f"Write {text[start:end]} deg." if isinstance(tree, Number) else "Give it deg where it is written.", start, end)
    if isinstance(value, Bare):
        number = value.plain
    elif isinstance(value, Fraction):
        number = value
    else:
        kind = "an angle" if isinstance(value, Angle) else "a length"
        raise Refused("not-a-number", f"`{text[start:end]}` is {kind}; this should be a plain number.",
                      "A plain number stands under `numbers`.", start, end)
    if want == "number":
        return number
    if number.denominator != 1 or number < 0:
        seen = say(Length(number), "inch")
        raise Refused("whole-number", f"A count is a whole number; `{text[start:end]}` is {seen}.", "Write a whole number.", start, end)
    return int(number)


def _number(tree: Number, reading: Reading) -> Value:
    if tree.unit == "deg":
        return Angle(tree.value)
    if tree.unit:
        return true_length(tree.value, tree.unit)
    return Bare(tree.value, bare_length(tree.value, reading.written, reading.edition))


def _found(tree: Reference, lookup: Lookup) -> Value:
    value = lookup.find(tree.thing)
    if isinstance(value, str):
        raise Refused("not-a-size", f"`{tree.thing.text}` is a word, not a size.", "", tree.start, tree.end)
    return Fraction(value) if isinstance(value, int) else value


def _scaled(value: Value, by: Fraction, reading: Reading) -> Value:
    match value:
        case Length():
            return value * by
        case Angle():
            return Angle(value.degrees * by)
        case Fraction():
            return value * by
        case Bare():
            if by == -1:
                return Bare(-value.plain, -value.length)
            return Bare(value.plain * by, bare_length(value.plain * by, reading.written, reading.edition))


def _sum(tree: Sum, left: Value, right: Value) -> Value:
    sign = 1 if tree.sign == "+" else -1
    if isinstance(left, Bare) and isinstance(right, Bare):
        return Bare(left.plain + sign * right.plain, left.length + right.length * sign)
    if isinstance(left, Bare):
        left = _like(left, right, tree.left)
    elif isinstance(right, Bare):
        right = _like(right, left, tree.right)
    if isinstance(left, Length) and isinstance(right, Length):
        return left + right * sign
    if isinstance(left, Angle) and isinstance(right, Angle):
        return Angle(left.degrees + sign * right.degrees)
    if isinstance(left, Fraction) and isinstance(right, Fraction):
        return left + sign * right
    raise Refused("unlike-sum", f"{_kind(left)} and {_kind(right)} can't be added or subtracted.".capitalize(),
                  "A number under `numbers` is a plain one; lengths stand under `sizes`.", tree.start, tree.end)


def _like(bare: Bare, other: Value, tree: Size) -> Value:
    """A bare number, read as its neighbour is."""
    if isinstance(other, Length):
        return bare.length
    if isinstance(other, Angle):
        raise Refused("angle-needs-deg", "An angle needs deg.", "Write deg behind the number.", tree.start, tree.end)
    return bare.plain


def _kind(value: Value) -> str:
    match value:
        case Length():
            return "a length"
        case Angle():
            return "an angle"
        case _:
            return "a plain number"


def _times(tree: Product, left: Value, right: Value, reading: Reading) -> Value:
    if isinstance(left, (Length, Angle)) and isinstance(right, (Length, Angle)):
        says = "Two lengths multiplied give an area." if isinstance(left, Length) and isinstance(right, Length) \
            else f"{_kind(left)} times {_kind(right)} has no meaning.".capitalize()
        raise Refused("area", says, _area_hint(tree), tree.at, tree.at + 1)
    if isinstance(left, (Length, Angle)):
        return _scaled(left, _plain(right), reading)
    if isinstance(right, (Length, Angle)):
        return _scaled(right, _plain(left), reading)
    product = _plain(left) * _plain(right)
    if isinstance(left, Bare) and isinstance(right, Bare):
        return Bare(product, bare_length(product, reading.written, reading.edition))
    return product


def _area_hint(tree: Product) -> str:
    names = [side.thing.text for side in (tree.right, tree.left) if isinstance(side, Reference) and len(side.thing.names) == 1]
    if names:
        return f"If `{names[0]}` is a plain number, move it to `numbers`."
    return "A length is multiplied by a plain number; those stand under `numbers`."


def _over(tree: Product, left: Value, right: Value, reading: Reading) -> Value:
    if isinstance(right, Length):
        if not isinstance(left, Length):
            raise Refused("number-over-length", f"{_kind(left)} is divided by a length.".capitalize(),
                          f"Write {_number_text(tree.left)} in if {_number_text(tree.left)} is a length."
                          if isinstance(tree.left, Number) else "Both should be lengths.", tree.left.start, tree.left.end)
        if not right:
            raise _nothing(tree)
        return left / right
    if isinstance(right, Angle):
        if isinstance(left, Angle) and right.degrees:
            return left.degrees / right.degrees
        raise Refused("over-angle", "Nothing but an angle is divided by an angle.", "", tree.at, tree.at + 1)
    below = _plain(right)
    if below == 0:
        raise _nothing(tree)
    if isinstance(left, Bare) and isinstance(right, Fraction):
        return left.plain / below
    return _scaled(left, 1 / below, reading)


def _nothing(tree: Product) -> Refused:
    return Refused("divided-by-nothing", "This divides by nothing.", "", tree.right.start, tree.right.end)


def _number_text(tree: Size) -> str:
    return say(Length(tree.value), "inch") if isinstance(tree, Number) else ""


def _plain(value: Value) -> Fraction:
    assert isinstance(value, (Bare, Fraction))
    return value.plain if isinstance(value, Bare) else value


def _alike(values: list[Value], trees: list[Size], start: int, end: int) -> list[Length] | list[Angle] | list[Fraction] | list[Bare]:
    """Values of one kind: bare ones read as their neighbours."""
    sample = next((value for value in values if not isinstance(value, Bare)), values[0])
    read = [_like(value, sample, tree) if isinstance(value, Bare) and not isinstance(sample, Bare) else value
            for value, tree in zip(values, trees, strict=True)]
    if any(type(value) is not type(sample) for value in read):
        raise Refused("unlike-sum", "These are not of one kind: lengths, angles and plain numbers can't be compared.", "", start, end)
    return read  # type: ignore[return-value]  # one kind, just judged


def _pick(tree: Pick, values: list[Value]) -> Value:
    read = _alike(values, list(tree.of), tree.start, tree.end)
    choose = max if tree.larger else min
    match read[0]:
        case Bare():
            bares = [value for value in read if isinstance(value, Bare)]
            return Bare(choose(bare.plain for bare in bares), choose(bare.length for bare in bares))
        case _:
            chosen: Value = choose(read)
            return chosen


def _rounded(tree: Rounded, value: Value, step: Value) -> Value:
    read = _alike([value, step], [tree.of, tree.step], tree.start, tree.end)
    of, by = read
    match of, by:
        case Length(), Length():
            return Length(_to_step(of.inches, by.inches, tree))
        case Angle(), Angle():
            return Angle(_to_step(of.degrees, by.degrees, tree))
        case Fraction(), Fraction():
            return _to_step(of, by, tree)
        case Bare(), Bare():
            return Bare(_to_step(of.plain, by.plain, tree), Length(_to_step(of.length.inches, by.length.inches, tree)))
        case _:
            raise AssertionError("values of one kind")


def _to_step(value: Fraction, step: Fraction, tree: Rounded) -> Fraction:
    if step <= 0:
        raise Refused("step", "A step is more than nothing.", "Write `rounded to 1/16`.", tree.step.start, tree.step.end)
    if not tree.way:
        return nearest(value, step)
    whole = value / step
    count = whole.numerator // whole.denominator
    if tree.way == "up" and whole.denominator != 1:
        count += 1
    return count * step
