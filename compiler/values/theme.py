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

PAPERS = ("letter", "a4")
"""The papers that every theme has a style for."""

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

    `styles` are texts in cascading order; `papers` the style of each paper size, with its name; `templates` source by block kind.
    `homes` says in which theme of the chain each of these lies. `files` are fonts and pictures by name. `leave_out` are names of sections that this theme does not print, `flows` of those that go on where the one before ends.
    """

    name: str
    chain: tuple[str, ...]
    options: tuple[Option, ...]
    styles: tuple[tuple[str, str], ...]
    papers: tuple[tuple[str, str, str], ...]
    templates: tuple[tuple[str, str], ...]
    files: tuple[tuple[str, bytes], ...]
    faces: tuple[FontFace, ...]
    pens: PenStyle
    leave_out: tuple[str, ...] = ()
    flows: tuple[str, ...] = ()
    homes: tuple[tuple[str, str], ...] = field(default=(), compare=False)
    reads: tuple[Read, ...] = field(default=(), compare=False)

    def place(self, name: str) -> str:
        """What diagnostics call a file of the theme: `themes/mine/styles/mine.css`."""
        return f"themes/{dict(self.homes).get(name, self.name)}/{name}"

    def sheets(self, paper: str) -> tuple[tuple[str, str], ...]:
        """The style sheets for a paper as (file, text), in cascading order; the options' values come last."""
        own = ((name, text) for size, name, text in self.papers if size == paper)
        tokens = "".join(f"--{option.name}: {option.value}; " for option in self.options if option.kind in ("colour", "length", "number"))
        return (*((self.place(name), text) for name, text in (*self.styles, *own)), (self.place("theme.toml"), f":root {{ {tokens}}}"))

    def sources(self) -> tuple[tuple[str, str], ...]:
        """The templates as (file, text)."""
        return tuple((self.place(f"templates/{name}"), text) for name, text in self.templates)
