"""Views → drawings: every drawing that a section asks for is made.

In: sections in which figures, tables and the cover may hold a `View`, and a way to draw one. Out: the same sections with
drawings only. A view that can't be drawn is reported at the figure's place and its figure is left out. Equal views are
drawn once. This stage must not know numbers, pages or themes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from compiler.base.report import Diagnostic, Findings, Outcome, Spot
from compiler.values import document as doc
from compiler.values.figure import Drawing

Draw = Callable[[doc.View, Spot | None], Outcome[Drawing]]


def illustrate(sections: tuple[doc.Section, ...], draw: Draw) -> Outcome[tuple[doc.Section, ...]]:
    """The sections with every view drawn."""
    hand = _Hand(draw)
    made = []
    for section in sections:
        hand.section = section
        made.append(replace(section, blocks=hand.blocks(section.blocks)))
    return Outcome(tuple(made), hand.found.report())


@dataclass(slots=True)
class _Hand:
    """Draws, and remembers what it has drawn in this run."""

    draw: Draw
    found: Findings = field(default_factory=Findings)
    drawn: dict[doc.View, Drawing | None] = field(default_factory=dict)
    section: doc.Section | None = None

    def make(self, view: doc.View, at: Spot | None) -> Drawing | None:
        if view not in self.drawn:
            outcome = self.draw(view, at)
            for fault in outcome.report:
                self.found.add(self.placed(fault, view))
            self.drawn[view] = outcome.value
        return self.drawn[view]

    def placed(self, fault: Diagnostic, view: doc.View) -> Diagnostic:
        """A fault without a place in the plan is the section's that asks for the view: it is named, and its plugin."""
        if fault.at is not None or self.section is None:
            return fault
        says = f"{fault.says.rstrip('.')} (in section {self.section.title or self.section.name}, view `{view.words}`)."
        return replace(fault, says=says, plugin=fault.plugin or self.section.plugin)

    def blocks[B: doc.Block](self, blocks: tuple[B, ...]) -> tuple[B, ...]:
        made = (self.block(block, None) for block in blocks)
        return tuple(block for block in made if block is not None)  # type: ignore[misc]  # a block stays of its kind

    def block(self, block: doc.Block, at: Spot | None) -> doc.Block | None:
        """The block with its drawings; None when it was a figure that could not be drawn."""
        if isinstance(block, doc.Figure):
            if isinstance(block.drawing, doc.View):
                drawing = self.make(block.drawing, at)
                return None if drawing is None else replace(block, drawing=drawing, asked=block.drawing if block.rooms else None)
            return block
        if isinstance(block, doc.Cover):
            hero = self.make(block.hero, at) if isinstance(block.hero, doc.View) else block.hero
            return replace(block, hero=hero)
        if isinstance(block, doc.Step):
            picture = block.picture if block.picture is None else self.block(block.picture, block.at)
            more = tuple(self.block(extra, block.at) for extra in block.more)
            return replace(
                block,
                picture=picture if isinstance(picture, (doc.Figure, doc.Photo)) else None,
                more=tuple(extra for extra in more if isinstance(extra, (doc.Figure, doc.Photo))),
            )
        if isinstance(block, doc.Columns):
            return replace(block, left=self.blocks(block.left), right=self.blocks(block.right))
        if isinstance(block, doc.Cells):
            figures = self.blocks(block.figures)
            return replace(block, figures=figures) if figures else None
        if isinstance(block, doc.KeyTable):
            rows = (
                (self.make(view, at) if isinstance(view, doc.View) else view, says)
                for view, says in block.rows
            )
            return replace(
                block, rows=tuple((drawing, says) for drawing, says in rows if drawing is not None)
            )
        if isinstance(block, doc.Table):
            return replace(
                block,
                groups=tuple(
                    replace(group, rows=tuple(self.row(row) for row in group.rows)) for group in block.groups
                ),
            )
        return block

    def row(self, row: tuple[doc.Cell, ...]) -> tuple[doc.Cell, ...]:
        return tuple(self.make(cell, None) if isinstance(cell, doc.View) else cell for cell in row)
