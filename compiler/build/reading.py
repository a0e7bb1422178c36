"""A plan in one run: what was read of it, its tree when somebody asks, the editions to make.

In: a folder, wishes, the surroundings. Out: `Plan`, and everything that it is made from as ingredients. Parsing waits until it
is needed: a plan that has not changed is not parsed.
"""

from __future__ import annotations

import contextlib
import hashlib
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from compiler.base.digests import digest
from compiler.base.report import Diagnostic, Outcome, Report, Spot
from compiler.build.surroundings import Surroundings, code, plugin_code, tools
from compiler.build.wishes import Wishes
from compiler.showing import Place
from compiler.stages.read import read
from compiler.store.deciding import Ingredients
from compiler.values.model import Edition
from compiler.values.source import Library, Source

if TYPE_CHECKING:
    from compiler.values.draft import Draft
    from compiler.values.sponsor import Sponsor

_ISSUE = re.compile(r"(?m)^issue:[ ]*(\d+)[ ]*(?:#.*)?$")
"""Read before parsing: a record of this very issue is an output and no ingredient."""


@dataclass(slots=True)
class Plan:
    """One plan in one run."""

    folder: Path
    around: Surroundings
    source: Source | None
    report: Report
    history: tuple[tuple[str, bytes], ...] = ()
    _photos: Ingredients = ()
    _draft: Outcome[Draft] | None = field(default=None)

    @property
    def library(self) -> Library | None:
        """The library's texts, as far as they could be read."""
        return self.around.library.value

    def draft(self) -> Outcome[Draft]:
        """The tree of the plan's files; kept, since reading YAML takes longer than anything else of a check."""
        if self._draft is None:
            self._draft = self._parsed()
        return self._draft

    def _parsed(self) -> Outcome[Draft]:
        if self.source is None:
            return Outcome(None)
        key = digest(("draft", code(), self.source))
        found: Outcome[Draft] | None = self.around.store.get(key)
        if found is None:
            from compiler.stages.parse import parse

            found = parse(self.source)
            self.around.store.put(key, found)
        return found

    def place(self, report: Report) -> Place:
        """Where diagnostics point; the tree only when there are any."""
        return Place(self.folder, self.draft().value if report else None, self.library)

    def ingredients(self, letters: str | None = None) -> Ingredients:
        """Every file of the plan and the library with its digest; files looked for and not found count too. No code.

        `letters` is letters.yaml as it will be, where that is meant and not the file that was read.
        """
        assert self.source is not None
        found = [(file.name, file.digest) for file in self.source.files]
        found += [(file.name, file.digest) for file in (self.library.files if self.library else ())]
        found += [(name, "absent") for name in self.source.absent]
        found.append(("the shop's mark", hashlib.sha256(self.source.mark).hexdigest()))
        found += [(name, hashlib.sha256(content).hexdigest()) for name, content in self.history]
        if letters is not None:
            after = ("letters.yaml", hashlib.sha256(letters.encode()).hexdigest())
            found = [after if name == "letters.yaml" else (name, value) for name, value in found]
        return (*found, *self._photos)

    def all_ingredients(self, wishes: Wishes, letters: str | None = None) -> Ingredients:
        """Everything but the theme: files, plugins' code, the compiler, what was wished for; in one order, wherever a file was found or missed."""
        asked = ("what was asked for", digest((str(self.folder.name), wishes)))
        sponsor = (("the sponsor", digest(self.sponsor(wishes.sponsor))),) if wishes.sponsor else ()
        return (*sorted(self.ingredients(letters)), *self.around.plugins(self.folder), *tools(), asked, *sponsor)

    def sponsor(self, wanted: str) -> Outcome[Sponsor]:
        """The sponsor of that short name, with its mark."""
        from compiler.stages.read import read_mark
        from compiler.stages.sponsor import sponsor_of

        draft = self.draft()
        if draft.value is None:
            return Outcome(None)
        return sponsor_of(draft.value, wanted, lambda path, at: read_mark(self.folder, path, at))

    def unchanged(self) -> bool:
        """Whether what was read at other times than the start (pictures, plugins' code) is still what it was then."""
        now = plugin_code(self.around.workshop, shop=self.folder.parent, plan=self.folder, every=True)
        return sorted(now) == sorted(self.around.plugins(self.folder)) and _photos(self.folder, self.source) == self._photos


def read_plan(folder: Path, around: Surroundings) -> Plan:
    """The plan's files."""
    from compiler.record import earlier_files

    source = read(folder)
    plan = Plan(folder, around, source.value, source.report + around.library.report)
    if source.value is not None:
        plan._photos = _photos(folder, source.value)
        issue = _ISSUE.search(source.value.text("design.yaml") or "")
        plan.history = earlier_files(folder, int(issue[1]) if issue else None)
    return plan


def _photos(folder: Path, source: Source | None) -> Ingredients:
    found = []
    for photo in source.photos if source else ():
        with contextlib.suppress(OSError):
            found.append((photo.path, hashlib.sha256((folder / photo.path).read_bytes()).hexdigest()))
    return tuple(found)


def editions_of(plan: Plan, wishes: Wishes, *, every: bool = False) -> tuple[tuple[Edition, ...], Report]:
    """The editions to make: those the plan names, narrowed by the wishes; papers that it doesn't name may be wished for."""
    from compiler.stages.check import editions_of as named_in

    draft = plan.draft()
    if draft.value is None:
        return (), draft.report
    outcome = named_in(draft.value)
    report = draft.report + outcome.report
    named = outcome.value or ()
    if not named or (every and wishes.units is None):
        return named, report
    units = wishes.units or named[0].units
    fitting = tuple(edition for edition in named if edition.units == units)
    if not fitting:
        own = sorted({edition.units for edition in named})
        fault = Diagnostic(
            "no-such-edition",
            f"This plan has no edition in {'millimetres' if units == 'mm' else 'inches'}; it has {' and '.join(own)}.",
            Spot("design.yaml", ("editions",)),
            f"Add {'metric a4' if units == 'mm' else 'inch letter'} to its editions.",
        )
        return (), report + Report((fault,))
    if wishes.papers:
        fitting = tuple(Edition(units=fitting[0].units, paper=paper) for paper in wishes.papers)  # type: ignore[arg-type]  # argparse lets no other word through
    return fitting, report


def one_a_unit(editions: tuple[Edition, ...]) -> tuple[Edition, ...]:
    """Paper changes no size: checking one edition a unit is enough."""
    return tuple({edition.units: edition for edition in reversed(editions)}.values())[::-1]
