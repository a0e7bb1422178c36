"""The demo plans' models and every drawing that their sections ask for, for tests of drawings.

Sizes in the notes' sentences don't matter here: each stands for one inch.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from compiler.base.measures import inch
from compiler.base.report import Outcome
from compiler.draw.picture import picture
from compiler.plug import load
from compiler.solid.building import Solids, build
from compiler.stages.assemble import assemble
from compiler.stages.check import check, editions_of, shop_of
from compiler.stages.notes import read_notes
from compiler.stages.parse import parse
from compiler.stages.read import read, read_library
from compiler.values.document import View
from compiler.values.drafting import DrawingSettings
from compiler.values.figure import Drawing
from compiler.values.guidance import Cautions, ToolList
from compiler.values.model import Model
from compiler.values.notes import Notes
from plugins.booklet.front import KEY
from plugins.booklet.steps import build as build_steps
from plugins.dimensioned_drawing import sizes
from plugins.exploded_drawing.pages import exploded_pages
from plugins.joint_details import joint_details
from plugins.part_drawings import part_drawings
from plugins.templates import templates

USUAL = DrawingSettings(projection="third angle", dual_units="no")
HOME = Path(__file__).resolve().parents[2]
PLANS = tuple(sorted(folder.name for folder in (HOME / "projects").iterdir() if (folder / "design.yaml").exists()))


@cache
def model(name: str) -> Model:
    """The model of a plan's first edition."""
    folder = HOME / "projects" / name
    library = read_library(HOME / "shared").value
    draft = parse(read(folder).value).value  # type: ignore[arg-type]
    assert draft is not None and library is not None
    edition = editions_of(draft).value[0]  # type: ignore[index]
    design, shop = check(draft, library, edition), shop_of(draft, library, edition).value
    kinds = load(plan=folder, trust_all=True).value.joint_kinds  # type: ignore[union-attr]
    made = assemble(design.value, kinds, shop, library)  # type: ignore[arg-type]
    assert made.value is not None, [d.says for d in (*design.report, *made.report)]
    return made.value


@cache
def solids(name: str) -> Solids:
    """The coarse solids of its parts and loose pieces."""
    return build((*model(name).parts, *model(name).pieces), quality="coarse")


def views(name: str, drawn: DrawingSettings = USUAL) -> tuple[View, ...]:
    """Every view that the plan's sections ask for, each once."""
    plan = model(name)
    text = (HOME / "projects" / name / "notes.md").read_text(encoding="utf-8")
    notes = read_notes(text, "notes.md", plan, lambda *_: Outcome(inch(1)), lambda *_: Outcome(None)).value or Notes(title="")
    blocks: list[object] = [KEY, View("front right top", width=168), View("front left top", dimensions=False, width=72)]
    for section in (exploded_pages, joint_details, templates):
        blocks += list(section(plan))
    blocks += [*sizes(plan, drawn), *part_drawings(plan, drawn)]
    blocks += list(build_steps(plan, notes, Cautions(notice=""), ToolList()))
    blocks += [View(f"thumb {kind.name}") for kind in plan.kinds]
    return tuple(dict.fromkeys(view for block in blocks for view in _views(block)))


def _views(value: object) -> Iterator[View]:
    if isinstance(value, View):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _views(item)
    elif hasattr(value, "__dataclass_fields__"):
        for field in value.__dataclass_fields__:
            yield from _views(getattr(value, field))


@cache
def drawings(name: str, drawn: DrawingSettings = USUAL) -> tuple[tuple[View, Drawing], ...]:
    """Every drawing of a plan."""
    made = []
    for view in views(name, drawn):
        outcome = picture(view, model(name), solids(name))
        assert outcome.value is not None, (view.words, [d.says for d in outcome.report])
        made.append((view, outcome.value))
    return tuple(made)
