"""Model → BitsAndCutters: every size of drill bit and cutter that the plan's own work asks for, with what it is for.

Holes by their diameter; for screws the clearance hole through the near part and the pilot in the far one, as the library gives them (the softer pilot for
woods and sheets under 560 kg/m3 and for softwood; common practice); edge shapes by their radius or width; grooves, dadoes and mortises by their width.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from compiler.api import Bore, JointUse, Length, Model, Part, task

Need = Callable[[str, str, Length | None, str], None]
SOFT = Fraction(560)
SCREWS = ("wood screw", "machine screw", "insert")
EDGES = {"round-over": "radius", "cove": "radius", "chamfer": "width", "bead": "radius"}
GROOVES = ("groove", "dado")


@dataclass(frozen=True)
class Bit:
    """One size of one kind, and what it is for."""

    kind: Literal["drill bit", "edge cutter", "groove"]
    called: str
    size: Length
    uses: tuple[str, ...]


@dataclass(frozen=True)
class BitsAndCutters:
    """Drill bits, then edge cutters, then widths of grooves, each from small to large."""

    bits: tuple[Bit, ...]


@task
def bits_and_cutters(model: Model) -> BitsAndCutters:
    """All sizes, each once."""
    found: dict[tuple[str, str, Length], dict[str, None]] = {}

    def need(kind: str, called: str, size: Length | None, use: str) -> None:
        if size:
            found.setdefault((kind, called, size), {})[use] = None

    parts = {part.name: part for part in model.parts}
    for part in (*model.parts, *model.pieces):
        for feature in part.features:
            if feature.op == "cut" and isinstance(feature.shape, Bore) and feature.by.startswith("working"):
                need("drill bit", "drill bit", feature.shape.diameter, f"{feature.called}s in {part.kind}")
        for working in part.workings:
            key = EDGES.get(working.kind)
            size = dict(working.values).get(key) if key else None
            if isinstance(size, Length):
                need("edge cutter", working.kind, size, part.kind)
    for joint in model.joints:
        _screws(joint, parts, need)
        if joint.kind in GROOVES:
            need("groove", "straight cutter or stack", min(joint.length, joint.width), f"{joint.kind} for {_kind(joint.acting, parts)}")
        thick = joint.value("thickness")
        if "tenon" in joint.kind and isinstance(thick, Length):
            need("groove", "mortising bit or chisel", thick, f"mortise for {_kind(joint.acting, parts)}")
    for use in model.hardware:
        if use.item.kind not in SCREWS:
            need("drill bit", "drill bit", use.item.measure("hole"), use.item.name)
    order = ("drill bit", "edge cutter", "groove")
    rows = sorted(found.items(), key=lambda entry: (order.index(entry[0][0]), entry[0][1], entry[0][2]))
    return BitsAndCutters(tuple(Bit(kind, called, size, tuple(uses)) for (kind, called, size), uses in rows))  # type: ignore[arg-type]  # one of `order`


def _kind(name: str, parts: dict[str, Part]) -> str:
    return parts[name].kind if name in parts else name


def _screws(joint: JointUse, parts: dict[str, Part], need: Need) -> None:
    for use in joint.fasteners:
        if use.item.kind not in SCREWS:
            need("drill bit", "drill bit", use.item.measure("hole") if use.item.kind != "dowel" else use.item.measure("diameter"), f"{use.item.kind}s")
            continue
        into = parts.get(use.into)
        gauge = use.item.name.partition(" x ")[0]
        gauge = f"{gauge} mm" if gauge.replace(".", "").isdigit() else gauge
        pilot, where = ("pilot soft", "sheets and soft wood") if into is not None and soft(into) else ("pilot", "hard wood")
        need("drill bit", "drill bit", use.item.measure("clearance hole"), f"clearance, {gauge} screws")
        need("drill bit", "drill bit", use.item.measure(pilot) or use.item.measure("pilot"), f"pilot in {where}, {gauge} screws")


def soft(part: Part) -> bool:
    """Sheets and light woods take the smaller pilot."""
    density = part.stock.density or (part.stock.species.density if part.stock.species is not None else None)
    return part.stock.kind == "sheet" or (density is not None and density < SOFT)
