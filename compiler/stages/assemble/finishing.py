"""Finishes: which parts get what, and how much area it covers once.

In: finish wishes, parts, how much of each face is covered by other parts. Out: `FinishUse`s. A piece finished twice on
the same faces is reported.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.base.measures import Area
from compiler.base.report import Findings
from compiler.stages.assemble.coverage import free_area
from compiler.stages.assemble.placing import Standing
from compiler.values.design import FinishWish
from compiler.values.model import FACES, Face, FinishUse

DONE = {"paint": "painted", "oil": "oiled", "varnish": "varnished", "lacquer": "lacquered", "stain": "stained", "wax": "waxed",
        "shellac": "shellacked", "primer": "primed"}
UNDER = ("stain", "primer")
"""Kinds that another finish goes over."""


def finish_uses(wishes: Sequence[FinishWish], standing: Mapping[str, Standing], hidden: Mapping[tuple[str, Face], Area],
                findings: Findings) -> tuple[FinishUse, ...]:
    """All finishes in the order of writing."""
    done: dict[tuple[str, Face], FinishWish] = {}
    uses: list[FinishUse] = []
    for wish in wishes:
        names = tuple(dict.fromkeys(name for group in wish.parts for name in group))
        faces = tuple(face for face in FACES if not wish.faces or face in wish.faces)
        total = Area()
        reported: set[str] = set()
        for name in names:
            for face in faces:
                before = done.get((name, face))
                if before is not None and before is not wish and not _base(before, wish):
                    reported.add(name)
                done[(name, face)] = wish
            total = total + free_area(standing[name], hidden, faces)
        for name in names:
            if name in reported:
                first = next(before for before in wishes if any(name in group for group in before.parts))
                findings.error("finished-twice", f"`{name}` is both {_done(first)} and {_done(wish)}.", wish.at, "Name it once.", also=(first.at,))
        uses.append(FinishUse(kind=wish.kind, coats=wish.coats, parts=names, area=total, item=wish.item, at=wish.at))
    return tuple(uses)


def _base(before: FinishWish, after: FinishWish) -> bool:
    return any(word in before.kind for word in UNDER) and before.kind != after.kind


def _done(wish: FinishWish) -> str:
    return DONE.get(wish.kind, f"finished with {wish.kind}")
