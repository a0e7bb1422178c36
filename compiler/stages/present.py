"""A finished document as it goes to somebody: sponsored, or as a sample.

In: a numbered Document, a sponsor, the sections that a sample shows in full. Out: the Document with name, mark and disclosure; or with the
other sections withheld. Numbers are given before, so that a sample has those of the whole plan. This stage must not know the plan.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from compiler.base.report import Findings, Outcome, Spot
from compiler.values import document as doc
from compiler.values.sponsor import Sponsor

SHOWN = ("cover", "at a glance", "how to read", "safety", "exploded", "terms", "record")
"""Sections that a sample shows in full where nobody says which."""

STEPS_SHOWN = 1
"""Steps shown of a section of steps that is withheld."""


def sponsored(document: doc.Document, sponsor: Sponsor) -> doc.Document:
    """The document with the sponsor on its cover and the disclosure at the foot of every page."""
    def on_cover(block: doc.Block) -> doc.Block:
        if not isinstance(block, doc.Cover):
            return block
        return replace(block, sponsor=sponsor.name, sponsor_mark=sponsor.mark, disclosure=sponsor.disclosure)

    sections = tuple(replace(section, blocks=tuple(on_cover(block) for block in section.blocks)) for section in document.sections)
    return replace(document, sections=sections, disclosure=sponsor.disclosure)


def sample_of(document: doc.Document, shown: tuple[tuple[str, Spot], ...] = ()) -> Outcome[doc.Document]:
    """The document as a sample: chosen sections in full, of the others the name and what they hold."""
    found = Findings()
    names = {name.strip().lower(): at for name, at in shown} or dict.fromkeys(SHOWN)
    known = {word for section in document.sections for word in (section.name.lower(), section.title.lower())}
    for name, at in names.items():
        if at is not None and name not in known:
            found.warning("unknown-section", f"This booklet has no section `{name}`.", at, f"Its sections are {', '.join(s.name for s in document.sections)}.")
    sections = tuple(
        section if names.keys() & {section.name.lower(), section.title.lower()} or any(isinstance(block, doc.Cover) for block in section.blocks)
        else _withheld(section)
        for section in document.sections
    )
    return Outcome(replace(document, sections=sections, sample=True), found.report())


def _withheld(section: doc.Section) -> doc.Section:
    """Its name, the first step if it has steps, and a line that tells what is kept back."""
    kept: list[doc.Block] = []
    steps = [at for at, block in enumerate(section.blocks) if isinstance(block, doc.Step)]
    if steps:
        kept = list(section.blocks[: steps[min(STEPS_SHOWN, len(steps)) - 1] + 1])
    rest = section.blocks[len(kept):]
    if not rest:
        return section
    return replace(section, blocks=(*kept, doc.Paragraph((f"Not in this sample: {_counted(rest)}.",), style="soft")))


def _counted(blocks: tuple[doc.Block, ...]) -> str:
    """`4 figures, 1 table and 16 steps`; `the text` where nothing can be counted."""
    counts = Counter(_kinds(blocks))
    words = [f"{counts[kind]} {kind}{'s' if counts[kind] > 1 else ''}" for kind in ("figure", "table", "step") if counts[kind]]
    if not words:
        return "the text"
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _kinds(blocks: tuple[object, ...]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, (doc.Figure, doc.Photo)):
            yield "figure"
        elif isinstance(block, doc.Table):
            yield "table"
        elif isinstance(block, doc.Step):
            yield "step"
            yield from _kinds((block.picture, *block.more, *block.content))
        elif isinstance(block, doc.Columns):
            yield from _kinds((*block.left, *block.right))
        elif isinstance(block, doc.Cells):
            yield from _kinds(block.figures)
