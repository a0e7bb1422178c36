"""The theme that a plan is to wear: where it is asked for, where it is looked for, what is wrong with it.

In: a plan in one run. Out: the theme with its report. What was found of a theme is kept with every file that was looked for, so that a check of
what has not changed reads no theme.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from compiler.base.digests import digest
from compiler.base.report import Findings, Outcome, Report, Spot
from compiler.build.reading import Plan
from compiler.build.surroundings import tools
from compiler.values.draft import Scalar

if TYPE_CHECKING:
    from compiler.values.theme import Theme

PLACES = (Spot("design.yaml", ("theme",)), Spot("design.yaml", ("settings", "theme")), Spot("shop.yaml", ("theme",)))
"""Where a theme may be named, the nearest first."""


def theme_folders(plan: Plan) -> tuple[Path, ...]:
    """Where themes are looked for: the shop's own before the bundled."""
    return (plan.folder.parent / "themes", plan.around.workshop.themes)


def load(plan: Plan, name: str | None) -> Outcome[Theme]:
    """The theme of that name; the one that the design or the shop asks for when None. A wish that can't be read is told in either case."""
    from compiler.stages.dress import load_theme

    asked, told = _asked_for(plan)
    wanted, at = (name, None) if name else asked
    loaded = load_theme(wanted, theme_folders(plan), at)
    return Outcome(loaded.value if told.ok else None, told + loaded.report)


def judged(plan: Plan, name: str | None) -> Report:
    """What is wrong with the theme that `load` would give."""
    home = digest(("theme", tools(), _asked_for(plan), name, [str(folder.resolve()) for folder in theme_folders(plan)]))
    kept: tuple[tuple[tuple[str, str | None], ...], Report] | None = plan.around.store.get(home)
    if kept is not None and all(plan.around.file(place) == was for place, was in kept[0]):
        return kept[1]
    loaded = load(plan, name)
    if loaded.value is not None:
        plan.around.store.put(home, (tuple((read.place, read.digest) for read in loaded.value.reads), loaded.report))
    return loaded.report


def _asked_for(plan: Plan) -> tuple[tuple[str, Spot | None], Report]:
    """The theme's name with its place, and what is wrong with the writing. The nearest place at which anything stands decides.

    The standard theme, without a place, where nobody asks for one or what is written is no text.
    """
    draft, found = plan.draft().value, Findings()
    for spot in PLACES if draft is not None else ():
        node = draft.find(spot) if draft is not None else None
        if isinstance(node, Scalar) and node.text.strip():
            return (node.text, spot), Report()
        if node is not None:
            from compiler.stages.check.keys import text

            text(node, "theme", spot, found)
            break
    return ("standard", None), found.report()
