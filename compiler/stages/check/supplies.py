"""Everything from the library that a plan names: stock of its parts, hardware, and the items that come along with it.

In: the draft and what was found. Out: stocks and items, each once, sorted by key. Later stages find by key or name among them.
"""

from __future__ import annotations

from compiler.base.showing import Units
from compiler.library import find_item, find_stock
from compiler.stages.check.scope import Scope
from compiler.stages.check.wishes import FASTENERS
from compiler.values.design import DesignPart, HardwareWish
from compiler.values.draft import Draft, Mapping, Node, Scalar, Sequence
from compiler.values.library import Item, Stock
from compiler.values.source import Library


def stocks_of(parts: list[DesignPart], plan: Scope) -> tuple[Stock, ...]:
    """The stock of all parts and their edge tapes."""
    found: dict[str, Stock] = {}
    for part in parts:
        found.setdefault(part.stock.key, part.stock)
        for _, tape in part.band:
            outcome = find_stock(plan.work.library, tape, plan.work.edition)
            if outcome.value is not None:
                found.setdefault(tape, outcome.value)
    for name in plan.rules.materials:
        material = plan.material(name)
        if isinstance(material, Stock):
            found.setdefault(material.key, material)
    return tuple(found[key] for key in sorted(found))


def items_of(draft: Draft, library: Library, units: Units, plan: Scope, hardware: list[HardwareWish]) -> tuple[Item, ...]:
    """The hardware of the plan: of its entries, of its joints' fasteners, of its short names, and what those bring."""
    waiting: list[Item] = [wish.item for wish in hardware]
    waiting.extend(material for name in plan.rules.materials if isinstance(material := plan.material(name), Item))
    root = draft.root("design.yaml")
    if root is not None:
        for kind, text in _fasteners(root):
            outcome = find_item(library, text, units, kind)
            if outcome.value is not None:
                waiting.append(outcome.value)
    found: dict[str, Item] = {}
    while waiting:
        item = waiting.pop()
        if item.key in found:
            continue
        found[item.key] = item
        for name, _ in item.brings:
            brought = find_item(library, name, units)
            if brought.value is not None:
                waiting.append(brought.value)
    return tuple(found[key] for key in sorted(found))


def _fasteners(node: Node) -> list[tuple[str, str]]:
    """Every text under a fastener's key, with the word that stands before it in the library."""
    found: list[tuple[str, str]] = []
    if isinstance(node, Mapping):
        for key, value in node.entries:
            if key.text in FASTENERS and isinstance(value, Scalar):
                found.append((FASTENERS[key.text], value.text))
            else:
                found.extend(_fasteners(value))
    elif isinstance(node, Sequence):
        for item in node.items:
            found.extend(_fasteners(item))
    return found
