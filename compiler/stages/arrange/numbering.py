"""The first walk: a number and an anchor for everything that has one, and what each name turned out to be."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from compiler.values import document as doc
from compiler.values.words import words


@dataclass(slots=True)
class Numbers:
    """The counters of the walk, what each name turned out to be: (kind, name) → (anchor, words), and the caution that first gave a source."""

    counts: dict[str, int] = field(default_factory=dict)
    known: dict[tuple[str, str], tuple[str, str]] = field(default_factory=dict)
    anchors: set[str] = field(default_factory=set)
    sources: dict[str, doc.Ref] = field(default_factory=dict)

    def next(self, kind: str) -> int:
        self.counts[kind] = self.counts.get(kind, 0) + 1
        return self.counts[kind]

    def remember(self, kind: str, name: str, anchor: str, words: str) -> None:
        if name:
            self.known.setdefault((kind, name), (anchor, words))
        self.known.setdefault((kind, anchor), (anchor, words))

    def anchor(self, kind: str, name: str) -> str:
        slug = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or kind
        anchor, count = f"{kind}-{slug}", 1
        while anchor in self.anchors:
            count += 1
            anchor = f"{kind}-{slug}-{count}"
        self.anchors.add(anchor)
        return anchor


def number_section(section: doc.Section, numbers: Numbers) -> doc.Section:
    anchor = numbers.anchor("section", section.name)
    number = str(numbers.next("section")) if section.numbered else ""
    words = f"section {number}" if number else section.title
    numbers.remember("section", section.name, anchor, words)
    numbers.remember("section", section.title, anchor, words)
    return replace(
        section,
        number=number,
        anchor=anchor,
        blocks=tuple(_said_before(block, numbers) or _number(block, numbers) for block in section.blocks),
    )


def _said_before(block: doc.Block, numbers: Numbers) -> doc.Block | None:
    """A line that points to the caution that said the same before, where there is one and the block has words for that."""
    if not isinstance(block, doc.Signal) or not block.again or block.source not in numbers.sources:
        return None
    return doc.Paragraph((*block.again, " as ", numbers.sources[block.source], " says."))


def _number(block: doc.Block, numbers: Numbers) -> doc.Block:
    """The block with its number and anchor, and those of the blocks in it, in reading order."""
    if isinstance(block, (doc.Figure, doc.Photo)):
        number, anchor = numbers.next("figure"), numbers.anchor("figure", block.name or "picture")
        numbers.remember("figure", block.name, anchor, f"figure {number}")
        return replace(block, number=number, anchor=anchor)
    if isinstance(block, doc.Table):
        number, anchor = numbers.next("table"), numbers.anchor("table", block.name or words(block.caption))
        numbers.remember("table", block.name or words(block.caption), anchor, f"table {number}")
        return replace(block, number=number, anchor=anchor)
    if isinstance(block, doc.Signal):
        if not block.numbered:
            return block
        number, anchor = numbers.next("caution"), numbers.anchor("caution", str(numbers.counts["caution"]))
        numbers.remember("caution", str(number), anchor, f"caution {number}")
        for source in filter(None, block.source.split(", ")):
            numbers.sources.setdefault(source, doc.Ref("caution", str(number), anchor, f"caution {number}"))
        return replace(block, number=number, anchor=anchor)
    if isinstance(block, doc.Step):
        number, anchor = numbers.next("step"), numbers.anchor("step", block.key)
        numbers.remember("step", block.key, anchor, f"step {number}")
        return replace(
            block,
            number=number,
            anchor=anchor,
            cautions=_all(block.cautions, numbers),
            picture=None if block.picture is None else _one(block.picture, numbers),
            content=_all(block.content, numbers),
            more=_all(block.more, numbers),
        )
    if isinstance(block, doc.Heading):
        return replace(block, anchor=block.anchor or numbers.anchor("part", words(block.content)))
    if isinstance(block, doc.Columns):
        return replace(block, left=_all(block.left, numbers), right=_all(block.right, numbers))
    if isinstance(block, doc.Cells):
        return replace(block, figures=_all(block.figures, numbers))
    if isinstance(block, doc.Note):
        return replace(block, content=_all(block.content, numbers))
    return block


def _one[B: doc.Block](block: B, numbers: Numbers) -> B:
    numbered = _number(block, numbers)
    assert isinstance(numbered, type(block))
    return numbered


def _all[B: doc.Block](blocks: tuple[B, ...], numbers: Numbers) -> tuple[B, ...]:
    return tuple(_one(block, numbers) for block in blocks)
