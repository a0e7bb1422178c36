"""What must hold for every figure of every demo plan, measured on the finished marks."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from compiler import build
from compiler.draw.bounds import clashes
from compiler.values.document import Document
from compiler.values.figure import Drawing
from compiler.values.model import Model

PROJECTS = Path(__file__).resolve().parents[2] / "projects"
PLANS = tuple(sorted(folder.name for folder in PROJECTS.iterdir() if (folder / "design.yaml").exists()))


@cache
def built(name: str) -> tuple[Document, Model]:
    """The document of a plan's first edition, with its model."""
    plan = build._read(PROJECTS / name, build.Workshop(store=None))
    editions, _ = build._editions(plan, build.Wishes(trust=True))
    made = build._build(plan, editions[0], build.Wishes(trust=True), build._store(plan.workshop), draw=True)
    assert made.document is not None and made.model is not None, [d.says for d in made.report.errors]
    return made.document, made.model


def drawings(value: object, seen: set[int] | None = None) -> Iterator[Drawing]:
    """Every drawing in a value, however deep."""
    if isinstance(value, Drawing):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from drawings(item)
    elif hasattr(value, "__dataclass_fields__"):
        for name in value.__dataclass_fields__:
            yield from drawings(getattr(value, name))


@pytest.mark.parametrize("name", PLANS)
def test_no_lettering_overlaps_and_nothing_leaves_its_frame(name: str) -> None:
    """Text on text, on a balloon, on a leader, dimension or extension line; marks outside the frame: none in any figure."""
    document, _ = built(name)
    found = [(drawing.says[:60], clash) for drawing in drawings(document) for clash in clashes(drawing)]
    assert found == []


@pytest.mark.parametrize("name", PLANS)
def test_every_letter_of_the_cut_list_is_in_a_drawing_and_no_other(name: str) -> None:
    """The balloons of all drawings together, against the model's kinds."""
    document, model = built(name)
    shown = {letter for drawing in drawings(document) for letter in drawing.letters}
    assert shown == {kind.letter for kind in model.kinds}


@pytest.mark.parametrize("name", PLANS)
def test_every_figure_fits_both_papers(name: str) -> None:
    """Letter's live area is 500 pt wide, A4's 483 pt: no figure is wider than 483 pt = 170.4 mm, none higher than 663 pt."""
    document, _ = built(name)
    for drawing in drawings(document):
        assert drawing.width <= 170.4 and drawing.height <= 663 / 72 * 25.4
        assert drawing.says
