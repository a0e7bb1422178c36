"""A document that uses every block kind: an invented plan of Pinwheel Lane Woodshop, a garden tote in plywood.

In: units and paper. Out: a Document as arrange would give it, numbered and resolved by hand. Figures in it are those of
tests/pages/sample_drawings.py. Sizes are the tote's; nothing here is measured by the pages' tests but what they name.
"""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO
from typing import Literal

import segno
from PIL import Image

from compiler.base.measures import Area, Volume, degrees, inch, mm
from compiler.values.document import (
    Block,
    Break,
    Cells,
    Check,
    Code,
    CodeMark,
    Column,
    Columns,
    Contents,
    Cover,
    Dimensions,
    Document,
    Emphasis,
    Facts,
    Figure,
    Group,
    Heading,
    ItemList,
    KeyTable,
    Link,
    Money,
    NewPage,
    Note,
    Paragraph,
    PartMark,
    Photo,
    Ref,
    Section,
    Signal,
    Step,
    Strong,
    Table,
    Words,
    Write,
)
from tests.pages import sample_drawings as drawings

MARK = (b'<svg xmlns="http://www.w3.org/2000/svg" width="26" height="26" viewBox="0 0 26 26"><g fill="#1d4f7c" stroke="#000" '
        b'stroke-width=".7" stroke-linejoin="round"><path d="M13 13V1L23 5Z"/><path d="M13 13H25L21 23Z"/><path d="M13 13V25L3 21Z"/>'
        b'<path d="M13 13H1L5 3Z"/></g></svg>')
NAMES = {"A": "end", "B": "bottom", "C": "front", "D": "back", "E": "divider", "F": "handle"}
VIDEO = "https://pinwheel-lane.example/v/14-4"


def part(letter: str, *, named: bool = False) -> PartMark:
    """A part's mark."""
    return PartMark(NAMES[letter], letter, NAMES[letter], named=named)


def photo() -> Photo:
    """A photograph made of three grey bands."""
    image = Image.new("L", (600, 400), 235)
    image.paste(150, (60, 180, 540, 340))
    image.paste(90, (60, 180, 120, 340))
    out = BytesIO()
    image.save(out, "JPEG", quality=80)
    return Photo(image=out.getvalue(), kind="jpeg", width=600, height=400, says="The finished tote on a bench, seen from its right",
                 caption="The tote after its second coat of oil", number=11, anchor="figure-photo")


def code(address: str) -> CodeMark:
    """A code for an address, made by an independent library."""
    return CodeMark(modules=tuple(tuple(bool(module) for module in row) for row in segno.make(address, error="m").matrix),
                    address=address)


def cut_list(thickness: Fraction) -> Table:
    """Parts with outlines and boxes, in three groups."""
    thick = inch(thickness)
    head = (Column(head="Cut", kind="tick"), Column(head="Part", kind="letter"), Column(head="Outline", kind="picture"),
            Column(head="Name", kind="name"), Column(head="Qty", kind="number"), Column(head="Thick", kind="dim"),
            Column(head="Wide", kind="dim"), Column(head="Long", kind="dim"), Column(head="Note", kind="note"))
    case = (
        (2, part("A"), drawings.outline(11, 9), "End", 2, thick, inch(9), inch(11), ("a left and a right; dado for ", part("B"))),
        (1, part("B"), drawings.outline(22.5, 9), "Bottom", 1, thick, inch(9), inch("22 1/2"), "3/8 into each end"),
        (1, part("C"), drawings.outline(22.5, 4), "Front", 1, inch("7/32"), inch(4), inch("22 1/2"), ""),
        (1, part("D"), drawings.outline(22.5, 6), "Back", 1, inch("7/32"), inch(6), inch("22 1/2"), ""),
    )
    inside = ((1, part("E"), drawings.outline(8, 6), "Divider", 1, thick, inch(6), inch("8 1/16"), ("loose in ", part("B"))),)
    handle = ((1, part("F"), drawings.outline(22.5, 1), "Handle", 1, inch(1), inch(1), inch("22 1/2"), "ash, straight grain"),)
    return Table(
        "Parts", columns=head, name="cut list", aside="6 kinds, 7 pieces", number=2, anchor="table-cut-list",
        groups=(Group(title="Case", aside=("birch plywood 3/4, actual ", thick), rows=case),
                Group(title="Inside", rows=inside), Group(title="Handle", aside="white ash", rows=handle)),
        total=("Together", None, None, None, 7, None, None, None, (Area(Fraction(1200)), " of plywood, ", Volume(Fraction(60)))),
    )


def shopping(rows: int = 0) -> Table:
    """A table with prices; `rows` more of hardware make it run over a page."""
    more = tuple((1, f"Wood screw #{6 + number % 6} × 1 1/4", "flat head", 8 + number, "pieces", Money(Fraction(25 * number + 90, 100)))
                 for number in range(rows))
    return Table(
        "What to buy", name="shopping list", number=1, anchor="table-shopping-list",
        columns=(Column(head="", kind="tick"), Column(head="Item", kind="name"), Column(head="Ask for"), Column(head="Qty", kind="number"),
                 Column(head="Unit"), Column(head="About", kind="money")),
        groups=(
            Group(title="Sheets", rows=((1, "Birch plywood 3/4", (Dimensions((inch(24), inch(48))), ", actual ", inch("23/32")), 1, "sheet",
                                         Money(Fraction(48))),)),
            Group(title="Boards", aside="surfaced on four sides", rows=((1, "White ash 1 x 4", "3 ft, straight", 1, "board",
                                                                         Money(Fraction(1450, 100))),)),
            Group(title="Hardware", rows=(
                (1, "Pocket screw 1 1/4", "coarse thread, washer head", 12, "pieces", Money(Fraction(4))),
                (1, 'Brad 1"', "18 gauge", 24, "pieces", Money(Fraction(3))), *more)),
            Group(title="Glue and finish", rows=((1, "Wood glue", "yellow, interior", Fraction(1, 2), "pint", Money(Fraction(6))),
                                                 (1, "Wiping oil", "for table tops", Fraction(1, 2), "pint", Money(Fraction(12))))),
        ),
        total=("Together, about", None, None, None, None, Money(Fraction(8750, 100))),
    )


def steps() -> tuple[Step, ...]:
    """Steps of every shape: picture beside, above, none; short, long."""
    warning = Signal(word="WARNING", content=(("The guard is off for this cut. Featherboard ahead of the head, push block over it, hands"
                                               " never in line with the cut.",),), number=5, anchor="caution-dado")
    notice = Signal(word="NOTICE", content=(("Dry-fit the whole tote first. Yellow glue gives you eight minutes.",),), number=6,
                    anchor="caution-dry-fit")
    actions = (
        ("Stack the dado head to the sheet itself: a piece of ", part("B"), " must slide in by hand."),
        ("Set the fence ", inch("1/2"), " from the head, foot of ", part("A"), " against the fence. Cut the dado in both ends, ", inch("3/8"),
         " deep."),
        ("Rabbet the ends of ", part("C"), " and ", part("D"), ", ", inch("7/32"), " wide."),
        ("Break all edges with 180 paper."),
    )
    long = tuple((f"Rub on coat {number}: ", Emphasis(("thin",)), " as before, wait a quarter of an hour, wipe dry, and let it stand overnight"
                  " on three nails so that air reaches the underside as well.",) for number in range(1, 15))
    return (
        Step(number=1, key="Cut the ends", anchor="step-1", title=("Cut the ends and the bottom",), time="40 min",
             tools=("table saw", "crosscut sled", "pencil"), works=(part("A"), part("B")),
             picture=Figure(("Ends and bottom, cut",), drawings.tote(97, 56, 2.2, ("A", "A2", "B"), ("C", "D", "E", "F")), number=4,
                            anchor="figure-step-1"),
             content=(ItemList(style="boxes", items=(("Rip the sheet at ", inch(9), "."), ("Crosscut both ", part("A"), " with a stop."),
                                                     ("Crosscut ", part("B", named=True), " at ", inch("22 1/2"), "."))),)),
        Step(number=2, key="Cut dadoes", anchor="step-2", title=("Cut dadoes and rabbets",), time="50 min",
             tools=("dado head", "featherboard", "push block"), works=(part("A"), part("C"), part("D")), cautions=(warning,),
             picture=Figure(("Dado in both ends, ", inch("3/8"), " deep",), drawings.tote(97, 60, 2.2, ("A", "A2"), ("C", "D", "E", "F", "B")),
                            number=5, anchor="figure-step-2"),
             content=(ItemList(style="boxes", items=actions),
                      Check(content=("Stand the ends back to back: dadoes meet within ", inch("1/64"), ".")))),
        Step(number=3, key="Glue the case", anchor="step-3", title=("Glue the case",), time="1 h", tools=("four clamps", "square", "glue brush"),
             adds=(part("A"), part("B"), part("C"), part("D")), cautions=(notice,), makes="case",
             picture=Figure(("Case from the right. Added, tinted: front and back",),
                            drawings.tote(168, 108, 4.2, ("C", "D"), ("E", "F")), number=6, anchor="figure-step-3"),
             content=(ItemList(style="boxes", items=(
                 ("Lay the left ", part("A"), " flat, inside up, on two battens."), ("Glue the dado; brush, do not flood."),
                 ("Set in ", part("B"), ", front edges flush."), ("Lower on the second ", part("A"), "."),
                 ("Glue ", part("C"), " and ", part("D"), " into the rabbets and clamp across."), ("Leave it overnight.",))),
                 Check(content=("Measure both diagonals. They agree within ", inch("1/32"), ", or shift a clamp until they do.")),
                 Note(title="If the bottom is tight", content=(Paragraph("Plane its faces near the ends, never the ends: they set the length."),)))),
        Step(number=4, key="Fit the handle", anchor="step-4", title=("Fit the handle",), time="30 min", tools=("drill", "spokeshave"),
             adds=(part("E"), part("F")), repeat=2, video=VIDEO,
             picture=Figure(("The handle goes through both ends",), drawings.tote(97, 60, 2.2, ("F", "E")), number=7, anchor="figure-step-4"),
             content=(code(VIDEO), Paragraph(("Shape ", part("F"), " to a ", degrees(45), " chamfer; see ", Ref("table", "cut list", "table-cut-list",
                                                                                                        "table 2", page=True), ".")),
                      ItemList(style="boxes", items=(("Drill both ends ", inch(1), "."), ("Drive the handle home and pin it."))))),
        Step(number=5, key="Oil it", anchor="step-5", title=("Oil it, and let it cure",), time="20 min a coat", tools=("rag", "brush"),
             content=(Paragraph("Fourteen thin coats look like one; two thick ones never dry. Sand between coats with what you have."),
                      ItemList(style="boxes", items=long)), more=(photo(),)),
    )


def sections(units: Literal["inch", "mm"], *, title: str, rows: int, sponsor: str) -> tuple[Section, ...]:
    """The sections in order."""
    thickness = Fraction(23, 32)
    overall = (inch(24), inch(11), inch(9)) if units == "inch" else (mm(610), mm(280), mm(230))
    front: list[tuple[str, str, tuple[Block, ...]]] = [
        ("how to read", "How to read this plan", (
            Paragraph(("Sizes are in inches unless a unit stands beside them. Length always runs along the grain, so a part can be wider than"
                       " it is long.",), style="lede"),
            Columns(left=(Heading(content=("Letters",), minor=True),
                          Paragraph(("Every kind of part has a letter, ringed like ", part("B"), ", and keeps it: in the lists, on the drawings,"
                                     " in the steps.",)),
                          Heading(content=("Actual sizes",), minor=True),
                          Paragraph(("Plywood sold as 3/4 measures ", inch("23/32"), "; boards sold as 1 x 4 measure 3/4 × 3 1/2.",))),
                    right=(Heading(content=("Tick boxes",), minor=True),
                           Paragraph("There is one box for every piece: a part that is made twice has two. Tick when it is cut."),
                           Heading(content=("Order of cuts",), minor=True),
                           Paragraph("Equal sizes come off one fence setting: cut all of them before you move it."))),
            Heading(content=("Lines and signs",)),
            KeyTable(rows=tuple((drawings.sign(kind), (Strong((words,)), rest)) for kind, words, rest in (
                ("outline", "Outline", " of a part"), ("edge", "Edge", " inside the outline"), ("hidden", "Hidden", " edge, where it explains"),
                ("centre", "Centre line", ", or axis of a hole"), ("trail", "Trail", ": where a part travels"), ("grain", "Grain", " runs along"),
                ("balloon", "Balloon", ": the part its dot lies on"), ("added", "Added", " in this step"), ("cut", "Cut", " along it")))),
            Heading(content=("Scale",)),
            Paragraph(("The rule under each section’s name has true inches when the page is printed at 100 %. The one exception is the template in ",
                       Ref("section", "template", "section-template", "section 10", page=True), ".")),
        )),
        ("safety", "Work safely", (
            Paragraph("Four signal words rank the risk. They stand again in the steps, before the action that they are about.", style="lede"),
            Signal(word="DANGER", content=((Strong(("Will kill or maim if you do it.",)), " Never reach over or behind a turning blade."),),
                   number=1, anchor="caution-1"),
            Signal(word="WARNING", content=((Strong(("Could kill or maim.",)), " Work that you cannot hold against a fence or a gauge is not cut"
                                             " on the table saw."),), number=2, anchor="caution-2"),
            Signal(word="CAUTION", content=((Strong(("Could hurt you.",)), " Cut edges of plywood splinter: break them with sandpaper."),),
                   number=3, anchor="caution-3"),
            Signal(word="NOTICE", content=((Strong(("Could spoil the work,",)), " not you. Dado before you sand."), ("A second paragraph.",)),
                   number=4, anchor="caution-4"),
            Table("For this piece", ("Where", "What can happen", "What to do"), (
                ("Dado head", "Kickback; the guard is off", "Featherboard ahead of the head, push block"),
                ("Oily rags", "They heat by themselves and burn", "Spread flat outdoors, or in a closed metal can under water"))),
            ItemList(items=(("Eyes: always. Ears: saw, router, sander.",), ("Dust: a P100 or N95 mask when you saw plywood.",)))),
         ),
        ("shopping list", "Shopping list", (shopping(rows),
                                            Columns(left=(Note(title="At the yard", content=(Paragraph(("Put a caliper on the sheet: ", inch("23/32"),
                                                                                                        " or not?")),)),),
                                                    right=(Note(title="Spare", content=(Paragraph("Of screws and brads buy a few more."),)),)))),
        ("cut list", "Cut list", (Paragraph("Finished sizes, joints included. Outlines show the grain from left to right."), cut_list(thickness),
                                  Heading(content=("In this order",)),
                                  ItemList(style="numbers", items=(("Rip the sheet at ", inch(9), "."), ("Crosscut the ends with a stop.",),
                                                                   ("Cut the divider after the dry fit.",))))),
        ("layouts", "Sheet layout", (Figure(("Birch plywood 3/4, one sheet, kerf ", inch("1/8"), ". Used 31 %",), drawings.layout(), number=1,
                                            anchor="figure-layout"),
                                     Facts(title="This sheet", rows=(("Pieces", "5"), ("Kerf", (inch("1/8"),)), ("Kept", (Dimensions((inch(32), inch(96))),)))))),
        ("exploded", "The whole piece, exploded", (
            Paragraph(("Ends travel sideways, front and back along the rabbets, the handle from above. Sizes are in ",
                       Ref("table", "cut list", "table-cut-list", "table 2", page=True), ".")),
            Figure(("Exploded view",), drawings.exploded(170, 165), placing="page", number=2, anchor="figure-exploded"))),
        ("views", "Sizes", (Figure(("Views",), drawings.views(170, 110), placing="wide", number=3, anchor="figure-views",
                                   strip=(("Scale", "1 : 6"), ("Projection", "third angle"), ("Sizes in", "inches"))),
                            Paragraph("Outside sizes and openings. Part drawings follow; each shows the face that goes to the inside."),
                            Cells(figures=tuple(Figure((part(name), " ", Strong((NAMES[name].capitalize(),))), drawings.part(name), placing="cell")
                                                for name in "ABCDE")))),
        ("steps", "Build the tote", steps()),
        ("finishing", "Finishing schedule", (
            Signal(word="DANGER", content=((Strong(("Oily rags set themselves on fire.",)), " Spread every rag flat outdoors until it is stiff."),),
                   number=7, anchor="caution-7"),
            Table("Oil", name="finish", number=3, anchor="table-finish", dense=True,
                  columns=(Column(head="Coats", kind="tick"), Column(head="With", kind="name", width=30), Column(head="Where", width=34),
                           Column(head="Area", kind="number"), Column(head="Next coat")),
                  groups=(Group(title="", rows=((3, "Wiping oil", "all faces", Area(Fraction(1440)), "24 h"), (2, "Paste wax", "handle", None, "1 h"))),)),
            Write(label="Which can, which batch", lines=3))),
        ("template", "Full-size template", (
            Paragraph("Print this page alone at 100 %. Measure the square: if a side is off by more than 1/64, print again."),
            Figure((part("A"), " end, upper half, full size"), drawings.template(), number=8, anchor="figure-template"))),
        ("words", "Words used", (Words(terms=(("Dado", "a groove across the grain."), ("Rabbet", "a step cut along an edge or end."),
                                              ("Kerf", "what the blade turns to dust."), ("Rip, crosscut", "along the grain, across it."))),)),
        ("terms", "Terms and issue record", (
            Paragraph(("Build this piece as often as you like. Write to ", Link(("the shop",), "mailto:plans@pinwheel-lane.example"), Break(),
                       "or see ", Code("design.yaml"), "."), style="note"),
            Facts(rows=(("Plan", "14, garden tote"), ("Issue", "1, 2 March 2025"), ("Volume", (Volume(Fraction(1440)),)))),
            Paragraph("Wood, tools and skill differ.", style="soft"), NewPage(), Write(label="Built by, for whom, finished on", lines=8),
            Write(label="What I would do differently", lines=22))),
    ]
    rows_of_contents = tuple((str(number), name, f"section-{key}") for number, (key, name, _) in enumerate(front, start=1))
    cover = Cover(title=title, subtitle=("One sheet, one handle, an afternoon. It carries what a gardener needs from shed to bed.",),
                  shop="Pinwheel Lane Woodshop", number="14", issue=1, skill=2, mark=MARK, hero=drawings.tote(165, 118, 4.7, letters=False, sizes=True),
                  facts=(("Size", (Dimensions(overall),)), ("Time in the shop", "5 hours"), ("Weight, finished", "about 9 lb")), sponsor=sponsor,
                  sponsor_mark=MARK if sponsor else b"", disclosure="Printed with the help of Millrace Tool Works" if sponsor else "")
    glance = Section(name="at a glance", title="Contents and at a glance", anchor="section-glance", numbered=False, blocks=(
        Columns(left=(Contents(rows=rows_of_contents),),
                right=(Figure(("The finished piece",), drawings.tote(76, 46, 2.1, letters=False, small=True), anchor="figure-glance"),
                       Facts(rows=(("Overall", (overall[0], " wide, ", overall[1], " high")), ("Parts", "7, of 6 kinds"), ("Joints", "dado, rabbet"))))),
        Heading(content=("Tools, by need",)),
        Columns(split="wide-left", left=(Heading(content=("You must have",), level=3), Paragraph("Table saw with a straight fence; dado head or a router"
                                                                                               " with a straight bit; drill; four clamps; square.")),
                right=(Heading(content=("Good to have",), level=3), Paragraph("Spokeshave; random-orbit sander."))),
        Table("Five hours, in two sittings", columns=(Column(head="", kind="tick"), Column(head="Work", kind="name"), Column(head="Steps"),
                                                      Column(head="Time", kind="number")),
              groups=(Group(title="", rows=((1, "Cut and glue", "1 to 3", "3 h"), (1, "Handle and oil", "4 and 5", "2 h"))),))))
    return (
        Section(name="cover", title="Cover", blocks=(cover,), anchor="section-cover", numbered=False), glance,
        *(Section(name=key, title=name, number=str(number), anchor=f"section-{key}", blocks=blocks)
          for number, (key, name, blocks) in enumerate(front, start=1)),
    )


def sample(units: Literal["inch", "mm"] = "inch", paper: Literal["letter", "a4"] = "letter", *, title: str = "Garden tote", rows: int = 0,
           sponsor: str = "", proof: bool = False) -> Document:
    """The document. `rows` more rows of hardware; `sponsor` makes a sponsor's edition; `proof` a sample with a watermark."""
    return Document(
        title=title, shop="Pinwheel Lane Woodshop", number="14", issue=1, date="2025-03-02", units=units, paper=paper,
        step=Fraction(1, 64) if units == "inch" else Fraction(1, 2), language="en-US", subject="Woodworking plan: a garden tote",
        sections=sections(units, title=title, rows=rows, sponsor=sponsor), sample=proof,
        disclosure="Printed with the help of Millrace Tool Works" if sponsor else "",
    )
