"""Sizes that are legal and probably not meant: warnings and advice, never errors.

In: the plan's scope, all sizes worked out. Out: remarks in the findings.
"""

from __future__ import annotations

from compiler.base.measures import Length
from compiler.language import Refused, Unsolved, say
from compiler.language.parsing import parse_size
from compiler.language.trees import Number
from compiler.stages.check.scope import Scope


def remarks_on_sizes(plan: Scope) -> None:
    """Warn of a size in the other unit that is under a tenth of both its neighbours: `36 mm` among inches."""
    names = list(plan.rules.sizes)
    values: dict[str, Length] = {}
    for name in names:
        try:
            value = plan.size(name)
        except Unsolved:
            continue
        if isinstance(value, Length):
            values[name] = value
    for index, name in enumerate(names):
        sized = plan.rules.sizes[name]
        number = _number(sized.text)
        if number is None or name not in values or number.unit not in ("mm", "cm", "in"):
            continue
        foreign = (number.unit == "in") != (plan.work.written == "inch")
        neighbours = [values[other] for other in names[max(0, index - 1):index] + names[index + 1:index + 2] if other in values]
        if foreign and neighbours and all(abs(values[name]) * 10 < abs(other) for other in neighbours):
            written = plan.work.written
            bare = sized.text[:number.end - len(number.unit)].strip()
            plan.work.findings.warning("small-size", f"{sized.text} is {say(values[name], written, unit=True)}, under a tenth of its neighbours.", sized.at,
                                       f"Did you mean {bare}?")


def _number(text: str) -> Number | None:
    try:
        tree = parse_size(text)
    except Refused:
        return None
    return tree if isinstance(tree, Number) else None
