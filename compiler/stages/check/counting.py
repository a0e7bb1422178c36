"""How many copies a part has, and what each is called.

In: a part's rule in its scope. Out: its copies. A count is worked out from the scope's sizes and numbers.
"""

from __future__ import annotations

from typing import cast

from compiler.language.trees import Evenly, Follow, Mirror, Repeat
from compiler.stages.check.copies import Copy, following_copies, mirror_copies, numbered_copies, run_copies
from compiler.stages.check.finding import no_part
from compiler.stages.check.rules import PartRule
from compiler.stages.check.scope import Scope

MOST_COPIES = 500


def copies_of(scope: Scope, rule: PartRule) -> tuple[Copy, ...]:
    """All copies of a part, the written one first. Raises `Unsolved` after reporting."""
    if rule.run is not None:
        return run_copies(rule.name, tuple(face for face, _ in rule.run.faces))
    if rule.copies is None:
        return (Copy(rule.name, 0),)
    match rule.copies.tree:
        case Mirror() as mirror:
            if len(set(mirror.axes)) < len(mirror.axes):
                raise scope.work.refuse("mirror-twice", "An axis is mirrored once.", rule.copies.at, "Name each axis once.")
            for axis in mirror.axes:
                if axis not in scope.rules.middle:
                    scope.middle(axis, rule.copies.at)
            return mirror_copies(rule.name, mirror)
        case Repeat() | Evenly() as several:
            count = cast(int, scope.work.tree_value(several.count, rule.copies.sized, scope.lookup(several.axis), "count"))
            if not 1 <= count <= MOST_COPIES:
                raise scope.work.refuse("copies-count", f"`{rule.name}` would have {count} copies; 1 to {MOST_COPIES} can be drawn.", rule.copies.at)
            return numbered_copies(rule.name, count)
        case Follow(thing):
            leader = scope.rules.parts.get(thing.text)
            if leader is None:
                raise no_part(scope, thing, rule.copies.at)
            return following_copies(rule.name, leader.name, scope.copies(leader))
