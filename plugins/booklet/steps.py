"""The build notes as pages: groups of steps, each step with its facts, cautions, picture and actions.

In: the notes, the cautions and tools of each step, the model. Out: one section with a heading for each group.
"""

from __future__ import annotations

from collections.abc import Iterator

import segno

from compiler.api import (
    Blocks,
    Cautions,
    CodeMark,
    Column,
    Figure,
    Group,
    Heading,
    Inlines,
    ItemList,
    Model,
    Notes,
    NoteStep,
    PageBlock,
    PartMark,
    Photo,
    Ref,
    Step,
    Table,
    ToolList,
    View,
    section,
)

from .front import hours

WHOLE = ("detail", "section", "exploded", "part", "joint", "sizes")
"""View words that a step may ask for besides corners and sides."""

WIDE, HIGH, LOW = 76, 40, 34
"""The most of a step's picture, in mm: so that two steps share a page. A part alone on the bench needs less."""

ROOMS = ((90, 56), (104, 72), (104, 90), (104, 110))
"""Width and height of the same on a page with room: as wide as leaves the actions a column beside it."""

MOST_LETTERS = 8
"""Letters that a caption repeats."""

NAMED = 4
"""Kinds of parts whose names stand in a caption; of more only the letters."""

MANY = 2
"""Kinds of parts worked on at once that a picture still shows apart."""


@section("Build it", after="steps", name="steps")
def build(model: Model, notes: Notes, cautions: Cautions, tools: ToolList) -> Blocks:
    """The introduction, then every step in order under the heading of its group."""
    yield from notes.introduction
    yield from _hours(notes)
    group = ""
    done: list[str] = []
    made: set[str] = set()
    for step in notes.steps:
        if step.group != group:
            group = step.group
            yield Heading(content=(group,))
        yield _step(step, tuple(done), frozenset(made), model, cautions, tools)
        made.update(step.makes)
        done.extend(name for name in step.adds if name not in done)


def _hours(notes: Notes) -> Iterator[PageBlock]:
    """The working time by group of steps; one group alone needs no table."""
    groups = dict.fromkeys(step.group for step in notes.steps)
    if len(groups) < 2 or not notes.minutes:
        return
    lines = []
    for group in groups:
        steps = [step for step in notes.steps if step.group == group]
        first, last = notes.steps.index(steps[0]) + 1, notes.steps.index(steps[-1]) + 1
        span = f"{first}" if first == last else f"{first} to {last}"
        lines.append((1, group, span, hours(sum(step.minutes * step.repeat for step in steps))))
    yield Table(
        f"{hours(notes.minutes)} in the shop",
        columns=(
            Column(head="", kind="tick"),
            Column(head="Work", kind="name"),
            Column(head="Steps"),
            Column(head="Time", kind="number"),
        ),
        groups=(Group(title="", rows=tuple(lines)),),
        name="hours",
        dense=True,
    )


def _step(step: NoteStep, done: tuple[str, ...], made: frozenset[str], model: Model, cautions: Cautions, tools: ToolList) -> Step:
    photos = tuple(block for block in step.content if isinstance(block, Photo))
    content = tuple(_boxes(block) for block in step.content if not isinstance(block, Photo))
    picture: Figure | Photo | None = _picture(step, done, made, model)
    if picture is None and photos:
        picture, photos = photos[0], photos[1:]
    if step.video:
        content += (_code(step.video),)
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
        picture=picture,
        more=photos,
        video=step.video,
        at=step.at,
    )


def _code(address: str) -> CodeMark:
    """The address as a code for a telephone: ISO/IEC 18004, error correction M, which reads even when a corner is soiled."""
    rows = segno.make(address, error="m", micro=False).matrix
    return CodeMark(modules=tuple(tuple(bool(dot) for dot in row) for row in rows), address=address)


def _boxes(block: PageBlock) -> PageBlock:
    """A list in a step is a list of actions, each with a box for the pencil."""
    if isinstance(block, ItemList) and block.style == "bullets":
        return ItemList(items=block.items, style="boxes")
    return block


def _picture(step: NoteStep, done: tuple[str, ...], made: frozenset[str], model: Model) -> Figure | None:
    """The piece as built so far with the new parts tinted; work on the bench shows the parts alone.

    Work on parts that are built in already, or on many at once, is shown on the piece as far as it stands. A part alone on the bench
    needs no picture when the text points to a figure: its own drawing tells more.
    """
    view = step.view.replace(",", "")
    if view == "sheets" or not (step.adds or step.works or step.makes):
        return None
    if view.split(" ")[0] in WHOLE:
        # A section or a detail is cut from the piece itself, not from the heap of new parts.
        group = step.adds or step.makes or step.works
        only = group if view.startswith("exploded") else tuple(dict.fromkeys((*done, *group)))
        # The new parts stand out in a section through the whole.
        tinted = step.adds if view.startswith("section") else ()
        return Figure(_caption(step, model), View(view, only=only, tinted=tinted, dimensions=False, width=WIDE, height=HIGH), name=step.key, rooms=ROOMS)
    if step.adds:
        added = (*done, *(name for name in step.adds if name not in done))
        # What was made on the bench comes to the piece in one.
        how = "step made" if made.issuperset(step.adds) else "step"
        return _drawn(step, model, View(f"{how} {view}".strip(), only=added, tinted=step.adds, dimensions=False, width=WIDE, height=HIGH))
    if step.makes:
        return _drawn(step, model, View(f"step {view}".strip(), only=step.makes, tinted=step.works, dimensions=False, width=WIDE, height=HIGH))
    built_in = all(name in done for name in step.works)
    if built_in or len({model.part(name).kind for name in step.works}) > MANY:
        shown = tuple(name for name in step.works if name in done)
        if not shown:
            return None
        tinted = shown if built_in and len(shown) < len(done) else ()
        return _drawn(step, model, View(view or "front right top", only=done, tinted=tinted, dimensions=False, width=WIDE, height=LOW))
    if not view and any(_points_to_a_figure(block) for block in step.content):
        return None
    alone = tuple(dict.fromkeys(model.kind(model.part(name).letter).parts[0] for name in step.works))
    return _drawn(step, model, View(f"step {view}".strip(), only=alone, dimensions=False, width=WIDE, height=LOW))


def _drawn(step: NoteStep, model: Model, view: View) -> Figure:
    return Figure(_caption(step, model), view, name=step.key, rooms=ROOMS)


def _points_to_a_figure(value: object) -> bool:
    """True when a reference to a figure stands anywhere in a block."""
    if isinstance(value, Ref):
        return value.kind == "figure"
    if isinstance(value, tuple):
        return any(_points_to_a_figure(each) for each in value)
    inner = [getattr(value, name) for name in ("content", "items") if hasattr(value, name)]
    return any(_points_to_a_figure(each) for each in inner)


def _caption(step: NoteStep, model: Model) -> Inlines:
    if step.adds:
        return ("Added: ", *_list(step.adds, model), ".")
    if step.makes:
        return (f"{step.made[:1].upper()}{step.made[1:]}, on the bench: ", *_list(step.makes, model), ".")
    if len(tuple(marks(step.works, model))) > MOST_LETTERS:
        return ("Worked on: the parts named above.",)
    return ("Worked on: ", *_list(step.works, model), ".")


def marks(names: tuple[str, ...], model: Model) -> Iterator[PartMark]:
    """One mark for each kind among the parts, in plan order."""
    kinds = dict.fromkeys(model.part(name).kind for name in names)
    for row in model.kinds:
        if row.name in kinds:
            yield PartMark(row.parts[0], row.letter, row.name, named=False)


def _list(names: tuple[str, ...], model: Model) -> Iterator[PartMark | str]:
    """Letters with their names; of many parts only the letters, since the text names them."""
    found = tuple(marks(names, model))
    for number, mark in enumerate(found):
        if number:
            yield " " if len(found) > NAMED else ", "
        yield PartMark(mark.part, mark.letter, mark.name, named=len(found) <= NAMED)
