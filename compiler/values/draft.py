"""A plan's files as generic trees: every scalar is its characters and its place, and nothing means anything yet.

In: made by `parse` from a Source. Out: read by `check` and by the notes stage; diagnostics become lines and columns
through it. Places are left out of equality, so that a comment above changes nothing below.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from compiler.base.report import Key, Spot
from compiler.values.source import PhotoFile, SourceFile

Quoting = Literal["", "'", '"', "|", ">", "*"]
"""How a text is written; `*` stands for one that was refused (an alias) and reported."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """A text. `start` and `stop` are the characters of the file that hold it, quotes included."""

    text: str
    quoting: Quoting = ""
    start: int = field(default=0, compare=False)
    stop: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with their values, in the order of writing; no key twice."""

    entries: tuple[tuple[Scalar, Node], ...]
    flow: bool = False
    start: int = field(default=0, compare=False)
    stop: int = field(default=0, compare=False)

    def get(self, key: str) -> Node | None:
        """The value of a key, None when it isn't there."""
        return next((value for name, value in self.entries if name.text == key), None)

    def names(self) -> tuple[str, ...]:
        """The keys, in the order of writing."""
        return tuple(name.text for name, _ in self.entries)


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple[Node, ...]
    flow: bool = False
    start: int = field(default=0, compare=False)
    stop: int = field(default=0, compare=False)


Node = Scalar | Mapping | Sequence


@dataclass(frozen=True, slots=True)
class Tree:
    """One file's tree; `root` is None when the file could not be read as one."""

    file: str
    root: Node | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """All files of a plan: trees for YAML, texts for all."""

    folder: str
    trees: tuple[Tree, ...]
    files: tuple[SourceFile, ...]
    photos: tuple[PhotoFile, ...] = ()
    mark: bytes = b""

    def root(self, file: str) -> Node | None:
        """The root of a file's tree, None when there is none."""
        return next((tree.root for tree in self.trees if tree.file == file), None)

    def text(self, file: str) -> str:
        """The text of a file, "" when it isn't there."""
        return next((each.text for each in self.files if each.name == file), "")

    def find(self, spot: Spot) -> Node | None:
        """The value at a spot's key path."""
        node = self.root(spot.file)
        for key in spot.path:
            node = step(node, key)
        return node

    def find_key(self, spot: Spot) -> Scalar | None:
        """The key at the end of a spot's path, None for items of a list."""
        node = self.root(spot.file)
        for key in spot.path[:-1]:
            node = step(node, key)
        if isinstance(node, Mapping) and spot.path:
            return next((name for name, _ in node.entries if name.text == spot.path[-1]), None)
        return None


def step(node: Node | None, key: Key) -> Node | None:
    """The value below a node, None when there is none."""
    if isinstance(node, Mapping) and isinstance(key, str):
        return node.get(key)
    if isinstance(node, Sequence) and isinstance(key, int) and 0 <= key < len(node.items):
        return node.items[key]
    return None
