"""The build notes as pages: groups of steps, each step with its facts, cautions, picture and actions.

In: the notes, the cautions and tools of each step, the model. Out: one section with a heading for each group.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.api import (
    Blocks,
    Cautions,
    Figure,
    Heading,
    Inlines,
    ItemList,
    Model,
    Notes,
    NoteStep,
    PageBlock,
    PartMark,
    Photo,
    Step,
    ToolList,
    View,
    section,
)


WHOLE = ("detail", "section", "exploded", "part", "joint", "sizes")
"""View words that a step may ask for besides corners and sides."""


@section("Build it", after="steps", name="steps")
def build(model: Model, notes: Notes, cautions: Cautions, tools: ToolList) -> Blocks:
    """The introduction, then every step in order under the heading of its group."""
    yield from notes.introduction
    group = ""
    done: list[str] = []
    for step in notes.steps:
        if step.group != group:
            group = step.group
            yield Heading(content=(group,))
        yield _step(step, tuple(done), model, cautions, tools)
        done.extend(name for name in step.adds if name not in done)


def _step(step: NoteStep, done: tuple[str, ...], model: Model, cautions: Cautions, tools: ToolList) -> Step:
    photos = tuple(block for block in step.content if isinstance(block, Photo))
    content = tuple(_boxes(block) for block in step.content if not isinstance(block, Photo))
    return Step(
        title=step.title,
        key=step.key,
        content=content,
        time=step.time,
        tools=step.tools or tools.of_step(step.key)[:5],
        adds=tuple(marks(step.adds, model)),
        works=tuple(marks(tuple(name for name in step.works if name not in step.adds), model)),
        makes=step.made,
        repeat=step.repeat,
        cautions=cautions.before(step.key),
        picture=_picture(step, done, model),
        more=photos,
        video=step.video,
        at=step.at,
    )


def _boxes(block: PageBlock) -> PageBlock:
    """A list in a step is a list of actions, each with a box for the pencil."""
    if isinstance(block, ItemList) and block.style == "bullets":
        return ItemList(items=block.items, style="boxes")
    return block


def _picture(step: NoteStep, done: tuple[str, ...], model: Model) -> Figure | None:
    """The piece as built so far with the new parts tinted; work on the bench shows the parts alone."""
    if step.view == "sheets" or not (step.adds or step.works or step.makes):
        return None
    if step.adds:
        shown, tinted = (*done, *(name for name in step.adds if name not in done)), step.adds
        caption: Inlines = ("Added: ", *_list(step.adds, model), ".")
    elif step.makes:
        shown, tinted = step.makes, step.works
        caption = (f"{step.made[:1].upper()}{step.made[1:]}, made on the bench: ", *_list(step.makes, model), ".")
    else:
        shown, tinted = tuple(model.kind(model.part(name).kind).parts[0] for name in step.works), ()
        shown = tuple(dict.fromkeys(shown))
        caption = ("Worked on: ", *_list(step.works, model), ".")
    view = step.view.replace(",", "")
    if view.split(" ")[0] in WHOLE:
        # A section or a detail is cut from the piece itself, not from the heap of new parts.
        group = step.adds or step.makes or step.works
        only = group if view.startswith("exploded") else tuple(dict.fromkeys((*done, *group)))
        return Figure(caption, View(view, only=only, dimensions=False, width=97), name=step.key)
    return Figure(caption, View(f"step {view}".strip(), only=shown, tinted=tinted, dimensions=False, width=97), name=step.key)


def marks(names: tuple[str, ...], model: Model) -> Iterator[PartMark]:
    """One mark for each kind among the parts, in plan order."""
    kinds = dict.fromkeys(model.part(name).kind for name in names)
    for row in model.kinds:
        if row.name in kinds:
            yield PartMark(row.parts[0], row.letter, row.name, named=False)


def _list(names: tuple[str, ...], model: Model) -> Iterator[PartMark | str]:
    for number, mark in enumerate(marks(names, model)):
        if number:
            yield ", "
        yield PartMark(mark.part, mark.letter, mark.name, named=True)
