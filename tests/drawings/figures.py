"""Every figure of the shop's plans and starters as the whole compiler makes it, in each unit that the plan is sold in."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from compiler.base.showing import Units
from compiler.build import Wishes, Workshop, read_plan, surroundings
from compiler.build.working import document_of
from compiler.store.account import Account
from compiler.values.document import Document
from compiler.values.figure import Drawing
from compiler.values.model import Edition, Model
from tests.made import ROOT

FOLDERS = {path.parent.name: path.parent for root in ("shared/starters", "projects") for path in sorted((ROOT / root).glob("*/design.yaml"))}
EDITIONS: dict[Units, Edition] = {"inch": Edition(units="inch", paper="letter"), "mm": Edition(units="mm", paper="a4")}
WORDS: dict[Units, str] = {"inch": "inch", "mm": "metric"}
CASES = tuple(
    (name, units) for name, folder in FOLDERS.items() for units in EDITIONS
    if any(line.startswith("editions:") and WORDS[units] in line for line in (folder / "design.yaml").read_text(encoding="utf-8").splitlines())
)


@dataclass(frozen=True)
class Printed:
    """What one edition of a plan prints."""

    document: Document
    model: Model


@cache
def printed(name: str, units: Units) -> Printed:
    """The document of a plan. Starters stand in a folder of plans of their own, as `kerfolio new` puts them."""
    folder = FOLDERS[name]
    if folder.parent.name == "starters":
        shop = Path(mkdtemp())
        shutil.copytree(folder, shop / name)
        shutil.copy(ROOT / "projects" / "shop.yaml", shop / "shop.yaml")
        folder = shop / name
    wishes = Wishes(trust=True)
    around = surroundings(Workshop(store=None))
    plan = read_plan(folder, around)
    built = document_of(plan, EDITIONS[units], wishes, Account(around.store, name), draw=True)
    assert built.document is not None and built.model is not None, [fault.says for fault in built.report.errors]
    return Printed(built.document, built.model)


def drawings(name: str, units: Units) -> tuple[tuple[str, Drawing], ...]:
    """Each drawing once, with a name to find it by."""
    found: dict[int, tuple[str, Drawing]] = {}
    for called, drawing in _drawings(printed(name, units).document, ""):
        found.setdefault(id(drawing), (called, drawing))
    return tuple(found.values())


def _drawings(value: object, called: str) -> Iterator[tuple[str, Drawing]]:
    if isinstance(value, Drawing):
        yield called or value.name or value.says[:50], value
    elif isinstance(value, tuple):
        for item in value:
            yield from _drawings(item, called)
    elif hasattr(value, "__dataclass_fields__"):
        own = getattr(value, "name", "") if type(value).__name__ == "Figure" else ""
        for field in value.__dataclass_fields__:
            yield from _drawings(getattr(value, field), own or called)
