"""What engineering checks tell the reader: notes that the section gathers, whoever makes them.

In: made by tasks as `tuple[UseNote, ...]`; a plugin that makes some says `uses=("loads_and_movement",)`. Out: read by the section.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from compiler.api import PageBlock

About = Literal["load", "movement", "standing"]


@dataclass(frozen=True)
class UseNote:
    """Some blocks about carrying, moving wood, or standing and lifting; `title` stands above them."""

    about: About
    title: str
    blocks: tuple[PageBlock, ...]
