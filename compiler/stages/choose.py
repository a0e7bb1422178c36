"""Which sections a booklet has, and in which order: the plan's wishes, the shop's where the plan has none.

In: all sections in the order that their plugins ask for. Out: those that are printed, in the wished order. A name is that of a
section or its title, in small letters. This stage must not know what stands in a section.
"""

from __future__ import annotations

import difflib

from compiler.base.report import Findings, Outcome, Spot
from compiler.values.document import Section
from compiler.values.settings import Booklet


def choose(sections: tuple[Section, ...], booklet: Booklet) -> Outcome[tuple[Section, ...]]:
    """Sections without those left out; those named under `order` follow one another where the first of them stands."""
    found = Findings()
    away = _known(sections, booklet.leave_out, found)
    kept = tuple(section for section in sections if section not in away)
    wished = [section for section in _known(sections, booklet.order, found) if section in kept]
    if wished:
        first = min(kept.index(section) for section in wished)
        before = tuple(section for section in kept[:first] if section not in wished)
        kept = (*before, *wished, *(section for section in kept[first:] if section not in wished))
    return Outcome(kept, found.report())


def named(section: Section) -> tuple[str, str]:
    """What a section may be called."""
    return section.name.lower(), section.title.lower()


def _known(sections: tuple[Section, ...], names: tuple[tuple[str, Spot], ...], found: Findings) -> list[Section]:
    chosen: list[Section] = []
    for name, at in names:
        meant = next((section for section in sections if name.strip().lower() in named(section)), None)
        if meant is None:
            all_names = [word for section in sections for word in dict.fromkeys(named(section))]
            near = difflib.get_close_matches(name.lower(), all_names, 1)
            hint = f"Did you mean {near[0]}?" if near else f"Its sections are {', '.join(section.name for section in sections)}."
            found.warning("unknown-section", f"This booklet has no section `{name}`.", at, hint)
        elif meant not in chosen:
            chosen.append(meant)
    return chosen
