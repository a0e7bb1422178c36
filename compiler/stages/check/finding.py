"""Parts by name: which pieces a name means in a scope, and what was probably meant when it means none.

In: a scope and a name, with dots for what is inside a use. Out: pieces, or the fault. A plain name means all copies, an assembly all its
parts, a use all that is in it.
"""

from __future__ import annotations

from compiler.base.report import Spot
from compiler.language import Refused, Unsolved, did_you_mean, listed
from compiler.language.trees import Mirror, Thing
from compiler.stages.check.copies import Copy, same_hands
from compiler.stages.check.rules import PartRule
from compiler.stages.check.scope import Bindings, Piece, Scope


def pieces(scope: Scope, thing: Thing, bindings: Bindings | None = None, *, names: tuple[str, ...] | None = None, true_names: bool = False) -> tuple[Piece, ...]:
    """The pieces a name means: one copy, or all copies of a part, also inside uses. Empty when nothing is called so."""
    wanted = names if names is not None else thing.names
    found, exact = here(scope, wanted[0], bindings or {}, true_names)
    if len(wanted) == 1:
        return tuple(Piece(scope, rule, copy) for rule, copy in found)
    inner: list[Piece] = []
    for rule, copy in found:
        if rule.component is not None:
            inner.extend(pieces(scope.inside(rule, copy), thing, names=wanted[1:], true_names=exact or true_names))
    return tuple(inner)


def here(scope: Scope, name: str, bindings: Bindings, true_names: bool) -> tuple[list[tuple[PartRule, Copy]], bool]:
    """Copies of this scope's parts by a name, and whether the name meant one copy alone."""
    rule = scope.rules.parts.get(name)
    if rule is not None:
        if name in bindings:
            return [(rule, bindings[name])], True
        return [(rule, copy) for copy in scope.copies(rule)], rule.copies is None
    for rule in scope.rules.parts.values():
        if not (name.endswith(" " + rule.name) or name.startswith(rule.name + " ")):
            continue
        for copy in scope.copies(rule):
            called = copy.called(scope.flipped) if true_names else copy.name
            if called == name or (copy.hands and same_hands(called, name, rule.name)):
                return [(rule, copy)], True
    return [], False


def group(scope: Scope, thing: Thing) -> tuple[Piece, ...]:
    """The pieces of wood that a name means: a part's copies, all in a use, all in an assembly. Empty when nothing is called so."""
    found = pieces(scope, thing)
    if not found and len(thing.names) == 1 and thing.names[0] in scope.rules.assemblies:
        path = scope.rules.assemblies[thing.names[0]].path
        found = tuple(Piece(scope, rule, copy) for rule in scope.rules.parts.values() if rule.assembly[: len(path)] == path for copy in scope.copies(rule))
    return tuple(wood for piece in found for wood in wood_in(piece))


def wood_in(piece: Piece) -> tuple[Piece, ...]:
    """The piece itself, or every piece inside a use of a component."""
    if piece.rule.component is None:
        return (piece,)
    inner = piece.scope.inside(piece.rule, piece.copy)
    return tuple(wood for rule in inner.rules.parts.values() for copy in inner.copies(rule) for wood in wood_in(Piece(inner, rule, copy)))


def no_part(scope: Scope, thing: Thing, at: Spot, *, count: int | None = None) -> Unsolved:
    """Report that no part is called so, with the name that was probably meant."""
    fault = unknown_part(scope, thing, count if count is not None else len(thing.names))
    scope.work.report(fault, at)
    return Unsolved()


def unknown_part(scope: Scope, thing: Thing, count: int) -> Refused:
    """The fault for a name of a part that nothing is called by; `count` of its words name the part."""
    for position in range(count):
        name = thing.names[position]
        start, end = thing.spans[position]
        found, _ = here(scope, name, {}, False)
        if not found:
            return unknown_here(scope, name, start, end, thing)
        rule, copy = found[0]
        if position + 1 < count:
            if rule.component is None:
                return Refused("unknown-part", f"`{name}` is one part; nothing is inside it.", "", *thing.spans[position + 1])
            scope = scope.inside(rule, copy)
    return Refused("unknown-part", f"There is no part called `{thing.text}`.", "", thing.start, thing.end)


def unknown_here(scope: Scope, name: str, start: int, end: int, thing: Thing) -> Refused:
    """The fault for a single name in this scope. Raises `Unsolved` for a name whose own fault is reported."""
    if name in scope.rules.faulty:
        raise Unsolved
    parts = part_names(scope)
    if scope.id and (name in scope.plan.rules.sizes or name in scope.plan.rules.parts or name in scope.plan.rules.numbers):
        return Refused("out-of-scope", f"Inside `{scope.rules.name}` only its own sizes are known; `{name}` belongs to the plan.",
                       f"Add it to the sizes of `{scope.rules.name}` and give it with `with:`.", start, end)
    if name in scope.rules.assemblies:
        first = next(iter(scope.rules.assemblies[name].parts), "")
        last = thing.names[-1] if len(thing.names) > 1 else ""
        return Refused("assembly-face", f"`{name}` is an assembly, which has no faces.", f"Name a part of it: {first}{'.' + last if last else ''}.", start, end)
    for rule in scope.rules.parts.values():
        if name in (rule.name + "s", rule.name + "es"):
            copies = [copy.name for copy in scope.copies(rule)]
            tail = f"; its copies are {listed(copies)}" if len(copies) > 1 else ""
            return Refused("unknown-part", f"The part is called `{rule.name}`{tail}.", f"Write {rule.name}.", start, end)
    near = did_you_mean(name, [*parts, *scope.rules.assemblies, *scope.rules.materials, *scope.plan.rules.materials])
    what = f"in `{scope.rules.name}`" if scope.id else ""
    return Refused("unknown-part", f"There is no part called `{name}` {what}".rstrip() + ".", f"Did you mean {near}?" if near else "", start, end)


def part_names(scope: Scope) -> list[str]:
    """All names a part of this scope may be called by, as far as its copies are known without counting."""
    found = list(scope.rules.parts)
    for rule in scope.rules.parts.values():
        counted = rule.copies is not None and not isinstance(rule.copies.tree, Mirror)
        if counted and not scope.work.knows(("copies", scope.id, rule.name)):
            continue
        try:
            found.extend(copy.name for copy in scope.copies(rule))
        except Unsolved:
            continue
    return found
