"""Model → HardwareList.

In: joints with their fasteners, hardware, finishes and touching faces; the library's items and covers. Out: one row an
item, one a glue or finish. Nothing is rounded here but by `HardwareRow.packs`.
"""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.api import (
    Area,
    HardwareList,
    HardwareRow,
    Item,
    Library,
    Model,
    Settings,
    SupplyRow,
    ask,
    inch,
    mm,
    task,
)

COVER = re.compile(r"(\d+(?:\.\d+)?) (ft2|m2) per (\w+)")
"""How the library writes covers: `250 ft2 per gallon`, `6 m2 per litre`."""


class HardwareSettings(Settings):
    """Which glue the shop uses, and how much more of it than the area takes."""

    key = "hardware list"
    glue: str = ask.word("wood glue", "the glue of joints, by its name in the library")
    glue_more: Fraction = ask.ratio("1.25", "times the glue that the glued area takes", least="1", most="3")


@task
def hardware_list(model: Model, library: Library, settings: HardwareSettings) -> HardwareList:
    """Everything that is bought ready made."""
    counted: dict[str, tuple[Item, dict[str, int]]] = {}
    kinds = {part.name: part.kind for part in model.parts}
    for joint in model.joints:
        where = f"{kinds.get(joint.acting, joint.acting)} to {kinds.get(joint.receiver, joint.receiver)}"
        for fasteners in joint.fasteners:
            _count(counted, fasteners.item, fasteners.count, where, model, library)
    for use in model.hardware:
        where = " and ".join(dict.fromkeys(kinds.get(name, name) for name in use.on)) or use.per
        _count(counted, use.item, use.count, where, model, library)
    rows = [HardwareRow(item=item, count=sum(used.values()), used=tuple(used.items())) for item, used in counted.values()]
    rows.sort(key=lambda row: (row.item.kind, row.item.key))
    return HardwareList(rows=tuple(rows), supplies=(*_glue(model, library, settings), *_finishes(model)))


def _count(counted: dict[str, tuple[Item, dict[str, int]]], item: Item, number: int, where: str, model: Model, library: Library) -> None:
    """Count an item and, for each piece of it, what it brings along."""
    if number <= 0:
        return
    _, used = counted.setdefault(item.key, (item, {}))
    used[where] = used.get(where, 0) + number
    for key, each in item.brings:
        _count(counted, _brought(key, model, library), number * each, f"for {item.name}", model, library)


def _brought(key: str, model: Model, library: Library) -> Item:
    """An item that another brings along; one that the library does not hold is listed by its key, singly."""
    known = [fasteners.item for joint in model.joints for fasteners in joint.fasteners] + [use.item for use in model.hardware]
    return next((item for item in (*library.items, *known) if item.key == key), Item(key=key, name=key, kind="brought along"))


def _glue(model: Model, library: Library, settings: HardwareSettings) -> list[SupplyRow]:
    glued = [joint for joint in model.joints if joint.glue and joint.area]
    if not glued:
        return []
    item = next((glue for glue in library.glues if settings.glue in (glue.key, glue.name)), None)
    cover, unit = _cover(item)
    parts = tuple(dict.fromkeys(name for joint in glued for name in (joint.acting, joint.receiver)))
    area = sum((joint.area for joint in glued), Area())
    name = item.name if item is not None else settings.glue
    return [SupplyRow(name=name, item=item, use="glue", area=area, cover=cover, unit=unit, more=settings.glue_more, parts=parts)]


def _finishes(model: Model) -> list[SupplyRow]:
    rows = []
    for use in model.finishes:
        cover, unit = _cover(use.item)
        rows.append(SupplyRow(name=use.item.name if use.item is not None else use.kind, item=use.item, use="finish", area=use.area,
                              coats=use.coats, cover=cover, unit=unit, parts=use.parts))
    return rows


def _cover(item: Item | None) -> tuple[Area | None, str]:
    """The area that one gallon or litre covers once, and which of the two; None when the library does not say."""
    found = COVER.match(dict(item.facts).get("cover", "")) if item is not None else None
    if found is None:
        return None, ""
    side = inch(12) if found[2] == "ft2" else mm(1000)
    return side * side * Fraction(found[1]), found[3]
