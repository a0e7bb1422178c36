"""The plain words of inline content and of blocks: for bookmarks, names, searches and descriptions.

In: document values. Out: text. Sizes are left out: how they are shown is the pages' business.
"""

from __future__ import annotations

from compiler.values import document as doc


def words(content: doc.Inlines | str) -> str:
    """The plain text of inline content; a part mark gives its name."""
    if isinstance(content, str):
        return content
    return "".join(_word(item) for item in content)


def _word(item: doc.Inline) -> str:
    if isinstance(item, str):
        return item
    if isinstance(item, (doc.Strong, doc.Emphasis, doc.Link)):
        return words(item.content)
    if isinstance(item, doc.Code):
        return item.text
    if isinstance(item, doc.PartMark):
        return item.name or item.part
    if isinstance(item, doc.Ref):
        return item.text or item.target
    return " " if isinstance(item, doc.Break) else ""


def plain(block: doc.Block) -> str:
    """The words of a block and of the blocks in it, joined by spaces."""
    if isinstance(block, (doc.Paragraph, doc.Check, doc.Heading)):
        return words(block.content)
    if isinstance(block, doc.ItemList):
        return " ".join(_entry(item) for item in block.items)
    if isinstance(block, doc.Signal):
        return " ".join(words(content) for content in block.content)
    if isinstance(block, doc.Note):
        return " ".join([block.title, *(plain(inner) for inner in block.content)])
    if isinstance(block, doc.Step):
        return " ".join([words(block.title), *(plain(inner) for inner in block.content)])
    if isinstance(block, (doc.Figure, doc.Photo, doc.Table)):
        return words(block.caption)
    return ""


def _entry(item: tuple[doc.Block | doc.Inlines, ...] | doc.Inlines) -> str:
    """A list's entry is inline content, or blocks and inline contents one after the other."""
    pieces: list[str] = []
    inline: list[doc.Inline] = []
    for piece in item:
        if isinstance(piece, tuple):
            pieces.append(words(piece))
        elif isinstance(piece, BLOCKS):
            pieces.append(plain(piece))
        else:
            inline.append(piece)
    if inline:
        pieces.insert(0, words(tuple(inline)))
    return " ".join(pieces)


BLOCKS = (
    doc.Paragraph, doc.Heading, doc.ItemList, doc.Table, doc.Facts, doc.Figure, doc.Cells, doc.Photo, doc.Signal, doc.Check,
    doc.Note, doc.Write, doc.Step, doc.Cover, doc.Contents, doc.Columns, doc.Words, doc.KeyTable, doc.CodeMark, doc.NewPage,
)  # fmt: skip
"""Every kind of block."""
