"""The build notes of one edition: their text, with sizes and pictures judged against the model.

In: a plan, its model and design. Out: Outcome[Notes]. This joins the notes stage with the sizes of the design and the pictures of the folder.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from compiler.base.report import Diagnostic, Outcome, Report, Severity, Spot
from compiler.build.reading import Plan
from compiler.values.model import Model
from compiler.values.notes import Notes

if TYPE_CHECKING:
    from compiler.values.design import Design
    from compiler.values.document import Photo


def notes_of(plan: Plan, model: Model, design: Design) -> Outcome[Notes]:
    """The build notes; a plan without any is only warned of."""
    from compiler.language import evaluate, lookup_in
    from compiler.stages.notes import read_notes
    from compiler.stages.photos import photo
    from compiler.stages.read import read_photo

    text = plan.source.text("notes.md") if plan.source else None
    if text is None:
        warning = Diagnostic(
            "no-notes", "This plan has no build notes.", None, "Write them in notes.md: each ## heading is a step.", Severity.WARNING
        )
        return Outcome(Notes(title=model.plan.title), Report((warning,)))
    finished = {
        f"{name}.{what}": value
        for part in model.parts
        for name in _names_of(model, part.name)
        for what, value in (("length", part.length), ("width", part.width), ("thickness", part.thickness))
    }
    lookup = lookup_in(design, "", first=finished)

    def size(expression: str, at: Spot) -> Outcome[Any]:
        return evaluate(expression, lookup, model.plan.units, at, edition=model.edition.units)

    def take(path: str, says: str, caption: str, at: Spot) -> Outcome[Photo]:
        content = read_photo(plan.folder, path, at)
        if content.value is None:
            return Outcome(None, content.report)
        taken = photo(content.value, says, caption, at)
        return Outcome(taken.value, content.report + taken.report)

    return read_notes(text, "notes.md", model, size, take)


def _names_of(model: Model, full: str) -> tuple[str, ...]:
    """All names that mean this part alone, or parts that are equal to it."""
    part = model.part(full)
    row = model.kind(part.letter)
    names = {full, row.name}
    for name in row.parts:
        bare = ".".join(_bare(word) for word in name.split("."))
        others = model.named(bare)
        if all(model.part(other).letter == part.letter for other in others):
            names.add(bare)
    return tuple(sorted(names))


def _bare(word: str) -> str:
    """A copy's name without its hand or number: `left front leg` → `leg`, `shelf 2` → `shelf`."""
    words = word.split(" ")
    while len(words) > 1 and words[0] in ("left", "right", "front", "back", "bottom", "top"):
        words = words[1:]
    return " ".join(words[:-1] if len(words) > 1 and words[-1].isdigit() else words)
