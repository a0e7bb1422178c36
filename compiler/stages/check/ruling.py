"""The draft of a plan becomes rules: every fault that can be seen without a value is found here.

In: the tree of design.yaml and the edition's unit. Out: frozen rules, with unknown keys, wrong shapes, names that can't be names and texts
that can't be read reported, each at its place.
"""

from __future__ import annotations

from dataclasses import replace

from compiler.base.report import Spot
from compiler.language import house_spelling, rule_broken
from compiler.stages.check.keys import check_keys, mapping
from compiler.stages.check.part_ruling import PartReader
from compiler.stages.check.rules import AssemblyRule, Entry, ScopeRules
from compiler.values.draft import Mapping, Node, Scalar
from compiler.values.model import AXES


class RuleReader(PartReader):
    """Reads the rules of a plan or a component from its tree."""

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
                elif (sized := self.same_in_both(node, label, spot) if key == "numbers" else self.sized(node, label, spot)) is not None:
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
        default = self.text_at(root, "stock", at)
        for heading, node in root.entries:
            if heading.text == "assemblies":
                self._assemblies(node, at.key("assemblies"), (), None, rules, joints)
            elif heading.text == "parts":
                self._parts(node, at.key("parts"), (), default, rules)
        joints.extend(self.entries(root, "joints", at))
        self._groups_named_apart(rules)
        return replace(rules, joints=tuple(joints), hardware=self.entries(root, "hardware", at))

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
            stock = self.text_at(body, "stock", spot) or default
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
                rules.parts[name] = self.part(name, body, spot, path, default)
