"""Tools by need.

In: the model's operations, the library (what an operation must have, and of what one of several will do), the shop's own
tools. Out: `ToolList`. Of several that do the same the shop's own comes first, else the library's first.
"""

from __future__ import annotations

from compiler.api import Library, Model, Notes, Shop, ToolList, ToolNeed, task

from .steps import step_of


@task
def tools_by_need(model: Model, notes: Notes, library: Library, shop: Shop) -> ToolList:
    """What the work can't do without, and what makes it easier."""
    known = {operation.name: operation for operation in library.operations}
    kinds = dict(library.tools)
    must: dict[str, tuple[tuple[str, ...], set[str]]] = {}
    good: dict[str, set[str]] = {}
    asked: list[tuple[tuple[str, ...], str]] = []
    for use in model.operations:
        operation = known.get(use.does)
        step = step_of(use, notes)
        asked += [((name,), step) for name in (*use.tools, *(operation.must if operation else ()))]
        asked += [(group, step) for group in operation.any_of] if operation else []
    # What is needed anyway comes first: of several that do, it is the one that must be there.
    for group, step in sorted(asked, key=lambda one: len(one[0]) > 1):
        owned = [name for name in group if name in shop.tools]
        first = owned[0] if owned else next((name for name in group if name in must), group[0])
        _, steps = must.setdefault(first, (tuple(name for name in group if name != first), set()))
        steps.update([step] if step else [])
        for name in group:
            if name != first:
                good.setdefault(name, set()).update([step] if step else [])
    # What stands beside a tool as its other choice is not named once more.
    told = {other for others, _ in must.values() for other in others}
    order = {step.key: number for number, step in enumerate(notes.steps)}

    def need(name: str, others: tuple[str, ...], steps: set[str]) -> ToolNeed:
        return ToolNeed(name=name, others=others, kind=kinds.get(name, ""), steps=tuple(sorted(steps, key=order.__getitem__)))

    rank = ("machine", "hand tool", "bit", "aid", "")
    ordered = sorted(must.items(), key=lambda entry: (rank.index(kinds.get(entry[0], "")), entry[0]))
    return ToolList(
        must=tuple(need(name, others, steps) for name, (others, steps) in ordered if kinds.get(name) != "aid"),
        good=tuple(need(name, (), steps) for name, (_, steps) in ordered if kinds.get(name) == "aid")
        + tuple(need(name, (), steps) for name, steps in sorted(good.items()) if name not in must and name not in told),
    )
