"""The document: theme-free blocks of a closed set, in reading order.

In: made by sections (plugins) from products, then numbered and resolved by `arrange`. Out: read by `dress`, which
gives each block kind one template. Before arranging, numbers are 0 and references unresolved (`Ref.text` empty).
"""

from __future__ import annotations

from dataclasses import KW_ONLY, InitVar, dataclass
from fractions import Fraction
from typing import Literal

from compiler.base.measures import Angle, Area, Length, Volume
from compiler.base.report import Spot
from compiler.values.figure import Drawing

# ---- inline ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Strong:
    """Words to stand out."""

    content: Inlines


@dataclass(frozen=True, slots=True)
class Emphasis:
    """Words in italics."""

    content: Inlines


@dataclass(frozen=True, slots=True)
class Code:
    """Words as typed (file names, commands)."""

    text: str


@dataclass(frozen=True, slots=True)
class Link:
    """A web address, printed with its words."""

    content: Inlines
    address: str


@dataclass(frozen=True, slots=True)
class PartMark:
    """The ringed letter of a part; `name` is printed beside it when `named`. `part` is any name of the part or kind."""

    part: str
    letter: str = ""
    name: str = ""
    named: bool = True
    at: Spot | None = None


@dataclass(frozen=True, slots=True)
class Ref:
    """A reference to something numbered: figure, table, step, section, caution.

    `target` is what the author wrote (a name) or an anchor; arrange fills `anchor` and `text` ("figure 3").
    `page` asks for the page number behind it.
    """

    kind: Literal["figure", "table", "step", "section", "caution"]
    target: str
    anchor: str = ""
    text: str = ""
    page: bool = False
    at: Spot | None = None


@dataclass(frozen=True, slots=True)
class Break:
    """A new line inside a paragraph."""


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Two or three sizes with a multiplication sign: 4 × 8, 1 × 6 × 12."""

    sizes: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class Money:
    """A price in the shop's currency; a rough one is told without cents."""

    amount: Fraction
    currency: str = "$"
    cents: bool = True


Inline = (
    str
    | Strong
    | Emphasis
    | Code
    | Link
    | PartMark
    | Ref
    | Break
    | Dimensions
    | Money
    | Length
    | Area
    | Volume
    | Angle
    | Fraction
    | int
)
Inlines = tuple[Inline, ...]

# ---- blocks ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text: `Paragraph("Cut ", length, " long")` is written with one tuple, a text alone without.

    `style`: plain, lede (opening sentence, larger), note (small), soft.
    """

    content: Inlines | str
    _: KW_ONLY
    style: Literal["plain", "lede", "note", "soft"] = "plain"

    def __post_init__(self) -> None:
        if isinstance(self.content, str):
            object.__setattr__(self, "content", (self.content,))


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading inside a section; level 2 or 3. `minor` looks like level 3 but stands at 2."""

    content: Inlines
    level: Literal[2, 3] = 2
    minor: bool = False
    anchor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemList:
    """Bullets, numbers, or boxes to tick."""

    items: tuple[tuple[Block | Inlines, ...] | Inlines, ...]
    style: Literal["bullets", "numbers", "boxes"] = "bullets"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table. `kind` tells how cells are set: text, name (strong), number (right), dim (a size), tick
    (boxes, one per piece), letter (ringed), picture, money, note. `width` in per cent, 0 = by content.
    """

    head: Inlines | str
    kind: Literal["text", "name", "number", "dim", "tick", "letter", "picture", "money", "note"] = "text"
    width: int = 0


type Cell = Inline | Inlines | Drawing | View | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A group of rows under a spanning row. `title` "" = no spanning row; `aside` is a small remark in it."""

    title: Inlines | str
    rows: tuple[tuple[Cell, ...], ...]
    aside: Inlines | str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a title. `name` is what notes call it (`table("cut list")`); `number` is given by arrange.

    Written short as `Table("Lumber", heads, rows)`: columns then take their kind from the cells, all rows are
    one group. `total` is a last row set apart. `aside` is a small remark beside the title.
    Raises ValueError when a row has more or fewer cells than there are columns.
    """

    caption: Inlines | str
    heads: InitVar[tuple[str, ...]] = ()
    rows: InitVar[tuple[tuple[Cell, ...], ...]] = ()
    _: KW_ONLY
    columns: tuple[Column, ...] = ()
    groups: tuple[Group, ...] = ()
    name: str = ""
    total: tuple[Cell, ...] = ()
    aside: Inlines | str = ""
    number: int = 0
    anchor: str = ""
    dense: bool = False

    def __post_init__(self, heads: tuple[str, ...], rows: tuple[tuple[Cell, ...], ...]) -> None:
        if heads:
            columns = tuple(Column(head=head, kind=_kind(tuple(row[at] for row in rows if at < len(row))))
                            for at, head in enumerate(heads))
            object.__setattr__(self, "columns", columns)
            object.__setattr__(self, "groups", (Group(title="", rows=rows),))
        lines = [row for group in self.groups for row in group.rows] + ([self.total] if self.total else [])
        for row in lines:
            if len(row) != len(self.columns):
                raise ValueError(f"a row of {len(row)} cells in a table of {len(self.columns)} columns")


def _kind(cells: tuple[Cell, ...]) -> Literal["text", "number", "dim", "money", "letter"]:
    if not cells:
        return "text"
    if all(isinstance(cell, (Length, Dimensions)) for cell in cells):
        return "dim"
    if all(isinstance(cell, (int, Fraction, Area, Volume, Angle)) for cell in cells):
        return "number"
    if all(isinstance(cell, Money) for cell in cells):
        return "money"
    return "letter" if all(isinstance(cell, PartMark) and not cell.named for cell in cells) else "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Name and value, two columns."""

    rows: tuple[tuple[Inlines | str, Inlines | str], ...]
    title: str = ""


VIEW_SIDES = ("front", "back", "left", "right", "top", "bottom", "side", "isometric", "pictorial")
VIEW_WORDS = ("section", "detail", "exploded", "part", "profile", "joint", "details", "sizes", "step", "thumb", "template", "key", "sheets")
"""First words that a view's words may begin with; plugins bring others."""


@dataclass(frozen=True, slots=True)
class View:
    """A drawing asked for in words; the compiler draws it: hidden lines, balloons and scale are its own.

    The words: `front`, `back`, `left side`, `right side`, `top` (an elevation, with dimensions unless they are off);
    a corner such as `front right top` (pictorial; with dimensions: the three overall sizes); `section at PLACE from the FACE`;
    `detail of PART from the FACE`; `exploded`, `exploded GROUP`; `part NAME` (the drawing to make it from); `joint ID`
    (enlarged, cut where it shows most); `step`, `step WORDS` (as built so far, `tinted` parts moved out or set off, seen as the words
    say or from where they show best); `thumb NAME` (a small picture for a list); `template NAME` and `template NAME 2` (a full-size
    page); `key` (lines and signs explained).
    `only` names the parts shown (none = all), `tinted` those set off; `width` and `height` are the most it may take, in mm of paper
    (0 = the text's width, and what suits such a drawing).
    `both_units` letters the other unit in brackets behind each size; `first_angle` arranges neighbouring views so (else third angle).
    `compiler.draw.picture.picture(view, model, solids, at)` draws all of them.
    """

    words: str
    _: KW_ONLY
    only: tuple[str, ...] = ()
    tinted: tuple[str, ...] = ()
    exploded: bool = False
    dimensions: bool = True
    width: int = 0
    height: int = 0
    both_units: bool = False
    first_angle: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaves:
    """Pages that an export draws itself, each as large as the paper (wide, high): they become a PDF in the theme's own letters."""

    title: str
    paper: tuple[Length, Length]
    pages: tuple[Drawing, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with its caption. `name` is what notes call it; `placing`: text (with the text), page (a page of its own),
    wide (a page turned across), cell (small, several to a row). A View is drawn before the document is dressed.
    `rooms` are further widths and heights in mm, from the least up, that its View may ask for on a page with room; `asked` is what it asked for first.
    `small` is the drawing that it had before it got more room, for themes that enlarge drawings themselves.
    """

    caption: Inlines | str
    drawing: Drawing | View
    _: KW_ONLY
    name: str = ""
    placing: Literal["text", "page", "wide", "cell"] = "text"
    number: int = 0
    anchor: str = ""
    strip: tuple[tuple[str, str], ...] = ()
    rooms: tuple[tuple[int, int], ...] = ()
    asked: View | None = None
    small: Drawing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """Small figures in a grid; with one across, figures over the whole width that may change places to fill pages (part drawings)."""

    figures: tuple[Figure, ...]
    across: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photograph from the plan's folder: prepared image bytes (PNG or JPEG), description in words, caption."""

    image: bytes
    kind: Literal["png", "jpeg"]
    width: int
    height: int
    says: str
    caption: Inlines | str = ""
    name: str = ""
    number: int = 0
    anchor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signal:
    """A caution with its signal word (ANSI Z535.6). NOTICE has no triangle. `number` is given by arrange.

    `again`: what a section prints instead, followed by "as caution n says.", when one of the same source has been printed before.
    """

    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    content: tuple[Inlines, ...]
    source: str = ""
    again: Inlines = ()
    number: int = 0
    anchor: str = ""
    numbered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """Something to measure before going on."""

    content: Inlines


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A remark set apart, with a short title."""

    title: str
    content: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Write:
    """Room for a pencil: a label and blank lines."""

    label: str
    lines: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step of the build notes. Facts in one line; cautions before the action; picture beside the text.

    `key` is the heading's name for references; `number` is given by arrange. `adds`, `works`, `makes` are part marks.
    """

    title: Inlines
    key: str
    content: tuple[Block, ...]
    time: str = ""
    tools: tuple[str, ...] = ()
    adds: tuple[PartMark, ...] = ()
    works: tuple[PartMark, ...] = ()
    makes: str = ""
    repeat: int = 1
    cautions: tuple[Signal, ...] = ()
    picture: Figure | Photo | None = None
    more: tuple[Figure | Photo, ...] = ()
    video: str = ""
    number: int = 0
    anchor: str = ""
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """The first page. `size`, `time`, `skill` (1 to 4), `weight` are its facts, empty ones left out."""

    title: str
    subtitle: Inlines
    shop: str
    number: str
    issue: int
    facts: tuple[tuple[str, Inlines | str], ...]
    skill: int = 0
    hero: Drawing | View | Photo | None = None
    mark: bytes = b""
    sponsor: str = ""
    sponsor_mark: bytes = b""
    disclosure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """The list of sections, filled by arrange: (number, title, anchor)."""

    rows: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Blocks side by side, halves or 7 + 5; or `stacked`: one below the other on one page. `loose` ones that follow each other may change
    places to fill pages.
    """

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    split: Literal["halves", "wide-left", "stacked"] = "halves"
    loose: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Terms with their meaning, in two columns."""

    terms: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyTable:
    """Small pictures and what they mean, two pairs to a row."""

    rows: tuple[tuple[Drawing | View, Inlines | str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeMark:
    """A two-dimensional code for an address (ISO/IEC 18004): rows of dark and light, with the address in words."""

    modules: tuple[tuple[bool, ...], ...]
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPage:
    """The next block starts a page."""


Block = (
    Paragraph
    | Heading
    | ItemList
    | Table
    | Facts
    | Figure
    | Cells
    | Photo
    | Signal
    | Check
    | Note
    | Write
    | Step
    | Cover
    | Contents
    | Columns
    | Words
    | KeyTable
    | CodeMark
    | NewPage
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A section with its blocks. `number` "" = unnumbered (cover). `name` is what `after=` and plans call it."""

    name: str
    title: str
    blocks: tuple[Block, ...]
    number: str = ""
    anchor: str = ""
    plugin: str = ""
    numbered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """The whole booklet, numbered. `facts` are what running heads and the file's own data need."""

    title: str
    shop: str
    number: str
    issue: int
    date: str
    units: Literal["inch", "mm"]
    paper: Literal["letter", "a4"]
    step: Fraction
    language: str
    subject: str
    sections: tuple[Section, ...]
    terms: str = ""
    sample: bool = False
    disclosure: str = ""
