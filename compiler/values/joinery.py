"""A kind of joint, and what it makes of one contact.

In: two parts that meet, in the contact's own frame. Out: `Work`: what grows, what is cut, what is used, what is
done. A joint knows neither the model nor the plan's axes nor other joints: equal contacts, equal work.

The frame. Lengths count from one corner of the contact: `along` its longer side, `across` its shorter, `into` from
the acting part to the receiver, 0 where they touch. The acting part's wood is at negative `into`. Parts that
are written at full length over each other (family `with`) overlap from 0 to `contact.depth`: there `into` is the
thickness that both share (frames), else the acting part's length, towards its end (carcase corners).
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import Any, ClassVar, Literal, dataclass_transform

from compiler.base.measures import ZERO, Angle, Length
from compiler.values import ask
from compiler.values.ask import Asked, Fasteners
from compiler.values.findings import Findings
from compiler.values.library import Stock
from compiler.values.shapes import AxisName, Block, Measure, Shape

Family = Literal["into", "to", "with", "on"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One of the two parts of a contact.

    `grain` is the direction of its grain in the contact's frame ("" when it has none, `plywood` or MDF, or when it
    runs askew). `thickness` is the part's own; `depth` is how much of it lies behind the contact, on `into`.
    `along`, `across` say where the part starts and ends in the contact's frame: a receiver that runs on
    past the contact starts below 0. `edges` are its own faces where `across` starts and ends, as makers call them ("" when it
    stands askew, or in a test without a plan).
    """

    name: str
    stock: Stock
    grain: AxisName | Literal[""]
    thickness: Length
    depth: Length
    along: tuple[Length, Length]
    across: tuple[Length, Length]
    edges: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Where two parts meet: `length` on `along`, `width` on `across`; `depth` is nothing unless they overlap.

    `lean` is the angle between the two parts away from square, nothing for square work.
    """

    acting: Member
    receiver: Member
    length: Length
    width: Length
    depth: Length = ZERO
    lean: Angle = Angle(ZERO.inches)

    def block(self, *, into: Length = ZERO, back: Length = ZERO) -> Block:
        """The whole contact, so deep into the receiver and so far back into the acting part."""
        return Block((ZERO, self.length), (ZERO, self.width), (-back, into))

    def through(self, *, into: Length = ZERO, back: Length = ZERO) -> Block:
        """The same, but run out to both ends of the receiver along the contact: a dado, a groove."""
        return self.block(into=into, back=back).at("along", *self.receiver.along)

    @property
    def at_edge(self) -> bool:
        """True when the contact reaches an edge of the receiver across: there a dado is a rabbet."""
        low, high = self.receiver.across
        return low >= ZERO or high <= self.width

    @property
    def near_edge(self) -> tuple[str, Length]:
        """The nearer of the receiver's two edges across, as makers call it ("" when that isn't known), and how far it lies off the contact."""
        low, high = -self.receiver.across[0], self.receiver.across[1] - self.width
        return (self.receiver.edges[0], low) if low <= high else (self.receiver.edges[1], high)


@dataclass(frozen=True, slots=True)
class Grow:
    """Wood that the acting part has beyond its shoulder: it makes the part longer by as much as it needs.

    `sawn` is the shape as cut on the bench where the final one differs. Not both a number and a shape: what grows
    is what goes in.
    """

    shape: Shape
    called: str = "tongue"
    sawn: Shape | None = None


@dataclass(frozen=True, slots=True)
class Cut:
    """Wood taken away. `called` is the trade's word: dado, mortise, slot, hole."""

    called: str
    shape: Shape
    sawn: Shape | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """A loose piece of wood that the joint brings along: wedge, key, spline. `grain` is in the contact's frame."""

    called: str
    stock: Stock
    shape: Block
    grain: AxisName = "into"


@dataclass(frozen=True, slots=True)
class Operation:
    """Something done, in the library's words where it has them, and the tools for it."""

    does: str
    tools: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What a joint makes of one contact. The compiler turns it into cut sizes, solids, lists, drawings and cautions."""

    on_acting: tuple[Grow | Cut, ...] = ()
    on_receiver: tuple[Cut, ...] = ()
    pieces: tuple[Piece, ...] = ()
    fasteners: tuple[Fasteners, ...] = ()
    operations: tuple[Operation, ...] = ()
    detail: tuple[Measure, ...] = ()
    glue: bool = True


@dataclass_transform(frozen_default=True, kw_only_default=True,
                     field_specifiers=(ask.size, ask.count, ask.ratio, ask.angle, ask.word, ask.item, ask.stop,
                                       ask.fasteners, ask.stock))
class Fields:
    """A class of fields that a maker may write; a subclass is a frozen dataclass without being told so.

    `asks` are its fields in order, `line` is that of the class. All of them are given by keyword: defaults are texts,
    which the compiler works out. Its methods stand here once, as writing them for each class costs half of all loading.
    """

    asks: ClassVar[tuple[Asked, ...]] = ()
    line: ClassVar[int] = 0

    def __init_subclass__(cls, **more: Any) -> None:
        super().__init_subclass__(**more)
        cls.line = sys._getframe(1).f_lineno
        mine = []
        for name, value in list(vars(cls).items()):
            if isinstance(value, Asked):
                delattr(cls, name)
                mine.append(ask.named(value, name))
        if mine:
            cls.asks = (*cls.asks, *mine)
        says = cls.__doc__ if "__doc__" in vars(cls) else ""
        dataclass(init=False, repr=False, eq=False)(cls)
        cls.__doc__ = says or ""  # not the one that a dataclass makes up for itself

    def __init__(self, **values: Any) -> None:
        names = [asked.field for asked in self.asks]
        if sorted(values) != sorted(names):
            wrong = sorted(set(values) ^ set(names))
            raise TypeError(f"{type(self).__name__} is given {', '.join(names)}; look at {', '.join(wrong)}")
        for name in names:
            object.__setattr__(self, name, values[name])

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} can't be changed: {name}")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} can't be changed: {name}")

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and vars(self) == vars(other)

    def __hash__(self) -> int:
        return hash((type(self), *vars(self).values()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in vars(self).items())})"


class Joint(Fields):
    """A kind of joint. A subclass says its word and family, asks for its sizes, and makes the work.

    `kind` is the word makers write (`wedged tenon`), `how` its family. A joint whose `leans` is False is refused
    between tilted parts.
    """

    kind: ClassVar[str] = ""
    how: ClassVar[Family] = "into"
    leans: ClassVar[bool] = False

    def make(self, c: Contact) -> Work:
        """The work at one contact. Raises WrongShape when a size can't be."""
        raise NotImplementedError

    def check(self, c: Contact) -> Findings:
        """What is doubtful about it at this contact; nothing by default."""
        return iter(())


class Component(Fields):
    """Parts that come together, as if they were written under `components` in design.yaml; a plan gives them a place.

    `kind` is the word makers write (`component: drawer box`). Each field is a size, a number or a material of the
    component: `written` uses them by name, makers change them with `with:`. `written` is text of design.yaml: `middle`,
    `parts`, `joints` and `hardware`. Bare numbers in it, and in defaults, are inches, whatever the plan's own unit.
    """

    kind: ClassVar[str] = ""
    written: ClassVar[str] = ""


class Settings(Fields):
    """Settings of a plugin, written in shop.yaml or in a plan under `key`."""

    key: ClassVar[str] = ""

