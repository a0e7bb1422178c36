"""Names and their values once a design is made: for notes, joints and hardware that come after `check`.

In: a Design and one of its scopes. Out: a `Lookup`, or the value of one text with its report. A caller may put further
names (lengths that hold joints, a joint's own fields) before those of the plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from compiler.base.report import Diagnostic, Findings, Outcome, Report, Severity, Spot
from compiler.base.showing import Units
from compiler.language.evaluation import Lookup, Reading, Want, value_of, wanted
from compiler.language.faults import Refused, Unsolved
from compiler.language.names import did_you_mean, listed
from compiler.language.parsing import parse_size
from compiler.language.trees import Negative, Number, Pick, Product, Reference, Rounded, Size, Sum, Thing
from compiler.values.design import Design, Known
from compiler.values.model import AXES, FACES


class Names:
    """A lookup over dotted names; `axis` says which `middle` is meant."""

    def __init__(self, values: Mapping[str, Known], *, axis: str = "", first: Mapping[str, Known] | None = None) -> None:
        self._values, self._first, self._axis = values, first or {}, axis

    def find(self, thing: Thing) -> Known:
        """The value of a name. Raises `Refused` with the name that was probably meant."""
        name = thing.text
        for values in (self._first, self._values):
            if name in values:
                return values[name]
        if name == "middle" and f"middle.{self._axis}" in self._values:
            return self._values[f"middle.{self._axis}"]
        raise unknown_name(thing, [*self._first, *self._values])


def unknown_name(thing: Thing, known: Iterable[str]) -> Refused:
    """The fault for a name that nothing is called by: which part of it is wrong, and what was probably meant."""
    names = list(known)
    if len(thing.names) == 1:
        word = thing.names[0]
        start, end = thing.spans[0]
        if "-" in word and all(piece.strip() in names or any(n.startswith(piece.strip() + ".") for n in names) for piece in word.split("-")):
            return Refused("unknown-name", f"There is no size called `{word}`.",
                           f"With spaces it is a subtraction: {word.replace('-', ' - ')}.", start, end)
        near = did_you_mean(word, [name for name in names if "." not in name])
        return Refused("unknown-name", f"There is no size called `{word}`.", f"Did you mean {near}?" if near else "", start, end)
    owner, last = ".".join(thing.names[:-1]), thing.names[-1]
    having = sorted(name.rpartition(".")[2] for name in names if name.rpartition(".")[0] == owner)
    start, end = thing.spans[-1]
    copies = sorted({name.rpartition(".")[0] for name in names if name.endswith(f" {owner}.{last}") and name.count(".") == len(thing.names) - 1})
    if copies:
        return Refused("copies-differ", f"The copies of `{owner}` differ in `{last}`.",
                       f"Name one: {listed((f'{copy}.{last}' for copy in copies), 'or')}.", thing.start, thing.end)
    if having:
        near = did_you_mean(last, having)
        faces = [face for face in (*FACES, *AXES) if face in having]
        return Refused("unknown-face", f"`{last}` is no face or size of `{owner}`.",
                       f"Did you mean {near}?" if near else f"It has {listed(faces or having)}.", start, end)
    owners = sorted({name.rpartition(".")[0] for name in names if "." in name})
    near = did_you_mean(owner, owners)
    return Refused("unknown-part", f"There is no part called `{owner}`.", f"Did you mean {near}?" if near else "",
                   thing.start, thing.spans[-2][1])


@lru_cache(maxsize=64)
def _values(scope_values: tuple[tuple[str, Known], ...]) -> dict[str, Known]:
    return dict(scope_values)


def lookup_in(design: Design, scope_id: str = "", *, axis: str = "", first: Mapping[str, Known] | None = None) -> Lookup:
    """What names mean in a scope of the design: "" for the plan, `left drawer` for a use. `first` is looked at before.

    Raises KeyError when the design has no such scope.
    """
    for scope in design.scopes:
        if scope.id == scope_id:
            return Names(_values(scope.values), axis=axis, first=first)
    raise KeyError(scope_id)


def evaluate(text: str, lookup: Lookup, units: Units, at: Spot, *, edition: Units | None = None, want: Want = "any") -> Outcome[Known]:
    """The value of a size, exact, with what is wrong with it.

    `units` is the unit the text is written in; `edition` that of the edition at hand, when it is the other one.
    `want` asks for a length, an angle, a plain number or a count; "any" reads a lone bare number as a length.
    """
    findings = Findings()
    try:
        tree = parse_size(text)
        for odd in odd_numbers(tree, text, at):
            findings.add(odd)
        value = wanted(value_of(tree, lookup, Reading(units, edition or units)), want, tree, text)
    except Refused as fault:
        findings.add(diagnostic(fault, at))
        return Outcome(None, findings.report())
    except Unsolved:
        return Outcome(None, findings.report())
    return Outcome(value, findings.report())


def diagnostic(fault: Refused, at: Spot) -> Diagnostic:
    """A fault in a text as a diagnostic at the text's place."""
    return Diagnostic(fault.code, fault.says, at.within(fault.start, fault.end), fault.hint)


def odd_numbers(tree: Size, text: str, at: Spot) -> Report:
    """A warning for each fraction that no rule is divided into."""
    found = Findings()
    for number in _numbers(tree):
        if number.odd:
            below = str(number.odd)
            slash = text.find("/", number.start) + 1
            swapped = int(below[::-1])
            meant = swapped if swapped in (8, 16, 32, 64) else min((8, 16, 32, 64), key=lambda step: abs(step - number.odd))
            above = number.value.numerator * number.odd // number.value.denominator
            found.add(Diagnostic("odd-fraction", f"No rule is divided into {below}ths.", at.within(slash, number.end),
                                 f"Did you mean {above % number.odd}/{meant}?", Severity.WARNING))
    return found.report()


def _numbers(tree: Size) -> list[Number]:
    match tree:
        case Number():
            return [tree]
        case Reference():
            return []
        case Negative():
            return _numbers(tree.of)
        case Sum() | Product():
            return _numbers(tree.left) + _numbers(tree.right)
        case Pick():
            return [number for size in tree.of for number in _numbers(size)]
        case Rounded():
            return _numbers(tree.of) + _numbers(tree.step)
