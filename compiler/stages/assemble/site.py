"""One working on one part: its face or edge, and the readings of its parameters in the part's own coordinates.

In: a working wish, the part as it stands, the names of its scope. Out: lengths, angles, counts and places, exact, each
fault reported at its text. It knows no kinds of working.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Literal, cast

from compiler.base.measures import ZERO, Angle, Length
from compiler.base.report import Findings, Spot
from compiler.language import (
    Refused,
    Want,
    diagnostic,
    did_you_mean,
    evaluate,
    listed,
    parse_place,
    parse_sizes,
)
from compiler.language.trees import Centre, Offset, Place, Size
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.placing import Standing, is_low, others, unit
from compiler.stages.assemble.wording import said
from compiler.values.design import Design, WorkingWish, Written
from compiler.values.model import AXES, AXIS_OF, FACES, Axis, Face, Span
from compiler.values.shapes import Feature, Frame, Shape

Anchor = Literal["low", "high", "middle"]


@dataclass(frozen=True, slots=True)
class At:
    """A coordinate on one axis of the part, counted from the part's low end; `anchor` is the end it was counted from."""

    place: Length
    anchor: Anchor


@dataclass(slots=True, kw_only=True)
class Site:
    """Where a working is made. `values` gathers what it is made with, for lists and drawings."""

    items: Items
    standing: Standing
    wish: WorkingWish
    by: str
    findings: Findings
    values: dict[str, Length | Angle | int | str] = field(default_factory=dict)
    misspelt: bool = False

    @property
    def design(self) -> Design:
        """The design."""
        return self.items.design

    @property
    def name(self) -> str:
        """The part's name."""
        return self.standing.name

    def span(self, axis: Axis) -> Span:
        """The part's extent on an axis."""
        return self.standing.box.span(axis)

    def said(self, length: Length) -> str:
        """A length in a sentence."""
        return said(length, self.design.edition.units)

    def written(self, key: str) -> Written | None:
        """What the maker wrote under a key."""
        return dict(self.wish.parameters).get(key)

    def spot(self, key: str = "") -> Spot:
        """The place of a parameter, or of the working."""
        written = self.written(key)
        return written.at if written else self.wish.at

    def error(self, code: str, says: str, key: str = "", hint: str = "") -> None:
        """Report a fault at a parameter, or at the working."""
        self.findings.error(code, says, self.spot(key), hint)

    def judge_keys(self, allowed: tuple[str, ...]) -> None:
        """Report every key that this working doesn't have."""
        for key, written in self.wish.parameters:
            if key not in allowed:
                self.misspelt = True
                near = did_you_mean(key, allowed)
                at = replace(written.at, on_key=True, start=None, end=None)
                self.findings.error("unknown-key", f"A {self.wish.kind} has no `{key}`.", at,
                                    f"Did you mean {near}?" if near else f"Its keys are {listed(allowed)}.")

    # ---- numbers

    def value(self, text: str, at: Spot, want: Want, axis: Axis | None = None) -> Length | Angle | Fraction | int | None:
        """The value of a text in the part's scope."""
        lookup = self.items.names(self.standing.part.use, axis=axis or "")
        outcome = evaluate(text, lookup, self.items.units(self.standing.part.use), at, edition=self.design.edition.units, want=want)
        self.findings.extend(outcome.report)
        return None if isinstance(outcome.value, str) else outcome.value

    def missing(self, key: str) -> None:
        """Report a key that must be there, unless another key was misspelt: it may be that one."""
        if not self.misspelt:
            self.error("missing-key", f"A {self.wish.kind} needs `{key}`.")

    def length(self, key: str, default: Length | None = None, *, least: Length | None = ZERO) -> Length | None:
        """A length by its key; nothing or less is reported. Without a default the key must be there."""
        written = self.written(key)
        if written is None:
            if default is None:
                self.missing(key)
            return default
        value = self._of_text(written, "length", key)
        if not isinstance(value, Length):
            return None
        if least is not None and value <= least:
            self.error("nothing-or-less", f"`{key}` comes out at {self.said(value)}; it should be more than nothing.", key)
            return None
        self.values[key] = value
        return value

    def angle(self, key: str, default: Fraction | None = None) -> Fraction | None:
        """An angle in degrees, more than 0 and less than 90."""
        written = self.written(key)
        if written is None:
            if default is None:
                self.missing(key)
            return default
        value = self._of_text(written, "angle", key)
        if not isinstance(value, Angle):
            return None
        if not 0 < value.degrees < 90:
            self.error("angle-range", f"`{key}` is {float(value.degrees):g} deg; it should be between 0 and 90.", key)
            return None
        self.values[key] = value
        return value.degrees

    def count(self, key: str) -> int | None:
        """A whole number, at least 1."""
        written = self.written(key)
        if written is None:
            self.missing(key)
            return None
        value = self._of_text(written, "count", key)
        if not isinstance(value, int):
            return None
        if value < 1:
            self.error("nothing-or-less", f"`{key}` is {value}; it should be at least 1.", key)
            return None
        self.values[key] = value
        return value

    def _of_text(self, written: Written, want: Want, key: str) -> Length | Angle | Fraction | int | None:
        if not isinstance(written.value, str):
            self.error("one-text", f"`{key}` takes one text.", key)
            return None
        return self.value(written.value, written.at, want)

    def keys(self, key: str) -> Mapping[str, Written]:
        """The keys under a parameter such as `countersink: {diameter: 3/8, depth: 1/8}`."""
        written = self.written(key)
        if written is None or not isinstance(written.value, tuple):
            return {}
        pairs = cast("tuple[tuple[str, Written], ...]", written.value)
        return dict(pair for pair in pairs if isinstance(pair, tuple))

    def word(self, key: str, of: tuple[str, ...], default: str = "") -> str | None:
        """One word of some."""
        written = self.written(key)
        if written is None:
            return default
        if not isinstance(written.value, str) or written.value not in of:
            near = did_you_mean(str(written.value), of)
            self.error("unknown-word", f"`{written.value}` can't stand here.", key, f"Did you mean {near}?" if near else f"It takes {listed(of, 'or')}.")
            return None
        self.values[key] = written.value
        return written.value

    # ---- places

    def place(self, key: str, face: Face | None = None) -> dict[Axis, At] | None:
        """The coordinates of a place: `2 from front and 4 from bottom`, `centre`, each counted from the part's low end."""
        written = self.written(key)
        if written is None or not isinstance(written.value, str):
            self.missing(key)
            return None
        try:
            tree = parse_place(written.value)
        except Refused as fault:
            self.findings.add(diagnostic(fault, written.at))
            return None
        return self.coordinates(tree, written, key, face)

    def coordinates(self, tree: Place, written: Written, key: str, face: Face | None) -> dict[Axis, At] | None:
        """What a place's tree says on each axis."""
        found: dict[Axis, At] = {}
        free = others(AXIS_OF[face]) if face else AXES
        for spot in tree.spots:
            if isinstance(spot, Centre):
                axes = (spot.axis,) if spot.axis else tuple(free)
                for axis in axes:
                    found[axis] = At(self.span(axis).size / 2, "middle")
                continue
            axis = AXIS_OF[spot.face]
            if axis not in free:
                self.error("place-off-face", f"On the {face} face there is no way from {spot.face}.", key,
                           f"Count from {listed([name for name in FACES if AXIS_OF[name] in free], 'or')}.")
                return None
            value = self._offset(spot, written, axis)
            if value is None:
                return None
            size = self.span(axis).size
            found[axis] = At(value, "low") if is_low(spot.face) else At(size - value, "high")
        return found

    def _offset(self, spot: Offset, written: Written, axis: Axis) -> Length | None:
        return self.length_of(spot.size, written, axis)

    def length_of(self, tree: Size, written: Written, axis: Axis | None = None) -> Length | None:
        """A length that is a piece of a longer text."""
        assert isinstance(written.value, str)
        text = written.value[tree.start:tree.end]
        value = self.value(text, written.at.within(tree.start, tree.end), "length", axis)
        return value if isinstance(value, Length) else None

    def two_sizes(self, key: str) -> tuple[Length, Length] | None:
        """Two sizes with x between them."""
        written = self.written(key)
        if written is None or not isinstance(written.value, str):
            self.missing(key)
            return None
        try:
            tree = parse_sizes(written.value)
        except Refused as fault:
            self.findings.add(diagnostic(fault, written.at))
            return None
        sizes = [self.length_of(size, written) for size in tree.sizes]
        if len(sizes) != 2 or sizes[0] is None or sizes[1] is None:
            self.error("two-sizes", f"`{key}` takes two sizes: 80 x 20.", key)
            return None
        return sizes[0], sizes[1]

    # ---- frames

    def face_frame(self, face: Face) -> Frame:
        """The frame of a face: along and across from its low corner, into the part."""
        axis = AXIS_OF[face]
        one, two = others(axis)
        at = {axis: self.standing.box.face(face), one: self.span(one).start, two: self.span(two).start}
        return Frame((at["across"], at["deep"], at["up"]), unit(one), unit(two), unit(axis, 1 if is_low(face) else -1))

    def edge_frame(self, one: Face, two: Face) -> tuple[Frame, Axis]:
        """The frame of an edge: along from the first face inward, across from the second inward, into along the edge."""
        third = next(axis for axis in AXES if axis not in (AXIS_OF[one], AXIS_OF[two]))
        at = {AXIS_OF[one]: self.standing.box.face(one), AXIS_OF[two]: self.standing.box.face(two), third: self.span(third).start}
        inward = [unit(AXIS_OF[face], 1 if is_low(face) else -1) for face in (one, two)]
        return Frame((at["across"], at["deep"], at["up"]), inward[0], inward[1], unit(third)), third

    def cut(self, called: str, shape: Shape, frame: Frame, face: str = "") -> Feature:
        """A cut of this working."""
        return Feature("cut", called, shape, frame, self.by, face=face)
