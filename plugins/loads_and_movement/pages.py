"""UseNotes → the section `Loads and movement`, by subject, and where its figures end."""

from __future__ import annotations

from compiler.api import Blocks, Heading, Paragraph, section

from .notes import About, UseNote

SUBJECTS: tuple[tuple[About, str], ...] = (("load", "What it carries"), ("movement", "How the wood moves"), ("standing", "Lifting and standing"))
LIMITS = (
    "These are estimates from published averages, for this piece as drawn and sound wood: no structural design. Where people could be"
    " hurt if something fails, such as seats, loads overhead, or things hung on a wall, codes and a licensed practitioner come first."
)


@section("Loads and movement", after="finishing", name="loads and movement")
def loads_and_movement(notes: tuple[UseNote, ...]) -> Blocks:
    """Everything that checks tell about the piece in use; nothing to tell, no section."""
    if not notes:
        return
    for about, words in SUBJECTS:
        mine = [note for note in notes if note.about == about]
        if mine:
            yield Heading(content=(words,))
        for note in mine:
            if note.title:
                yield Heading(content=(note.title,), level=3)
            yield from note.blocks
    yield Paragraph(LIMITS, style="note")
