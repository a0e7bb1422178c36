"""From rules to pieces: every copy of every part, inside uses too, in the plan's coordinates.

In: the plan's scope. Out: design parts and assemblies, in the order of writing. Parts that can't be are left out; `judging` reports them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from typing import Any, Literal, cast

from compiler.base.report import Spot
from compiler.language import Unsolved, did_you_mean, listed
from compiler.language.trees import Between
from compiler.library import find_stock, names_of
from compiler.stages.check.copies import Copy
from compiler.stages.check.finding import pieces
from compiler.stages.check.judging import Judging
from compiler.stages.check.placing import bindings_of
from compiler.stages.check.rules import PartRule
from compiler.stages.check.scope import HIGH, LOW, OPPOSITE, Piece, Scope
from compiler.stages.check.thickness import (
    Grain,
    fits_section,
    grain_of,
    key_of,
    strips_of,
    thickness_axis,
    thickness_of,
)
from compiler.stages.check.tilting import leaning_end, pose_of, reach_of
from compiler.stages.check.workings import axes_of, bevelled_end, working
from compiler.values.design import DesignPart, WorkingWish
from compiler.values.library import Stock
from compiler.values.model import AXES, AXIS_OF, Assembly, Axis, Box, Face, Span

Hand = Literal["", "left", "right", "front", "back"]
MOST_PIECES = 2000


class Unfolding:
    """Gathers the pieces of a plan."""

    def __init__(self, plan: Scope) -> None:
        self._plan = plan
        self._work = plan.work
        self.parts: list[DesignPart] = []
        self.assemblies: list[Assembly] = []
        self.scopes: list[Scope] = [plan]
        self._judging = Judging(plan.work)

    def run(self) -> None:
        """Every piece, group and use. Parts with faults are left out; the faults are reported."""
        self._scope(self._plan, (), "")
        for rule in self._plan.rules.assemblies.values():
            names = tuple(part.name for part in self.parts if part.assembly == rule.path and not part.use)
            self.assemblies.insert(0, Assembly(name=rule.name, path=rule.path, parts=names))
        self.assemblies.sort(key=self._order)
        self._judging.report()

    def _order(self, assembly: Assembly) -> tuple[int, int]:
        order = list(self._plan.rules.assemblies)
        return (0, order.index(assembly.name)) if not assembly.component and assembly.name in order else (1, 0)

    def _scope(self, scope: Scope, path: tuple[str, ...], component: str) -> None:
        self.values(scope)
        for rule in scope.rules.parts.values():
            try:
                copies = scope.copies(rule)
            except Unsolved:
                continue
            if not self._judging.judged(scope, rule, copies):
                continue
            for copy in copies:
                if len(self.parts) > MOST_PIECES:
                    self._work.findings.error("too-many", f"This plan has more than {MOST_PIECES} pieces.", key_of(rule), "Look at its counts of copies.")
                    return
                if self._judging.stands_on_fault(Piece(scope, rule, copy)):
                    continue
                try:
                    self._piece(scope, rule, copy, path, component)
                except Unsolved:
                    continue

    def values(self, scope: Scope) -> None:
        """Work out every size, number, middle and material of a scope, so that each fault is found."""
        asked: list[tuple[Callable[[Any], object], Iterable[str]]] = [
            (scope.size, scope.rules.sizes), (scope.number, scope.rules.numbers), (scope.middle, scope.rules.middle),
            (scope.material, scope.rules.materials),
        ]
        for ask, names in asked:
            for name in names:
                with suppress(Unsolved):
                    ask(name)

    # ---- one piece -----------------------------------------------------------------------------------

    def _piece(self, scope: Scope, rule: PartRule, copy: Copy, path: tuple[str, ...], component: str) -> None:
        if rule.component is not None:
            inner = scope.inside(rule, copy)
            self._given(inner, rule)
            name = copy.called(scope.flipped)
            start = len(self.parts)
            self.scopes.append(inner)
            place = len(self.assemblies)
            whole = (*path, *rule.assembly, name)
            self._scope(inner, whole, inner.rules.name)
            own = tuple(part.name for part in self.parts[start:] if part.use == inner.id)
            self.assemblies.insert(place, Assembly(name=inner.id, path=whole, parts=own, component=inner.rules.name))
            return
        piece = Piece(scope, rule, copy)
        box = self._box(piece)
        flipped = axes_of(set(copy.mirrored) ^ set(scope.flipped))
        stock = scope.stock(rule)
        thick = thickness_axis(scope, rule) if rule.run is None else AXIS_OF[copy.face]
        fits_section(scope, rule, copy, thick)
        if rule.run is None:
            thickness_of(scope, rule, copy)
        grain = grain_of(scope, rule, copy) if rule.run is None else _longest(box, thick)
        pose = pose_of(scope, rule, box, flipped)
        wishes = [wish for node, at in rule.workings if (wish := working(node, at, self._work.findings, flipped)) is not None]
        wishes.extend(self._leaning(scope, rule, copy, flipped))
        reach = reach_of(scope, rule, box, pose, flipped)
        self.parts.append(DesignPart(
            name=piece.name, base=rule.name, kind=_kind(component, rule.name), assembly=(*path, *rule.assembly), component=component, use=scope.id,
            stock=stock, box=box, pose=pose, level=tuple(face for face, _ in reach), reach=reach, grain=grain,
            thickness_axis=thick, workings=tuple(wishes), strips=strips_of(scope, rule, copy, grain) if rule.run is None else 1,
            band=self._band(scope, rule, flipped), hand=_hand(copy, flipped, scope), mirrored=flipped, profile=rule.profile,
            run_ends=_run_ends(rule, copy), note=rule.note, at=key_of(rule),
        ))

    def _box(self, piece: Piece) -> Box:
        spans = [Span(self._plan.face_of(piece, LOW[axis]), self._plan.face_of(piece, HIGH[axis])) for axis in AXES]
        for axis in AXES:
            name = f"{piece.name}.{axis}"
            low, high = f"{piece.name}.{LOW[axis]}", f"{piece.name}.{HIGH[axis]}"
            self._work.solve(("extent", name), name, piece.rule.extents[axis].at if axis in piece.rule.extents else piece.rule.at,
                             lambda axis=axis: piece.scope.span_size(piece.rule, piece.copy, axis))  # type: ignore[misc]  # a bound default
            self._work.tell(name, f"{high} - {low}", "between its own two faces")
        return Box(spans[0], spans[1], spans[2])

    def _leaning(self, scope: Scope, rule: PartRule, copy: Copy, flipped: tuple[Axis, ...]) -> list[WorkingWish]:
        """The bevels of ends that meet leaning neighbours."""
        found: list[WorkingWish] = []
        first = scope.written_copy(rule, copy)
        for axis in AXES:
            extent = rule.extents.get(axis)
            if extent is None or not isinstance(extent.tree, Between):
                continue
            for thing, face, end in ((extent.tree.low, HIGH[axis], LOW[axis]), (extent.tree.high, LOW[axis], HIGH[axis])):
                for piece in pieces(scope, thing, bindings_of(scope, rule, first))[:1]:
                    if not piece.rule.tilts:
                        continue
                    leaning = leaning_end(scope, piece, axis, face)
                    if leaning is None:
                        says = f"`{rule.name}` runs up to `{piece.name}`, which leans in two directions: the end is left square, at its long point."
                        self._work.findings.warning("compound-end", says, extent.at.within(thing.start, thing.end),
                                                    "Cut that end to fit on the bench, or let the neighbour lean one way.")
                    else:
                        angle, long_at = leaning
                        if not angle.degrees:
                            continue
                        found.append(bevelled_end(_seen(end, flipped), angle, _seen(long_at, flipped), extent.at))
        return found

    def _band(self, scope: Scope, rule: PartRule, flipped: tuple[Axis, ...]) -> tuple[tuple[str, str], ...]:
        found: list[tuple[str, str]] = []
        for tape, at, faces in rule.band:
            material = scope.material(tape)
            if material is None:
                outcome = find_stock(self._work.library, tape, self._work.edition)
                self._work.findings.extend(outcome.report)
                material = outcome.value
            if not isinstance(material, Stock) or material.kind != "tape":
                near = did_you_mean(tape, names_of(self._work.library, stock=True))
                hint = f"Did you mean {near}?" if near and near != tape else "Name one of shared/stock, such as birch edge tape."
                raise self._work.refuse("no-tape", f"`{tape}` is no edge tape.", at, hint)
            for face, place in faces:
                if face not in AXIS_OF:
                    raise self._work.refuse("unknown-face", f"`{face}` is no face.", place, "Faces: left right front back bottom top.")
                found.append((_seen(face, flipped), material.key))
        return tuple(found)

    def _given(self, inner: Scope, rule: PartRule) -> None:
        """Sizes given to a component that it doesn't have."""
        known = [*inner.rules.sizes, *inner.rules.numbers, *inner.rules.materials]
        for name, sized in rule.given:
            if name not in known:
                near = did_you_mean(name, known)
                spot = Spot(sized.at.file, sized.at.path, on_key=True)
                self._work.findings.error("unknown-key", f"`{inner.rules.name}` has no size `{name}`.", spot, f"Did you mean {near}?" if near else
                                          f"Its sizes are {listed(known)}." if known else "It has no sizes.")


def _longest(box: Box, thick: Axis) -> Grain:
    rest: list[Axis] = [axis for axis in AXES if axis != thick]
    return max(rest, key=lambda axis: box.span(axis).size)


def _seen(face: str, flipped: tuple[Axis, ...]) -> Face:
    known = cast(Face, face)
    return OPPOSITE[known] if AXIS_OF[known] in flipped else known


def _kind(component: str, base: str) -> str:
    """The name of the row a piece belongs to."""
    return base if not component or base == component or base.startswith(component + " ") else f"{component} {base}"


def _hand(copy: Copy, flipped: tuple[Axis, ...], scope: Scope) -> Hand:
    """Which of a mirror pair a piece is. Two mirrors make a turn: it is the written one's hand again."""
    if copy.face in ("left", "right", "front", "back"):
        return copy.face  # type: ignore[return-value]  # one of the four, just judged
    axes = {axis for axis, _ in copy.hands}
    inner = scope
    while inner.use is not None:
        axes |= {axis for axis, _ in inner.use.copy.hands}
        inner = inner.use.scope
    odd = len(flipped) % 2 == 1
    if "across" in axes:
        return "right" if odd else "left"
    if "deep" in axes:
        return "back" if odd else "front"
    return ""


def _run_ends(rule: PartRule, copy: Copy) -> tuple[tuple[str, str], ...]:
    """The two ends of a piece of a run: mitred where its neighbour stands, else square."""
    if rule.run is None:
        return ()
    faces = [face for face, _ in rule.run.faces]
    axes = {AXIS_OF[face] for face in faces if face in AXIS_OF}
    others = [axis for axis in axes if axis != AXIS_OF[copy.face]]
    if not others:
        others = [axis for axis in AXES if axis not in rule.extents and axis != AXIS_OF[copy.face]]
    return tuple((face, "mitre" if face in faces else "square") for axis in others for face in (LOW[axis], HIGH[axis]))
