"""The second walk: references get the numbers of what they point to, parts their letters; what points nowhere is reported."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace

from compiler.base.report import Findings
from compiler.stages.arrange.numbering import Numbers
from compiler.values import document as doc
from compiler.values.model import Model
from compiler.values.words import BLOCKS


@dataclass(frozen=True, slots=True)
class Resolver:
    """Fills references and letters in every block; reports what points nowhere."""

    numbers: Numbers
    model: Model
    contents: tuple[tuple[str, str, str], ...]
    found: Findings

    def block(self, block: doc.Block) -> doc.Block:
        """The block with every inline resolved."""
        if isinstance(block, doc.Contents):
            return replace(block, rows=self.contents)
        if isinstance(block, (doc.Paragraph, doc.Check, doc.Heading)):
            return replace(block, content=self.inlines(block.content))
        if isinstance(block, doc.ItemList):
            return replace(block, items=tuple(self.entry(item) for item in block.items))
        if isinstance(block, doc.Table):
            return replace(
                block,
                caption=self.text(block.caption),
                aside=self.text(block.aside),
                groups=tuple(
                    replace(
                        group,
                        title=self.text(group.title),
                        aside=self.text(group.aside),
                        rows=tuple(_named(self.row(row), block.columns) for row in group.rows),
                    )
                    for group in block.groups
                ),
                total=self.row(block.total),
            )
        if isinstance(block, doc.Facts):
            return replace(
                block, rows=tuple((self.text(name), self.text(value)) for name, value in block.rows)
            )
        if isinstance(block, (doc.Figure, doc.Photo)):
            return replace(block, caption=self.text(block.caption))
        if isinstance(block, doc.Signal):
            return replace(block, content=tuple(self.inlines(content) for content in block.content))
        if isinstance(block, doc.Step):
            return replace(
                block,
                title=self.inlines(block.title),
                content=self.blocks(block.content),
                adds=tuple(self.mark(mark) for mark in block.adds),
                works=tuple(self.mark(mark) for mark in block.works),
                cautions=self.blocks(block.cautions),
                picture=None if block.picture is None else self.blocks((block.picture,))[0],
                more=self.blocks(block.more),
            )
        if isinstance(block, doc.Columns):
            return replace(block, left=self.blocks(block.left), right=self.blocks(block.right))
        if isinstance(block, doc.Cells):
            return replace(block, figures=self.blocks(block.figures))
        if isinstance(block, doc.Note):
            return replace(block, content=self.blocks(block.content))
        if isinstance(block, doc.Cover):
            return replace(
                block,
                subtitle=self.inlines(block.subtitle),
                facts=tuple((name, self.text(value)) for name, value in block.facts),
            )
        if isinstance(block, doc.KeyTable):
            return replace(
                block, rows=tuple((drawing, self.text(meaning)) for drawing, meaning in block.rows)
            )
        return block

    def blocks[B: doc.Block](self, blocks: tuple[B, ...]) -> tuple[B, ...]:
        return tuple(self.block(block) for block in blocks)  # type: ignore[misc]  # a block stays of its kind

    def entry(
        self, item: tuple[doc.Block | doc.Inlines, ...] | doc.Inlines
    ) -> tuple[doc.Block | doc.Inlines, ...]:
        """A list's entry is inline content, or blocks and inline contents one after the other."""
        if any(isinstance(piece, (tuple, *BLOCKS)) for piece in item):
            return tuple(
                self.inlines(piece) if isinstance(piece, tuple) else self.block(piece)  # type: ignore[arg-type]
                for piece in item
            )
        return self.inlines(item)  # type: ignore[arg-type,return-value]

    def row(self, row: tuple[doc.Cell, ...]) -> tuple[doc.Cell, ...]:
        return tuple(
            self.inlines(cell)
            if isinstance(cell, tuple)
            else self.inline(cell)
            if isinstance(cell, INLINE)
            else cell
            for cell in row
        )

    def text(self, content: doc.Inlines | str) -> doc.Inlines | str:
        return content if isinstance(content, str) else self.inlines(content)

    def inlines(self, content: doc.Inlines | str) -> doc.Inlines:
        if isinstance(content, str):
            return (content,)
        done: list[doc.Inline] = []
        for item in content:
            inline = self.inline(item)
            if isinstance(inline, doc.Ref) and isinstance(item, doc.Ref) and not item.text and _starts_a_sentence(done):
                inline = replace(inline, text=_capital(inline.text))
            done.append(inline)
        return tuple(done)

    def inline(self, item: doc.Inline) -> doc.Inline:
        if isinstance(item, doc.PartMark):
            return self.mark(item)
        if isinstance(item, doc.Ref):
            return self.reference(item)
        if isinstance(item, (doc.Strong, doc.Emphasis, doc.Link)):
            return replace(item, content=self.inlines(item.content))
        return item

    def mark(self, mark: doc.PartMark) -> doc.PartMark:
        if mark.letter:
            return mark
        names = self.model.named(mark.part)
        if not names:
            self.found.error("unknown-part", f"There is no part called `{mark.part}`.", mark.at)
            return mark
        part = self.model.part(names[0])
        return replace(mark, letter=part.letter, name=mark.name or part.kind)

    def reference(self, ref: doc.Ref) -> doc.Ref:
        if ref.anchor:
            return ref
        known = self.numbers.known.get((ref.kind, ref.target))
        if known is None and ref.kind == "figure":
            known = self.figure_of_part(ref.target)
        if known is None:
            names = sorted(
                {name for kind, name in self.numbers.known if kind == ref.kind and "-" not in name}
            )
            close = difflib.get_close_matches(ref.target, names, 1)
            hint = f"Did you mean {close[0]}?" if close else f"There are {', '.join(names[:12])}." if names else ""
            self.found.error(
                "dangling-reference", f"There is no {ref.kind} called `{ref.target}`.", ref.at, hint
            )
            return ref
        return replace(ref, anchor=known[0], text=known[1])

    def figure_of_part(self, target: str) -> tuple[str, str] | None:
        """A figure may be called by any name of the part that it shows."""
        for name in self.model.named(target):
            known = self.numbers.known.get(("figure", self.model.part(name).kind))
            if known is not None:
                return known
        return None


INLINE = (doc.PartMark, doc.Ref, doc.Strong, doc.Emphasis, doc.Link)


def _starts_a_sentence(before: list[doc.Inline]) -> bool:
    """True at the beginning of a text and after the end of a sentence: `… at once. Figure 17 has every size.`"""
    return not before or (isinstance(before[-1], str) and re.search(r"[.!?]\s+$", before[-1]) is not None)


def _named(row: tuple[doc.Cell, ...], columns: tuple[doc.Column, ...]) -> tuple[doc.Cell, ...]:
    """The row with a capital where a name begins, whoever wrote it: lists then read alike."""
    return tuple(_capital(cell) if column.kind == "name" and isinstance(cell, str) else cell for cell, column in zip(row, columns, strict=False))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
