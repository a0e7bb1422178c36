"""Models made from a design's text or folder, by the stages up to assemble and the bundled joints alone."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from types import ModuleType

from compiler.base.report import Report
from compiler.base.showing import Units
from compiler.plug.importing import bring_module
from compiler.stages.assemble import assemble
from compiler.stages.check import check, shop_of
from compiler.stages.parse import parse
from compiler.stages.read import read_library
from compiler.values.contributions import Author, Brought
from compiler.values.joinery import Joint
from compiler.values.model import Edition, Model
from compiler.values.source import Library, Source, SourceFile

ROOT = Path(__file__).parent.parent
HEAD = "plan: A test\nnumber: 1\nissue: 1\ndate: 2026-11-02\nunits: inch\neditions: [inch letter, metric a4]\n"
SHOP = "shop: Pinwheel Lane Woodshop\nfit: {dado: 0, groove: 0}\n"


@cache
def library() -> Library:
    """The project's own library."""
    found = read_library(ROOT / "shared").value
    assert found is not None
    return found


def kinds(*plugins: ModuleType) -> tuple[Brought[type[Joint]], ...]:
    """The bundled joints and those of other plugins."""
    import plugins.joints as bundled

    found: list[Brought[type[Joint]]] = []
    for module in (bundled, *plugins):
        author = Author(plugin=module.__name__.rpartition(".")[2])
        plugin = bring_module(module, author).value
        assert plugin is not None
        found.extend(Brought(thing=kind, name=kind.kind, author=author) for kind in plugin.joint_kinds)
    return tuple(found)


def attempt(text: str, units: Units = "inch", *plugins: ModuleType, letters: str = "", shop: str = SHOP) -> tuple[Model | None, Report]:
    """The model of one edition, and everything that was said."""
    text = text if text.startswith("plan:") else HEAD + text
    files = [SourceFile("design.yaml", text, ""), SourceFile("shop.yaml", shop, "")]
    if letters:
        files.append(SourceFile("letters.yaml", letters, ""))
    draft = parse(Source(folder="test", files=tuple(files)))
    assert draft.value is not None
    edition = Edition(units=units, paper="a4" if units == "mm" else "letter")
    settings, design = shop_of(draft.value, library(), edition), check(draft.value, library(), edition)
    report = draft.report + settings.report + design.report
    if design.value is None or settings.value is None:
        return None, report
    outcome = assemble(design.value, kinds(*plugins), settings.value, library())
    return outcome.value, report + outcome.report


def made(text: str, units: Units = "inch", *plugins: ModuleType, letters: str = "") -> Model:
    """The model of a text that has no errors."""
    model, report = attempt(text, units, *plugins, letters=letters)
    assert report.ok, [fault.says for fault in report.errors]
    assert model is not None
    return model


@cache
def project(name: str, units: Units = "inch") -> Model:
    """The model of one of the shop's own plans, with the plan's own plugins."""
    folder = ROOT / "projects" / name
    text = (folder / "design.yaml").read_text(encoding="utf-8")
    shop = (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")
    model, report = attempt(text, units, *own_plugins(folder), shop=shop)
    assert report.ok, [fault.says for fault in report.errors]
    assert model is not None
    return model


def own_plugins(folder: Path) -> tuple[ModuleType, ...]:
    import importlib.util

    found: list[ModuleType] = []
    for path in sorted((folder / "plugins").glob("*/__init__.py")):
        spec = importlib.util.spec_from_file_location(path.parent.name, path)
        assert spec is not None and spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        found.append(module)
    return tuple(found)
