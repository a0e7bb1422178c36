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

WIDE = 76
"""Width of a step's picture, in mm: half a page, so that two steps share one."""

MANY = 2
"""Kinds of parts worked on at once that a picture still shows apart."""


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
    """The piece as built so far with the new parts tinted; work on the bench shows the parts alone.

    Work on many parts at once is shown on the piece, as far as it stands; before that no picture tells more than the list.
    """
    view = step.view.replace(",", "")
    if view == "sheets" or not (step.adds or step.works or step.makes):
        return None
    if view.split(" ")[0] in WHOLE:
        # A section or a detail is cut from the piece itself, not from the heap of new parts.
        group = step.adds or step.makes or step.works
        only = group if view.startswith("exploded") else tuple(dict.fromkeys((*done, *group)))
        return Figure(_caption(step, model), View(view, only=only, dimensions=False, width=WIDE), name=step.key)
    if step.adds:
        shown, tinted = (*done, *(name for name in step.adds if name not in done)), step.adds
    elif step.makes:
        shown, tinted = step.makes, step.works
    elif len({model.part(name).kind for name in step.works}) > MANY:
        shown, tinted = done, tuple(name for name in step.works if name in done)
        if not tinted:
            return None
        return Figure(_caption(step, model), View(view or "front right top", only=shown, dimensions=False, width=WIDE), name=step.key)
    else:
        shown = tuple(dict.fromkeys(model.kind(model.part(name).letter).parts[0] for name in step.works))
        tinted = ()
    return Figure(
        _caption(step, model), View(f"step {view}".strip(), only=shown, tinted=tinted, dimensions=False, width=WIDE), name=step.key
    )


def _caption(step: NoteStep, model: Model) -> Inlines:
    if step.adds:
        return ("Added: ", *_list(step.adds, model), ".")
    if step.makes:
        return (f"{step.made[:1].upper()}{step.made[1:]}, made on the bench: ", *_list(step.makes, model), ".")
    return ("Worked on: ", *_list(step.works, model), ".")


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
