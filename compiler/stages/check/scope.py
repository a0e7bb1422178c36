"""One set of names and what they stand for: the plan's, or those inside one use of a component.

In: the rules, and where the use stands. Out: sizes, numbers, materials and places, each worked out when first asked for, in the
scope's own coordinates (0 is the left front bottom corner of a use). A scope never looks into the scope it is used from.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, cast

from compiler.base.measures import Length
from compiler.base.report import Spot
from compiler.language import Lookup, Unsolved, did_you_mean
from compiler.library import find_item, find_stock, names_of
from compiler.stages.check.brought import outside
from compiler.stages.check.copies import (
    Copy,
)
from compiler.stages.check.rules import PartRule, ScopeRules, Sized
from compiler.stages.check.work import Work
from compiler.values.design import Known
from compiler.values.library import Item, Stock
from compiler.values.model import AXES, AXIS_OF, Axis, Face

OWN: dict[str, Axis] = {"width": "across", "depth": "deep", "height": "up"}
OPPOSITE: dict[str, Face] = {"left": "right", "right": "left", "front": "back", "back": "front", "bottom": "top", "top": "bottom"}
LOW: dict[Axis, Face] = {"across": "left", "deep": "front", "up": "bottom"}
HIGH: dict[Axis, Face] = {"across": "right", "deep": "back", "up": "top"}


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
    """How a scope finds what it doesn't know itself; the rules for it live in `placing`, `thickness`, `counting` and `lookup`."""

    def face(self, scope: Scope, rule: PartRule, copy: Copy, face: Face, name: str) -> Length:
        """The place of a face in the scope's coordinates."""
        ...

    def thickness(self, scope: Scope, rule: PartRule, copy: Copy) -> Length:
        """A part's own thickness."""
        ...

    def copies(self, scope: Scope, rule: PartRule) -> tuple[Copy, ...]:
        """All copies of a part, the written one first."""
        ...

    def lookup(self, scope: Scope, axis: Axis | None, bindings: Bindings) -> Lookup:
        """What names mean in a scope."""
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

    def lookup(self, axis: Axis | None = None, bindings: Bindings | None = None) -> Lookup:
        """What names mean here; `axis` says which middle is meant, `bindings` which copy a followed part means."""
        return self.geometry.lookup(self, axis, bindings or {})

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
        value = self.work.solve(("size", self.id, name), full, written.at, lambda: self._within(name, compute()))
        self.work.tell(full, written.text, "given with `with:`" if name in self.given else "")
        return value

    def number(self, name: str) -> Known:
        """A plain number of this scope."""
        sized = self.given.get(name, self.rules.numbers[name])
        scope = self.use.scope if name in self.given and self.use is not None else self
        full = self.prefix + name
        value = self.work.solve(("number", self.id, name), full, sized.at, lambda: self._within(name, self.work.value(sized, scope.lookup(), "number")))
        self.work.tell(full, sized.text)
        return value

    def _within(self, name: str, value: Known) -> Known:
        """The value, of the kind and inside the limits that its component sets. Raises `Unsolved` after reporting."""
        limits = self.rules.limits.get(name)
        written = self.given.get(name, self.rules.sizes.get(name) or self.rules.numbers.get(name))
        if limits is None or written is None:
            return value
        fault = outside(name, value, limits, written.text, lambda text, want: self.work.value(Sized(text, written.at, "inch"), self.lookup(), want),
                        self.work.edition)
        if fault is not None:
            raise self.work.refuse("outside-limits", fault, written.at, f"It is {limits.says}.")
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
        given = self.given.get(name)
        if given is not None and self.use is not None:
            meant = self.use.scope.material(given.text)
            if meant is not None:
                return meant
            sized = given
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
        return self.work.solve(("copies", self.id, rule.name), "", at, lambda: self.geometry.copies(self, rule), called=f"the copies of {rule.name}")

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
                near = did_you_mean(name, [*self.components, *self.work.components])
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

def face_in_plan(face: Face, flipped: tuple[Axis, ...]) -> Face:
    """What a face is called in the plan, when the scope is mirrored."""
    return OPPOSITE[face] if AXIS_OF[face] in flipped else face
