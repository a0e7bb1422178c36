"""One large offcut rather than many small ones, on the same stock.

In: a plan and an amount of work. Out: a plan with the same bins, of which one leaves a larger rectangle along an edge. That bin
is made shorter, or narrower, by a sixteenth of its area at a time, and everything is placed again, as long as it works.
"""

from __future__ import annotations

from dataclasses import replace

from .eject import Work, place_all
from .job import Way
from .packing import Bin, Pattern, Spot, Tally
from .parting import saw_tree
from .task import Plan, Task
from .tree import SHARES, score


def gathered(task: Task, plan: Plan, keep: tuple[int, int] | None, *, work: Work, tally: Tally) -> Plan:
    """The plan with the largest offcut found; the one given if none is larger by a sixteenth of the largest bin."""
    whole = max(one.length * one.width for one in task.bins)
    best, share = plan, _largest(task, plan, keep) * SHARES // whole
    carriers = sorted({pattern.bin for pattern in plan}, key=lambda at: (-task.bins[at].length * task.bins[at].width, at))
    openings = [(kind, way) for kind in carriers for way in (Way.ALONG, Way.ACROSS)]
    cost = work.left / (2 * len(openings))
    for kind, way in openings:
        while work.left > 0:
            shrunk = _shrunk(task.bins[kind], way, (share + 1) * whole // SHARES + 1, task.kerf, keep)
            if shrunk is None or not _room(task, plan, task.bins[kind], shrunk):
                break
            mine = Work(cost)
            found = _placed(task, best, kind, shrunk, mine, tally)
            work.left -= cost - mine.left
            if found is None:
                break
            best, share = found, max(share + 1, _largest(task, found, keep) * SHARES // whole)
    return best


def _largest(task: Task, plan: Plan, keep: tuple[int, int] | None) -> int:
    sizes = []
    for pattern in plan:
        one = task.bins[pattern.bin]
        tree = saw_tree(pattern.spots, one.length, one.width, task.kerf)
        sizes.append(score(tree, one.length, one.width, task.kerf, keep)[1])
    return max(sizes)


def _shrunk(one: Bin, way: Way, area: int, kerf: int, keep: tuple[int, int] | None) -> Bin | None:
    """The bin without an offcut of this area at its end, or along its side; None when nothing worth keeping is left."""
    breadth = one.width if way is Way.ALONG else one.length
    strip = -(-area // breadth)
    if keep is not None:
        strip = max(strip, min(keep), max(keep) if breadth < max(keep) else 0)
    size = (one.length if way is Way.ALONG else one.width) - strip - kerf
    if size <= 0:
        return None
    return replace(one, length=size) if way is Way.ALONG else replace(one, width=size)


def _room(task: Task, plan: Plan, one: Bin, shrunk: Bin) -> bool:
    """Whether the area is enough."""
    grown = [(task.bins[pattern.bin].length + task.kerf) * (task.bins[pattern.bin].width + task.kerf) for pattern in plan]
    lost = (one.length + task.kerf) * (one.width + task.kerf) - (shrunk.length + task.kerf) * (shrunk.width + task.kerf)
    need = sum(block.count * (block.length + task.kerf) * (block.width + task.kerf) for block in task.blocks)
    return sum(grown) - lost >= need


def _placed(task: Task, plan: Plan, kind: int, shrunk: Bin, work: Work, tally: Tally) -> Plan | None:
    """Everything in the plan's bins, the emptiest of this kind shrunk; None when something finds no place."""
    same = [at for at, pattern in enumerate(plan) if pattern.bin == kind]
    carrier = min(same, key=lambda at: (sum(spot.length * spot.width for spot in plan[at].spots), at))
    start = [Pattern(len(task.bins), _inside(plan[at], shrunk)) if at == carrier else plan[at] for at in range(len(plan))]
    found, homeless = place_all((*task.bins, shrunk), start, task.blocks, task.kerf, work=work, tally=tally)
    if homeless:
        return None
    return tuple(replace(pattern, bin=kind) if pattern.bin == len(task.bins) else pattern for pattern in found if pattern.spots)


def _inside(pattern: Pattern, one: Bin) -> tuple[Spot, ...]:
    """What still lies inside the shrunk bin where it lay."""
    return tuple(
        spot for spot in pattern.spots if spot.x + spot.length <= one.length and spot.y + spot.width <= one.width
    )
