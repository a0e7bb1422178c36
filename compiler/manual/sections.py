"""The manual's sections, as blocks: nothing here knows pages.

In: what the code knows (keys, joints, settings, commands, messages) and the words beside it. Out: sections in reading order.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from compiler.language.grammar import RESERVED
from compiler.manual.asked_rows import ASKED, ask_rows, asks_table, code
from compiler.manual.commands import Command
from compiler.manual.design_words import ENTITIES, HARDWARE, SHOP, Entry
from compiler.manual.joint_words import COMPONENTS, EXAMPLES, design
from compiler.manual.messages import UNCAUSED, Message
from compiler.manual.notes_words import INSIDE, STEP, TITLE, VIEWS
from compiler.manual.sizes import SIZES, Form, shown
from compiler.manual.working_words import WORKINGS
from compiler.values.contributions import Brought, Contributions, ViewTask
from compiler.values.document import (
    Block,
    Break,
    Code,
    Column,
    Columns,
    Contents,
    Cover,
    Emphasis,
    Figure,
    Group,
    Heading,
    Inline,
    Inlines,
    Paragraph,
    Section,
    Strong,
    Table,
)
from compiler.values.figure import Drawing
from compiler.values.joinery import Component, Joint
from compiler.values.model import Part

FAMILIES = {
    "into": "into: the acting part is written to its shoulder and goes into the other, which is named behind `into`",
    "to": "to: faces touch; the parts keep their sizes",
    "with": "with: both parts are written at full length, over each other, and share the wood",
    "on": "on: one part rests or hangs on the other; nothing is cut",
}

Draw = Callable[[str], Drawing | None]


def cover(version: str, hero: Drawing | None) -> Section:
    """The first page."""
    facts = (("Speaks of", f"kerfolio {version}"), ("For", "makers of plans"), ("Made from", "the code that reads them"))
    words = "All that may be written in a plan: keys, sizes, joints, workings, notes, settings, commands, and every message with its cure."
    return Section(name="cover", title="Makers' manual", numbered=False, blocks=(
        Cover(title="Makers’ manual", subtitle=(words,), shop="Kerfolio", number=version, issue=1, facts=facts, hero=hero),))


def contents() -> Section:
    """The list of sections."""
    return Section(name="contents", title="Contents", numbered=False, blocks=(Contents(),))


def plan_folder() -> Section:
    """Which files there are."""
    rows = (
        (code("design.yaml"), "sizes, parts, joints, hardware, finish"),
        (code("notes.md"), "the build notes: each ## heading is a step"),
        (code("photos/"), "photographs that the notes show"),
        (code("plugins/"), "joints and lists of this plan alone; they run only when the shop trusts them"),
        (code("letters.yaml"), "written by publish: every part’s letter, once given, stays"),
        (code("issues/"), "written by publish: the record of each issue, for the list of changes"),
        (code("out/"), "written by publish: the PDF, its record, files beside it"),
        (code("../shop.yaml"), "settings of the shop, for all plans beside it"),
        (code("../themes/"), "themes of the shop’s own"),
    )
    return Section(name="folder", title="A plan’s folder", blocks=(
        Paragraph("A plan is a folder under projects. You write its first four entries; the rest is written for you, or is the shop’s.", style="lede"),
        two_columns("Files", ("File", "What it holds"), rows),
    ))


def sizes() -> Section:
    """How sizes and places are written, each form worked out here and now."""
    blocks: list[Block] = [Paragraph("Everything is text until a key asks for a size, a place or a count. Sums are exact: no rounding until a "
                                     "size is shown. A bare number is in the plan’s unit where it is added or stands alone, and plain where it "
                                     "multiplies or divides.", style="lede")]
    for title, forms in SIZES:
        blocks.append(_forms(title, forms))
    blocks.append(Paragraph(("Names are lower-case words with spaces and hyphens. These words can’t be in one: ",
                             Code(", ".join(RESERVED)), ".")))
    return Section(name="sizes", title="Sizes and places", blocks=tuple(blocks))


def _forms(title: str, forms: tuple[Form, ...]) -> Table:
    rows = tuple((code(form.text), form.says, code(shown(form))) for form in forms)
    return Table(title, columns=(Column(head="Written", width=34), Column(head="Means", width=44), Column(head="Gives", width=22)),
                 groups=(Group(title="", rows=rows),), dense=True)


def design_keys() -> Section:
    """Every key of design.yaml."""
    lede = Paragraph("Keys are lower-case words. A key that isn’t known is named, with the nearest that is. # begins a comment.", style="lede")
    tables = tuple(_entries(title, entries) for title, entries in ENTITIES.values())
    return Section(name="design", title="design.yaml", blocks=(lede, *tables, _entries("A piece of hardware", HARDWARE)))


def workings() -> Section:
    """Every working."""
    rows = tuple((_stack((Strong((each.kind,)),), (each.on,)), _stack(tuple(_plain(each.says)), (code(each.example),)), ", ".join(each.keys))
                 for each in WORKINGS)
    table = Table("Workings", columns=(Column(head="Kind", width=16), Column(head="What it is, and an example", width=58),
                                       Column(head="Keys", width=26)), groups=(Group(title="", rows=rows),), dense=True)
    return Section(name="workings", title="Workings", blocks=(
        Paragraph(("What is cut into a part stands in its list of ", Code("workings"), ": the kind, the face or edge, then its keys. "
                   "Places count from the part’s own edges."), style="lede"), table))


def joints(kinds: Iterable[Brought[type[Joint]]], draw: Draw) -> Section:
    """Every bundled joint with its picture, an example and its keys."""
    blocks: list[Block] = [Paragraph("A joint is a line under joints: the word with the part that acts, a second word with the part that "
                                     "receives it, then its keys. A name means all copies of that part.", style="lede")]
    blocks += [Paragraph((Strong((text.partition(":")[0],)), ":" + text.partition(":")[2].replace("`", "") + ".")) for text in FAMILIES.values()]
    blocks.append(Paragraph(("Every joint takes ", Code("glue: no"), " and ", Code("note"), "; those with screws, brads, dowels or buttons also ",
                             Code("count"), ", ", Code("every"), " and ", Code("slotted"), ".")))
    for kind in kinds:
        blocks += _joint(kind, draw)
    return Section(name="joints", title="Joints", blocks=tuple(blocks))


def _joint(kind: Brought[type[Joint]], draw: Draw) -> Iterator[Block]:
    words = [Paragraph(tuple(_plain(paragraph))) for paragraph in inspect.cleandoc(kind.thing.__doc__ or "").split("\n\n")]
    example = EXAMPLES.get(kind.name)
    lines = () if example is None else (_code_lines([*design(kind.name).split("parts:\n")[1].split("\n")[:2], f"- {example[1]}"]),)
    drawing = draw(kind.name) if example is not None else None
    yield Heading(content=(kind.name,), level=2)
    if drawing is not None:
        picture = Figure(kind.name.capitalize(), drawing, name=f"joint {kind.name}", placing="cell")
        yield Columns(left=(*words, *lines), right=(picture,), split="wide-left")
    else:
        yield from (*words, *lines)
    if kind.thing.asks:
        yield asks_table(f"Keys: {kind.name}", kind.thing.asks)


def _first_line(run: Callable[..., object]) -> str:
    first = inspect.cleandoc(run.__doc__ or "").split("\n", 1)[0].rstrip(".")
    return first[:1].lower() + first[1:]


def components(kinds: Iterable[Brought[type[Component]]], draw: Draw) -> Section:
    """Each component that a plugin brings: what it is, a place for it as it is written, the picture of that, its sizes and materials."""
    blocks: list[Block] = [Paragraph(("Parts that come together. A plan gives them a place, as it gives one to a part: ", Code("component:"), " and three "
                                      "extents. What differs stands under ", Code("with"), ": sizes, counts, and materials by a short name of the plan "
                                      "or a library entry. Their parts are named behind the use: ", Code("drawer.left side"), ". A component that the "
                                      "plan writes itself comes before one of the same name."), style="lede")]
    for kind in kinds:
        drawing = draw(kind.name)
        words = [Paragraph(tuple(_plain(paragraph))) for paragraph in inspect.cleandoc(kind.thing.__doc__ or "").split("\n\n")]
        lines = (_code_lines(COMPONENTS[kind.name].strip().splitlines()),) if kind.name in COMPONENTS else ()
        blocks.append(Heading(content=(kind.name,), level=2))
        if drawing is not None:
            picture = Figure(kind.name.capitalize(), drawing, name=f"component {kind.name}", placing="cell")
            blocks.append(Columns(left=(*words, *lines), right=(picture,), split="wide-left"))
        else:
            blocks += [*words, *lines]
        blocks.append(asks_table(f"Under with: {kind.name}", kind.thing.asks))
    return Section(name="components", title="Components", blocks=tuple(blocks))


def notes(views: Iterable[Brought[ViewTask[...]]] = ()) -> Section:
    """notes.md; `views` are those that plugins bring."""
    behind = {Part: " PART", str: " WORDS"}
    own = tuple((code(kind.name + "".join(behind.get(need.type, "") for need in kind.needs)), tuple(_plain(_first_line(kind.thing.run))))
                for kind in views)
    return Section(name="notes", title="notes.md", blocks=(
        Paragraph(("One # for the plan’s title; the words below it are the introduction. Each ## is a step; a # between steps names a chapter. "
                   "Fields stand right below their heading. A paragraph that begins with ", Code("Check:"), ", ", Code("Note:"), " or a signal word (",
                   Code("WARNING:"), ") becomes that kind of block."), style="lede"),
        _entries("Fields below the title", TITLE),
        _entries("Fields of a step", STEP),
        two_columns("Inside braces", ("Written", "Prints"), tuple((code(text), says) for text, says in INSIDE)),
        two_columns("Words of views", ("Words", "Picture"), (*((code(text), tuple(_plain(says))) for text, says in VIEWS), *own)),
        Paragraph("A measurement that is typed by hand and is no size of the plan gets a warning, with the nearest size that is."),
        Paragraph(("A photograph stands alone on its line: ", Code("![what it shows](photos/finished.jpg)"), ". A place that is still to be filled is marked ",
                   Code("[fill: who is it for]"), " or left blank with three low lines or more, ", Code("____"), "; in design.yaml the mark stands in a comment. ",
                   Code("kerfolio check"), " lists these places until they are gone; they are never printed.")),
    ))


def shop(contributions: Contributions) -> Section:
    """shop.yaml, and what plugins ask for."""
    blocks: list[Block] = [Paragraph("One file beside the plans. A plan may say otherwise under its own settings.", style="lede"), _entries("shop.yaml", SHOP)]
    groups = tuple(Group(title=(Code(f"{entry.name}:"),), aside=f"plugin {entry.author.plugin}", rows=ask_rows(entry.thing.asks))
                   for entry in contributions.settings)
    blocks.append(Table("Settings of plugins, under settings:", columns=ASKED, groups=groups, dense=True))
    return Section(name="shop", title="Shop and plugins", blocks=(*blocks, *plugins(contributions)))


def plugins(contributions: Contributions) -> Iterator[Block]:
    """What each bundled plugin brings."""
    kinds: tuple[tuple[str, tuple[Brought[Any], ...]], ...] = (
        ("joints", contributions.joint_kinds), ("components", contributions.components), ("views", contributions.views), ("lists", contributions.tasks), ("checks", contributions.checks),
        ("pages", contributions.sections), ("cautions", contributions.safety_rules), ("files", contributions.exports))
    rows = []
    for author in contributions.plugins:
        brought = [(word, [entry.name.replace("_", " ") for entry in entries if entry.author.plugin == author.plugin]) for word, entries in kinds]
        told = "; ".join(f"{word}: {len(names)}" if word == "cautions" else f"{word}: {', '.join(names)}" for word, names in brought if names)
        rows.append((code(author.plugin), told))
    yield two_columns("What the plugins bring", ("Plugin", "Brings"), tuple(rows))
    yield Paragraph(("Your own plugin: ", Code("kerfolio new --plugin NAME --kind joint"), ". How one is written stands in DEVELOPERS.md."))


def command_line(rows: tuple[Command, ...]) -> Section:
    """The commands."""
    blocks: list[Block] = [Paragraph(("Typed as ", Code("kerfolio COMMAND"), ", or ", Code("python3 -m compiler COMMAND"),
                                      ". Exit codes: 0 done, 1 the plan has errors, 2 mistyped."), style="lede")]
    groups = tuple(Group(title=(Code(command.name), f": {command.says}"), rows=tuple((code(words), says) for words, says in command.arguments))
                   for command in rows)
    columns = (Column(head="Words", width=38), Column(head="Meaning", width=62))
    blocks.append(Table("Commands and their words", columns=columns, groups=groups, dense=True))
    return Section(name="commands", title="Commands", blocks=tuple(blocks))


def by_code(found: tuple[Message, ...]) -> Section:
    """Every message."""
    rows = tuple((code(each.code), _message(each)) for each in found)
    table = Table("Messages", columns=(Column(head="Code", width=20), Column(head="What is said, and what to do", width=80)),
                  groups=(Group(title="", rows=rows),), dense=True)
    tested = sum(1 for each in found if each.tested)
    return Section(name="messages", title="Messages by code", blocks=(
        Paragraph(("Behind each message stands its code. An error stops the edition; a warning or advice does not. ", tested, " of these ", len(found),
                   " have an example that is run with every test of the project: the line as written, then what was said. The other ",
                   len(found) - tested, " say why no small example causes them."), style="lede"), table))


def _message(message: Message) -> Inlines:
    rank = "" if message.rank == "error" else f"{message.rank.capitalize()}. "
    says: tuple[Inline, ...] = (f"{rank}{message.says.replace('`', '')}",)
    if message.code in UNCAUSED:
        says = (*says, Emphasis((f" ({UNCAUSED[message.code]})",)))
    cure: tuple[Inline, ...] = (f" → {message.hint.replace('`', '')}",) if message.hint else ()
    return (*((code(message.line), Break()) if message.line else ()), *says, *cure)


# ---- small forms -------------------------------------------------------------------------------------


def _entries(title: str, entries: tuple[Entry, ...]) -> Table:
    rows = tuple((code(entry.key), tuple(_plain(entry.says)), code(entry.example)) for entry in entries)
    columns = (Column(head="Key", width=15), Column(head="What it holds", width=42), Column(head="Example", width=43))
    return Table(title, columns=columns, groups=(Group(title="", rows=rows),), dense=True)


def two_columns(title: str, heads: tuple[str, str], rows: tuple[tuple[Inline, Inline | Inlines], ...]) -> Table:
    """A table of words and what they mean."""
    columns = (Column(head=heads[0], width=38), Column(head=heads[1], width=62))
    return Table(title, columns=columns, groups=(Group(title="", rows=rows),), dense=True)


def _stack(above: Inlines, below: Inlines) -> Inlines:
    return (*above, Break(), *below)


def _code_lines(lines: list[str]) -> Paragraph:
    """Lines as typed, one below the other."""
    content: list[Inline] = []
    for line in lines:
        indent = (len(line) - len(line.lstrip())) * "\u00a0"
        content += [Code(indent + line.strip()), Break()]
    return Paragraph(tuple(content[:-1]))


def _plain(text: str) -> Iterator[Inline]:
    """A docstring's paragraph: what stands between backquotes is as typed."""
    for number, piece in enumerate(" ".join(text.split()).split("`")):
        if piece:
            yield Code(piece) if number % 2 else piece
