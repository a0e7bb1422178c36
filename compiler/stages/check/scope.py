"""One set of names and what they stand for: the plan's, or those inside one use of a component.

In: the rules, and where the use stands. Out: sizes, numbers, materials and places, each worked out when first asked for, in the
scope's own coordinates (0 is the left front bottom corner of a use). A scope never looks into the scope it is used from.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, cast

from compiler.base.measures import Length
from compiler.base.report import Spot
from compiler.language import Refused, Unsolved, did_you_mean, listed, say
from compiler.language.trees import Evenly, Follow, Mirror, Repeat, Thing
from compiler.library import find_item, find_stock, names_of
from compiler.stages.check.copies import (
    Copy,
    following_copies,
    mirror_copies,
    numbered_copies,
    run_copies,
    same_hands,
)
from compiler.stages.check.rules import PartRule, ScopeRules, Sized
from compiler.stages.check.work import Work
from compiler.values.design import Known
from compiler.values.library import Item, Stock
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Face

OWN: dict[str, Axis] = {"width": "across", "depth": "deep", "height": "up"}
OPPOSITE: dict[str, Face] = {"left": "right", "right": "left", "front": "back", "back": "front", "bottom": "top", "top": "bottom"}
LOW: dict[Axis, Face] = {"across": "left", "deep": "front", "up": "bottom"}
HIGH: dict[Axis, Face] = {"across": "right", "deep": "back", "up": "top"}
MOST_COPIES = 500


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A copy of a part, or a use of a component, in its scope."""

    scope: Scope
    rule: PartRule
    copy: Copy

    @property
    def name(self) -> str:
        """Its full name in the plan: `left drawer.left side`."""
        return self.scope.prefix + self.copy.called(self.scope.flipped)


@dataclass(frozen=True, slots=True)
class Use:
    """Where a component stands: the scope it is used in, its rule and its copy."""

    scope: Scope
    rule: PartRule
    copy: Copy


Bindings = dict[str, Copy]


class Geometry(Protocol):
    """How faces and thicknesses are found; the rules for it live in `placing` and `thickness`."""

    def face(self, scope: Scope, rule: PartRule, copy: Copy, face: Face, name: str) -> Length:
        """The place of a face in the scope's coordinates."""
        ...

    def thickness(self, scope: Scope, rule: PartRule, copy: Copy) -> Length:
        """A part's own thickness."""
        ...


class Scope:
    """The names of the plan, or of one use of a component."""

    def __init__(self, work: Work, geometry: Geometry, rules: ScopeRules, components: dict[str, ScopeRules], plan: Scope | None = None,
                 use: Use | None = None, id: str = "") -> None:
        self.work, self.geometry, self.rules, self.components, self.use, self.id = work, geometry, rules, components, use, id
        self.plan = plan or self
        self.prefix = f"{id}." if id else ""
        self.flipped: tuple[Axis, ...] = ()
        if use is not None:
            outer, inner = set(use.scope.flipped), set(use.copy.mirrored)
            self.flipped = tuple(axis for axis in AXES if axis in outer ^ inner)
        self._uses: dict[tuple[str, int], Scope] = {}
        self._middles_missed: set[Axis] = set()
        self.given: dict[str, Sized] = dict(use.rule.given) if use else {}

    # ---- names without a dot ----------------------------------------------------------------------

    def lookup(self, axis: Axis | None = None, bindings: Bindings | None = None) -> ScopeLookup:
        """What names mean here; `axis` says which middle is meant, `bindings` which copy a followed part means."""
        return ScopeLookup(self, axis, bindings or {})

    def size(self, name: str) -> Known:
        """A size of this scope."""
        sized = self.rules.sizes[name]
        full = self.prefix + name

        def compute() -> Known:
            given = self.given.get(name)
            if given is not None and self.use is not None:
                return self.work.value(given, self.use.scope.lookup(), "any")
            return self.work.value(sized, self.lookup(), "any")

        written = self.given.get(name, sized)
        value = self.work.solve(("size", self.id, name), full, written.at, compute)
        self.work.tell(full, written.text, "given with `with:`" if name in self.given else "")
        return value

    def number(self, name: str) -> Known:
        """A plain number of this scope."""
        sized = self.given.get(name, self.rules.numbers[name])
        scope = self.use.scope if name in self.given and self.use is not None else self
        full = self.prefix + name
        value = self.work.solve(("number", self.id, name), full, sized.at, lambda: self.work.value(sized, scope.lookup(), "number"))
        self.work.tell(full, sized.text)
        return value

    def middle(self, axis: Axis, at: Spot | None = None) -> Length:
        """The middle line of an axis."""
        sized = self.rules.middle.get(axis)
        if sized is None:
            self.without_middle(axis)
            raise self.work.refuse("no-middle", f"There is no middle line for `{axis}`.", at or self.rules.at, self.middle_hint(axis))
        full = f"{self.prefix}middle.{axis}"
        value = self.work.solve(("middle", self.id, axis), full, sized.at, lambda: self.work.value(sized, self.lookup(axis), "length"))
        self.work.tell(full, sized.text)
        return cast(Length, value)

    def without_middle(self, axis: Axis) -> None:
        """Raises `Unsolved` when the lack of this middle line is reported already."""
        if axis in self._middles_missed:
            raise Unsolved
        self._middles_missed.add(axis)

    def middle_hint(self, axis: Axis) -> str:
        """How a middle line is written."""
        own = {"across": "width", "deep": "depth", "up": "height"}[axis]
        return f"Write middle: {{{axis}: {own} / 2}}."

    def own(self, name: str) -> Length:
        """Width, depth or height of a use."""
        assert self.use is not None
        use, axis = self.use, OWN[name]
        full = self.prefix + name
        written = use.scope.written_copy(use.rule, use.copy)
        value = self.work.solve(("own", self.id, name), full, use.rule.at, lambda: use.scope.span_size(use.rule, written, axis))
        self.work.tell(full, f"{use.rule.name}.{axis}", f"of the place it is used in: {use.rule.name}")
        return value

    # ---- materials ---------------------------------------------------------------------------------

    def material(self, name: str) -> Stock | Item | None:
        """The stock or hardware that a short name stands for; None when nothing is called so."""
        sized = self.rules.materials.get(name)
        if sized is None:
            return self.plan.material(name) if self.plan is not self else None
        key = ("material", self.id, name)
        return self.work.solve(key, "", sized.at, lambda: self._found(name, sized))

    def _found(self, name: str, sized: Sized) -> Stock | Item:
        stock = find_stock(self.work.library, sized.text, self.work.edition, name)
        self.work.findings.extend(stock.report)
        if stock.value is not None:
            return stock.value
        item = find_item(self.work.library, sized.text, self.work.edition)
        self.work.findings.extend(item.report)
        if item.value is not None:
            return item.value
        if stock.report or item.report:
            raise Unsolved
        near = did_you_mean(sized.text, names_of(self.work.library))
        raise self.work.refuse("unknown-material", f"There is no `{sized.text}` in the library.", sized.at, f"Did you mean {near}?" if near else
                               "The library lies in shared/stock and shared/hardware.")

    def stock(self, rule: PartRule) -> Stock:
        """What a part is made of. Raises `Unsolved` after reporting."""
        if rule.stock is None:
            raise self.work.refuse("no-stock", f"`{rule.name}` has no stock.", Spot(rule.at.file, rule.at.path, on_key=True),
                                   "Write stock: with a name from `materials`, here or for its assembly.")
        name, at = rule.stock
        found = self.material(name)
        if found is None and name in self.rules.faulty | self.plan.rules.faulty:
            raise Unsolved
        if found is None:
            outcome = find_stock(self.work.library, name, self.work.edition, name)
            self.work.findings.extend(outcome.report)
            found = outcome.value
        if isinstance(found, Stock):
            return found
        if isinstance(found, Item):
            raise self.work.refuse("not-stock", f"`{name}` is hardware ({found.key}); a part is made of stock.", at, "Name a sheet, a board, a rod or a moulding.")
        near = did_you_mean(name.strip("“”‘’"), [*self.rules.materials, *self.plan.rules.materials])
        if name.startswith(("“", "‘")):
            raise self.work.refuse("curly-quotes", f"The curly quotes are kept as part of the name: {name}.", at, 'Use plain " or none.')
        raise self.work.refuse("unknown-stock", f"There is no material called `{name}`.", at, f"Did you mean {near}?" if near else
                               f"Add it to `materials`: {name}: birch plywood 3/4.")

    # ---- copies and uses ----------------------------------------------------------------------------

    def copies(self, rule: PartRule) -> tuple[Copy, ...]:
        """All copies of a part, the written one first."""
        at = rule.copies.at if rule.copies else rule.at
        return self.work.solve(("copies", self.id, rule.name), "", at, lambda: self._copies(rule))

    def _copies(self, rule: PartRule) -> tuple[Copy, ...]:
        if rule.run is not None:
            return run_copies(rule.name, tuple(face for face, _ in rule.run.faces))
        if rule.copies is None:
            return (Copy(rule.name, 0),)
        match rule.copies.tree:
            case Mirror() as mirror:
                if len(set(mirror.axes)) < len(mirror.axes):
                    raise self.work.refuse("mirror-twice", "An axis is mirrored once.", rule.copies.at, "Name each axis once.")
                for axis in mirror.axes:
                    if axis not in self.rules.middle:
                        self.middle(axis, rule.copies.at)
                return mirror_copies(rule.name, mirror)
            case Repeat() | Evenly() as several:
                count = cast(int, self.work.tree_value(several.count, rule.copies.sized, self.lookup(several.axis), "count"))
                if not 1 <= count <= MOST_COPIES:
                    raise self.work.refuse("copies-count", f"`{rule.name}` would have {count} copies; 1 to {MOST_COPIES} can be drawn.", rule.copies.at)
                return numbered_copies(rule.name, count)
            case Follow(thing):
                leader = self.rules.parts.get(thing.text)
                if leader is None:
                    raise self.no_part(thing, rule.copies.at)
                return following_copies(rule.name, leader.name, self.copies(leader))

    def written_copy(self, rule: PartRule, copy: Copy) -> Copy:
        """The copy that a mirror image is the image of."""
        if not copy.mirrored:
            return copy
        return self.copies(rule)[0]

    def inside(self, rule: PartRule, copy: Copy) -> Scope:
        """The scope inside one use of a component."""
        key = (rule.name, copy.index)
        if key not in self._uses:
            assert rule.component is not None
            name, at = rule.component
            component = self.components.get(name)
            if component is None:
                near = did_you_mean(name, self.components)
                raise self.work.refuse("unknown-component", f"There is no component called `{name}`.", at, f"Did you mean {near}?" if near else
                                       "Write it under `components`.")
            if any(scope.rules.name == component.name for scope in self.chain()):
                raise self.work.refuse("circle", f"The component `{name}` is used inside itself.", at, "A component can't hold itself.")
            self._uses[key] = Scope(self.work, self.geometry, component, self.components, self.plan, Use(self, rule, copy), self.prefix + copy.called(self.flipped))
        return self._uses[key]

    def chain(self) -> list[Scope]:
        """This scope and those it is used in, outward."""
        found: list[Scope] = [self]
        while found[-1].use is not None:
            found.append(found[-1].use.scope)
        return found

    # ---- places --------------------------------------------------------------------------------------

    def face(self, rule: PartRule, copy: Copy, face: Face) -> Length:
        """The place of a face in this scope's coordinates."""
        name = f"{self.prefix}{copy.called(self.flipped)}.{face_in_plan(face, self.flipped)}"
        extent = rule.extents.get(AXIS_OF[face])
        at = extent.at if extent else rule.at
        return self.work.solve(("face", self.id, rule.name, copy.index, face), name, at, lambda: self.geometry.face(self, rule, copy, face, name))

    def span_size(self, rule: PartRule, copy: Copy, axis: Axis) -> Length:
        """The size of an extent."""
        return self.face(rule, copy, HIGH[axis]) - self.face(rule, copy, LOW[axis])

    def outward(self, axis: Axis, place: Length) -> Length:
        """A place in the coordinates of the scope this one is used in."""
        assert self.use is not None
        use = self.use
        if axis in use.copy.mirrored:
            return use.scope.face(use.rule, use.copy, HIGH[axis]) - place
        return use.scope.face(use.rule, use.copy, LOW[axis]) + place

    def face_of(self, piece: Piece, face: Face) -> Length:
        """The place of a piece's face, of this scope or of a use in it, in this scope's coordinates."""
        axis = AXIS_OF[face]
        scopes: list[Scope] = []
        scope = piece.scope
        while scope is not self:
            scopes.append(scope)
            assert scope.use is not None
            scope = scope.use.scope
        flips = sum(1 for each in scopes if each.use is not None and axis in each.use.copy.mirrored)
        place = piece.scope.face(piece.rule, piece.copy, OPPOSITE[face] if flips % 2 else face)
        for each in scopes:
            place = each.outward(axis, place)
        return place

    # ---- finding parts by name -----------------------------------------------------------------------

    def pieces(self, thing: Thing, bindings: Bindings | None = None, *, names: tuple[str, ...] | None = None, true_names: bool = False) -> tuple[Piece, ...]:
        """The pieces a name means: one copy, or all copies of a part, also inside uses. Empty when nothing is called so."""
        wanted = names if names is not None else thing.names
        found, exact = self._here(wanted[0], bindings or {}, true_names)
        if len(wanted) == 1:
            return tuple(Piece(self, rule, copy) for rule, copy in found)
        inner: list[Piece] = []
        for rule, copy in found:
            if rule.component is not None:
                inner.extend(self.inside(rule, copy).pieces(thing, names=wanted[1:], true_names=exact or true_names))
        return tuple(inner)

    def _here(self, name: str, bindings: Bindings, true_names: bool) -> tuple[list[tuple[PartRule, Copy]], bool]:
        """Copies of this scope's parts by a name, and whether the name meant one copy alone."""
        rule = self.rules.parts.get(name)
        if rule is not None:
            if name in bindings:
                return [(rule, bindings[name])], True
            return [(rule, copy) for copy in self.copies(rule)], rule.copies is None
        for rule in self.rules.parts.values():
            if not (name.endswith(" " + rule.name) or name.startswith(rule.name + " ")):
                continue
            for copy in self.copies(rule):
                called = copy.called(self.flipped) if true_names else copy.name
                if called == name or (copy.hands and same_hands(called, name, rule.name)):
                    return [(rule, copy)], True
        return [], False

    def group(self, thing: Thing) -> tuple[Piece, ...]:
        """The pieces of wood that a name means: a part's copies, all in a use, all in an assembly. Empty when nothing is called so."""
        pieces = self.pieces(thing)
        if not pieces and len(thing.names) == 1 and thing.names[0] in self.rules.assemblies:
            path = self.rules.assemblies[thing.names[0]].path
            pieces = tuple(Piece(self, rule, copy) for rule in self.rules.parts.values() if rule.assembly[: len(path)] == path for copy in self.copies(rule))
        return tuple(wood for piece in pieces for wood in self.wood_in(piece))

    def wood_in(self, piece: Piece) -> tuple[Piece, ...]:
        """The piece itself, or every piece inside a use of a component."""
        if piece.rule.component is None:
            return (piece,)
        inner = piece.scope.inside(piece.rule, piece.copy)
        return tuple(wood for rule in inner.rules.parts.values() for copy in inner.copies(rule) for wood in inner.wood_in(Piece(inner, rule, copy)))

    def no_part(self, thing: Thing, at: Spot, *, count: int | None = None) -> Unsolved:
        """Report that no part is called so, with the name that was probably meant."""
        fault = self.unknown_part(thing, count if count is not None else len(thing.names))
        self.work.report(fault, at)
        return Unsolved()

    def unknown_part(self, thing: Thing, count: int) -> Refused:
        """The fault for a name of a part that nothing is called by; `count` of its words name the part."""
        scope = self
        for position in range(count):
            name = thing.names[position]
            start, end = thing.spans[position]
            found, _ = scope._here(name, {}, False)
            if not found:
                return scope.unknown_here(name, start, end, thing)
            rule, copy = found[0]
            if position + 1 < count:
                if rule.component is None:
                    return Refused("unknown-part", f"`{name}` is one part; nothing is inside it.", "", *thing.spans[position + 1])
                scope = scope.inside(rule, copy)
        return Refused("unknown-part", f"There is no part called `{thing.text}`.", "", thing.start, thing.end)

    def unknown_here(self, name: str, start: int, end: int, thing: Thing) -> Refused:
        """The fault for a single name in this scope. Raises `Unsolved` for a name whose own fault is reported."""
        if name in self.rules.faulty:
            raise Unsolved
        parts = self.part_names()
        if self.id and (name in self.plan.rules.sizes or name in self.plan.rules.parts or name in self.plan.rules.numbers):
            return Refused("out-of-scope", f"Inside `{self.rules.name}` only its own sizes are known; `{name}` belongs to the plan.",
                           f"Add it to the sizes of `{self.rules.name}` and give it with `with:`.", start, end)
        if name in self.rules.assemblies:
            first = next(iter(self.rules.assemblies[name].parts), "")
            last = thing.names[-1] if len(thing.names) > 1 else ""
            return Refused("assembly-face", f"`{name}` is an assembly, which has no faces.", f"Name a part of it: {first}{'.' + last if last else ''}.", start, end)
        for rule in self.rules.parts.values():
            if name in (rule.name + "s", rule.name + "es"):
                copies = [copy.name for copy in self.copies(rule)]
                tail = f"; its copies are {listed(copies)}" if len(copies) > 1 else ""
                return Refused("unknown-part", f"The part is called `{rule.name}`{tail}.", f"Write {rule.name}.", start, end)
        near = did_you_mean(name, [*parts, *self.rules.assemblies, *self.rules.materials, *self.plan.rules.materials])
        what = f"in `{self.rules.name}`" if self.id else ""
        return Refused("unknown-part", f"There is no part called `{name}` {what}".rstrip() + ".", f"Did you mean {near}?" if near else "", start, end)

    def part_names(self) -> list[str]:
        """All names a part of this scope may be called by."""
        found = list(self.rules.parts)
        for rule in self.rules.parts.values():
            try:
                found.extend(copy.name for copy in self.copies(rule))
            except Unsolved:
                continue
        return found


def face_in_plan(face: Face, flipped: tuple[Axis, ...]) -> Face:
    """What a face is called in the plan, when the scope is mirrored."""
    return OPPOSITE[face] if AXIS_OF[face] in flipped else face


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
        if name in scope.rules.faulty and not scope._here(name, {}, False)[0]:
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
        if scope._here(name, {}, False)[0]:
            face = {"across": "left", "deep": "front", "up": "bottom"}[self._axis or "across"]
            return Refused("part-as-size", f"`{name}` is a part, not a size.", f"Write {name}.{face} for a place, {name}.{self._axis or 'across'} for a size.", start, end)
        pieces = name.split("-")
        if len(pieces) > 1 and all(piece in sizes or piece.isdigit() or scope._here(piece, {}, False)[0] for piece in pieces):
            return Refused("unknown-size", f"There is no size called `{name}`.", f"With spaces it is a subtraction: {' - '.join(pieces)}.", start, end)
        if scope.id and (name in scope.plan.rules.sizes or name in scope.plan.rules.numbers):
            return scope.unknown_here(name, start, end, thing)
        near = did_you_mean(name, [*sizes, "middle"])
        if not near and (part := did_you_mean(name, scope.part_names())):
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
        pieces = scope.pieces(thing, self._bindings, names=owner)
        if not pieces:
            raise scope.unknown_part(thing, len(owner))
        values = [self._property(piece, thing) for piece in pieces]
        if any(value != values[0] for value in values[1:]):
            raise self._differ(thing, pieces, values)
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

    def _differ(self, thing: Thing, pieces: tuple[Piece, ...], values: list[Known]) -> Refused:
        owner, last = ".".join(thing.names[:-1]), thing.names[-1]
        units = self._scope.work.edition
        shown = [say(value, units) for value in dict.fromkeys(value for value in values if isinstance(value, Length))]
        count = {2: "two", 3: "three", 4: "four"}.get(len(pieces), str(len(pieces)))
        prefix = self._scope.prefix
        names = [piece.name.removeprefix(prefix) for piece in pieces]
        what = f"{last} faces" if last in FACES else f"sizes {last}"
        return Refused("copies-differ", f"`{owner}` has {count} copies and their {what} differ ({listed(shown[:4])}).",
                       f"Write {listed([f'{name}.{last}' for name in names[:4]], 'or')}.", thing.spans[0][0], thing.spans[-2][1])
