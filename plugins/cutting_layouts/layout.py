"""What comes out of a job: which pieces lie where, the tree of cuts, the cuts in order, and what is left.

Sizes are in the job's unit, with the origin at a corner of the raw stock, x along the grain and y across it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from .job import Way


@dataclass(frozen=True, slots=True, order=True)
class Box:
    """A rectangle: its low corner and its size."""

    x: int
    y: int
    length: int
    width: int

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def sides(self) -> tuple[int, int]:
        """Longer and shorter side."""
        return (max(self.length, self.width), min(self.length, self.width))

    def holds(self, least: tuple[int, int] | None) -> bool:
        """Whether a rectangle of these two sides fits in, either way. None is satisfied by nothing."""
        return least is not None and self.sides[0] >= max(least) and self.sides[1] >= min(least)


class Is(StrEnum):
    """What a piece of stock is when the last cut has been made."""

    PART = "part"
    OFFCUT = "offcut"
    WASTE = "waste"
    TRIM = "trim"
    STRIP = "strip"


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Placement:
    """One piece on the stock. `turned` says that its grain runs across the stock's."""

    piece: str
    box: Box
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A piece of stock at some time in the sawing. A strip has children, that lie one after another a kerf apart.

    `way` is the direction in which the children are counted: ALONG means that they follow each other along x, so
    the cuts between them run across the grain.
    """

    box: Box
    kind: Is
    way: Way = Way.ALONG
    piece: str = ""
    turned: bool = False
    children: tuple[Node, ...] = ()


class Care(StrEnum):
    """What is smaller than the shop can hold safely at a cut."""

    NONE = ""
    SMALL_IN_HAND = "small in hand"
    SMALL_FREED = "small freed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One pass of the saw, from edge to edge of the piece in hand.

    `setting` is the distance from the fence to the blade: the size of `freed` over that cut, and where a factory edge is
    trimmed the size of `rest`. `runs` is the direction in which the saw travels; `start` and `end` lie on the side of the
    blade that is nearer the origin. `rest` stays in hand, None when the kerf eats all of it. `by_hand` says that the piece
    in hand is too big for the table.
    """

    number: int
    hand: Box
    runs: Way
    setting: int
    start: tuple[int, int]
    end: tuple[int, int]
    freed: Box
    frees: Is
    piece: str
    rest: Box | None
    by_hand: bool = False
    care: Care = Care.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A rectangle left over, kept for the next job or thrown away."""

    box: Box
    keep: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One pattern: a sheet, board or length of stock, sawn `copies` times alike."""

    stock: str
    length: int
    width: int
    copies: int
    placements: tuple[Placement, ...]
    tree: Node
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def used(self) -> Fraction:
        """The part of the raw stock's area that becomes pieces."""
        return Fraction(sum(place.box.area for place in self.placements), self.length * self.width)

    @property
    def settings(self) -> int:
        """How many times the fence is set, one sheet sawn alone."""
        settings = [(cut.runs, cut.setting) for cut in self.cuts]
        return sum(1 for at, now in enumerate(settings) if at == 0 or settings[at - 1] != now)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """No layout of the job costs less, and the reason why (`area`, `lengths`, `large pieces`…)."""

    cost: int
    sheets: int
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Something amiss in a job: what it is about, one sentence, and the cure. A `warning` leaves the layout standing.

    `{piece}` and `{stock}` in the sentence are those it is about, `{0}`, `{1}` … its counts and then its sizes in the job's unit: whoever
    tells it knows their names, and how sizes are shown.
    """

    code: str
    says: str
    piece: str = ""
    stock: str = ""
    hint: str = ""
    warning: bool = False
    counts: tuple[int, ...] = ()
    sizes: tuple[int, ...] = ()

    def told(self, show: Callable[[int], str] = str, called: Callable[[str], str] = str) -> tuple[str, str]:
        """Sentence and hint."""
        figures = (*(f"{count:,}" for count in self.counts), *(show(size) for size in self.sizes))
        return (self.says.format(*figures, piece=called(self.piece), stock=called(self.stock)), self.hint)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The answer to a job. With problems that are no warnings `sheets` is empty.

    `best_possible` is said only where the cost meets the bound. `stopped_early` says that the search had work left to do
    when it met its limit of work; `timed_out` that a limit of time cut it short, so that it may not come out the same.
    """

    sheets: tuple[Sheet, ...]
    cost: int
    bound: Bound
    best_possible: bool
    stopped_early: bool = False
    timed_out: bool = False
    problems: tuple[Problem, ...] = ()

    @property
    def sheet_count(self) -> int:
        return sum(sheet.copies for sheet in self.sheets)

    @property
    def cut_count(self) -> int:
        return sum(sheet.copies * len(sheet.cuts) for sheet in self.sheets)

    @property
    def setting_count(self) -> int:
        return sum(sheet.settings for sheet in self.sheets)
