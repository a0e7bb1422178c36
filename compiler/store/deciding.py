"""Whether a thing is made again, and because of what: one decision, apart from running.

In: what a thing is made from now, what it was made from when it was last made, whether that result is still at hand. Out: a
`Decision`. Equal ingredients mean an equal thing; there is no other ground for using one again.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.base.digests import digest

Ingredients = tuple[tuple[str, str], ...]
"""What a thing is made from: (what, digest of it)."""


@dataclass(frozen=True, slots=True)
class Decision:
    """`reuse`, or make it again for these reasons."""

    reuse: bool
    reasons: tuple[str, ...] = ()


def key_of(name: str, now: Ingredients) -> str:
    """The key under which a thing made from these is kept."""
    return digest((name, now))


def decide(now: Ingredients, before: Ingredients | None, *, at_hand: bool) -> Decision:
    """Reuse what is at hand under these very ingredients; else name what differs from the last time."""
    if at_hand:
        return Decision(True)
    if before is None:
        return Decision(False, ("it was not made before",))
    old, new = dict(before), dict(now)
    reasons = [f"{what} changed" for what in new if what in old and old[what] != new[what]]
    reasons += [f"{what} is new" for what in new if what not in old]
    reasons += [f"{what} is gone" for what in old if what not in new]
    return Decision(False, tuple(reasons) or ("what was kept of it is gone or damaged",))
