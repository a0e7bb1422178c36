"""Model and notes → advice where something loose is added when there is no way in any more.

What is joined to the piece is judged by its solids, joints and all, when its step's picture is drawn. What only lies in it (a shelf on pins, a tray) may be
tilted in; this check tells when that can't be done either. Doors and drawers that are there already stand open and block nobody.
"""

from __future__ import annotations

from compiler.api import Findings, Model, Notes, advice, check

from .ways import Solid, solid, straight, tilted


@check
def no_way_in(model: Model, notes: Notes) -> Findings:
    """A loose part that can neither be pushed nor tilted to its place at its step."""
    parts = {part.name: part for part in model.parts}
    mates: dict[str, set[str]] = {}
    for joint in model.joints:
        if joint.family != "on":
            mates.setdefault(joint.acting, set()).add(joint.receiver)
            mates.setdefault(joint.receiver, set()).add(joint.acting)
    solids: dict[str, Solid] = {name: solid(part) for name, part in parts.items() if part.pose.square}
    done: list[str] = []
    for step in notes.steps:
        new = [name for name in step.adds if name in parts and name not in done]
        said: set[str] = set()
        for group in _groups(new, mates):
            if group & set(solids) != group or any(mates.get(name, set()) & set(done) for name in group):
                continue
            mine = {parts[name].component for name in group}
            others = [solids[name] for name in done if name in solids and (not parts[name].component or parts[name].component in mine)]
            moved = [solids[name] for name in sorted(group)]
            first = parts[min(group, key=list(parts).index)]
            if others and first.kind not in said and not straight(moved, others) and not tilted(moved, others):
                said.add(first.kind)
                yield advice(f"`{first.kind}` is added in “{step.key}”, when there is no way in, neither straight nor with one end raised: what stands round "
                             "it is closed.", at=step, hint="Add it in an earlier step, make it shorter, or tell how to turn it in.")
        done += new


def _groups(names: list[str], mates: dict[str, set[str]]) -> list[set[str]]:
    """Added parts that hang together."""
    groups: list[set[str]] = []
    left = list(names)
    while left:
        group, waiting = set[str](), [left[0]]
        while waiting:
            name = waiting.pop()
            if name not in group:
                group.add(name)
                waiting += [other for other in mates.get(name, ()) if other in names]
        groups.append(group)
        left = [name for name in left if name not in group]
    return groups
