"""The order of checking: head, rules, pieces, wishes, names for later.

In: the draft, the library, one edition. Out: the Design, or none when anything is wrong, with every fault that can be found.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

from compiler.base.measures import Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Units
from compiler.language import Lookup, house_spelling
from compiler.stages.check import head
from compiler.stages.check.brought import with_brought
from compiler.stages.check.copies import Copy
from compiler.stages.check.counting import copies_of
from compiler.stages.check.exploding import explosion
from compiler.stages.check.keys import check_keys, mapping, sequence, texts
from compiler.stages.check.lookup import ScopeLookup
from compiler.stages.check.naming import scope_values
from compiler.stages.check.placing import place_face
from compiler.stages.check.remarks import remarks_on_sizes
from compiler.stages.check.rules import PartRule, ScopeRules
from compiler.stages.check.ruling import RuleReader
from compiler.stages.check.scope import Bindings, Scope
from compiler.stages.check.supplies import items_of, stocks_of
from compiler.stages.check.thickness import thickness_of
from compiler.stages.check.unfolding import Unfolding
from compiler.stages.check.wishes import Wishes, finishes, labelled
from compiler.stages.check.work import Work
from compiler.values.contributions import Brought
from compiler.values.design import Design, FinishWish, HardwareWish, JointWish
from compiler.values.draft import Draft, Mapping
from compiler.values.joinery import Component
from compiler.values.model import Axis, Edition, Face, PlanFacts
from compiler.values.source import Library

ROOT = head.ROOT
_ROOM = 20_000
"""Stack frames for chains of sizes; `work` stops a chain of 400 long before."""


def editions_of(draft: Draft) -> Outcome[tuple[Edition, ...]]:
    """The editions that a plan names, in its order. No value when the plan can't be read as one."""
    findings = Findings()
    root = head.plan_root(draft, findings)
    if root is None:
        return Outcome(None, findings.report())
    found = head.editions(root, findings)
    return Outcome(found or None, findings.report())


def check(draft: Draft, library: Library, edition: Edition, components: Sequence[Brought[type[Component]]] = ()) -> Outcome[Design]:
    """The design of one edition; no value when there is an error. `components` are those of plugins."""
    findings = Findings()
    root = head.plan_root(draft, findings)
    if root is None:
        return Outcome(None, findings.report())
    limit = sys.getrecursionlimit()
    sys.setrecursionlimit(max(limit, _ROOM))
    try:
        return _Checking(draft, root, library, edition, findings, components).run()
    finally:
        sys.setrecursionlimit(limit)


class _Geometry:
    """How scopes find what they don't know themselves."""

    def face(self, scope: Scope, rule: PartRule, copy: Copy, face: Face, name: str) -> Length:
        return place_face(scope, rule, copy, face, name)

    def thickness(self, scope: Scope, rule: PartRule, copy: Copy) -> Length:
        return thickness_of(scope, rule, copy)

    def copies(self, scope: Scope, rule: PartRule) -> tuple[Copy, ...]:
        return copies_of(scope, rule)

    def lookup(self, scope: Scope, axis: Axis | None, bindings: Bindings) -> Lookup:
        return ScopeLookup(scope, axis, bindings)


class _Checking:
    def __init__(self, draft: Draft, root: Mapping, library: Library, edition: Edition, findings: Findings,
                 components: Sequence[Brought[type[Component]]]) -> None:
        self._draft, self._root, self._edition, self._findings, self._brought = draft, root, edition, findings, components
        self._facts: PlanFacts = head.facts(draft, root, findings)
        written: Units = self._facts.units
        self._work = Work(library, written, edition.units)
        self._work.findings = findings
        self._work.components = tuple(each.name for each in components)

    def run(self) -> Outcome[Design]:
        check_keys(self._root, "plan", ROOT, self._findings)
        head.editions(self._root, self._findings)
        reader = RuleReader(self._edition.units, self._findings)
        rules = reader.scope(self._root, ROOT)
        components = self._components(reader)
        if not rules.parts:
            self._findings.error("no-parts", "This plan has no parts.", ROOT.key("plan"), "Write them under `parts`, or under `assemblies`.")
        components |= with_brought([rules, *components.values()], self._brought, self._edition.units, self._findings)
        plan = Scope(self._work, _Geometry(), rules, components)
        unfolding = Unfolding(plan)
        unfolding.run()
        self._unused(components, unfolding)
        remarks_on_sizes(plan)
        joints: list[JointWish] = []
        hardware: list[HardwareWish] = []
        for scope in unfolding.scopes:
            wishes = Wishes(scope)
            joints.extend(wishes.joints())
            hardware.extend(wishes.hardware())
        finish = self._finishes(plan, reader, tuple(part.name for part in unfolding.parts))
        letters, letters_at = head.letters(self._draft, self._findings)
        match = self._match(plan)
        self._same_names(unfolding)
        explode = explosion(plan, self._root.get("explode"), ROOT.key("explode"))
        report = self._findings.report()
        if not report.ok:
            return Outcome(None, report)
        views = tuple(labelled(self._root.get("views"), "views", ROOT.key("views"), plan))
        design = Design(
            plan=self._facts, edition=self._edition, parts=tuple(unfolding.parts), assemblies=tuple(unfolding.assemblies), joints=tuple(joints),
            hardware=tuple(hardware), finishes=tuple(finish), match=match, views=views, explode=explode,
            scopes=tuple(scope_values(scope, unfolding.parts) for scope in unfolding.scopes),
            middles=tuple((axis, plan.middle(axis)) for axis in rules.middle), letters=letters, letters_at=letters_at,
            items=items_of(self._draft, self._work.library, self._edition.units, plan, hardware),
            stocks=stocks_of(unfolding.parts, plan), traces=self._work.traces(),
        )
        return Outcome(design, self._findings.report())

    def _components(self, reader: RuleReader) -> dict[str, ScopeRules]:
        group = mapping(self._root.get("components"), "components", ROOT.key("components"), self._findings)
        found: dict[str, ScopeRules] = {}
        for key, node in group.entries if group else ():
            at = ROOT.key("components", key.text)
            body = mapping(node, key.text, at, self._findings)
            if body is not None:
                check_keys(body, "component", at, self._findings)
                found[house_spelling(key.text)] = reader.scope(body, at, house_spelling(key.text))
        return found

    def _unused(self, components: dict[str, ScopeRules], unfolding: Unfolding) -> None:
        scopes = [unfolding.scopes[0].rules, *components.values()]
        used = {rule.component[0] for rules in scopes for rule in rules.parts.values() if rule.component is not None}
        for name, rules in components.items():
            if name not in used and rules.at.file == ROOT.file:
                self._findings.warning("unused", f"The component `{name}` is used nowhere.", Spot(rules.at.file, rules.at.path, on_key=True),
                                       "Use it with component:, or remove it.")

    def _finishes(self, plan: Scope, reader: RuleReader, names: tuple[str, ...]) -> list[FinishWish]:
        return finishes(plan, reader.entries(self._root, "finish", ROOT), names)

    def _match(self, plan: Scope) -> tuple[tuple[tuple[str, ...], Spot], ...]:
        at = ROOT.key("match")
        group = sequence(self._root.get("match"), "match", at, self._findings)
        found = []
        for index, item in enumerate(group.items if group else ()):
            spot = at.key(index)
            names = [piece.name for name, place in texts(item, "match", spot, self._findings) for piece in Wishes(plan).named(name, place)]
            if names:
                found.append((tuple(dict.fromkeys(names)), spot))
        return tuple(found)

    def _same_names(self, unfolding: Unfolding) -> None:
        """Report pieces that would be called alike."""
        seen: dict[str, Spot] = {}
        for part in unfolding.parts:
            if part.name in seen:
                self._findings.error("name-taken", f"Two pieces would be called `{part.name}`.", part.at, "Rename one of the parts.", also=(seen[part.name],))
            seen[part.name] = part.at

