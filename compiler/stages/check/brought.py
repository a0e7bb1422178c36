"""Components that plugins bring become rules like those under `components` in design.yaml.

In: classes of components, and the rules of a plan that may use them. Out: rules of those that are used, each read from its text at the
place `component NAME`; the plugin's own line is found where diagnostics are shown. A plan's own component comes before one of its name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from textwrap import dedent

from compiler.base.measures import Angle, Length
from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.language import Want, say
from compiler.language.yaml_tree import read_tree
from compiler.stages.check.keys import check_keys
from compiler.stages.check.rules import Limits, ScopeRules, Sized
from compiler.stages.check.ruling import RuleReader
from compiler.values.contributions import Brought
from compiler.values.design import Known
from compiler.values.draft import Mapping
from compiler.values.joinery import Component

_WANTS: dict[str, Want] = {"size": "length", "count": "count", "ratio": "number", "angle": "angle"}
_CALLED: dict[Want, str] = {"length": "a length", "count": "a whole number", "number": "a plain number", "angle": "an angle"}


def with_brought(scopes: Iterable[ScopeRules], kinds: Sequence[Brought[type[Component]]], units: Units, findings: Findings) -> dict[str, ScopeRules]:
    """The rules of all plugins' components that are used in some scopes, or in each other."""
    by_name = {kind.name: kind for kind in kinds}
    waiting, own, found = list(scopes), {scope.name for scope in scopes}, dict[str, ScopeRules]()
    while waiting:
        for part in waiting.pop().parts.values():
            name = part.component[0] if part.component else ""
            if name in by_name and name not in found and name not in own:
                found[name] = _rules(by_name[name].thing, units, findings)
                waiting.append(found[name])
    return found


def _rules(kind: type[Component], units: Units, findings: Findings) -> ScopeRules:
    """The rules of one component: its text's, with a size, number or material for each of its fields."""
    at = Spot(f"component {kind.kind}")
    tree = read_tree(at.file, dedent(kind.written).strip("\n") + "\n")
    findings.extend(tree.report)
    root = tree.value if isinstance(tree.value, Mapping) else Mapping(())
    if tree.report.ok and not root.entries:
        findings.error("wrong-shape", f"The text of the component `{kind.kind}` holds no names with a colon.", Spot(at.file, line=1, column=1),
                       "It begins with parts: and is written as under components in design.yaml.")
    check_keys(root, "component", at, findings)
    rules = RuleReader(units, findings, "inch").scope(root, at, kind.kind)
    for asked in kind.asks:
        metric = asked.metric is not None and units == "mm"
        sized = Sized((asked.metric if metric else asked.default) or "0", at.key("sizes", asked.key), "mm" if metric else "inch")
        if asked.takes == "stock":
            rules.materials[asked.key] = sized
            continue
        (rules.sizes if asked.takes in ("size", "angle") else rules.numbers)[asked.key] = sized
        rules.limits[asked.key] = Limits(_WANTS[asked.takes], asked.says, asked.least, asked.most)
    return rules


def outside(name: str, value: Known, limits: Limits, written: str, work_out: Callable[[str, Want], Known], units: Units) -> str | None:
    """What is wrong with a value of a component's field: of another kind, or outside its limits; None when it fits."""
    fits = {"length": Length, "angle": Angle, "number": (Fraction, int), "count": (Fraction, int)}[limits.want]
    whole = limits.want != "count" or (isinstance(value, (Fraction, int)) and Fraction(value).denominator == 1 and value >= 0)
    if not isinstance(value, fits) or not whole:  # type: ignore[arg-type]  # a table of types
        return f"`{name}` is {_CALLED[limits.want]}; `{written}` is none."
    for text, word in ((limits.least, "less than the least"), (limits.most, "more than the most")):
        edge = work_out(text, limits.want) if text else None
        if edge is not None and (value < edge if text is limits.least else value > edge):  # type: ignore[operator]  # of one kind, just judged
            shown = _said(edge, units)
            return f"`{name}` {_said(value, units)} is {word}, {f'{text} = {shown}' if any(map(str.isalpha, text)) else shown}."
    return None


def _said(value: Known, units: Units) -> str:
    if isinstance(value, Length):
        return say(value, units)
    return f"{float(value.degrees):g} deg" if isinstance(value, Angle) else str(value)
