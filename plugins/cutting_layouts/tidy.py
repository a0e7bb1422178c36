"""The same stock, sawn better: one large offcut, then fewer cuts and fence settings.

In: a plan (which blocks lie in which bins) and an amount of work. Out: a tree of cuts for every bin. First each bin by itself is
laid out anew for few cuts and for a large offcut; then two bins at a time exchange blocks, and an exchange stays when the plan
is no worse for it, or when it leaves a bin empty. No other stock is taken here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from .eject import Draw, Work, fill_one
from .packing import Aim, Bin, Effort, First, Pattern, Spot, Tally, pack
from .parting import saw_tree
from .task import Plan, Task
from .tree import SHARES, Tree, canonical, score, settings

_QUICK = (16,)
_THOROUGH = (16, 64, 256)
_MANY = 20
"""Blocks in one bin from which the widest search is left out: it takes long and seldom gains a cut."""

@dataclass(frozen=True, slots=True)
class Sawn:
    """One bin's tree and what it costs to saw."""

    bin: int
    tree: Tree
    effort: int
    offcut: int


@dataclass(frozen=True, slots=True)
class _Bin:
    """One bin's blocks with the two trees that matter: fewest cuts, and largest offcut."""

    pattern: Pattern
    plain: Sawn
    large: Sawn
    thorough: bool


type _Known = dict[tuple[int, tuple[int, ...]], _Bin]


class _Drawn:
    """The trees of what lies in one bin, each worked out once."""

    def __init__(self, task: Task, keep: tuple[int, int] | None) -> None:
        self.task = task
        self._keep = keep
        self._known: dict[tuple[int, tuple[Spot, ...]], Sawn] = {}

    def sawn(self, kind: int, spots: tuple[Spot, ...]) -> Sawn:
        """Cuts, settings and offcut of the spots in a bin of this kind."""
        key = (kind, tuple(sorted(spots)))
        if key not in self._known:
            one, kerf = self.task.bins[kind], self.task.kerf
            tree = saw_tree(spots, one.length, one.width, kerf)
            cuts, largest, _ = score(tree, one.length, one.width, kerf, self._keep)
            self._known[key] = Sawn(kind, canonical(tree), cuts + settings(tree, one.length, one.width), largest)
        return self._known[key]


def tidy(task: Task, plan: Plan, keep: tuple[int, int] | None, *, work: Work, tally: Tally) -> tuple[Sawn, ...]:
    """The trees of a plan of no more effort and no smaller largest offcut than its own."""
    drawn = _Drawn(task, keep)
    known: _Known = {}
    state = [_laid_out(drawn, pattern, _THOROUGH, work, tally, known) for pattern in plan]
    draw = Draw(7)
    rank = _rank(task, state)
    while work.left > 0 and len(state) > 1:
        at, other = _two(draw, len(state))
        pair = _exchanged(task, state[at].pattern, state[other].pattern, draw, work, tally)
        if pair is None:
            continue
        new = [_laid_out(drawn, pattern, _QUICK, work, tally, known) for pattern in pair if pattern.spots]
        tried = [one for place, one in enumerate(state) if place not in (at, other)] + new
        tried_rank = _rank(task, tried)
        if len(tried) < len(state) or tried_rank <= rank:
            state, rank = tried, tried_rank
    return _chosen(task, [_laid_out(drawn, one.pattern, _THOROUGH, work, tally, known) for one in state])


def _laid_out(drawn: _Drawn, pattern: Pattern, queues: Sequence[int], work: Work, tally: Tally, known: _Known) -> _Bin:
    """The bin's best trees: from the spots as they lie, and from layouts made for few cuts."""
    task = drawn.task
    content = tuple(sorted(spot.block for spot in pattern.spots))
    key = (pattern.bin, content)
    if key in known and (known[key].thorough or queues is _QUICK):
        return known[key]
    one = task.bins[pattern.bin]
    layouts = [pattern.spots] + ([known[key].pattern.spots] if key in known else [])
    for queue in queues if len(content) <= _MANY else queues[:2]:
        for first in (First.ALONG, First.ACROSS):
            spots = _few_cuts(task, one, content, queue, first, work, tally)
            if spots is not None:
                layouts.append(spots)
    sawn = [drawn.sawn(pattern.bin, spots) for spots in layouts]
    if key in known:
        sawn += [known[key].plain, known[key].large]
    plain = min(sawn, key=lambda one: (one.effort, -one.offcut))
    large = max(sawn, key=lambda one: (_share(task, one.offcut), -one.effort))
    known[key] = _Bin(pattern, plain, large, queues is _THOROUGH)
    return known[key]


def _few_cuts(
    task: Task, one: Bin, content: Sequence[int], queue: int, first: First, work: Work, tally: Tally
) -> tuple[Spot, ...] | None:
    counts = Counter(content)
    numbers = sorted(counts)
    blocks = [replace(task.blocks[number], count=counts[number]) for number in numbers]
    work.spend(len(content), len(content), queue, any(block.turnable for block in blocks))
    bins = [Bin(one.length, one.width)]
    patterns = pack(bins, blocks, task.kerf, aim=Aim.CUTS, effort=Effort("tree", queue), first=first, tally=tally)
    if patterns is None:
        return None
    return tuple(replace(spot, block=numbers[spot.block]) for spot in patterns[0].spots)


def _share(task: Task, area: int) -> int:
    whole = max(one.length * one.width for one in task.bins)
    return SHARES * area // whole


def _rank(task: Task, state: Sequence[_Bin]) -> tuple[int, int]:
    """Largest offcut in sixteenths (less is better, so negative), then cuts and settings."""
    return min(_carried(task, state, at) for at in range(len(state)))


def _carried(task: Task, state: Sequence[_Bin], at: int) -> tuple[int, int]:
    """The rank when bin number `at` is the one that is sawn for a large offcut."""
    effort = sum(one.plain.effort for place, one in enumerate(state) if place != at)
    return (-_share(task, state[at].large.offcut), effort + state[at].large.effort)


def _chosen(task: Task, state: Sequence[_Bin]) -> tuple[Sawn, ...]:
    carrier = min(range(len(state)), key=lambda at: (_carried(task, state, at), at))
    return tuple(one.large if at == carrier else one.plain for at, one in enumerate(state))


def _two(draw: Draw, number: int) -> tuple[int, int]:
    at = draw.below(number)
    return (at, (at + 1 + draw.below(number - 1)) % number)


def _exchanged(
    task: Task, one: Pattern, other: Pattern, draw: Draw, work: Work, tally: Tally
) -> tuple[Pattern, Pattern] | None:
    """Both bins' blocks, the first bin filled anew and the second with the rest; None when the rest does not fit."""
    pool = Counter(spot.block for spot in one.spots + other.spots)
    values = {
        at: task.blocks[at].length * task.blocks[at].width * (0.75 + draw.below(1000) / 2000) for at in sorted(pool)
    }
    first = First.ALONG if draw.below(2) else First.ACROSS
    spots = fill_one(
        task.bins[one.bin], pool, task.blocks, values, task.kerf, queue=16, first=first, work=work, tally=tally
    )
    pool.subtract(spot.block for spot in spots)
    rest = sorted(Counter(+pool).elements())
    if not rest:
        return (Pattern(one.bin, spots), Pattern(other.bin, ()))
    found = _few_cuts(task, task.bins[other.bin], rest, 32, first, work, tally)
    return None if found is None else (Pattern(one.bin, spots), Pattern(other.bin, found))
