"""notes.md becomes Notes: headings become steps, `{{ … }}` becomes exact sizes and references."""

from compiler.stages.notes.reading import read_notes

__all__ = ["read_notes"]
