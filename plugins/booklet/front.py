"""Cover, contents with the plan at a glance, and how to read it.

In: the model, the notes, the lists. Out: blocks. Nothing is worked out here that a list has worked out already.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from compiler.api import (
    Blocks,
    Columns,
    Contents,
    Cover,
    CutList,
    Dimensions,
    DrawingSettings,
    Facts,
    Figure,
    Heading,
    Inlines,
    ItemList,
    Library,
    Materials,
    Model,
    Money,
    Notes,
    Paragraph,
    PartMark,
    Shop,
    ToolList,
    View,
    Weights,
    section,
)


@section("Cover", after="cover", name="cover", numbered=False)
def cover(model: Model, notes: Notes, shop: Shop, weights: Weights) -> Blocks:
    """Shop, title, one sentence, the piece with its sizes, four facts."""
    box = model.outside
    size = Dimensions((box.across.size, box.up.size, box.deep.size))
    facts: list[tuple[str, Inlines | str]] = [("Width × height × depth", (size,))]
    if notes.minutes:
        facts.append(("Time in the shop", hours(notes.minutes)))
    facts.append(("Weight, about", weights.shown(model.edition.units)))
    yield Cover(
        title=model.plan.title,
        subtitle=notes.subtitle,
        shop=shop.name,
        number=model.plan.number,
        issue=model.plan.issue,
        facts=tuple(facts),
        skill=notes.skill,
        hero=View("front right top", dimensions=True, width=168, height=120),
        mark=shop.mark,
    )


@section("Contents and at a glance", after="cover", name="at a glance", numbered=False)
def at_a_glance(
    model: Model, notes: Notes, cut_list: CutList, materials: Materials, tools: ToolList, weights: Weights
) -> Blocks:
    """The contents beside the piece's facts; tools by need; the hours by group of steps."""
    box = model.outside
    rows: list[tuple[Inlines | str, Inlines | str]] = [
        ("Overall", (box.across.size, " wide, ", box.up.size, " high, ", box.deep.size, " deep")),
        ("Parts", f"{cut_list.pieces}, of {len(cut_list.rows)} kinds"),
    ]
    for kind, word in STOCK:
        names = [row.name for row in materials.rows if row.kind == kind]
        if names:
            rows.append((word, _together(names)))
    rows.append(("Joints", ", ".join(dict.fromkeys(joint.kind for joint in model.joints))))
    if model.finishes:
        rows.append(("Finish", ", ".join(dict.fromkeys(finish.kind for finish in model.finishes))))
    rows.append(("Weight", f"about {weights.shown(model.edition.units)}"))
    if materials.cost is not None:
        stock = {kind for kind, _ in STOCK} | {"tape"}
        missing = [row.kind in stock for row in materials.rows if row.cost is None]
        aside = "" if not missing else ", without what has no price" if any(missing) else ", hardware and finish apart"
        rows.append(("Materials", ("about ", Money(_whole(materials.cost), materials.currency, cents=False), aside)))
    picture = Figure("The finished piece", View("front left top", dimensions=False, width=62), name="at a glance")
    yield Columns(left=(Contents(),), right=(picture, Facts(rows=tuple(rows))))
    yield Heading(content=("Tools, by need",))
    must = ", ".join(_with_others(need.name, need.others) for need in tools.must)
    good = ", ".join(need.name for need in tools.good[:20])
    yield Columns(
        left=(Heading(content=("You must have",), level=3), Paragraph(content=(_sentence(must),))),
        right=(Heading(content=("Good to have",), level=3), Paragraph(content=(_sentence(good),))),
    )


@section("How to read this plan", after="cover", name="how to read")
def how_to_read(model: Model, shop: Shop, library: Library, cut_list: CutList, drawn: DrawingSettings) -> Blocks:
    """Units, letters, grain, sizes as sold and as they are, the order of cuts."""
    inch = model.edition.units == "inch"
    yield Paragraph(
        content=(
            (
                "Sizes are in inches unless a unit stands beside them."
                if inch
                else "Sizes are in millimetres unless a unit stands beside them."
            ),
            " Length runs along the grain, so a part can be wider than it is long. Cut sizes are finished sizes and"
            " hold all tongues and tenons: what the list says is what you cut.",
        ),
        style="lede",
    )
    first = model.kinds[0] if model.kinds else None
    letters: Inlines = ("Every kind of part has a letter",)
    if first is not None:
        letters += (", ringed like ", PartMark(first.parts[0], first.letter, first.name, named=False), ",")
    letters += (
        " and keeps it: in the lists, on the drawings, in the steps and in later issues of this plan."
        " I, O and Q are left out, since they look like figures.",
    )
    sheets = [stock for stock in cut_list.stocks if stock.kind == "sheet"]
    actual: Inlines = ("Sheets and boards are sold by a name that is not their size.",)
    for stock in sheets:
        if not stock.name.endswith(f" {model.edition.show(stock.thickness)} mm"):
            actual += (f" {stock.name[:1].upper()}{stock.name[1:]} is reckoned as ", stock.thickness, ".")
    actual += (" Measure what you bought before you cut a dado to it.",)
    yield Columns(
        left=(
            Heading(content=("Letters",), minor=True),
            Paragraph(content=letters),
            Heading(content=("Left and right",), minor=True),
            Paragraph(content=("Left and right are yours when you stand before the finished piece.",)),
            Heading(content=("Rounding",), minor=True),
            Paragraph(
                content=(
                    "All sums are exact; sizes are rounded once, when printed, to the nearest ",
                    _step(shop.step) if inch else "half millimetre",
                    ".",
                )
            ),
        ),
        right=(
            Heading(content=("Sizes as sold",), minor=True),
            Paragraph(content=actual),
            Heading(content=("Order of cuts",), minor=True),
            Paragraph(
                content=(
                    "Cut one assembly at a time, not the whole list: the parts of the next are fitted to the last."
                    " The numbers on the layouts give the order on each sheet and board.",
                )
            ),
            Heading(content=("Kerf",), minor=True),
            Paragraph(content=("Layouts allow ", shop.kerf, " for the saw and ", shop.trim, " of trim at factory edges.")),
        ),
    )
    yield Heading(content=("On the drawings",))
    yield replace(KEY, drawing=View("key", width=168, first_angle=drawn.first))
    yield ItemList(
        items=(
            ("A box stands for every piece: tick it off when it is cut.",),
            ("Print at 100 %. The rule under each section's name is true when the page was not scaled.",),
        )
    )


STOCK = (("sheet", "Sheets"), ("board", "Boards"), ("rod", "Rods"), ("moulding", "Mouldings"))
"""Kinds of stock, as the facts call them."""

KEY = Figure("Lines and signs", View("key", width=168), name="lines and signs")


def hours(minutes: int) -> str:
    """`1 h 30 min`, `40 min`, `16 h`; whole hours above ten."""
    if minutes >= 600:
        return f"{(minutes + 30) // 60} h"
    whole, rest = divmod(minutes, 60)
    return " ".join([*([f"{whole} h"] if whole else []), *([f"{rest} min"] if rest or not whole else [])])


def _step(step: Fraction) -> str:
    return f"{step.numerator}/{step.denominator} in" if step.denominator != 1 else f"{step.numerator} in"


def _together(names: list[str]) -> str:
    """`birch plywood 1/4, 1/2, 3/4` for names that begin alike; `birch plywood 6, 12, 18 mm`."""
    told: dict[tuple[str, str], list[str]] = {}
    for name in names:
        found = re.fullmatch(r"(.+?) ([\d /.]+)( mm)?", name)
        told.setdefault((found[1], found[3] or "") if found else (name, ""), []).extend([found[2]] if found else [])
    return ", ".join(f"{words} {', '.join(sorted(sizes, key=_size))}{unit}" if sizes else words for (words, unit), sizes in sorted(told.items()))


def _size(text: str) -> Fraction:
    """How thick `1 1/4` is, for sorting; 4/4 counts quarters."""
    return sum((Fraction(piece) for piece in text.split()), Fraction(0))


def _whole(amount: Fraction) -> Fraction:
    """Rounded up to a whole unit of money: an estimate, and never too little."""
    return Fraction(-(-amount.numerator // amount.denominator))


def _with_others(name: str, others: tuple[str, ...]) -> str:
    return f"{name} (or {', '.join(others)})" if others else name


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}." if text else "Nothing beyond the usual."
