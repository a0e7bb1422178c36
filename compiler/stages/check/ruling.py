"""The draft of a plan becomes rules: every fault that can be seen without a value is found here.

In: the tree of design.yaml and the edition's unit. Out: frozen rules, with unknown keys, wrong shapes, names that can't be names and texts
that can't be read reported, each at its place.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.language import (
    Refused,
    diagnostic,
    house_spelling,
    parse_copies,
    parse_extent,
    parse_thing,
    parse_tilt,
    rule_broken,
)
from compiler.language.trees import Evenly, Extent, Repeat, Thing, Tilt
from compiler.stages.check.keys import KEYS, check_keys, mapping, sequence, text, texts
from compiler.stages.check.rules import AssemblyRule, Entry, PartRule, RunRule, ScopeRules, Sized, Spoken
from compiler.values.draft import Mapping, Node, Scalar
from compiler.values.model import AXES, AXIS_OF, Axis


class RuleReader:
    """Reads rules from trees, for one edition's side of pairs. `bare` is the unit of bare numbers, None for the plan's."""

    def __init__(self, units: Units, findings: Findings, bare: Units | None = None) -> None:
        self._units, self._findings, self._bare = units, findings, bare

    def scope(self, root: Mapping, at: Spot, name: str = "") -> ScopeRules:
        """The rules of the plan (name "") or of a component."""
        rules = ScopeRules(name=name, at=at, units=self._bare)
        for key in ("sizes", "numbers"):
            target = rules.sizes if key == "sizes" else rules.numbers
            for label, node, spot in self._named(root, key, at):
                other = rules.numbers if key == "sizes" else rules.sizes
                if label in other:
                    self._twice(label, spot, other[label].at)
                elif name and label in ("width", "depth", "height"):
                    self._findings.error("own-size", f"`{label}` is a component's own: it follows from where the component is used.",
                                         Spot(spot.file, spot.path, on_key=True), "Give it another name.")
                elif (sized := self._same_in_both(node, label, spot) if key == "numbers" else self.sized(node, label, spot)) is not None:
                    target[label] = sized
                else:
                    rules.faulty.add(label)
        middle = mapping(root.get("middle"), "middle", at.key("middle"), self._findings)
        if middle is not None:
            for key_node, node in middle.entries:
                word, spot = key_node.text, at.key("middle", key_node.text)
                if word not in AXES:
                    self._findings.error("unknown-key", f"`middle` has no `{word}`.", Spot(spot.file, spot.path, on_key=True),
                                         "Its keys are across, deep and up.")
                elif (sized := self.sized(node, word, spot)) is not None:
                    rules.middle[word] = sized
        for label, node, spot in self._named(root, "materials", at):
            if (sized := self.sized(node, label, spot)) is not None:
                rules.materials[label] = sized
            else:
                rules.faulty.add(label)
        joints: list[Entry] = []
        default = self._text(root, "stock", at)
        for heading, node in root.entries:
            if heading.text == "assemblies":
                self._assemblies(node, at.key("assemblies"), (), None, rules, joints)
            elif heading.text == "parts":
                self._parts(node, at.key("parts"), (), default, rules)
        joints.extend(self.entries(root, "joints", at))
        self._groups_named_apart(rules)
        return replace(rules, joints=tuple(joints), hardware=self.entries(root, "hardware", at))

    def _same_in_both(self, node: Node | None, what: str, at: Spot) -> Sized | None:
        """A text that no edition may have its own of: numbers and copies say which parts exist."""
        if isinstance(node, Mapping) and any(key in KEYS["pair"] for key in node.names()):
            says = f"`{what}` is one for all editions: they may differ in sizes and stock, never in which parts exist."
            self._findings.error("one-for-both", says, at, "Write it without inch and mm.")
            return None
        found = text(node, what, at, self._findings)
        return Sized(found.text, at, self._bare) if found else None

    def sized(self, node: Node | None, what: str, at: Spot) -> Sized | None:
        """A size: one text, or this edition's side of a pair."""
        if isinstance(node, Mapping):
            if not any(key in KEYS["pair"] for key in node.names()):
                text(node, what, at, self._findings)
                return None
            check_keys(node, "pair", at, self._findings)
            side = node.get(self._units)
            if side is None:
                self._findings.error("no-side", f"`{what}` has no {self._units} side.", at, f"Add {self._units}: … to the pair.")
                return None
            found = text(side, what, at.key(self._units), self._findings)
            return Sized(found.text, at.key(self._units), self._units) if found else None
        found = text(node, what, at, self._findings)
        return Sized(found.text, at, self._bare) if found else None

    def spoken[T](self, node: Node | None, what: str, at: Spot, parse: Callable[[str], T]) -> Spoken[T] | None:
        """A text of one of the spoken forms."""
        sized = self._same_in_both(node, what, at) if what == "copies" else self.sized(node, what, at)
        if sized is None:
            return None
        try:
            return Spoken(parse(sized.text), sized)
        except Refused as fault:
            self._findings.add(diagnostic(fault, sized.at))
            return None

    def entries(self, root: Mapping, key: str, at: Spot) -> tuple[Entry, ...]:
        """The entries of a list of mappings."""
        found = sequence(root.get(key), key, at.key(key), self._findings)
        if found is None:
            return ()
        result = []
        for index, item in enumerate(found.items):
            spot = at.key(key, index)
            if isinstance(item, Mapping) and item.entries:
                result.append(Entry(item, spot))
            else:
                hint = "Write - {kind: part, into: part}." if key == "joints" else "Write - {key: value}."
                self._findings.error("wrong-shape", f"An entry of `{key}` is written in braces: {{…: …, …: …}}.", spot, hint)
        return tuple(result)

    def _text(self, root: Mapping, key: str, at: Spot) -> tuple[str, Spot] | None:
        found = text(root.get(key), key, at.key(key), self._findings)
        return (found.text, at.key(key)) if found is not None else None

    def _named(self, root: Mapping, key: str, at: Spot) -> list[tuple[str, Node, Spot]]:
        """The entries of a mapping of names; names that can't be are reported and left out."""
        group = mapping(root.get(key), key, at.key(key), self._findings)
        found = []
        for name, node in group.entries if group else ():
            spot = at.key(key, name.text)
            if self._name(name, spot):
                found.append((house_spelling(name.text), node, spot))
        return found

    def _name(self, name: Scalar, spot: Spot) -> bool:
        broken = rule_broken(house_spelling(name.text))
        if broken is None:
            return True
        self._findings.error("bad-name", broken[0], Spot(spot.file, spot.path, on_key=True), broken[1])
        return False

    def _twice(self, name: str, spot: Spot, first: Spot) -> None:
        self._findings.error("name-taken", f"`{name}` is the name of two things.", Spot(spot.file, spot.path, on_key=True), "Rename one of them.",
                             also=(Spot(first.file, first.path, on_key=True),))

    def _groups_named_apart(self, rules: ScopeRules) -> None:
        """Report an assembly that is called like a part; it may be called like the run in it, or like a material."""
        for name, group in rules.assemblies.items():
            part = rules.parts.get(name)
            if part is not None and not (part.run is not None and name in group.parts):
                self._twice(name, group.at, part.at)

    def _assemblies(self, node: Node, at: Spot, path: tuple[str, ...], default: tuple[str, Spot] | None, rules: ScopeRules,
                    joints: list[Entry]) -> None:
        group = mapping(node, "assemblies", at, self._findings)
        for key, inner in group.entries if group else ():
            spot = at.key(key.text)
            name = house_spelling(key.text)
            if not self._name(key, spot):
                continue
            body = mapping(inner, key.text, spot, self._findings)
            if body is None:
                continue
            check_keys(body, "assembly", spot, self._findings)
            if name in rules.assemblies:
                self._twice(name, spot, rules.assemblies[name].at)
                continue
            stock = self._text(body, "stock", spot) or default
            before = set(rules.parts)
            own: list[str] = []
            for child, value in body.entries:
                if child.text == "parts":
                    self._parts(value, spot.key("parts"), (*path, name), stock, rules)
                    own = [part for part in rules.parts if part not in before]
            rules.assemblies[name] = AssemblyRule(name=name, path=(*path, name), parts=tuple(own), at=spot)
            inner_groups = body.get("assemblies")
            if inner_groups is not None:
                self._assemblies(inner_groups, spot.key("assemblies"), (*path, name), stock, rules, joints)
            joints.extend(self.entries(body, "joints", spot))

    def _parts(self, node: Node, at: Spot, path: tuple[str, ...], default: tuple[str, Spot] | None, rules: ScopeRules) -> None:
        group = mapping(node, "parts", at, self._findings)
        for key, inner in group.entries if group else ():
            spot = at.key(key.text)
            name = house_spelling(key.text)
            if not self._name(key, spot):
                continue
            body = mapping(inner, key.text, spot, self._findings)
            if body is None:
                rules.faulty.add(name)
                continue
            check_keys(body, "part", spot, self._findings)
            taken = rules.parts.get(name)
            if taken is not None:
                self._twice(name, spot, taken.at)
            elif name in rules.materials:
                self._twice(name, spot, rules.materials[name].at)
            else:
                rules.parts[name] = self._part(name, body, spot, path, default)

    def _part(self, name: str, body: Mapping, at: Spot, path: tuple[str, ...], default: tuple[str, Spot] | None) -> PartRule:
        extents: dict[Axis, Spoken[Extent]] = {}
        for axis in AXES:
            if body.get(axis) is not None and (spoken := self.spoken(body.get(axis), axis, at.key(axis), parse_extent)) is not None:
                extents[axis] = spoken
        copies = self.spoken(body.get("copies"), "copies", at.key("copies"), parse_copies) if body.get("copies") is not None else None
        rule = PartRule(
            name=name, at=at, assembly=path, stock=self._text(body, "stock", at) or default, extents=extents, copies=copies,
            component=self._text(body, "component", at), given=self._given(body, at), run=self._run(body, at),
            grain=self._text(body, "grain", at), plane=self._text(body, "plane", at), tilts=self._tilts(body, at),
            level=texts(body.get("level"), "level", at.key("level"), self._findings),
            workings=tuple((entry.node, entry.at) for entry in self.entries(body, "workings", at)), band=self._band(body, at),
            strips=self._text(body, "glue-up", at), profile=(self._text(body, "profile", at) or ("", at))[0],
            note=(self._text(body, "note", at) or ("", at))[0],
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

    def thing(self, name: str, at: Spot) -> Thing | None:
        """The name of a part, with dots."""
        try:
            return parse_thing(name)
        except Refused as fault:
            self._findings.add(diagnostic(fault, at))
            return None

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
