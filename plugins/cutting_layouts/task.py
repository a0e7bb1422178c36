"""What is searched, and what a search finds: the values that its steps pass on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from .layout import Bound
from .packing import Bin, Block, Pattern

type Plan = tuple[Pattern, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """What is searched: the same in every step."""

    bins: tuple[Bin, ...]
    counts: tuple[int | None, ...]
    blocks: tuple[Block, ...]
    kerf: int

    def cost(self, plan: Plan) -> int:
        return sum(self.bins[pattern.bin].cost for pattern in plan)

    def rank(self, plan: Plan) -> tuple[int, int]:
        """Cost, then number of sheets."""
        return (self.cost(plan), len(plan))

    def rank_of(self, choice: Sequence[int]) -> tuple[int, int]:
        """Cost and number of sheets of so many of each bin."""
        return (sum(one.cost * count for one, count in zip(self.bins, choice, strict=True)), sum(choice))

    @property
    def number(self) -> int:
        return sum(block.count for block in self.blocks)

    def of(self, plan: Plan) -> Task:
        """The task that these patterns alone answer."""
        counts = Counter(spot.block for pattern in plan for spot in pattern.spots)
        return replace(self, blocks=tuple(replace(block, count=counts[number]) for number, block in enumerate(self.blocks)))

    @property
    def is_linear(self) -> bool:
        """Whether only the lengths matter."""
        widths = {one.width for one in self.bins} | {block.width for block in self.blocks}
        return len(widths) == 1 and not any(block.turnable for block in self.blocks)


def done(task: Task, plan: Plan, bound: Bound) -> bool:
    return task.cost(plan) <= bound.cost and len(plan) <= bound.sheets
