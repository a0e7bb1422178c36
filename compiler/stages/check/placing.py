"""The place of one face of one piece, from its extent as spoken.

In: a scope, a part's rule, one of its copies, a face. Out: an exact place in the scope's coordinates, asked for face by face, so
that two parts may stand on each other's faces in any order. Tilts are seen only by `between`.
"""

from __future__ import annotations

from typing import cast

from compiler.base.measures import ZERO, Length
from compiler.language import Lookup, Refused, Unsolved, listed, say
from compiler.language.trees import (
    As,
    Between,
    Centred,
    Evenly,
    Extent,
    From,
    FromTo,
    Reference,
    Repeat,
    Size,
    Thing,
    To,
)
from compiler.stages.check.copies import Copy, follows
from compiler.stages.check.finding import group, no_part, pieces, unknown_part
from compiler.stages.check.rules import PartRule, Spoken
from compiler.stages.check.scope import HIGH, LOW, OPPOSITE, Bindings, Piece, Scope
from compiler.stages.check.tilting import leaning_face
from compiler.values.library import Stock
from compiler.values.model import AXES, AXIS_OF, Axis, Face


def place_face(scope: Scope, rule: PartRule, copy: Copy, face: Face, name: str) -> Length:
    """The place of a face. Raises `Unsolved` after reporting what is wrong."""
    axis = AXIS_OF[face]
    if rule.run is not None and axis not in rule.extents:
        return _run_face(scope, rule, copy, face, name)
    first = scope.copies(rule)[0]
    tree = rule.copies.tree if rule.copies else None
    if axis in copy.mirrored:
        place = scope.middle(axis) * 2 - scope.face(rule, first, OPPOSITE[face])
        scope.work.tell(name, f"2 * middle - {scope.prefix}{first.called(scope.flipped)}.{OPPOSITE[face]}", "a mirror image")
        return place
    if isinstance(tree, Evenly) and tree.axis == axis:
        return _even_face(scope, rule, tree, copy, face)
    if isinstance(tree, Repeat) and tree.axis == axis and copy.step:
        assert rule.copies is not None
        pitch = cast(Length, scope.work.tree_value(tree.pitch, rule.copies.sized, scope.lookup(axis), "length"))
        if not pitch:
            raise scope.work.refuse("no-pitch", f"The copies of `{rule.name}` would stand in one place.", rule.copies.at, "Give `every` a size.")
        return scope.face(rule, first, face) + pitch * copy.step
    if copy.index and (follows(rule) is None or copy.mirrored):
        return scope.face(rule, first, face)
    extent = rule.extents.get(axis)
    if extent is None:
        raise Unsolved
    return _End(scope, rule, copy, axis, extent).place(face == LOW[axis])


def open_axes(rule: PartRule) -> tuple[Axis, ...]:
    """The axes whose size is left to the stock."""
    found = []
    tree = rule.copies.tree if rule.copies else None
    for axis in AXES:
        extent = rule.extents.get(axis)
        if (extent is None and isinstance(tree, Evenly) and tree.axis == axis) or (extent is not None and _is_open(extent.tree)):
            found.append(axis)
    return tuple(found)


def _is_open(tree: Extent) -> bool:
    return isinstance(tree, (From, To, Centred)) and tree.size is None


def stock_size(scope: Scope, rule: PartRule, axis: Axis) -> Length:
    """The size that an extent leaves to the stock: its thickness."""
    at = rule.extents[axis].at if axis in rule.extents else rule.at
    if rule.component is not None:
        raise scope.work.refuse("open-use", f"`{rule.name}` is a component: its `{axis}` needs both ends.", at, f"Write {axis}: 0 to …, or … for a size.")
    stock = scope.stock(rule)
    waiting = open_axes(rule)
    if len(waiting) > (2 if stock.kind == "rod" else 1):
        last = waiting[-1]
        at = rule.extents[last].at if last in rule.extents else rule.at
        all_of_them = f"{'Both' if len(waiting) == 2 else 'All of'} {listed(f'`{each}`' for each in waiting)}"
        raise scope.work.refuse("two-open", f"{all_of_them} wait for the stock's thickness.", at, f"Give `{last}` a size: {_with_size(rule, last)}.")
    name = f"{stock.called}.thickness"
    found = scope.work.solve(("measure", stock.key, stock.called, "thickness"), name, None, lambda: stock.thickness)
    scope.work.tell(name, stock.name, f"from the library: {stock.key}")
    return found


def _with_size(rule: PartRule, axis: Axis) -> str:
    text = rule.extents[axis].sized.text if axis in rule.extents else "0"
    return f"3 {text}" if text.startswith("centr") else f"{text} for 3"


class _End:
    """One extent of one copy, its ends found one at a time."""

    def __init__(self, scope: Scope, rule: PartRule, copy: Copy, axis: Axis, extent: Spoken[Extent]) -> None:
        self.scope, self.rule, self.copy, self.axis, self.extent = scope, rule, copy, axis, extent
        self.bindings = bindings_of(scope, rule, copy)

    def place(self, low: bool) -> Length:
        """The low or the high end."""
        name = f"{self.scope.prefix}{self.copy.called(self.scope.flipped)}.{LOW[self.axis] if low else HIGH[self.axis]}"
        match self.extent.tree:
            case FromTo(first, last):
                return self._told(first if low else last, name)
            case From(place, size):
                if low:
                    return self._told(place, name)
                found = self._face(LOW[self.axis]) + self._size(size)
                self._tell_size(name, LOW[self.axis], "+", size)
                return found
            case To(place, size):
                if not low:
                    return self._told(place, name)
                found = self._face(HIGH[self.axis]) - self._size(size)
                self._tell_size(name, HIGH[self.axis], "-", size)
                return found
            case Between(left, right, clear):
                gap = self._value(clear) if clear is not None else ZERO
                found = self._facing(left, HIGH[self.axis]) if low else self._facing(right, LOW[self.axis])
                thing, seen = (left, HIGH[self.axis]) if low else (right, LOW[self.axis])
                less = f" {'+' if low else '-'} {self.extent.sized.text[clear.start:clear.end]}" if clear is not None else ""
                self.scope.work.tell(name, f"{thing.text}.{seen}{less}", f"between {left.text} and {right.text}")
                return found + gap if low else found - gap
            case Centred(on, size):
                half = self._size(size) / 2
                self.scope.work.tell(name, self.extent.sized.text)
                return self._centre(on) - half if low else self._centre(on) + half
            case As(thing):
                self.scope.work.tell(name, f"{thing.text}.{LOW[self.axis] if low else HIGH[self.axis]}")
                return self._same(thing, LOW[self.axis] if low else HIGH[self.axis])

    def _value(self, tree: Size) -> Length:
        return cast(Length, self.scope.work.tree_value(tree, self.extent.sized, self._lookup(), "length"))

    def _told(self, tree: Size, name: str) -> Length:
        """A place, with the words it is written in."""
        self.scope.work.tell(name, self.extent.sized.text[tree.start:tree.end])
        return self._value(tree)

    def _tell_size(self, name: str, face: Face, sign: str, size: Size | None) -> None:
        own = name.rpartition(".")[0]
        text = self.extent.sized.text[size.start:size.end] if size is not None else f"{self.scope.stock(self.rule).called}.thickness"
        self.scope.work.tell(name, f"{own}.{face} {sign} {text}", "" if size is not None else "the stock's thickness")

    def _lookup(self) -> Lookup:
        return self.scope.lookup(self.axis, self.bindings)

    def _face(self, face: Face) -> Length:
        return self.scope.face(self.rule, self.copy, face)

    def _size(self, size: Size | None) -> Length:
        return self._value(size) if size is not None else stock_size(self.scope, self.rule, self.axis)

    def _pieces(self, thing: Thing) -> tuple[Piece, ...]:
        try:
            found = pieces(self.scope, thing, self.bindings)
            if not found:
                raise unknown_part(self.scope, thing, len(thing.names))
        except Refused as fault:
            self.scope.work.report(fault, self.extent.at)
            raise Unsolved from None
        return found

    def _facing(self, thing: Thing, face: Face) -> Length:
        """The face of a neighbour that looks at this piece; a leaning one at its long point."""
        pieces = self._pieces(thing)
        leaning = [piece for piece in pieces if piece.rule.tilts]
        if leaning:
            return self._agree(thing, face, pieces, [leaning_face(self.scope, self.rule, self.copy, self.axis, piece, face) for piece in pieces])
        return self._agree(thing, face, pieces, [self.scope.face_of(piece, face) for piece in pieces])

    def _same(self, thing: Thing, face: Face) -> Length:
        pieces = self._pieces(thing)
        return self._agree(thing, face, pieces, [self.scope.face_of(piece, face) for piece in pieces])

    def _agree(self, thing: Thing, face: str, pieces: tuple[Piece, ...], places: list[Length]) -> Length:
        if any(place != places[0] for place in places[1:]):
            units = self.scope.work.edition
            shown = [say(place, units) for place in dict.fromkeys(places)]
            names = [piece.name.removeprefix(self.scope.prefix) for piece in pieces]
            count = {2: "two", 3: "three", 4: "four"}.get(len(pieces), str(len(pieces)))
            self.scope.work.report(Refused("copies-differ", f"`{thing.text}` has {count} copies and their {face} faces differ ({listed(shown[:4])}).",
                                           f"Write {listed(names[:4], 'or')}.", thing.start, thing.end), self.extent.at)
            raise Unsolved
        return places[0]

    def _centre(self, on: Size) -> Length:
        """The place that a part is centred on: another part's middle, the middle line, or a place."""
        if isinstance(on, Reference) and (pieces := self._named(on.thing)):
            low, high = ([self.scope.face_of(piece, face) for piece in pieces] for face in (LOW[self.axis], HIGH[self.axis]))
            centres = [(first + last) / 2 for first, last in zip(low, high, strict=True)]
            return self._agree(on.thing, "middle", pieces, centres)
        return self._value(on)

    def _named(self, thing: Thing) -> tuple[Piece, ...]:
        return pieces(self.scope, thing, self.bindings) if thing.names[-1] not in AXIS_OF else ()


def bindings_of(scope: Scope, rule: PartRule, copy: Copy) -> Bindings:
    """Which copy of the part it goes with a follower means by that part's name; also of those that one goes with."""
    found: Bindings = {}
    follow = follows(rule)
    while follow is not None:
        leader = scope.rules.parts.get(follow.thing.text)
        if leader is None or leader.name in found:
            break
        copies = scope.copies(leader)
        found[leader.name] = copies[min(copy.index, len(copies) - 1)]
        follow = follows(leader)
    return found


def _even_face(scope: Scope, rule: PartRule, tree: Evenly, copy: Copy, face: Face) -> Length:
    """Equal gaps between two parts and the copies."""
    assert rule.copies is not None
    axis = tree.axis
    size = _even_size(scope, rule, axis)
    ends = _End(scope, rule, copy, axis, Spoken(Between(tree.low, tree.high), rule.copies.sized))
    start, stop = ends.place(True), ends.place(False)
    count = len(scope.copies(rule))
    gap = (stop - start - size * count) / (count + 1)
    if gap.inches < 0:
        units = scope.work.edition
        raise scope.work.refuse("no-room", f"{count} of `{rule.name}` need {say(size * count, units)}; between `{tree.low.text}` and `{tree.high.text}` "
                                f"there is {say(stop - start, units)}.", rule.copies.at, "Make them fewer or thinner.")
    place = start + gap * (copy.step + 1) + size * copy.step
    return place if face == LOW[axis] else place + size


def _even_size(scope: Scope, rule: PartRule, axis: Axis) -> Length:
    extent = rule.extents.get(axis)
    if extent is None or _is_open(extent.tree):
        return stock_size(scope, rule, axis)
    tree = extent.tree
    size = tree.size if isinstance(tree, (From, To, Centred)) else None
    if size is None:
        raise scope.work.refuse("evenly-placed", f"`{rule.name}` is placed by `copies` and by `{axis}`.", extent.at,
                                f"Remove `{axis}`; its place comes from `copies`.")
    return cast(Length, scope.work.tree_value(size, extent.sized, scope.lookup(axis), "length"))


def _run_face(scope: Scope, rule: PartRule, copy: Copy, face: Face, name: str) -> Length:
    """A piece of a run: outside the group by the stock's thickness, at corners to the long point."""
    assert rule.run is not None
    axis = AXIS_OF[face]
    faces = [each for each, _ in rule.run.faces]
    stock: Stock = scope.stock(rule)
    own = AXIS_OF[copy.face]
    if axis == own:
        group = group_face(scope, rule, cast(Face, copy.face))
        outside = face == copy.face
        sign = -1 if copy.face in LOW.values() else 1
        return group + stock.thickness * sign if outside else group
    group = group_face(scope, rule, face)
    if face not in faces:
        return group
    return group - stock.thickness if face in LOW.values() else group + stock.thickness


def group_face(scope: Scope, rule: PartRule, face: Face) -> Length:
    """The outermost place of the group that a run goes round."""
    assert rule.run is not None
    run = rule.run

    def compute() -> Length:
        places: list[Length] = []
        for thing, at in run.of:
            found = group(scope, thing)
            if not found:
                raise no_part(scope, thing, at)
            places.extend(scope.face_of(piece, face) for piece in found if piece.rule is not rule)
        if not places:
            raise scope.work.refuse("run-itself", f"`{rule.name}` would go round itself.", run.at.key("of"), "Name the assembly or the parts it is wrapped round.")
        return min(places) if face in LOW.values() else max(places)

    return scope.work.solve(("group", scope.id, rule.name, face), "", run.at, compute, called=f"what {rule.name} goes round")
