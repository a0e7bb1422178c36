"""A theme as the pages see it: styles, templates, fonts and pens, parent and child already joined.

In: made by dress from theme folders. Out: read by dress. It must not know where on disk the folders lie: names
of files are relative to a theme, and `reads` is left out of comparisons.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from compiler.values.figure import PenStyle

CONTRACT = 1
"""The contract between themes and the compiler: block kinds, what templates may use, keys of theme.toml."""

OptionKind = Literal["colour", "length", "number", "text", "choice", "flag"]
OptionValue = str | int | float | bool


@dataclass(frozen=True, slots=True)
class Read:
    """A file that was looked for: its place, and the digest of its bytes; None when it was not there."""

    place: str
    digest: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FontFace:
    """One font file of the theme. `letters` are the code points that it has, as ranges (first, last)."""

    family: str
    weight: int
    italic: bool
    file: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """Something a theme lets its shop choose. Its value is a CSS token `--name` and `options.name` in templates."""

    name: str
    kind: OptionKind
    value: OptionValue
    says: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """A theme, ready to dress a document. `chain` is its names, the parent first.

    `styles` are texts in cascading order; `papers` the style of each paper size; `templates` source by block kind.
    `files` are fonts and pictures by name. `leave_out` are names of sections that this theme does not print, `flows` of those that go on where the one before ends.
    """

    name: str
    chain: tuple[str, ...]
    options: tuple[Option, ...]
    styles: tuple[tuple[str, str], ...]
    papers: tuple[tuple[str, str], ...]
    templates: tuple[tuple[str, str], ...]
    files: tuple[tuple[str, bytes], ...]
    faces: tuple[FontFace, ...]
    pens: PenStyle
    leave_out: tuple[str, ...] = ()
    flows: tuple[str, ...] = ()
    reads: tuple[Read, ...] = field(default=(), compare=False)
