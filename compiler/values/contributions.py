"""What a plugin brings: joints, components, tasks, checks, sections, views, safety rules and exports, each a frozen value.

In: an author's functions and classes. Out: descriptors that say what each needs and makes, and after loading,
`Contributions`: all of them, judged, in an order that does not depend on the order of loading.
A descriptor can be called like the function it stands for. Nothing here imports pluggy or runs an author's code.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from compiler.base.report import Spot
from compiler.values.document import Block, Leaves, View
from compiler.values.findings import Findings
from compiler.values.guidance import Weights
from compiler.values.history import History
from compiler.values.joinery import Component, Joint, Settings
from compiler.values.library import Library
from compiler.values.model import Edition, Model
from compiler.values.notes import Notes
from compiler.values.settings import Shop

CONTRACT = 1
"""The contract that this compiler speaks; it also takes plugins made for the one before."""

LANDMARKS = ("cover", "tools", "safety", "materials", "cut list", "drawings", "steps", "finishing", "terms", "record")
"""The places in a booklet that sections may stand after; they are always there."""

SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]

Blocks = Iterator[Block]
"""What a section gives: it `yield`s blocks, in reading order."""


@dataclass(frozen=True, slots=True)
class Task[**Needs, Product]:
    """Works out one product. Its annotations are its needs, its return annotation is what it makes."""

    run: Callable[Needs, Product]

    def __call__(self, *needs: Needs.args, **more: Needs.kwargs) -> Product:
        """The product, as in a test."""
        return self.run(*needs, **more)


@dataclass(frozen=True, slots=True)
class CheckTask[**Needs]:
    """Judges what its annotations ask for, and yields findings. Its name is the code of its diagnostics."""

    run: Callable[Needs, Findings]

    def __call__(self, *needs: Needs.args, **more: Needs.kwargs) -> Findings:
        """The findings, as in a test."""
        return self.run(*needs, **more)


@dataclass(frozen=True, slots=True)
class SectionTask[**Needs]:
    """Yields the blocks of one section. `after` is a landmark or the name of another section."""

    run: Callable[Needs, Blocks]
    title: str
    after: str
    name: str
    numbered: bool = True

    def __call__(self, *needs: Needs.args, **more: Needs.kwargs) -> Blocks:
        """The blocks, as in a test."""
        return self.run(*needs, **more)


@dataclass(frozen=True, slots=True)
class ExportTask[**Needs]:
    """Makes the text, the bytes or the pages of one file beside the PDF: `<plan><suffix>`."""

    run: Callable[Needs, str | bytes | Leaves]
    suffix: str

    def __call__(self, *needs: Needs.args, **more: Needs.kwargs) -> str | bytes | Leaves:
        """The file's content, as in a test."""
        return self.run(*needs, **more)


@dataclass(frozen=True, slots=True)
class Explanation[**Needs]:
    """Yields the lines that `kerfolio explain PLAN topic` prints. It runs when it is asked for and never when a plan is made."""

    run: Callable[Needs, Iterator[str]]
    topic: str

    def __call__(self, *needs: Needs.args, **more: Needs.kwargs) -> Iterator[str]:
        """The lines, as in a test."""
        return self.run(*needs, **more)


@dataclass(frozen=True, slots=True)
class ViewTask[**Needs]:
    """Turns a view's own words into a View of the compiler's. It takes the model, and what stands behind its word."""

    run: Callable[Needs, View]
    word: str

    def __call__(self, *needs: Needs.args, **more: Needs.kwargs) -> View:
        """The view, as in a test."""
        return self.run(*needs, **more)


def task[**Needs, Product](run: Callable[Needs, Product]) -> Task[Needs, Product]:
    """`@task`: the function makes the type it returns; `tuple[X, ...]` = one of several makers of X."""
    return Task(run)


def check[**Needs](run: Callable[Needs, Findings]) -> CheckTask[Needs]:
    """`@check`: the function yields findings about what it needs."""
    return CheckTask(run)


def section[**Needs](title: str, *, after: str, name: str = "",
                     numbered: bool = True) -> Callable[[Callable[Needs, Blocks]], SectionTask[Needs]]:
    """`@section("Lumber to buy", after="cut list")`: the function yields blocks. `name` defaults to the title in small letters.

    A section that yields nothing is left out.
    """
    return lambda run: SectionTask(run, title, after, name or title.lower(), numbered)


def export[**Needs](suffix: str) -> Callable[[Callable[Needs, str | bytes | Leaves]], ExportTask[Needs]]:
    """`@export(".csv")`: the function gives the file's content, or `Leaves` to be made a PDF; when that is empty, no file is written."""
    return lambda run: ExportTask(run, suffix)


def explanation[**Needs](topic: str) -> Callable[[Callable[Needs, Iterator[str]]], Explanation[Needs]]:
    """`@explanation("sheets")`: the function yields sentences that answer why it is as it is."""
    return lambda run: Explanation(run, topic)


def view[**Needs](word: str) -> Callable[[Callable[Needs, View]], ViewTask[Needs]]:
    """`@view("cut through")`: the function gives the View that a maker means by these words.

    It may take the `Model`, and one thing more, which the maker writes behind the word: a `Part` (by its name; of copies the
    first), `tuple[Part, ...]` (all that a name means), or a `str`. Names that mean nothing are told to the maker by the compiler.
    """
    return lambda run: ViewTask(run, word)


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyRule:
    """A caution, and what asks for it: an operation, a tool, a stock or species, a finish or a hazard by name.

    `says` states the hazard and how to avoid it; `source` where the rule comes from. Signal words as in ANSI Z535.6.
    """

    word: SignalWord
    says: str
    source: str
    operation: str = ""
    tool: str = ""
    stock: str = ""
    finish: str = ""
    hazard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plugin:
    """All that one plugin brings. `contract` is the number of the contract that it was written for.

    `uses` names the plugins whose products or settings its own code imports.
    """

    contract: int
    uses: tuple[str, ...] = ()
    joint_kinds: tuple[type[Joint], ...] = ()
    tasks: tuple[Task[..., object], ...] = ()
    checks: tuple[CheckTask[...], ...] = ()
    sections: tuple[SectionTask[...], ...] = ()
    safety_rules: tuple[SafetyRule, ...] = ()
    exports: tuple[ExportTask[...], ...] = ()
    explanations: tuple[Explanation[...], ...] = ()
    components: tuple[type[Component], ...] = ()
    views: tuple[ViewTask[...], ...] = ()


GIVEN: tuple[type, ...] = (Model, Edition, Shop, Notes, Library, Weights, History, SafetyRule)
"""What functions may need without any plugin making it; of the last there are many: `tuple[SafetyRule, ...]`."""


# ---- after loading -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Author:
    """Who brings it: the plugin's name, the folder its code stands in, the digest of that code, and where it was found."""

    plugin: str
    folder: str = ""
    digest: str = ""
    found: Literal["bundled", "installed", "shop", "plan", "test"] = "test"


@dataclass(frozen=True, slots=True)
class Need:
    """One argument of an author's function: its name and its type; `many` = a tuple of all that make it."""

    name: str
    type: type
    many: bool = False
    optional: bool = False

    @property
    def settings(self) -> bool:
        """True when it is a class of settings."""
        return issubclass(self.type, Settings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought[Thing]:
    """A contribution with its author: `name` for messages (a function's, a joint's word), place of its definition."""

    thing: Thing
    name: str
    author: Author
    at: Spot | None = None
    needs: tuple[Need, ...] = ()
    makes: type | None = None
    many: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Contributions:
    """Everything that all plugins bring, judged. Tasks stand in an order in which their needs are met,
    everything else is sorted by plugin and name: the order of loading carries no meaning.
    """

    plugins: tuple[Author, ...] = ()
    joint_kinds: tuple[Brought[type[Joint]], ...] = ()
    tasks: tuple[Brought[Task[..., object]], ...] = ()
    checks: tuple[Brought[CheckTask[...]], ...] = ()
    sections: tuple[Brought[SectionTask[...]], ...] = ()
    safety_rules: tuple[Brought[SafetyRule], ...] = ()
    exports: tuple[Brought[ExportTask[...]], ...] = ()
    explanations: tuple[Brought[Explanation[...]], ...] = ()
    settings: tuple[Brought[type[Settings]], ...] = ()
    components: tuple[Brought[type[Component]], ...] = ()
    views: tuple[Brought[ViewTask[...]], ...] = ()

    def joint_kind(self, word: str) -> Brought[type[Joint]] | None:
        """The kind of joint that a maker's word means."""
        return next((kind for kind in self.joint_kinds if kind.name == word), None)

    @property
    def joint_words(self) -> tuple[str, ...]:
        """All words for joints, for hints."""
        return tuple(kind.name for kind in self.joint_kinds)

