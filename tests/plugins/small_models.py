"""Small models written by hand, for tests of plugins that read a Model: no file is read, no joint is made."""

from __future__ import annotations

from compiler.base.measures import ZERO, Area, Length, inch, mm
from compiler.base.showing import Units
from compiler.values.library import Item, Library, Stock, Wood
from compiler.values.model import (
    Box,
    Edition,
    Fasteners,
    FinishUse,
    HardwareUse,
    JointUse,
    Kind,
    Model,
    Part,
    PlanFacts,
    Span,
)
from compiler.values.settings import Price, Shop
from compiler.values.shapes import Frame

NO_AREA = Area()
POPLAR = Wood(name="yellow-poplar")
OAK = Wood(name="white oak")
# Rough 4/4 planes to 3/4: trade practice (LUM-24 in the project's table of check values).
POPLAR_4_4 = Stock(key="poplar 4/4", name="poplar 4/4", called="frame", kind="board", thickness=inch("3/4"), rough=inch(1),
                   widest=inch(7), species=POPLAR)
OAK_6_4 = Stock(key="white oak 6/4", name="white oak 6/4", called="oak", kind="board", thickness=inch("1 1/4"), rough=inch("1 1/2"),
                widest=inch(7), species=OAK)
PLY = Stock(key="birch plywood 3/4", name="birch plywood 3/4", called="ply", kind="sheet", thickness=inch("23/32"),
            sheets=((inch(48), inch(96)),))
SCREW = Item(key="screw No. 8 x 1 1/4", name="No. 8 x 1 1/4", kind="wood screw", pack=100)
HINGE_SCREW = Item(key="screw No. 4 x 1/2", name="No. 4 x 1/2", kind="wood screw", pack=100)
HINGE = Item(key="butt hinge 2", name="butt hinge 2 in", kind="hinge", brings=(("screw No. 4 x 1/2", 4),))
GLUE = Item(key="wood glue", name="wood glue for inside use", kind="glue", facts=(("cover", "250 ft2 per gallon"),))
VARNISH = Item(key="varnish", name="oil-based varnish", kind="finish", facts=(("cover", "500 ft2 per gallon"),))

LIBRARY = Library(notice="", operations=(), tools=(), cautions=(), protection=(), terms=(), glues=(GLUE,), items=(HINGE_SCREW,))


def shop(*prices: Price, settings: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = ()) -> Shop:
    """A shop that saws 1 in longer and 1/4 in wider."""
    return Shop(name="Pinwheel Lane Woodshop", kerf=inch("1/8"), trim=inch("1/4"), rough_length=inch(1), rough_width=inch("1/4"),
                prices=prices, plugin_settings=settings)


def part(name: str, stock: Stock, length: Length, width: Length, *, kind: str = "", tongues: Length = ZERO, strips: int = 1,
         assembly: tuple[str, ...] = (), component: str = "", thickness: Length | None = None) -> Part:
    """A board that lies across, its width deep; `tongues` is what joints add to its length."""
    thick = thickness if thickness is not None else stock.thickness
    return Part(name=name, kind=kind or name, letter="", assembly=assembly, component=component, stock=stock,
                box=Box(Span(ZERO, length), Span(ZERO, width), Span(ZERO, thick)), grain="across", thickness_axis="up",
                length=length + tongues, width=width, thickness=thick, strips=strips)


def model(*parts: Part, joints: tuple[JointUse, ...] = (), hardware: tuple[HardwareUse, ...] = (),
          finishes: tuple[FinishUse, ...] = (), units: Units = "inch") -> Model:
    """The parts with their kinds in the order of writing, lettered A, B, C …"""
    kinds: dict[str, list[str]] = {}
    for each in parts:
        kinds.setdefault(each.kind, []).append(each.name)
    lettered = tuple(Kind(letter="ABCDEFGH"[at], name=name, parts=tuple(names)) for at, (name, names) in enumerate(kinds.items()))
    return Model(plan=PlanFacts(title="Small", number="1", issue=1, date="2026-11-02", units=units),
                 edition=Edition(units=units, paper="a4" if units == "mm" else "letter"), parts=parts, kinds=lettered,
                 joints=joints, hardware=hardware, finishes=finishes)


def joint(acting: str, receiver: str, *, area: Area = NO_AREA, glue: bool = True, item: Item | None = None, count: int = 0) -> JointUse:
    """A joint with its glued area and its fasteners."""
    fasteners = (Fasteners(item=item, count=count),) if item is not None else ()
    return JointUse(id="joint 1", kind="butt", family="to", acting=acting, receiver=receiver, frame=Frame(), length=inch(1),
                    width=inch(1), fasteners=fasteners, glue=glue, area=area)


def square_feet(number: int) -> Area:
    """An area."""
    return inch(12) * inch(12) * number


__all__ = ["HINGE", "LIBRARY", "OAK_6_4", "PLY", "POPLAR_4_4", "SCREW", "VARNISH", "joint", "mm", "model", "part", "shop", "square_feet"]
