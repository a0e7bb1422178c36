"""Which keys each entity of a plan may have: one table, for checking, for hints and for the reference.

In: a mapping of the draft. Out: faults for keys that no entity of its kind has. Nothing here looks at values.
"""

from __future__ import annotations

from compiler.base.report import Findings, Spot
from compiler.language import did_you_mean, house_spelling, listed
from compiler.values.draft import Mapping, Node, Scalar, Sequence

KEYS: dict[str, tuple[str, ...]] = {
    "plan": ("plan", "number", "issue", "date", "units", "editions", "note", "sizes", "numbers", "middle", "materials", "assemblies",
             "parts", "components", "joints", "hardware", "finish", "match", "views", "explode", "booklet", "settings", "theme"),
    "assembly": ("stock", "parts", "joints", "assemblies", "note"),
    "part": ("stock", "across", "deep", "up", "grain", "copies", "workings", "edge band", "glue-up", "plane", "tilt", "level", "profile",
             "note", "run", "component", "with"),
    "component": ("stock", "sizes", "numbers", "middle", "materials", "parts", "joints", "hardware", "note"),
    "run": ("round", "of"),
    "pair": ("inch", "mm"),
    "booklet": ("leave out", "order", "sample"),
    "finish": ("coats", "faces", "item", "note"),
}

ELSEWHERE = {
    ("plan", "plugins"): "Plugins are found in the plan's own folder plugins/, and run when shop.yaml trusts them: trusted: [hall-table].",
    ("plan", "trusted"): "Whose plugins may run is the shop's to say: trusted: stands in shop.yaml.",
}
"""Keys that makers look for at another place: (entity, key) → where it is said."""

FAMILY_WORDS = ("into", "to", "with", "on")
WORKINGS = ("hole", "holes", "dado", "groove", "rabbet", "notch", "bevel", "mitre", "taper", "chamfer", "round-over", "cove", "arc",
            "cut-out", "outline", "profile")


def article(entity: str) -> str:
    """The entity with its article: `an assembly`."""
    return f"{'an' if entity[0] in 'aeio' else 'a'} {entity}"


def check_keys(node: Mapping, entity: str, at: Spot, findings: Findings) -> None:
    """Report keys that no such entity has."""
    known = KEYS[entity]
    for key, _ in node.entries:
        if key.text in known:
            continue
        near = did_you_mean(house_spelling(key.text), known)
        says = f"{article(entity).capitalize()} has no `{key.text}`."
        if (entity, key.text) in ELSEWHERE:
            hint = ELSEWHERE[entity, key.text]
        elif near and near != key.text:
            hint = f"Did you mean {near}?"
        else:
            hint = f"The keys of {article(entity)} are {listed(known)}."
        spot = at.key(key.text)
        findings.error("unknown-key", says, Spot(spot.file, spot.path, on_key=True), hint)


def mapping(node: Node | None, what: str, at: Spot, findings: Findings) -> Mapping | None:
    """The node as keys with values; None, and a fault, when it is something else."""
    if node is None:
        return None
    if isinstance(node, Mapping):
        return node
    if isinstance(node, Scalar) and not node.text.strip():
        findings.error("empty", f"`{what}` is empty.", Spot(at.file, at.path, on_key=True), "Write its entries below, two spaces in, or remove it.")
        return None
    findings.error("wrong-shape", f"`{what}` holds names with a colon, one a line.", at, f"Write `{what}:` and below it `name: …`.")
    return None


def sequence(node: Node | None, what: str, at: Spot, findings: Findings) -> Sequence | None:
    """The node as a list; None, and a fault, when it is something else."""
    if node is None:
        return None
    if isinstance(node, Sequence):
        return node
    if isinstance(node, Scalar) and not node.text.strip():
        findings.error("empty", f"`{what}` is empty.", Spot(at.file, at.path, on_key=True), "Write its entries below, each with a dash, or remove it.")
        return None
    findings.error("wrong-shape", f"`{what}` is a list: each entry begins with a dash.", at, "Write `- ` before each entry.")
    return None


def text(node: Node | None, what: str, at: Spot, findings: Findings) -> Scalar | None:
    """The node as one text; None, and a fault, when it is something else or nothing."""
    if node is None:
        return None
    if isinstance(node, Scalar):
        if node.text.strip():
            return node
        if node.quoting == "*":
            return None
        findings.error("empty", f"`{what}` is empty.", Spot(at.file, at.path, on_key=True), _empty_hint())
        return None
    if isinstance(node, Sequence):
        count = "one entry" if len(node.items) == 1 else f"{len(node.items)} entries"
        first = node.items[0] if node.items else None
        meant = f"-{first.text}" if not node.flow and isinstance(first, Scalar) and first.text[:1].isdigit() else \
            first.text if isinstance(first, Scalar) else "…"
        where = at.key(0) if node.items else at
        findings.error("wrong-shape", f"`{what}` takes one text, this is a list with {count}.", where, f"Write `{what}: {meant}` on one line.")
        return None
    findings.error("wrong-shape", f"`{what}` takes one text, this holds names with a colon.", at, f"Write `{what}: …` on one line.")
    return None


def _empty_hint() -> str:
    return "Write its value on the same line; everything from # is a comment, so write No. 8 for a screw of number 8."


def texts(node: Node | None, what: str, at: Spot, findings: Findings) -> tuple[tuple[str, Spot], ...]:
    """One text or a list of texts, each with its place."""
    if node is None:
        return ()
    if isinstance(node, Sequence):
        found: list[tuple[str, Spot]] = []
        for index, item in enumerate(node.items):
            each = text(item, what, at.key(index), findings)
            if each is not None:
                found.append((each.text, at.key(index)))
        if not node.items:
            findings.error("empty", f"`{what}` is empty.", at, "Name at least one.")
        return tuple(found)
    one = text(node, what, at, findings)
    return ((one.text, at),) if one is not None else ()
