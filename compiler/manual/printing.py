"""The manual as a booklet: sections gathered, joints drawn, set in a theme, written.

In: where everything lies, a folder, a theme, a paper, the commands. Out: the PDF's path and its pages. It goes the way that plans go, from
`arrange` on; what it says is in the sections.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Literal

from compiler import __version__
from compiler.base.report import Findings, Outcome
from compiler.manual import sections
from compiler.manual.commands import Command
from compiler.manual.joint_words import COMPONENTS, component_design, design
from compiler.manual.messages import messages
from compiler.plug import load
from compiler.stages.arrange import Frontispiece, arrange
from compiler.values.contributions import Contributions
from compiler.values.document import Document, View
from compiler.values.figure import Drawing
from compiler.values.model import Edition, Model, PlanFacts

ROOT = Path(__file__).resolve().parents[2]
Paper = Literal["letter", "a4"]
HERO = "half-blind dovetail"
"""The joint on the cover."""

DATE = "2026-11-02"
"""The date in the file: of the words in it, since a clock would make every copy another."""


@dataclass(frozen=True, slots=True)
class Printed:
    """The manual as it was written."""

    path: Path
    pages: int


def publish_manual(commands: tuple[Command, ...], out: Path, *, theme: str = "standard", paper: Paper = "letter", root: Path = ROOT,
                   progress: Callable[[str], None] = lambda text: None) -> Outcome[Printed]:
    """Write `makers-manual.pdf` into a folder."""
    from compiler.stages.dress import dress, load_theme
    from compiler.stages.publish import publish

    progress("gathering")
    document = manual_document(commands, paper, root)
    worn = load_theme(theme, (root / "projects" / "themes", root / "themes"))
    report = document.report + worn.report
    if document.value is None or worn.value is None:
        return Outcome(None, report)
    progress("setting the pages")
    pages = dress(document.value, worn.value)
    report += pages.report
    if pages.value is None:
        return Outcome(None, report)
    printed = publish(pages.value)
    report += printed.report
    if printed.value is None:
        return Outcome(None, report)
    path = out / "makers-manual.pdf"
    try:
        out.mkdir(parents=True, exist_ok=True)
        beside = path.with_name(f".{path.name}.part-{os.getpid()}")
        beside.write_bytes(printed.value.content)
        os.replace(beside, path)
    except OSError as fault:
        found = Findings()
        found.error("cannot-write", f"`{out}` can't be written to: {fault.strerror or fault}.", None, "Name another folder with --out.")
        return Outcome(None, report + found.report())
    return Outcome(Printed(path, printed.value.page_count), report)


def manual_document(commands: tuple[Command, ...], paper: Paper = "letter", root: Path = ROOT) -> Outcome[Document]:
    """The numbered document."""
    loaded = load(bundled=root / "plugins", installed=False)
    contributions = loaded.value or Contributions()
    found = messages((root / "compiler", root / "plugins"), root / "tests" / "cases")
    parts = (
        sections.cover(__version__, picture_of_example(HERO, "exploded front right top", contributions, root)), sections.contents(), sections.plan_folder(), sections.sizes(), sections.design_keys(), sections.workings(),
        sections.joints(contributions.joint_kinds, lambda word: joint_picture(word, contributions, root)), 
        sections.components(contributions.components, lambda word: component_picture(word, contributions, root)), sections.notes(contributions.views),
        sections.shop(contributions), sections.command_line(commands), sections.by_code(found),
    )
    facts = PlanFacts(title="Makers’ manual", number=__version__, issue=1, date=DATE, units="inch")
    nothing = Model(plan=facts, edition=Edition(units="inch", paper=paper), parts=(), kinds=())
    front = Frontispiece(shop="Kerfolio", terms="", step=Fraction(1, 32), language="en-US" if paper == "letter" else "en",
                         subject="What may be written in a plan")
    arranged = arrange(parts, nothing, front)
    return Outcome(arranged.value, loaded.report + arranged.report)


def joint_picture(word: str, contributions: Contributions, root: Path = ROOT) -> Drawing | None:
    """The detail of a joint's example; None when there is nothing to be seen."""
    return picture_of_example(word, "joint", contributions, root)


def picture_of_example(word: str, view: str, contributions: Contributions, root: Path) -> Drawing | None:
    """A joint's example as a view shows it: `joint`, or `exploded`."""
    from compiler import solid
    from compiler.draw.picture import picture

    model = example_model(design(word), contributions, root)
    if model.value is None or not model.value.joints:
        return None
    solids = solid.build((*model.value.parts, *model.value.pieces), quality="coarse")
    wished = View(f"joint {model.value.joints[0].id}", width=52, height=52) if view == "joint" else View(view, dimensions=False, exploded=True, width=110)
    return picture(wished, model.value, solids).value


def component_picture(word: str, contributions: Contributions, root: Path = ROOT) -> Drawing | None:
    """A component's example, moved apart; None when it has none."""
    from compiler import solid
    from compiler.draw.picture import picture

    model = example_model(component_design(word), contributions, root).value if word in COMPONENTS else None
    if model is None:
        return None
    solids = solid.build(model.parts, quality="coarse")
    return picture(View("front right top", dimensions=False, exploded=True, width=76), model, solids).value


def example_model(text: str, contributions: Contributions, root: Path = ROOT) -> Outcome[Model]:
    """The model of an example's design.yaml, without a shop."""
    from compiler.base.digests import digest
    from compiler.stages.assemble import assemble
    from compiler.stages.check import check, shop_of
    from compiler.stages.parse import parse
    from compiler.stages.read import read_library
    from compiler.values.source import Source, SourceFile

    edition = Edition(units="inch", paper="letter")
    library = read_library(root / "shared")
    draft = parse(Source(folder="example", files=(SourceFile("design.yaml", text, digest(text)),)))
    if library.value is None or draft.value is None:
        return Outcome(None, library.report + draft.report)
    shop, checked = shop_of(draft.value, library.value, edition), check(draft.value, library.value, edition, contributions.components)
    report = draft.report + shop.report + checked.report
    if shop.value is None or checked.value is None:
        return Outcome(None, report)
    model = assemble(checked.value, contributions.joint_kinds, shop.value, library.value)
    return Outcome(model.value, report + model.report)
