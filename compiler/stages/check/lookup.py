"""What names mean in one text of a scope: sizes, numbers, the middle line, places and sizes of parts, measures of materials.

In: a scope, the axis of the text, and which copy a followed part means. Out: a value, or the fault in the maker's words.
"""

from __future__ import annotations

from compiler.base.measures import Length
from compiler.language import Refused, Unsolved, did_you_mean, listed, say
from compiler.language.trees import Thing
from compiler.stages.check.finding import here, part_names, pieces, unknown_here, unknown_part
from compiler.stages.check.scope import OWN, Bindings, Piece, Scope
from compiler.values.design import Known
from compiler.values.library import Item, Stock
from compiler.values.model import AXES, FACES, Axis


class ScopeLookup:
    """What names mean in a scope, for one text."""

    def __init__(self, scope: Scope, axis: Axis | None, bindings: Bindings) -> None:
        self._scope, self._axis, self._bindings = scope, axis, bindings

    def find(self, thing: Thing) -> Known:
        """The value of a name. Raises `Refused` or `Unsolved`."""
        return self._one(thing) if len(thing.names) == 1 else self._dotted(thing)

    def _one(self, thing: Thing) -> Known:
        scope, name = self._scope, thing.names[0]
        if name in scope.rules.sizes:
            return scope.size(name)
        if name in scope.rules.numbers:
            return scope.number(name)
        if name in scope.rules.faulty and not here(scope, name, {}, False)[0]:
            raise Unsolved
        if name == "middle":
            if self._axis is None:
                raise Refused("which-middle", "Which middle is meant here?", "Write middle.across, middle.deep or middle.up.", thing.start, thing.end)
            if self._axis not in scope.rules.middle:
                scope.without_middle(self._axis)
                raise Refused("no-middle", f"There is no middle line for `{self._axis}`.", scope.middle_hint(self._axis), thing.start, thing.end)
            return scope.middle(self._axis)
        if scope.use is not None and name in OWN:
            return scope.own(name)
        raise self._unknown(thing)

    def _unknown(self, thing: Thing) -> Refused:
        scope, name = self._scope, thing.names[0]
        start, end = thing.start, thing.end
        sizes = [*scope.rules.sizes, *scope.rules.numbers, *(OWN if scope.use is not None else ())]
        if here(scope, name, {}, False)[0]:
            face = {"across": "left", "deep": "front", "up": "bottom"}[self._axis or "across"]
            return Refused("part-as-size", f"`{name}` is a part, not a size.", f"Write {name}.{face} for a place, {name}.{self._axis or 'across'} for a size.", start, end)
        words = name.split("-")
        if len(words) > 1 and all(word in sizes or word.isdigit() or here(scope, word, {}, False)[0] for word in words):
            return Refused("unknown-size", f"There is no size called `{name}`.", f"With spaces it is a subtraction: {' - '.join(words)}.", start, end)
        if scope.id and (name in scope.plan.rules.sizes or name in scope.plan.rules.numbers):
            return unknown_here(scope, name, start, end, thing)
        near = did_you_mean(name, [*sizes, "middle"])
        if not near and (part := did_you_mean(name, part_names(scope))):
            return Refused("unknown-size", f"There is no size called `{name}`.", f"The part {part} has places: {part}.top.", start, end)
        return Refused("unknown-size", f"There is no size called `{name}`.", f"Did you mean {near}?" if near else
                       f"The sizes are {listed(sizes)}." if len(sizes) <= 8 and sizes else "Write it under `sizes`.", start, end)

    def _dotted(self, thing: Thing) -> Known:
        scope, last = self._scope, thing.names[-1]
        owner = thing.names[:-1]
        if owner == ("middle",) and last in AXES:
            return scope.middle(last)
        if len(owner) == 1 and (owner[0] not in scope.rules.parts):
            material = scope.material(owner[0])
            if material is not None:
                return self._measure(thing, owner[0], material)
        found = pieces(scope, thing, self._bindings, names=owner)
        if not found:
            raise unknown_part(scope, thing, len(owner))
        values = [self._property(piece, thing) for piece in found]
        if any(value != values[0] for value in values[1:]):
            raise self._differ(thing, found, values)
        return values[0]

    def _measure(self, thing: Thing, name: str, material: Stock | Item) -> Known:
        last = thing.names[-1]
        if isinstance(material, Stock):
            known = {"thickness": material.thickness, "rough": material.rough, "width": material.width, "widest": material.widest}
            value = known.get(last)
            names = [each for each, length in known.items() if length is not None]
        else:
            value = material.measure(last)
            names = [each for each, _ in material.measures]
        if value is None:
            near = did_you_mean(last, names)
            raise Refused("unknown-measure", f"`{name}` ({material.key}) has no `{last}`.", f"Did you mean {near}?" if near else
                          f"It has {listed(names)}." if names else "The library gives it no sizes.", *thing.spans[-1])
        work, full = self._scope.work, f"{name}.{last}"
        found = work.solve(("measure", material.key, name, last), full, None, lambda: value)
        work.tell(full, material.name, f"from the library: {material.key}")
        return found

    def _property(self, piece: Piece, thing: Thing) -> Known:
        last, scope = thing.names[-1], self._scope
        if last in FACES:
            return scope.face_of(piece, last)
        if last in AXES:
            scope.work.need(f"{piece.name}.{last}")
            return piece.scope.span_size(piece.rule, piece.copy, last)
        if piece.rule.component is not None:
            inner = piece.scope.inside(piece.rule, piece.copy)
            if last in inner.rules.sizes:
                return inner.size(last)
            if last in inner.rules.numbers:
                return inner.number(last)
            if last in OWN:
                return inner.own(last)
            near = did_you_mean(last, [*inner.rules.sizes, *FACES, *AXES])
            raise Refused("unknown-face", f"`{last}` is no face, and no size of `{inner.rules.name}`.", f"Did you mean {near}?" if near else
                          "Faces: left right front back bottom top.", *thing.spans[-1])
        if last == "thickness":
            return scope.geometry.thickness(piece.scope, piece.rule, piece.copy)
        if last in ("length", "width"):
            owner = ".".join(thing.names[:-1])
            raise Refused("length-with-joints", f"A {last} includes the joints and is known only when they are made.",
                          f"{owner}.{'up' if self._axis is None else self._axis} is the size between shoulders.", *thing.spans[-1])
        near = did_you_mean(last, [*FACES, *AXES, "thickness"])
        raise Refused("unknown-face", f"`{last}` is no face.", f"Did you mean {near}? Faces: left right front back bottom top." if near else
                      "Faces: left right front back bottom top.", *thing.spans[-1])

    def _differ(self, thing: Thing, found: tuple[Piece, ...], values: list[Known]) -> Refused:
        owner, last = ".".join(thing.names[:-1]), thing.names[-1]
        units = self._scope.work.edition
        shown = [say(value, units) for value in dict.fromkeys(value for value in values if isinstance(value, Length))]
        count = {2: "two", 3: "three", 4: "four"}.get(len(found), str(len(found)))
        prefix = self._scope.prefix
        names = [piece.name.removeprefix(prefix) for piece in found]
        what = f"{last} faces" if last in FACES else f"sizes {last}"
        return Refused("copies-differ", f"`{owner}` has {count} copies and their {what} differ ({listed(shown[:4])}).",
                       f"Write {listed([f'{name}.{last}' for name in names[:4]], 'or')}.", thing.spans[0][0], thing.spans[-2][1])
