"""The files of a plan, as read: texts with their digests, and what was looked for and not found.

In: made by `read`, the only stage that opens plan files. Out: read by `parse`. Nothing here is understood yet.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A text file: the name it is shown by, its text, the SHA-256 of its bytes."""

    name: str
    text: str
    digest: str


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A picture in the plan's folder, by its path inside it; read only when it is printed."""

    path: str
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """All a plan is made from. `absent` are files that were looked for: their coming is a change, too."""

    folder: str
    files: tuple[SourceFile, ...]
    absent: tuple[str, ...] = ()
    photos: tuple[PhotoFile, ...] = ()
    mark: bytes = b""

    def text(self, name: str) -> str | None:
        """The text of a file, None when it isn't there."""
        return next((file.text for file in self.files if file.name == name), None)


@dataclass(frozen=True, slots=True)
class Library:
    """The files of the shop's library: stock, hardware, finishes, operations, glossary. Read entry by entry, as asked."""

    files: tuple[SourceFile, ...]
