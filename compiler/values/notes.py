"""The build notes, read: an introduction and steps, with every size and reference judged.

In: made by the notes stage from notes.md and the Model. Out: read by step sections, safety notes, step pictures.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.base.report import Spot
from compiler.values.document import Block, Inlines


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteStep:
    """One step. Part names are full names; `made` is an assembly's or part's name made on the bench, alone."""

    key: str
    title: Inlines
    content: tuple[Block, ...]
    group: str = ""
    adds: tuple[str, ...] = ()
    works: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    made: str = ""
    view: str = ""
    view_at: Spot | None = None
    time: str = ""
    minutes: int = 0
    tools: tuple[str, ...] = ()
    repeat: int = 1
    video: str = ""
    at: Spot | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Notes:
    """All of it. `skill` (1 to 4) and `subtitle` come from fields under the title."""

    title: str
    subtitle: Inlines = ()
    introduction: tuple[Block, ...] = ()
    skill: int = 0
    steps: tuple[NoteStep, ...] = ()
    more: tuple[tuple[str, tuple[Block, ...]], ...] = ()
    fields: tuple[tuple[str, str], ...] = ()

    @property
    def minutes(self) -> int:
        """Working time of all steps, repeats counted."""
        return sum(step.minutes * step.repeat for step in self.steps)
