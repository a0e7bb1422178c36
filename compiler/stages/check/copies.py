"""The copies of a part: how many, what each is called, and how each is set from the one written.

In: a part's rule, and the copies of the part it follows. Out: `Copy` values in the order left, front, bottom first. Knows no lengths.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from compiler.language.trees import Follow, Mirror
from compiler.stages.check.rules import PartRule
from compiler.values.model import Axis

HANDS: dict[Axis, tuple[str, str]] = {"across": ("left", "right"), "deep": ("front", "back"), "up": ("bottom", "top")}
_ORDER: tuple[Axis, ...] = ("up", "deep", "across")
"""In a name the word of height comes first, then depth, then side: bottom front left foot."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One of a part's copies. `mirrored` are the axes it is an image on, `step` counts repeats from 0."""

    name: str
    index: int
    hands: tuple[tuple[Axis, str], ...] = ()
    mirrored: tuple[Axis, ...] = ()
    step: int = 0
    face: str = ""

    def called(self, flipped: tuple[Axis, ...]) -> str:
        """Its name where the whole it belongs to is mirrored: the hands change places."""
        name = self.name
        words = name.split(" ")
        for position, (axis, hand) in enumerate(self.hands):
            if axis in flipped:
                low, high = HANDS[axis]
                words[position] = high if hand == low else low
        return " ".join(words)


def mirror_copies(name: str, mirror: Mirror) -> tuple[Copy, ...]:
    """The written one and its images: `left side`, `right side`."""
    axes = [axis for axis in _ORDER if axis in mirror.axes]
    found: list[Copy] = []
    for sides in product((0, 1), repeat=len(axes)):
        hands = tuple((axis, HANDS[axis][side]) for axis, side in zip(axes, sides, strict=True))
        mirrored = tuple(axis for axis, side in zip(axes, sides, strict=True) if side)
        found.append(Copy(" ".join([*(hand for _, hand in hands), name]), len(found), hands, mirrored))
    return tuple(found)


def numbered_copies(name: str, count: int) -> tuple[Copy, ...]:
    """`shelf 1`, `shelf 2` …"""
    return tuple(Copy(f"{name} {step + 1}", step, step=step) for step in range(count))


def following_copies(name: str, leader: str, copies: tuple[Copy, ...]) -> tuple[Copy, ...]:
    """One for each copy of the leader, called like it."""
    return tuple(Copy(copy.name[: len(copy.name) - len(leader)] + name if copy.name.endswith(leader) else name + copy.name[len(leader):],
                      copy.index, copy.hands, copy.mirrored, copy.step) for copy in copies)


def run_copies(name: str, faces: tuple[str, ...]) -> tuple[Copy, ...]:
    """`left base moulding`, `front base moulding` …"""
    return tuple(Copy(f"{face} {name}", index, face=face) for index, face in enumerate(faces))


def same_hands(one: str, other: str, name: str) -> bool:
    """Whether two names are one copy's, its hands in any order: `left front leg`, `front left leg`."""
    if not (one.endswith(" " + name) and other.endswith(" " + name)):
        return False
    return sorted(one[: -len(name)].split()) == sorted(other[: -len(name)].split())


def follows(rule: PartRule) -> Follow | None:
    """The part this one goes with, None when it stands alone."""
    tree = rule.copies.tree if rule.copies else None
    return tree if isinstance(tree, Follow) else None
