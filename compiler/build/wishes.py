"""What a command asks for, and what it is given back.

In: nothing. Out: frozen values that the command line reads and prints; no stage knows them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from compiler.base.report import Report, Spot
from compiler.showing import Place
from compiler.values.history import History

if TYPE_CHECKING:
    from fractions import Fraction

    from compiler.compare.lists import RowChange
    from compiler.values.document import Document, Leaves
    from compiler.values.model import Model

ROOT = Path(__file__).resolve().parents[2]
"""The checkout: plans, themes, plugins and library live beside the compiler."""

Progress = Callable[[str], None]
Tell = Callable[[Report], None]
"""Hears diagnostics while there is more to come; what it heard before may be among them."""


def silent(report: Report) -> None:
    """Nobody listens."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """Which editions: units (None = the plan's first), papers (none = the plan's own for these units), and trust for once.

    `sponsor` is a short name of sponsor.yaml; `sample` withholds most sections.
    """

    units: str | None = None
    papers: tuple[str, ...] = ()
    trust: bool = False
    theme: str | None = None
    sponsor: str | None = None
    sample: bool = False

    @property
    def special(self) -> bool:
        """Whether this is no edition of the plan itself."""
        return self.sponsor is not None or self.sample


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """Where everything lies. Tests give folders of their own."""

    library: Path = ROOT / "shared"
    themes: Path = ROOT / "themes"
    plugins: Path | None = ROOT / "plugins"
    store: Path | None = ROOT / ".kerfolio"
    installed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What checking a plan says."""

    report: Report
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedEdition:
    """One PDF as it was written; `touched` = its bytes are not those that were there, `new` = there were none. `changes` are rows of lists
    that differ from those.
    """

    path: Path
    name: str
    pages: int
    touched: bool = True
    new: bool = False
    changes: tuple[RowChange, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """What publishing a plan gave. `account` says what was made again, because of what, and what was used again."""

    report: Report
    place: Place
    editions: tuple[PublishedEdition, ...] = ()
    account: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """Lines to print, for commands that tell something."""

    report: Report
    place: Place | None
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """One edition as far as the document: everything that no theme can change."""

    report: Report
    document: Document | None = None
    document_digest: str = ""
    model: Model | None = None
    step: Fraction | None = None
    lists: tuple[Any, Any] = (None, None)
    exports: tuple[tuple[str, bytes | Leaves], ...] = ()
    history: History = History()
    sample: tuple[tuple[str, Spot], ...] = ()
    """Sections that a sample shows in full."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One edition ready to be written: the PDF is in the store (or at hand), the rest is here."""

    stem: str
    name: str
    pages: int
    pdf: str
    """The SHA-256 of the PDF."""
    kept: str
    """The key of the PDF in the store."""
    record: bytes
    exports: tuple[tuple[str, bytes], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """A plan as it is published: the verdict on everything it is made from. `theme_reads` are (place, digest) of every theme file looked for."""

    report: Report
    sheets: tuple[Sheet, ...] = ()
    letters: str | None = None
    issue: tuple[tuple[str, bytes], ...] = ()
    theme_reads: tuple[tuple[str, str | None], ...] = ()
    contents: tuple[bytes, ...] = field(default=(), compare=False)
