"""What is to be sawn out of what: the input of every layout.

All sizes are whole numbers of one small unit that the caller chooses (1/64 in for an inch plan, 0.1 mm for a metric one);
prices are whole numbers of the smallest coin. x runs along the stock's grain and y across it, so a `length` lies along
x and a `width` along y. A job knows nothing of parts, plans, stock libraries or paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Way(StrEnum):
    """A direction in the stock, told by its grain."""

    ALONG = "along"
    ACROSS = "across"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One size to saw. `turnable` says that the grain may run either way.

    `allowance` is more length that the saw needs for this piece and that is not in it: the slant of a mitred end.
    """

    id: str
    length: int
    width: int
    count: int = 1
    turnable: bool = False
    allowance: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Pieces sawn side by side, in order, from one run of figure. A piece of which two stand there is named twice.

    They follow one another along the grain (a row of drawer fronts) or across it (a pair of doors), and aren't turned.
    """

    name: str
    members: tuple[str, ...]
    way: Way = Way.ALONG


@dataclass(frozen=True, slots=True, kw_only=True)
class Trims:
    """What is sawn off each edge of the stock before anything else, the saw's kerf included."""

    left: int = 0
    right: int = 0
    bottom: int = 0
    top: int = 0

    @property
    def along(self) -> int:
        return self.left + self.right

    @property
    def across(self) -> int:
        return self.bottom + self.top

    @property
    def number(self) -> int:
        """How many edges are trimmed."""
        return sum(1 for edge in (self.left, self.right, self.bottom, self.top) if edge > 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One size to saw from. `count` None is as many as needed; an `offcut` is already in the shop."""

    id: str
    length: int
    width: int
    cost: int | None
    count: int | None = None
    offcut: bool = False
    trims: Trims = Trims()

    @property
    def usable_length(self) -> int:
        return self.length - self.trims.along

    @property
    def usable_width(self) -> int:
        return self.width - self.trims.across

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def price(self) -> int:
        """What one counts for: its cost, or one coin where that is not known. What the shop has is free."""
        return 1 if self.cost is None else self.cost


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the shop can hold and what it keeps, each as (longer side, shorter side); None where the shop does not say.

    `table` is the biggest piece its table saw takes: bigger ones are first broken down with a hand-guided saw.
    `safe` is the smallest piece that can be held safely, `keep` the smallest offcut worth keeping.
    """

    table: tuple[int, int] | None = None
    safe: tuple[int, int] | None = None
    keep: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything that a layout depends on, but for the solver's version."""

    pieces: tuple[Piece, ...]
    stocks: tuple[Stock, ...]
    kerf: int
    runs: tuple[Run, ...] = ()
    bench: Bench = Bench()
