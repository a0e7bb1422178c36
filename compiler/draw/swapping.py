"""Functions of the layout engine swapped for quicker ones that give the same.

A swap is told once, with the owner (a module or a class) and the name; modules that took the function by that name when they were
imported get the quicker one too. Tests swap back, and hold the one against the other.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Swap:
    """`owner.name` is `own` in the engine, and `quick` here."""

    owner: Any
    name: str
    own: Any
    quick: Any


def swap(swaps: Iterable[Swap]) -> None:
    """Put the quick ones in place. May be done again."""
    for each in swaps:
        _put(each, each.own, each.quick)


def swap_back(swaps: Iterable[Swap]) -> None:
    """The engine as it came."""
    for each in swaps:
        _put(each, each.quick, each.own)


def _put(each: Swap, old: Any, new: Any) -> None:
    setattr(each.owner, each.name, new)
    if not isinstance(each.owner, type):
        for name, module in list(sys.modules.items()):
            if name.startswith(("weasyprint.", "compiler.")) and getattr(module, each.name, None) is old:
                setattr(module, each.name, new)
