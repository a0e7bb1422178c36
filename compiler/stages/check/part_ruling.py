"""One part of a draft becomes a rule.

In: the entry of a part. Out: its `PartRule`, with missing extents, extents given twice and faces that are none reported, each at its place.
"""

from __future__ import annotations

from compiler.base.report import Spot
from compiler.language import house_spelling, parse_copies, parse_extent, parse_tilt
from compiler.language.trees import Evenly, Extent, Repeat, Tilt
from compiler.stages.check.keys import check_keys, mapping, texts
from compiler.stages.check.reading import TextReader
from compiler.stages.check.rules import PartRule, RunRule, Sized, Spoken
from compiler.values.draft import Mapping, Scalar
from compiler.values.model import AXES, AXIS_OF, Axis


class PartReader(TextReader):
    """Reads the rules of parts."""

    def part(self, name: str, body: Mapping, at: Spot, path: tuple[str, ...], default: tuple[str, Spot] | None) -> PartRule:
        """The rule of one part; `path` names the assemblies it stands in, `default` is their stock."""
        extents: dict[Axis, Spoken[Extent]] = {}
        for axis in AXES:
            if body.get(axis) is not None and (spoken := self.spoken(body.get(axis), axis, at.key(axis), parse_extent)) is not None:
                extents[axis] = spoken
        copies = self.spoken(body.get("copies"), "copies", at.key("copies"), parse_copies) if body.get("copies") is not None else None
        rule = PartRule(
            name=name, at=at, assembly=path, stock=self.text_at(body, "stock", at) or default, extents=extents, copies=copies,
            component=self.text_at(body, "component", at), given=self._given(body, at), run=self._run(body, at),
            grain=self.text_at(body, "grain", at), plane=self.text_at(body, "plane", at), tilts=self._tilts(body, at),
            level=texts(body.get("level"), "level", at.key("level"), self._findings),
            workings=tuple((entry.node, entry.at) for entry in self.entries(body, "workings", at)), band=self._band(body, at),
            strips=self.text_at(body, "glue-up", at), profile=(self.text_at(body, "profile", at) or ("", at))[0],
            note=(self.text_at(body, "note", at) or ("", at))[0],
        )
        self._complete(rule, body)
        return rule

    def _complete(self, rule: PartRule, body: Mapping) -> None:
        """Report extents that are missing, or that stand beside a run or copies which set them."""
        missing = [axis for axis in AXES if body.get(axis) is None]
        key = Spot(rule.at.file, rule.at.path, on_key=True)
        if rule.run is not None:
            axes = {AXIS_OF.get(face) for face, _ in rule.run.faces}
            for axis in AXES:
                if axis in axes and axis in rule.extents:
                    self._findings.error("extent-twice", f"`{rule.name}` is a run: its `{axis}` follows from what it goes round.",
                                         rule.at.key(axis), f"Remove `{axis}`.")
                elif axis not in axes and axis in missing and len(missing) > 2:
                    self._findings.error("missing-extent", f"`{rule.name}` has no `{axis}`.", key, f"Write {axis}: 0 for 3.")
        if body.get("run") is not None:  # a run with a fault of its own has told it
            return
        copies = rule.copies.tree if rule.copies else None
        if isinstance(copies, Evenly):
            missing = [axis for axis in missing if axis != copies.axis]
        if isinstance(copies, Repeat) and copies.axis in missing:
            missing.remove(copies.axis)
            says = f"`{rule.name}` has no `{copies.axis}`: `copies` says how far apart, not where the first one stands."
            self._findings.error("missing-extent", says, key, f"Write {copies.axis}: from … for the first one.")
        for axis in missing:
            hint = f"A part has three extents; write {axis}: from … or {axis}: as another part."
            self._findings.error("missing-extent", f"`{rule.name}` has no `{axis}`.", key, hint)

    def _given(self, body: Mapping, at: Spot) -> tuple[tuple[str, Sized], ...]:
        group = mapping(body.get("with"), "with", at.key("with"), self._findings)
        found = []
        for key, node in group.entries if group else ():
            sized = self.sized(node, key.text, at.key("with", key.text))
            if sized is not None:
                found.append((house_spelling(key.text), sized))
        return tuple(found)

    def _run(self, body: Mapping, at: Spot) -> RunRule | None:
        spot = at.key("run")
        run = mapping(body.get("run"), "run", spot, self._findings)
        if run is None:
            return None
        check_keys(run, "run", spot, self._findings)
        faces = texts(run.get("round"), "round", spot.key("round"), self._findings)
        good = []
        for face, place in faces:
            if face in AXIS_OF:
                good.append((face, place))
            else:
                self._findings.error("unknown-face", f"`{face}` is no face.", place, "Faces: left right front back bottom top.")
        if len({AXIS_OF[face] for face, _ in good}) > 2:
            self._findings.error("run-axes", "A run goes round in one plane: its faces lie on two axes.", spot.key("round"),
                                 "Name left, front, right, back; or left, top, right, bottom.")
            return None
        of = []
        for name, place in texts(run.get("of"), "of", spot.key("of"), self._findings):
            thing = self.thing(name, place)
            if thing is not None:
                of.append((thing, place))
        return RunRule(tuple(good), tuple(of), spot) if good and of else None

    def _tilts(self, body: Mapping, at: Spot) -> tuple[Spoken[Tilt], ...]:
        found = []
        for name, place in texts(body.get("tilt"), "tilt", at.key("tilt"), self._findings):
            spoken = self.spoken(Scalar(name), "tilt", place, parse_tilt)
            if spoken is not None:
                found.append(spoken)
        return tuple(found)

    def _band(self, body: Mapping, at: Spot) -> tuple[tuple[str, Spot, tuple[tuple[str, Spot], ...]], ...]:
        spot = at.key("edge band")
        group = mapping(body.get("edge band"), "edge band", spot, self._findings)
        found = []
        for key, node in group.entries if group else ():
            place = spot.key(key.text)
            found.append((house_spelling(key.text), Spot(place.file, place.path, on_key=True), texts(node, "edge band", place, self._findings)))
        return tuple(found)
