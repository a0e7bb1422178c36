"""Joints, hardware, finishes, matched figure, views: still wishes, with every part name in them resolved.

In: the entries as written and the scope they stand in. Out: wishes with full part names. Kinds of joints are not known here: the
first key is the kind, the second family word (into, to, with, on) names the receiver.
"""

from __future__ import annotations

from compiler.base.report import Spot
from compiler.language import (
    Refused,
    Unsolved,
    did_you_mean,
    house_spelling,
    listed,
    parse_thing,
    rule_broken,
)
from compiler.library import find_item, names_of
from compiler.stages.check.copies import Copy
from compiler.stages.check.finding import group, pieces, unknown_part
from compiler.stages.check.keys import FAMILY_WORDS, texts
from compiler.stages.check.rules import Entry, PartRule
from compiler.stages.check.scope import Piece, Scope
from compiler.stages.check.workings import written
from compiler.values.design import FinishWish, HardwareWish, JointWish, Written
from compiler.values.draft import Mapping, Node, Scalar
from compiler.values.library import Item
from compiler.values.model import FACES

PLACES = ("per", "on", "under", "in", "from", "to")
"""Keys of a hardware entry that name parts."""
FASTENERS = {"screws": "screw", "screw": "screw", "brads": "brad", "brad": "brad", "nails": "nail", "dowels": "dowel", "dowel": "dowel",
             "pocket screws": "pocket screw", "bolts": "bolt", "biscuits": "joining biscuit"}


class Wishes:
    """Resolves the entries of one scope."""

    def __init__(self, scope: Scope) -> None:
        self._scope, self._work = scope, scope.work

    def joints(self) -> list[JointWish]:
        """The joints of this scope."""
        return [wish for entry in self._scope.rules.joints if (wish := self._joint(entry)) is not None]

    def hardware(self) -> list[HardwareWish]:
        """The hardware of this scope."""
        return [wish for entry in self._scope.rules.hardware if (wish := self._hardware(entry)) is not None]

    def _joint(self, entry: Entry) -> JointWish | None:
        entries = entry.node.entries
        kind, first = entries[0]
        kind_at = self._key(entry, kind.text)
        words = [key.text for key, _ in entries[1:] if key.text in FAMILY_WORDS]
        good = True
        if house_spelling(kind.text) in FAMILY_WORDS:
            self._work.findings.error("no-kind", "A joint begins with its kind and the part that acts.", kind_at, "Write {dado: shelf, into: side}.")
            return None
        if not words:
            self._work.findings.error("no-receiver", f"`{kind.text}` needs a second part: into, to, with or on.", kind_at, f"Write {{{kind.text}: …, into: …}}.")
            good = False
        if len(words) > 1:
            self._work.findings.error("two-receivers", f"A joint has one receiver; this one has {listed(words)}.", self._key(entry, words[1]), "Write two joints.")
            good = False
        acting = self._names(first, kind.text, entry.at.key(kind.text))
        receivers = self._names(entry.node.get(words[0]), words[0], entry.at.key(words[0])) if words else []
        if not good or not acting or not receivers:
            return None
        skipped = (kind.text, words[0])
        return JointWish(kind=house_spelling(kind.text), kind_at=kind_at, word=words[0], word_at=self._key(entry, words[0]), acting=tuple(acting),
                         receivers=tuple(receivers), parameters=self._parameters(entry, skipped), scope=self._scope.id, at=entry.at)

    def _hardware(self, entry: Entry) -> HardwareWish | None:
        node = entry.node
        if node.get("item") is not None:
            key, kind = "item", ""
        else:
            key = next((name for name in node.names() if name in FASTENERS), "")
            kind = FASTENERS.get(key, "")
            if not key:
                near = did_you_mean(node.entries[0][0].text, ("item", *FASTENERS))
                self._work.findings.error("no-item", "A piece of hardware begins with `item`, or with screws, brads, dowels.", self._key(entry, node.entries[0][0].text),
                                          f"Did you mean {near}?" if near else "Write {item: knob 1 1/4, on: door}.")
                return None
        names = []
        good = True
        for place in PLACES:
            if node.get(place) is not None:
                found = self._names(node.get(place), place, entry.at.key(place), uses=place == "per")
                good = good and bool(found)
                names.append((place, tuple(dict.fromkeys(name for each, _ in found for name in each))))
        known = dict(names)
        if "from" in known and "to" in known:
            names = [(place, self._with_twins(each, known["from"]) if place == "to" else each) for place, each in names]
        item_at = entry.at.key(key)
        found_texts = texts(node.get(key), key, item_at, self._work.findings)
        item = self.item(found_texts[0][0], item_at, kind) if found_texts else None
        if item is None or not good:
            return None
        return HardwareWish(item=item, names=tuple(names), parameters=self._parameters(entry, (key,)), scope=self._scope.id, at=entry.at)

    def item(self, name: str, at: Spot, kind: str = "") -> Item | None:
        """The hardware a name means: the plan's short name, else the library's."""
        try:
            material = self._scope.material(house_spelling(name))
        except Unsolved:
            return None
        if isinstance(material, Item):
            return material
        outcome = find_item(self._work.library, name, self._work.edition, kind)
        self._work.findings.extend(outcome.report)
        if outcome.value is None and not outcome.report:
            near = self._near_items(f"{kind} {name}" if kind else name)
            self._work.findings.error("unknown-item", f"There is no `{name}` in the library.", at, near)
        return outcome.value

    def _near_items(self, name: str) -> str:
        known = [each for each in names_of(self._work.library, stock=False)]
        starting = [each for each in known if each.startswith(name + " ")]
        if starting:
            return f"There are {listed(starting[:5])}."
        near = did_you_mean(name, known)
        return f"Did you mean {near}?" if near else "The library lies in shared/hardware."

    def _with_twins(self, names: tuple[str, ...], acting: tuple[str, ...]) -> tuple[str, ...]:
        """Names with their mirror images, where hardware of a mirrored use needs them: the right door hangs on the right side."""
        plan = self._scope.plan
        mirrored = [use for rule in plan.rules.parts.values() if rule.component for use in self._copies(plan, rule) if use.mirrored]
        if not any(name.startswith(copy.name + ".") for copy in mirrored for name in acting):
            return names
        found = list(names)
        for rule in self._scope.rules.parts.values():
            copies = self._copies(self._scope, rule)
            if any(self._scope.prefix + copy.name in names for copy in copies):
                found.extend(self._scope.prefix + copy.name for copy in copies if copy.mirrored)
        return tuple(dict.fromkeys(found))

    def _copies(self, scope: Scope, rule: PartRule) -> tuple[Copy, ...]:
        """The copies of a part; none where their count has a fault, which is reported already."""
        try:
            return scope.copies(rule)
        except Unsolved:
            return ()

    # ---- names -----------------------------------------------------------------------------------------

    def _names(self, node: Node | None, what: str, at: Spot, *, uses: bool = False) -> list[tuple[tuple[str, ...], Spot]]:
        """The parts that names mean, one tuple a name; a name that means nothing is reported."""
        found = []
        for name, place in texts(node, what, at, self._work.findings):
            pieces = self.named(name, place, uses=uses)
            if pieces:
                found.append((tuple(dict.fromkeys(piece.name for piece in pieces)), place))
        return found

    def named(self, name: str, at: Spot, *, uses: bool = False) -> tuple[Piece, ...]:
        """The pieces a name means, in this scope; () after reporting that there are none. With `uses` a component's use is one."""
        broken = rule_broken(name) if "." not in name else None
        try:
            thing = parse_thing(name)
            found = pieces(self._scope, thing) if uses else ()
            found = found or group(self._scope, thing)
            if not found:
                raise unknown_part(self._scope, thing, len(thing.names))
        except Refused as fault:
            if broken and fault.code not in ("unknown-part",):
                self._work.findings.error("bad-name", broken[0], at, broken[1])
            else:
                self._work.report(fault, at)
            return ()
        except Unsolved:
            return ()
        return found

    def _key(self, entry: Entry, key: str) -> Spot:
        return Spot(entry.at.file, (*entry.at.path, key), on_key=True)

    def _parameters(self, entry: Entry, skipped: tuple[str, ...]) -> tuple[tuple[str, Written], ...]:
        return tuple((house_spelling(key.text), written(value, entry.at.key(key.text))) for key, value in entry.node.entries if key.text not in skipped)


def finishes(plan: Scope, entries: tuple[Entry, ...], all_parts: tuple[str, ...]) -> list[FinishWish]:
    """The finishes of the plan."""
    wishes = Wishes(plan)
    work = plan.work
    found = []
    seen: dict[str, tuple[str, Spot]] = {}
    for entry in entries:
        kind, first = entry.node.entries[0]
        at = entry.at.key(kind.text)
        parts: list[tuple[str, ...]] = []
        for name, place in texts(first, kind.text, at, work.findings):
            if name == "all":
                parts.append(all_parts)
            elif pieces := wishes.named(name, place):
                parts.append(tuple(dict.fromkeys(piece.name for piece in pieces)))
            else:
                continue
            if entry.node.get("faces") is None:
                _twice(plan, name, parts[-1], kind.text, place, seen)
        coats = _coats(plan, entry)
        faces = []
        for face, place in texts(entry.node.get("faces"), "faces", entry.at.key("faces"), work.findings):
            if face in FACES:
                faces.append(face)
            else:
                work.findings.error("unknown-face", f"`{face}` is no face.", place, "Faces: left right front back bottom top.")
        for key, _ in entry.node.entries[1:]:
            if key.text not in ("coats", "faces", "item", "note"):
                near = did_you_mean(key.text, ("coats", "faces", "item", "note"))
                work.findings.error("unknown-key", f"A finish has no `{key.text}`.", Spot(at.file, entry.at.key(key.text).path, on_key=True),
                                    f"Did you mean {near}?" if near else "The keys of a finish are coats, faces, item and note.")
        item = _finish_item(plan, entry, kind, wishes)
        found.append(FinishWish(kind=house_spelling(kind.text), parts=tuple(parts), coats=coats, faces=tuple(faces), item=item, at=entry.at))
    return found


def _finish_item(plan: Scope, entry: Entry, kind: Scalar, wishes: Wishes) -> Item | None:
    named = texts(entry.node.get("item"), "item", entry.at.key("item"), plan.work.findings)
    if named:
        return wishes.item(named[0][0], entry.at.key("item"))
    outcome = find_item(plan.work.library, kind.text, plan.work.edition)
    plan.work.findings.extend(outcome.report)
    if outcome.value is None:
        kinds = [name for name in names_of(plan.work.library, stock=False) if (item := find_item(plan.work.library, name, plan.work.edition).value) and item.kind == "finish"]
        near = did_you_mean(kind.text, kinds)
        plan.work.findings.error("unknown-finish", f"There is no finish `{kind.text}` in the library.", Spot(entry.at.file, entry.at.key(kind.text).path, on_key=True),
                                 f"Did you mean {near}?" if near else f"Finishes are {listed(kinds[:6])} and more." if kinds else "The library has none.")
    return outcome.value


def _coats(plan: Scope, entry: Entry) -> int:
    found = texts(entry.node.get("coats"), "coats", entry.at.key("coats"), plan.work.findings)
    if not found:
        return 1
    text, at = found[0]
    if text.isdigit() and 1 <= int(text) <= 20:
        return int(text)
    plan.work.findings.error("coats", f"`coats` counts them; `{text}` does not.", at, "Write coats: 2.")
    return 1


def _twice(plan: Scope, called: str, names: tuple[str, ...], kind: str, at: Spot, seen: dict[str, tuple[str, Spot]]) -> None:
    """Report a name whose pieces are finished already, once a name."""
    told = False
    for name in names:
        if name in seen and not told:
            first, place = seen[name]
            told = True
            whom = called if called != "all" else name
            plan.work.findings.error("finished-twice", f"`{whom}` gets both {first} and {kind}.", at, "Take it out of one of them, or give `faces`.", also=(place,))
        seen.setdefault(name, (kind, at))


def labelled(node: Node | None, what: str, at: Spot, plan: Scope) -> list[tuple[str, Written]]:
    """Views or an explosion: names with words, or a list of words."""
    if node is None:
        return []
    if isinstance(node, Mapping):
        return [(house_spelling(key.text), written(value, at.key(key.text))) for key, value in node.entries]
    return [(text, Written(text, spot)) for text, spot in texts(node, what, at, plan.work.findings)]
